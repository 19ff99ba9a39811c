//! Is the difference between two planned tests real and worth naming?

use crate::statistics::{normal_cdf, student_t_cdf};

use super::growth::Growth;

/// Smallest change worth naming, cm, where no group's spread is at hand; a design choice: 0.2 of a
/// spread of 6 cm between people, the middle of what is seen (5 to 8 cm).
pub const WORTHWHILE_CM: f64 = 1.2;
/// From this probability on a change is called probable; a design choice. For a single planned
/// comparison of two sessions it is a false alarm in about 8 of 100 when nothing changed.
pub const PROBABLE_FROM: f64 = 0.80;
/// From this probability on a change may be called clear; a design choice.
pub const CLEAR_FROM: f64 = 0.95;
/// A clear change needs the opposite to be less probable than this; a design choice. Both together
/// are a false alarm in about 1.4 of 100 planned comparisons.
pub const CLEAR_FALL_BELOW: f64 = 0.01;
/// 95 % of a normal distribution, as the literature on the MDC prints it.
const NORMAL_95: f64 = 1.96;

/// A height and its standard error, cm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Measured {
    /// Usual height.
    pub height_cm: f64,
    /// One standard error of it.
    pub se_cm: f64,
}

/// What was believed of the change before measuring: normal with this mean and SD.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Prior {
    /// Expected change, cm.
    pub mean_cm: f64,
    /// Its SD, cm.
    pub sd_cm: f64,
}

/// Two tests to compare.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ChangeQuestion {
    /// The earlier one.
    pub earlier: Measured,
    /// The later one.
    pub later: Measured,
    /// Smallest change worth naming, cm.
    pub worthwhile_cm: f64,
    /// `None` lets the data speak alone.
    pub prior: Option<Prior>,
    /// Degrees of freedom behind the standard errors if they are few; `None` for the normal
    /// distribution.
    pub degrees_of_freedom: Option<f64>,
}

impl ChangeQuestion {
    /// The same question about the change beyond what growing up brings: its mean is taken off the
    /// later height, its spread widens the later standard error.
    #[must_use]
    pub fn beyond(self, growth: Growth) -> Self {
        let later = Measured {
            height_cm: self.later.height_cm - growth.mean_cm,
            se_cm: libm::hypot(self.later.se_cm, growth.sd_cm),
        };
        Self { later, ..self }
    }
}

/// What two tests say about the change.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Change {
    /// Later minus earlier, cm.
    pub difference_cm: f64,
    /// Standard error of the difference, cm.
    pub se_cm: f64,
    /// The difference noise alone exceeds one time in twenty, cm.
    pub mdc95_cm: f64,
    /// Whether the difference, up or down, exceeds it.
    pub beyond_mdc: bool,
    /// Expected true change after measuring, cm.
    pub mean_cm: f64,
    /// Its SD, cm.
    pub sd_cm: f64,
    /// Probability of a gain worth naming.
    pub p_gain: f64,
    /// Probability of a fall worth naming.
    pub p_loss: f64,
}

impl Change {
    /// Probability that the true change is too small to be worth naming, either way.
    #[must_use]
    pub fn p_trivial(&self) -> f64 {
        1.0 - self.p_gain - self.p_loss
    }

    /// What may be said of it.
    #[must_use]
    pub fn weight(&self) -> Weight {
        weight_of(self.p_gain, self.p_loss)
    }
}

/// What may be said of a change. The middle one means "not shown yet", never "no change".
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Weight {
    /// A clear gain.
    ClearGain,
    /// A probable gain: test again.
    ProbableGain,
    /// Nothing shown yet.
    NotShown,
    /// A probable fall: test again.
    ProbableLoss,
    /// A clear fall.
    ClearLoss,
}

/// The label of a pair of probabilities, by thresholds fixed beforehand.
#[must_use]
pub fn weight_of(p_gain: f64, p_loss: f64) -> Weight {
    let clear = |this: f64, other: f64| this >= CLEAR_FROM && other < CLEAR_FALL_BELOW;
    if clear(p_gain, p_loss) {
        Weight::ClearGain
    } else if clear(p_loss, p_gain) {
        Weight::ClearLoss
    } else if p_gain >= PROBABLE_FROM {
        Weight::ProbableGain
    } else if p_loss >= PROBABLE_FROM {
        Weight::ProbableLoss
    } else {
        Weight::NotShown
    }
}

/// Weighs the difference of two tests.
///
/// With no prior the true change is normal around the difference; a normal prior is averaged in by
/// precision; with few degrees of freedom Student's t takes the normal's place. For planned
/// comparisons (start, middle, end of a season): looking after every test multiplies false alarms,
/// so the running picture is [`season`](super::season)'s.
///
/// # Errors
/// `None` if a value is not finite, if the difference has no standard error, if the worthwhile
/// change is negative, if the prior's SD is not positive, or if the degrees of freedom are not
/// positive.
///
/// ```
/// use two_marks::trend::{ChangeQuestion, Measured, Weight, change};
/// let test = |height_cm| Measured { height_cm, se_cm: 1.514_375_558_88 };
/// let answer = change(&ChangeQuestion {
///     earlier: test(40.2),
///     later: test(43.4),
///     worthwhile_cm: 1.2,
///     prior: None,
///     degrees_of_freedom: None,
/// }).unwrap();
/// assert!((answer.p_gain - 0.824_811_739).abs() < 1e-9);
/// assert!(!answer.beyond_mdc);
/// assert_eq!(answer.weight(), Weight::ProbableGain);
/// ```
#[must_use]
pub fn change(question: &ChangeQuestion) -> Option<Change> {
    let (earlier, later) = (question.earlier, question.later);
    let difference_cm = later.height_cm - earlier.height_cm;
    let se_cm = libm::hypot(earlier.se_cm, later.se_cm);
    let worthwhile_cm = question.worthwhile_cm;
    let valid = difference_cm.is_finite() && se_cm > 0.0 && se_cm.is_finite();
    if !(valid && worthwhile_cm >= 0.0 && worthwhile_cm.is_finite()) {
        return None;
    }
    let (mean_cm, sd_cm) = match question.prior {
        None => (difference_cm, se_cm),
        Some(prior) => averaged(difference_cm, se_cm, prior)?,
    };
    let below = |z: f64| match question.degrees_of_freedom {
        None => Some(normal_cdf(z)),
        Some(degrees) => student_t_cdf(z, degrees),
    };
    let mdc95_cm = NORMAL_95 * se_cm;
    Some(Change {
        difference_cm,
        se_cm,
        mdc95_cm,
        beyond_mdc: difference_cm.abs() > mdc95_cm,
        mean_cm,
        sd_cm,
        p_gain: below((mean_cm - worthwhile_cm) / sd_cm)?,
        p_loss: below((-worthwhile_cm - mean_cm) / sd_cm)?,
    })
}

/// Mean and SD of a normal prior and a measured difference together, each by its precision.
fn averaged(difference_cm: f64, se_cm: f64, prior: Prior) -> Option<(f64, f64)> {
    if !(prior.sd_cm > 0.0 && prior.sd_cm.is_finite() && prior.mean_cm.is_finite()) {
        return None;
    }
    let (of_data, of_prior) = (1.0 / (se_cm * se_cm), 1.0 / (prior.sd_cm * prior.sd_cm));
    let precision = of_data + of_prior;
    let mean_cm = (difference_cm * of_data + prior.mean_cm * of_prior) / precision;
    Some((mean_cm, (1.0 / precision).sqrt()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::statistics::normal_quantile;

    const SE_CM: f64 = 1.514_375_558_88;

    fn asked(difference_cm: f64) -> ChangeQuestion {
        ChangeQuestion {
            earlier: Measured { height_cm: 40.0, se_cm: SE_CM },
            later: Measured { height_cm: 40.0 + difference_cm, se_cm: SE_CM },
            worthwhile_cm: WORTHWHILE_CM,
            prior: None,
            degrees_of_freedom: None,
        }
    }

    /// The table of rules: the difference each needs, and how often noise alone reaches it.
    #[test]
    fn labels_begin_where_they_are_said_to() {
        let rows = [
            (Weight::ProbableGain, 3.00, 0.080),
            (Weight::ClearGain, 4.72, 0.014),
            (Weight::ProbableLoss, -3.00, 0.080),
            (Weight::ClearLoss, -4.72, 0.014),
        ];
        for (weight, from_cm, false_alarm) in rows {
            let inward = if from_cm > 0.0 { -0.01 } else { 0.01 };
            assert_ne!(change(&asked(from_cm + inward)).unwrap().weight(), weight);
            assert_eq!(change(&asked(from_cm - inward)).unwrap().weight(), weight);
            let rate = 1.0 - normal_cdf(from_cm.abs() / change(&asked(0.0)).unwrap().se_cm);
            assert!((rate - false_alarm).abs() < 0.001, "{weight:?}: {rate}");
        }
        let mdc = change(&asked(0.0)).unwrap().mdc95_cm;
        assert!((mdc - 4.20).abs() < 0.005);
        assert!(
            change(&asked(4.3)).unwrap().beyond_mdc && change(&asked(-4.3)).unwrap().beyond_mdc
        );
        assert!(!change(&asked(4.1)).unwrap().beyond_mdc);
    }

    #[test]
    fn the_three_probabilities_add_up_and_mirror() {
        let (up, down) = (change(&asked(2.5)).unwrap(), change(&asked(-2.5)).unwrap());
        assert!((up.p_gain - down.p_loss).abs() < 1e-12 && (up.p_loss - down.p_gain).abs() < 1e-12);
        assert!((up.p_gain + up.p_loss + up.p_trivial() - 1.0).abs() < 1e-15);
    }

    #[test]
    fn a_wide_prior_changes_nothing_and_a_narrow_one_decides() {
        let with = |mean_cm, sd_cm| {
            let prior = Some(Prior { mean_cm, sd_cm });
            change(&ChangeQuestion { prior, ..asked(3.0) }).unwrap().mean_cm
        };
        assert!((with(0.0, 1e6) - 3.0).abs() < 1e-6);
        assert!((with(1.0, 1e-6) - 1.0).abs() < 1e-6);
    }

    #[test]
    fn few_degrees_of_freedom_make_a_claim_less_certain() {
        let few = change(&ChangeQuestion { degrees_of_freedom: Some(4.0), ..asked(4.0) }).unwrap();
        assert!(few.p_gain < change(&asked(4.0)).unwrap().p_gain);
    }

    #[test]
    fn growth_is_taken_off_and_its_spread_added() {
        let growth = Growth { mean_cm: 2.0, sd_cm: 1.0 };
        let beyond = change(&asked(5.0).beyond(growth)).unwrap();
        assert!((beyond.difference_cm - 3.0).abs() < 1e-12);
        assert!((beyond.se_cm - (2.0 * SE_CM * SE_CM + 1.0).sqrt()).abs() < 1e-12);
    }

    #[test]
    fn clear_needs_the_opposite_to_be_excluded() {
        assert_eq!(weight_of(0.96, 0.02), Weight::ProbableGain);
        assert_eq!(weight_of(0.96, 0.009), Weight::ClearGain);
        assert_eq!(weight_of(0.02, 0.96), Weight::ProbableLoss);
        assert_eq!(weight_of(0.79, 0.0), Weight::NotShown);
        assert_eq!(weight_of(f64::NAN, f64::NAN), Weight::NotShown);
        // The threshold of "probable" as a number of standard errors.
        assert!((normal_quantile(PROBABLE_FROM).unwrap() - 0.841_621_2).abs() < 1e-6);
    }

    #[test]
    fn a_small_standard_error_is_one() {
        let exact = |height_cm| Measured { height_cm, se_cm: 0.004 };
        let question = ChangeQuestion { earlier: exact(40.0), later: exact(42.0), ..asked(0.0) };
        assert_eq!(change(&question).unwrap().weight(), Weight::ClearGain);
    }

    #[test]
    fn what_cannot_be_weighed_gives_nothing() {
        let none = |question: ChangeQuestion| assert_eq!(change(&question), None);
        none(asked(f64::NAN));
        none(ChangeQuestion { worthwhile_cm: -1.0, ..asked(1.0) });
        none(ChangeQuestion { degrees_of_freedom: Some(0.0), ..asked(1.0) });
        none(ChangeQuestion { prior: Some(Prior { mean_cm: 0.0, sd_cm: 0.0 }), ..asked(1.0) });
        let exact = Measured { height_cm: 40.0, se_cm: 0.0 };
        none(ChangeQuestion { earlier: exact, later: exact, ..asked(1.0) });
    }

    #[test]
    fn a_limit_that_is_only_reached_is_not_passed() {
        // The opposite at one in a hundred is not less probable than that.
        assert_eq!(weight_of(0.96, CLEAR_FALL_BELOW), Weight::ProbableGain);
        assert_eq!(weight_of(CLEAR_FALL_BELOW, 0.96), Weight::ProbableLoss);
        // Standard errors of 3 and 4 cm are 5 together, and the MDC is 1.96 times that: 9.8 cm.
        let of = |later_cm| {
            let earlier = Measured { height_cm: 0.0, se_cm: 3.0 };
            let later = Measured { height_cm: later_cm, se_cm: 4.0 };
            change(&ChangeQuestion { earlier, later, ..asked(0.0) }).unwrap().beyond_mdc
        };
        assert!(!of(9.8) && of(9.81));
    }
}
