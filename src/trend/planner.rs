//! How many sessions until a gain can be told from noise.

use crate::statistics::{normal_cdf, normal_quantile};

use super::change::PROBABLE_FROM;

/// More sessions than this are no plan.
const SESSIONS_MAX: u32 = 60;

fn inputs_are_valid(gain_cm: f64, se_cm: f64, worthwhile_cm: f64) -> bool {
    let finite = gain_cm.is_finite() && se_cm.is_finite() && worthwhile_cm.is_finite();
    finite && se_cm > 0.0 && worthwhile_cm >= 0.0
}

/// Chance that a true gain of `gain_cm` will be called at least probable when the means of
/// `sessions` before and `sessions` after it are compared.
///
/// `se_cm` is the standard error of one session, `worthwhile_cm` the smallest change worth naming.
/// The call is made from P(gain > worthwhile) = 0.80 on, with no prior
/// ([`change`](super::change())).
///
/// # Errors
/// `None` without sessions, if a value is not finite, if the standard error is not positive, or if
/// the worthwhile change is negative.
#[must_use]
pub fn chance_of_telling(
    gain_cm: f64,
    se_cm: f64,
    worthwhile_cm: f64,
    sessions: u32,
) -> Option<f64> {
    if sessions == 0 || !inputs_are_valid(gain_cm, se_cm, worthwhile_cm) {
        return None;
    }
    let se_of_difference = se_cm * (2.0 / f64::from(sessions)).sqrt();
    Some(normal_cdf((gain_cm - worthwhile_cm) / se_of_difference - normal_quantile(PROBABLE_FROM)?))
}

/// Fewest sessions before, and as many after, with which a true gain of `gain_cm` is called at least
/// probable with chance `power`.
///
/// # Errors
/// `None` as in [`chance_of_telling`], unless 0 < power < 1, or when sixty sessions on each side
/// would not do, as for any gain that is not more than the smallest worth naming.
///
/// ```
/// // Three real centimetres, 1.5 cm standard error: four sessions before and four after.
/// assert_eq!(two_marks::trend::sessions_each_side(3.0, 1.5, 1.2, 0.8), Some(4));
/// ```
#[must_use]
pub fn sessions_each_side(gain_cm: f64, se_cm: f64, worthwhile_cm: f64, power: f64) -> Option<u32> {
    if !(power > 0.0 && power < 1.0) {
        return None;
    }
    (1..=SESSIONS_MAX).find(|sessions| {
        chance_of_telling(gain_cm, se_cm, worthwhile_cm, *sessions).is_some_and(|c| c >= power)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_count_is_the_least_that_reaches_the_power() {
        for (gain, se) in [(3.0, 1.5), (4.0, 2.0), (2.0, 1.1), (6.0, 1.0)] {
            let sessions = sessions_each_side(gain, se, 1.2, 0.8).unwrap();
            // Closed form: k = 2 (se (z_power + z_0.80)/(gain - worthwhile))².
            let exact = 2.0 * libm::pow(se * 2.0 * 0.841_621_233_572_9 / (gain - 1.2), 2.0);
            assert!((f64::from(sessions) - exact.ceil()).abs() < 1e-9, "{gain} {se}: {exact}");
            assert!(chance_of_telling(gain, se, 1.2, sessions).unwrap() >= 0.8);
            if sessions > 1 {
                assert!(chance_of_telling(gain, se, 1.2, sessions - 1).unwrap() < 0.8);
            }
        }
    }

    #[test]
    fn a_gain_of_nothing_is_called_as_often_as_promised() {
        // Nothing changed, one session each side, SE 1.514: about 8 in 100.
        let rate = chance_of_telling(0.0, 1.514_375_558_88, 1.2, 1).unwrap();
        assert!((rate - 0.080).abs() < 0.001, "{rate}");
        // Two sessions with an SE of 1 each: the difference has one of 1 as well. At a gain of the
        // worthwhile amount the call is made in exactly one case of five.
        assert!((chance_of_telling(1.2, 1.0, 1.2, 2).unwrap() - 0.2).abs() < 1e-12);
        let higher = chance_of_telling(2.2, 1.0, 1.2, 2).unwrap();
        assert!((higher - normal_cdf(1.0 - 0.841_621_233_572_9)).abs() < 1e-12);
    }

    #[test]
    fn what_cannot_be_told_has_no_plan() {
        assert_eq!(sessions_each_side(1.2, 1.5, 1.2, 0.8), None);
        assert_eq!(sessions_each_side(0.5, 1.5, 1.2, 0.8), None);
        assert_eq!(sessions_each_side(1.3, 5.0, 1.2, 0.8), None);
        assert_eq!(sessions_each_side(3.0, 1.5, 1.2, 1.0), None);
        assert_eq!(sessions_each_side(f64::NAN, 1.5, 1.2, 0.8), None);
        // A gain so large that it is certain by the digits of an f64.
        assert_eq!(sessions_each_side(300.0, 1.5, 1.2, 1.0), None);
        assert_eq!(sessions_each_side(3.0, 1.5, 1.2, 0.0), None);
        assert_eq!(sessions_each_side(3.0, 0.0, 1.2, 0.8), None);
        assert_eq!(chance_of_telling(3.0, 1.5, -1.0, 2), None);
        assert_eq!(chance_of_telling(3.0, 1.5, 1.2, 0), None);
        assert_eq!(chance_of_telling(f64::NAN, 1.5, 1.2, 2), None);
        assert_eq!(chance_of_telling(3.0, f64::INFINITY, 1.2, 2), None);
        assert_eq!(chance_of_telling(3.0, 1.5, f64::INFINITY, 2), None);
    }
}
