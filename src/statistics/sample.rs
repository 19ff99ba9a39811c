//! Mean, standard deviation, median and quantiles of a handful of numbers.

fn all_finite(values: &[f64]) -> bool {
    !values.is_empty() && values.iter().all(|value| value.is_finite())
}

/// The values in ascending order, or `None` if there are none or one is not finite.
pub(super) fn sorted(values: &[f64]) -> Option<Vec<f64>> {
    if !all_finite(values) {
        return None;
    }
    let mut ascending = values.to_vec();
    ascending.sort_by(f64::total_cmp);
    Some(ascending)
}

/// Arithmetic mean.
///
/// # Errors
/// `None` for an empty slice or a value that is not finite.
#[must_use]
pub fn mean(values: &[f64]) -> Option<f64> {
    all_finite(values).then(|| values.iter().sum::<f64>() / values.len() as f64)
}

/// Sum of squared deviations from the mean.
///
/// # Errors
/// As [`mean`].
pub(crate) fn sum_of_squares(values: &[f64]) -> Option<f64> {
    let centre = mean(values)?;
    Some(values.iter().map(|value| (value - centre) * (value - centre)).sum())
}

/// Sample standard deviation, with n - 1 in the denominator.
///
/// # Errors
/// `None` for fewer than two values or a value that is not finite.
#[must_use]
pub fn sample_sd(values: &[f64]) -> Option<f64> {
    if values.len() < 2 {
        return None;
    }
    Some((sum_of_squares(values)? / (values.len() - 1) as f64).sqrt())
}

/// Median; of an even number, the mean of the two in the middle.
///
/// # Errors
/// As [`mean`].
#[must_use]
pub fn median(values: &[f64]) -> Option<f64> {
    quantile(values, 0.5)
}

/// The quantile at share `p` of the ordered values, linear between neighbours.
///
/// Rule: position (n - 1) p counted from zero, type 7 of Hyndman & Fan 1996 (The American
/// Statistician 50:361), the usual default of statistical software.
///
/// # Errors
/// `None` for an empty slice, a value that is not finite, or p outside 0 to 1.
///
/// ```
/// use two_marks::statistics::quantile;
/// assert_eq!(quantile(&[40.0, 10.0, 20.0, 30.0], 0.5), Some(25.0));
/// ```
#[must_use]
pub fn quantile(values: &[f64], p: f64) -> Option<f64> {
    let ascending = sorted(values)?;
    if !(0.0..=1.0).contains(&p) {
        return None;
    }
    quantile_of_sorted(&ascending, p)
}

/// The same rule for values that are already in order.
fn quantile_of_sorted(ascending: &[f64], p: f64) -> Option<f64> {
    let position = (ascending.len().checked_sub(1)?) as f64 * p;
    let below = position.floor();
    let index = to_index(below)?;
    let low = *ascending.get(index)?;
    let high = *ascending.get(index + 1).unwrap_or(&low);
    Some(low + (high - low) * (position - below))
}

/// A whole, not negative `f64` as an index.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "checked to be a whole number from 0 to 2^32 on the line before"
)]
pub(super) fn to_index(whole: f64) -> Option<usize> {
    (0.0..=4_294_967_296.0).contains(&whole).then_some(whole as usize)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn mean_and_sd_of_a_small_sample() {
        // Deviations -2, 0, 2: sum of squares 8, divided by 2.
        let values = [38.0, 40.0, 42.0];
        assert_eq!(mean(&values), Some(40.0));
        assert_eq!(sample_sd(&values), Some(2.0));
        assert_eq!(sum_of_squares(&values), Some(8.0));
        assert_eq!(sample_sd(&[1.0, 2.0]), Some(0.5_f64.sqrt()));
    }

    #[test]
    fn median_of_odd_and_even_counts_in_any_order() {
        assert_eq!(median(&[3.0, 1.0, 2.0]), Some(2.0));
        assert_eq!(median(&[4.0, 1.0, 3.0, 2.0]), Some(2.5));
        assert_eq!(median(&[7.0]), Some(7.0));
    }

    #[test]
    fn quantiles_reach_both_ends_and_interpolate() {
        let values = [10.0, 20.0, 30.0, 40.0, 50.0];
        assert_eq!(quantile(&values, 0.0), Some(10.0));
        assert_eq!(quantile(&values, 1.0), Some(50.0));
        assert_eq!(quantile(&values, 0.25), Some(20.0));
        assert!((quantile(&values, 0.1).unwrap() - 14.0).abs() < 1e-12);
    }

    #[test]
    fn nothing_and_what_is_not_a_number_give_nothing() {
        for values in [&[][..], &[f64::NAN], &[1.0, f64::INFINITY]] {
            assert_eq!(mean(values), None);
            assert_eq!(median(values), None);
            assert_eq!(sample_sd(values), None);
            assert_eq!(quantile(values, 0.5), None);
        }
        assert_eq!(sample_sd(&[1.0]), None);
        assert_eq!(quantile(&[1.0], 1.005), None);
        assert_eq!(quantile(&[1.0], -0.005), None);
        assert_eq!(quantile(&[1.0], f64::NAN), None);
    }
}
