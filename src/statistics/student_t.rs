//! Student's t distribution.

use super::beta::beta_of_parts;
use super::solve::where_increasing_reaches;

/// The part of a t distribution beyond |t| on one side.
fn tail(t: f64, degrees_of_freedom: f64) -> f64 {
    let square = t * t;
    if square.is_infinite() {
        return 0.0;
    }
    let whole = degrees_of_freedom + square;
    0.5 * beta_of_parts(degrees_of_freedom / 2.0, 0.5, degrees_of_freedom / whole, square / whole)
}

fn degrees_are_valid(degrees_of_freedom: f64) -> bool {
    degrees_of_freedom > 0.0 && degrees_of_freedom.is_finite()
}

/// Probability that a t variable with these degrees of freedom (not only whole ones) is below `t`.
///
/// # Errors
/// `None` if `t` is not a number or the degrees of freedom are not positive and finite.
#[must_use]
pub fn student_t_cdf(t: f64, degrees_of_freedom: f64) -> Option<f64> {
    if t.is_nan() || !degrees_are_valid(degrees_of_freedom) {
        return None;
    }
    let beyond = tail(t, degrees_of_freedom);
    Some(if t > 0.0 { 1.0 - beyond } else { beyond })
}

/// The `t` below which such a variable falls with probability `p`.
///
/// # Errors
/// `None` unless 0 < p < 1 and the degrees of freedom are positive and finite.
///
/// ```
/// let t = two_marks::statistics::student_t_quantile(0.975, 10.0).unwrap();
/// assert!((t - 2.228_138_852).abs() < 1e-8);
/// ```
#[must_use]
pub fn student_t_quantile(p: f64, degrees_of_freedom: f64) -> Option<f64> {
    if !(p > 0.0 && p < 1.0 && degrees_are_valid(degrees_of_freedom)) {
        return None;
    }
    let beyond = p.min(1.0 - p);
    if beyond >= 0.5 {
        return Some(0.0);
    }
    let t = where_increasing_reaches(-beyond, &|t| -tail(t, degrees_of_freedom))?;
    Some(if p < 0.5 { -t } else { t })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_degree_of_freedom_is_the_cauchy_distribution() {
        for t in [-40.0, -1.0, 0.0, 0.2, 3.0] {
            let want = 0.5 + libm::atan(t) / core::f64::consts::PI;
            assert!((student_t_cdf(t, 1.0).unwrap() - want).abs() < 1e-14, "{t}");
        }
    }

    #[test]
    fn quantile_undoes_the_distribution() {
        for t in [-6.0, -0.4, 0.0, 1.7, 9.0] {
            let p = student_t_cdf(t, 7.5).unwrap();
            assert!((student_t_quantile(p, 7.5).unwrap() - t).abs() < 1e-9, "{t}");
        }
    }

    #[test]
    fn bad_parameters_give_nothing() {
        assert_eq!(student_t_cdf(f64::NAN, 3.0), None);
        assert_eq!(student_t_cdf(1.0, 0.0), None);
        assert_eq!(student_t_cdf(f64::INFINITY, 3.0), Some(1.0));
        assert_eq!(student_t_cdf(f64::NEG_INFINITY, 3.0), Some(0.0));
        assert_eq!(student_t_quantile(1.0, 3.0), None);
        assert_eq!(student_t_quantile(0.0, 3.0), None);
        assert_eq!(student_t_quantile(1.005, 3.0), None);
        assert!(student_t_quantile(0.005, 3.0).is_some());
        assert!(student_t_cdf(1.0, 0.005).is_some());
        assert_eq!(student_t_quantile(0.5, f64::INFINITY), None);
    }
}
