//! The regularised incomplete beta function.

/// Steps after which the continued fraction stops; it needs about sqrt(max(a, b)).
const STEPS_MAX: usize = 20_000;
/// Stands in for a denominator of zero (Lentz's method).
const TINY: f64 = 1e-300;

/// I_x(a, b), the regularised incomplete beta function.
///
/// Continued fraction of Abramowitz & Stegun 1964, 26.5.8, taken from the side where it converges
/// fast.
///
/// # Errors
/// `None` unless a and b are positive and finite and 0 <= x <= 1.
#[must_use]
pub fn regularised_beta(a: f64, b: f64, x: f64) -> Option<f64> {
    if !(a > 0.0 && a.is_finite() && b > 0.0 && b.is_finite() && (0.0..=1.0).contains(&x)) {
        return None;
    }
    Some(beta_of_parts(a, b, x, 1.0 - x))
}

/// The same with x and 1 - x given apart, so that neither loses its digits near the other's end.
pub(super) fn beta_of_parts(a: f64, b: f64, x: f64, rest: f64) -> f64 {
    if x <= 0.0 {
        return 0.0;
    }
    if rest <= 0.0 {
        return 1.0;
    }
    let ln_factor = a * libm::log(x) + b * libm::log(rest) + libm::lgamma(a + b)
        - libm::lgamma(a)
        - libm::lgamma(b);
    let factor = libm::exp(ln_factor);
    let value = if x < (a + 1.0) / (a + b + 2.0) {
        factor * fraction(a, b, x) / a
    } else {
        1.0 - factor * fraction(b, a, rest) / b
    };
    value.clamp(0.0, 1.0)
}

fn away_from_zero(value: f64) -> f64 {
    if value.abs() < TINY { TINY } else { value }
}

fn fraction(a: f64, b: f64, x: f64) -> f64 {
    let mut c = 1.0;
    let mut d = 1.0 / away_from_zero(1.0 - (a + b) * x / (a + 1.0));
    let mut product = d;
    for m in 1..STEPS_MAX {
        let m = m as f64;
        let even = m * (b - m) * x / ((a + 2.0 * m - 1.0) * (a + 2.0 * m));
        d = 1.0 / away_from_zero(1.0 + even * d);
        c = away_from_zero(1.0 + even / c);
        product *= c * d;
        let odd = -(a + m) * (a + b + m) * x / ((a + 2.0 * m) * (a + 2.0 * m + 1.0));
        d = 1.0 / away_from_zero(1.0 + odd * d);
        c = away_from_zero(1.0 + odd / c);
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
    fn whole_numbers_are_a_binomial_sum() {
        // I_x(2, 3) = P(at least 2 of 4 successes) = 6x^2 - 8x^3 + 3x^4.
        for x in [0.0, 0.1, 0.35, 0.5, 0.8, 1.0] {
            let want = 6.0 * x * x - 8.0 * x * x * x + 3.0 * x * x * x * x;
            assert!((regularised_beta(2.0, 3.0, x).unwrap() - want).abs() < 1e-14, "{x}");
        }
    }

    #[test]
    fn small_parameters_are_parameters() {
        // I_x(a, 1) = x^a.
        let value = regularised_beta(0.002, 1.0, 0.3).unwrap();
        assert!((value - libm::pow(0.3, 0.002)).abs() < 1e-14);
        let mirrored = regularised_beta(1.0, 0.002, 0.7).unwrap();
        assert!((mirrored - (1.0 - value)).abs() < 1e-14);
    }

    #[test]
    fn the_two_sides_add_up_to_one() {
        for (a, b, x) in [(0.5, 7.0, 0.02), (30.0, 0.5, 0.9), (4.0, 4.0, 0.5)] {
            let sum = regularised_beta(a, b, x).unwrap() + regularised_beta(b, a, 1.0 - x).unwrap();
            assert!((sum - 1.0).abs() < 1e-13);
        }
    }

    #[test]
    fn bad_parameters_give_nothing() {
        for (a, b, x) in [
            (0.0, 1.0, 0.5),
            (1.0, -1.0, 0.5),
            (1.0, 1.0, 1.5),
            (1.0, 1.0, f64::NAN),
            (f64::NAN, 1.0, 0.5),
        ] {
            assert_eq!(regularised_beta(a, b, x), None);
        }
    }
}
