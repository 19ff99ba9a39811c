//! The F distribution, for the interval of an intraclass correlation.

use super::beta::beta_of_parts;
use super::solve::where_increasing_reaches;

fn degrees_are_valid(df_above: f64, df_below: f64) -> bool {
    df_above > 0.0 && df_above.is_finite() && df_below > 0.0 && df_below.is_finite()
}

/// The two parts of the F distribution, below and above `x`.
fn parts(x: f64, df_above: f64, df_below: f64) -> (f64, f64) {
    let scaled = df_above * x;
    if scaled.is_infinite() {
        return (1.0, 0.0);
    }
    let whole = scaled + df_below;
    let (share, rest) = (scaled / whole, df_below / whole);
    (
        beta_of_parts(df_above / 2.0, df_below / 2.0, share, rest),
        beta_of_parts(df_below / 2.0, df_above / 2.0, rest, share),
    )
}

/// Probability that an F variable with `df_above` (numerator) and `df_below` (denominator) degrees
/// of freedom is below `x`.
///
/// # Errors
/// `None` unless x >= 0 and both degrees of freedom are positive and finite.
#[must_use]
pub fn f_cdf(x: f64, df_above: f64, df_below: f64) -> Option<f64> {
    if !(x >= 0.0 && degrees_are_valid(df_above, df_below)) {
        return None;
    }
    Some(parts(x, df_above, df_below).0)
}

/// The `x` below which such a variable falls with probability `p`.
///
/// # Errors
/// `None` unless 0 < p < 1 and both degrees of freedom are positive and finite.
#[must_use]
pub fn f_quantile(p: f64, df_above: f64, df_below: f64) -> Option<f64> {
    if !(p > 0.0 && p < 1.0 && degrees_are_valid(df_above, df_below)) {
        return None;
    }
    if p < 0.5 {
        where_increasing_reaches(p, &|x| parts(x, df_above, df_below).0)
    } else {
        where_increasing_reaches(p - 1.0, &|x| -parts(x, df_above, df_below).1)
    }
}

#[cfg(test)]
mod tests {
    use super::super::student_t_quantile;
    use super::*;

    #[test]
    fn one_numerator_degree_is_the_square_of_t() {
        for df in [3.0, 12.0, 40.0] {
            let t = student_t_quantile(0.975, df).unwrap();
            assert!((f_quantile(0.95, 1.0, df).unwrap() / (t * t) - 1.0).abs() < 1e-12, "{df}");
        }
    }

    #[test]
    fn swapping_the_degrees_inverts_the_quantile() {
        let upper = f_quantile(0.975, 5.0, 10.0).unwrap();
        let lower = f_quantile(0.025, 10.0, 5.0).unwrap();
        assert!((upper * lower - 1.0).abs() < 1e-12);
        assert!((f_cdf(upper, 5.0, 10.0).unwrap() - 0.975).abs() < 1e-12);
    }

    #[test]
    fn bad_parameters_give_nothing() {
        assert_eq!(f_cdf(-1.0, 2.0, 2.0), None);
        assert_eq!(f_cdf(f64::INFINITY, 2.0, 2.0), Some(1.0));
        assert_eq!(f_quantile(0.5, 0.0, 2.0), None);
        assert_eq!(f_quantile(1.0, 2.0, 2.0), None);
        assert_eq!(f_quantile(1.005, 2.0, 2.0), None);
        for (above, below) in [(f64::INFINITY, 2.0), (2.0, f64::INFINITY), (0.0, 2.0), (2.0, 0.0)] {
            assert_eq!(f_quantile(0.5, above, below), None);
            assert_eq!(f_cdf(1.0, above, below), None);
        }
        assert!(f_cdf(0.005, 0.005, 0.005).is_some());
        assert!(f_quantile(0.005, 2.0, 2.0).is_some());
    }
}
