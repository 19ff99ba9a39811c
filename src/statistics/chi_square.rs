//! The chi-square distribution.

use super::gamma::regularised_gamma;
use super::solve::where_increasing_reaches;

/// Probability that a chi-square variable with these degrees of freedom is below `x`.
///
/// # Errors
/// `None` unless x >= 0 and the degrees of freedom are positive and finite.
#[must_use]
pub fn chi_square_cdf(x: f64, degrees_of_freedom: f64) -> Option<f64> {
    regularised_gamma(degrees_of_freedom / 2.0, x / 2.0).map(|both| both.lower)
}

/// The `x` below which such a variable falls with probability `p`.
///
/// # Errors
/// `None` unless 0 < p < 1 and the degrees of freedom are positive and finite.
///
/// ```
/// let x = two_marks::statistics::chi_square_quantile(0.95, 1.0).unwrap();
/// assert!((x - 3.841_458_821).abs() < 1e-8);
/// ```
#[must_use]
pub fn chi_square_quantile(p: f64, degrees_of_freedom: f64) -> Option<f64> {
    if !(p > 0.0 && p < 1.0 && degrees_of_freedom > 0.0 && degrees_of_freedom.is_finite()) {
        return None;
    }
    let parts = |x: f64| regularised_gamma(degrees_of_freedom / 2.0, x / 2.0);
    // Whichever tail is the smaller one keeps its digits.
    if p < 0.5 {
        where_increasing_reaches(p, &|x| parts(x).map_or(f64::NAN, |both| both.lower))
    } else {
        where_increasing_reaches(p - 1.0, &|x| parts(x).map_or(f64::NAN, |both| -both.upper))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_degrees_of_freedom_are_exponential() {
        for p in [1e-12, 0.2, 0.5, 0.9, 0.999] {
            let want = -2.0 * libm::log1p(-p);
            assert!((chi_square_quantile(p, 2.0).unwrap() / want - 1.0).abs() < 1e-12, "{p}");
            assert!((chi_square_cdf(want, 2.0).unwrap() / p - 1.0).abs() < 1e-12, "{p}");
        }
    }

    #[test]
    fn bad_parameters_give_nothing() {
        assert_eq!(chi_square_cdf(-1.0, 2.0), None);
        assert_eq!(chi_square_cdf(1.0, f64::NAN), None);
        assert_eq!(chi_square_quantile(0.0, 2.0), None);
        assert_eq!(chi_square_quantile(1.0, 2.0), None);
        assert_eq!(chi_square_quantile(1.005, 2.0), None);
        assert_eq!(chi_square_quantile(0.5, f64::INFINITY), None);
        assert!(chi_square_quantile(0.5, 0.005).is_some());
        assert!(chi_square_quantile(0.002, 2.0).is_some());
        assert_eq!(chi_square_quantile(0.5, -2.0), None);
        assert_eq!(chi_square_quantile(f64::NAN, 2.0), None);
    }
}
