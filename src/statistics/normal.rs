//! The standard normal distribution.

use super::solve::where_increasing_reaches;

/// Density of the standard normal distribution at `z`.
///
/// Not a number in, not a number out.
#[must_use]
pub fn normal_density(z: f64) -> f64 {
    // 1/sqrt(2 pi)
    const PEAK: f64 = 0.398_942_280_401_432_7;
    PEAK * libm::exp(-z * z / 2.0)
}

/// Probability that a standard normal variable is below `z`.
///
/// Relative error is under 1e-12 down to z = -37, so a tail can be trusted. Not a number in, not a
/// number out.
///
/// ```
/// let p = two_marks::statistics::normal_cdf(1.0);
/// assert!((p - 0.841_344_746).abs() < 1e-9);
/// ```
#[must_use]
pub fn normal_cdf(z: f64) -> f64 {
    0.5 * libm::erfc(-z * core::f64::consts::FRAC_1_SQRT_2)
}

/// The `z` below which a standard normal variable falls with probability `p`.
///
/// # Errors
/// `None` unless 0 < p < 1.
///
/// ```
/// let z = two_marks::statistics::normal_quantile(0.975).unwrap();
/// assert!((z - 1.959_963_985).abs() < 1e-9);
/// ```
#[must_use]
pub fn normal_quantile(p: f64) -> Option<f64> {
    if !(p > 0.0 && p < 1.0) {
        return None;
    }
    // The smaller tail keeps its digits; the other one is its mirror.
    let tail = p.min(1.0 - p);
    if tail >= 0.5 {
        return Some(0.0);
    }
    let z = where_increasing_reaches(-tail, &|z| -normal_cdf(-z))?;
    Some(if p < 0.5 { -z } else { z })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn density_is_the_slope_of_the_distribution() {
        for z in [-2.5, -0.3, 0.0, 1.1, 3.0] {
            let slope = (normal_cdf(z + 1e-5) - normal_cdf(z - 1e-5)) / 2e-5;
            assert!((slope - normal_density(z)).abs() < 1e-9, "{z}");
        }
    }

    #[test]
    fn quantile_undoes_the_distribution_in_both_tails() {
        for z in [-30.0, -8.0, -1.0, -1e-3, 0.0, 0.5, 2.0, 5.0] {
            let back = normal_quantile(normal_cdf(z)).unwrap();
            assert!((back - z).abs() < 1e-8, "{z}: {back}");
        }
    }

    #[test]
    fn what_is_no_probability_has_no_quantile() {
        for p in [0.0, 1.0, -0.1, 1.005, f64::NAN, f64::INFINITY] {
            assert_eq!(normal_quantile(p), None, "{p}");
        }
    }
}
