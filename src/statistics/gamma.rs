//! The regularised incomplete gamma function.

/// Terms after which the series and the fraction stop; both need about sqrt(a) near x = a.
const TERMS_MAX: usize = 20_000;

/// Both halves of the regularised incomplete gamma function; they add up to one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RegularisedGamma {
    /// P(a, x), the part below x.
    pub lower: f64,
    /// Q(a, x), the part above x, kept apart because 1 - P loses a small tail.
    pub upper: f64,
}

/// P(a, x) and Q(a, x) for a > 0 and x >= 0.
///
/// Series below x = a + 1, continued fraction above (Abramowitz & Stegun 1964, 6.5.29 and 6.5.31).
///
/// # Errors
/// `None` unless a is positive and finite and x is not negative; an infinite x gives P = 1.
#[must_use]
pub fn regularised_gamma(a: f64, x: f64) -> Option<RegularisedGamma> {
    if !(a > 0.0 && a.is_finite() && x >= 0.0) {
        return None;
    }
    if x.is_infinite() {
        return Some(RegularisedGamma { lower: 1.0, upper: 0.0 });
    }
    if x < f64::MIN_POSITIVE {
        return Some(RegularisedGamma { lower: 0.0, upper: 1.0 });
    }
    let factor = libm::exp(a * libm::log(x) - x - libm::lgamma(a));
    if x < a + 1.0 {
        let lower = (factor * series(a, x)).clamp(0.0, 1.0);
        Some(RegularisedGamma { lower, upper: 1.0 - lower })
    } else {
        let upper = (factor * fraction(a, x)).clamp(0.0, 1.0);
        Some(RegularisedGamma { lower: 1.0 - upper, upper })
    }
}

fn series(a: f64, x: f64) -> f64 {
    let mut term = 1.0 / a;
    let mut sum = term;
    let mut denominator = a;
    for _ in 0..TERMS_MAX {
        denominator += 1.0;
        term *= x / denominator;
        sum += term;
        if term < sum * f64::EPSILON / 4.0 {
            break;
        }
    }
    sum
}

/// The fraction 1/(x+1-a- 1(1-a)/(x+3-a- 2(2-a)/(x+5-a- ...))), from the front (Lentz's method).
fn fraction(a: f64, x: f64) -> f64 {
    let mut b = x + 1.0 - a;
    let mut c = f64::INFINITY;
    let mut d = 1.0 / b;
    let mut product = d;
    for i in 1..TERMS_MAX {
        let i = i as f64;
        let numerator = -i * (i - a);
        b += 2.0;
        d = 1.0 / (numerator * d + b);
        c = b + numerator / c;
        let step = c * d;
        product *= step;
        if (step - 1.0).abs() < f64::EPSILON {
            break;
        }
    }
    product
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_equal_to_one_is_the_exponential_distribution() {
        for x in [1e-6, 0.3, 1.0, 1.9, 2.1, 10.0, 300.0] {
            let both = regularised_gamma(1.0, x).unwrap();
            assert!((both.upper / libm::exp(-x) - 1.0).abs() < 1e-13, "{x}");
            assert!((both.lower / -libm::expm1(-x) - 1.0).abs() < 1e-9, "{x}");
        }
    }

    #[test]
    fn bad_parameters_give_nothing() {
        for (a, x) in [(0.0, 1.0), (-1.0, 1.0), (f64::NAN, 1.0), (1.0, -1.0), (1.0, f64::NAN)] {
            assert_eq!(regularised_gamma(a, x), None, "{a} {x}");
        }
    }

    #[test]
    fn ends_are_zero_and_one() {
        assert_eq!(regularised_gamma(2.0, 0.0), Some(RegularisedGamma { lower: 0.0, upper: 1.0 }));
        assert_eq!(
            regularised_gamma(2.0, f64::INFINITY),
            Some(RegularisedGamma { lower: 1.0, upper: 0.0 })
        );
    }
}
