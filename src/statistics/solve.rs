//! One root finder for every quantile: slow, short and certain.

/// Steps of the halving or doubling that finds a bracket; 2^±1074 is all of `f64`.
const BRACKET_STEPS: usize = 1100;
/// Halvings of the bracket; 64 exhaust the 53 bits of an `f64`.
const BISECTION_STEPS: usize = 64;

/// The positive `x` where the increasing function `f` passes `target`.
///
/// `f` is only asked at positive numbers. `None` if `f` never reaches the target, or if it gives
/// a value that is not a number. Bisection, because a page asks for a handful of quantiles and a
/// bracket cannot miss; the result is exact to the last bits of `f`.
pub(super) fn where_increasing_reaches(target: f64, f: &dyn Fn(f64) -> f64) -> Option<f64> {
    let mut high = 1.0;
    for _ in 0..BRACKET_STEPS {
        if f(high) >= target {
            break;
        }
        high *= 2.0;
    }
    let mut low = high / 2.0;
    for _ in 0..BRACKET_STEPS {
        if f(low) < target {
            break;
        }
        high = low;
        low /= 2.0;
    }
    if !high.is_finite() || f(high).is_nan() {
        return None;
    }
    for _ in 0..BISECTION_STEPS {
        let middle = low + (high - low) / 2.0;
        if f(middle) < target {
            low = middle;
        } else {
            high = middle;
        }
    }
    Some(high)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn finds_a_root_far_above_and_far_below_one() {
        for root in [3e-200, 0.25, 1.0, 7.0, 5e150] {
            let found = where_increasing_reaches(root, &|x| x).unwrap();
            assert!((found / root - 1.0).abs() < 4e-16, "{root}: {found}");
        }
    }

    #[test]
    fn gives_up_on_what_is_never_reached() {
        assert_eq!(where_increasing_reaches(2.0, &|_| 1.0), None);
        assert_eq!(where_increasing_reaches(2.0, &|_| f64::NAN), None);
    }
}
