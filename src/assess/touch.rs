//! What can I reach? Standing reach and jump against a height over the floor.

use super::Assessment;
use crate::history::Test;
use crate::measure::{Device, Variant};
use crate::quantity::{JumpHeight, Length};
use crate::reliability::usual_from_best_cm;
use crate::statistics::{normal_cdf, normal_density};

/// How far the fingertip has to go over an edge to touch it and feel it. A design choice: about half
/// a fingertip.
pub const TOUCH_EXTRA: Length = Length::from_mm(10);
/// How far the fingers have to go over an edge to close around it. A design choice: the two outer
/// joints of a finger.
pub const GRASP_EXTRA: Length = Length::from_mm(60);
/// How far the fingertip has to go over an edge for the whole hand to be above it. A design choice:
/// a large hand, so that a smaller one clears sooner.
pub const CLEAR_EXTRA: Length = Length::from_mm(200);
/// Trials behind the chance of several goes: as many as a test has.
pub const GOES: u32 = 3;
/// Under 18 a reach older than this is said to be out of date. A design choice (docs/measurement.md §0, rule 2).
pub const REACH_FRESH_DAYS: i64 = 30;

/// Step and reach of the trapezoidal rule over what all goes of a day share, in its SDs.
const STEPS_EACH_SIDE: i32 = 160;
const STEP: f64 = 0.05;

/// Something up there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Target {
    /// The upper edge of a basketball ring.
    Ring,
    /// The lower edge of a basketball board.
    BoardEdge,
    /// The top of a volleyball net for men.
    NetMen,
    /// The top of a volleyball net for women.
    NetWomen,
    /// A height of one's own.
    Custom(Length),
}

/// A rule that sets a height.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rule {
    /// The rule book.
    pub book: &'static str,
    /// Its article, where the text that was read numbers it.
    pub article: Option<&'static str>,
}

impl Target {
    /// Everything but a height of one's own.
    pub const KNOWN: [Self; 4] = [Self::Ring, Self::BoardEdge, Self::NetMen, Self::NetWomen];

    /// Its height over the floor.
    pub const fn height(self) -> Length {
        match self {
            Self::Ring => Length::from_mm(3_050),
            Self::BoardEdge => Length::from_mm(2_900),
            Self::NetMen => Length::from_mm(2_430),
            Self::NetWomen => Length::from_mm(2_240),
            Self::Custom(height) => height,
        }
    }

    /// The rule that sets the height; none where none was read. The board's lower edge is common
    /// practice, no source: the rule's own text could not be read.
    pub const fn rule(self) -> Option<Rule> {
        match self {
            // Read in a translation ("3,050 mm from the floor"), whose numbering is not that of the
            // English text: so no article is named.
            Self::Ring => Some(Rule {
                book: "FIBA, Official Basketball Rules 2020, Basketball Equipment",
                article: None,
            }),
            // Read in a stored copy of the rules' text.
            Self::NetMen | Self::NetWomen => {
                Some(Rule { book: "FIVB, Official Volleyball Rules", article: Some("2.1.1") })
            }
            Self::BoardEdge | Self::Custom(_) => None,
        }
    }

    /// What one may want there. Nobody is sent to take hold of a ring or a board, and a net is not
    /// touched in play.
    pub const fn purposes(self) -> &'static [Purpose] {
        match self {
            Self::Ring | Self::BoardEdge => &[Purpose::Touch, Purpose::Clear],
            Self::NetMen | Self::NetWomen => &[Purpose::Clear],
            Self::Custom(_) => &[Purpose::Touch, Purpose::Grasp, Purpose::Clear],
        }
    }
}

/// What one wants at a height.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Purpose {
    /// Touch it with a fingertip.
    Touch,
    /// Close the fingers around it.
    Grasp,
    /// Have the whole hand above it.
    Clear,
}

impl Purpose {
    /// How far above the height the fingertip has to go; our own reckoning.
    pub const fn extra(self) -> Length {
        match self {
            Self::Touch => TOUCH_EXTRA,
            Self::Grasp => GRASP_EXTRA,
            Self::Clear => CLEAR_EXTRA,
        }
    }
}

/// A chance, told no finer than it is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Chance {
    /// Less than 1 in 20.
    Rare,
    /// About this many in 10, 1 to 9.
    Tenths(u8),
    /// More than 19 in 20.
    NearlySure,
}

impl Chance {
    /// Rounds a probability.
    ///
    /// ```
    /// use two_marks::assess::touch::Chance;
    /// assert_eq!(Chance::of(0.04), Chance::Rare);
    /// assert_eq!(Chance::of(0.27), Chance::Tenths(3));
    /// assert_eq!(Chance::of(0.96), Chance::NearlySure);
    /// ```
    pub fn of(probability: f64) -> Self {
        if probability > 0.95 {
            return Self::NearlySure;
        }
        if probability.is_nan() || probability < 0.05 {
            return Self::Rare;
        }
        let tenths = (1..=9).rev().find(|n| probability * 10.0 >= f64::from(*n) - 0.5);
        Self::Tenths(tenths.unwrap_or(1))
    }
}

/// Where a person's fingertip goes, and how sure that is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fingertip {
    /// The standing reach of the test.
    pub standing_reach: Length,
    /// The usual jump; worked back from the best where only the top mark is known.
    pub usual: JumpHeight,
    /// The best jump of the test.
    pub best: JumpHeight,
    /// SD of what all goes of a day share, cm.
    shared_sd_cm: f64,
    /// SD from one go to the next, cm.
    trial_sd_cm: f64,
}

/// What is needed for one purpose.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Need {
    /// For what.
    pub purpose: Purpose,
    /// Where the fingertip has to go, from the floor.
    pub height: Length,
    /// What the usual jump lacks; zero when it goes there.
    pub missing: Length,
    /// The feet can stay on the floor.
    pub standing: bool,
    /// The chance that one go reaches it.
    pub one_go: Chance,
    /// The chance that the best of [`GOES`] goes reaches it.
    pub best_of_goes: Chance,
}

/// The newest wall test of a kind of jump, `newest_first`; approach and standing jumps are never
/// mixed, and a time in the air says nothing of where a fingertip goes.
pub fn newest_of(newest_first: &[Test], approach: bool) -> Option<&Test> {
    newest_first.iter().find(|test| {
        let key = test.session.key;
        let kind = match key.variant {
            Variant::Standing => !approach,
            Variant::Approach { .. } => approach,
            Variant::HandsOnHips | Variant::HeldSquat => false,
        };
        kind && key.device == Device::Wall && test.session.best().is_some()
    })
}

impl Fingertip {
    /// From a test and what was said of it. `same_day` asks for the day of the test itself, whose
    /// form the jumps already show; else another day's form comes on top.
    ///
    /// None without a reach from the floor (distances between marks do not say how high they hang)
    /// and without a counted trial.
    pub fn of(test: &Test, assessed: &Assessment, same_day: bool) -> Option<Self> {
        let standing_reach = test.session.standing_reach()?.0;
        let (best, spread, parts) = (assessed.best?, assessed.spread?, assessed.parts?);
        let usual = match assessed.usual {
            Some(usual) => usual.height,
            None => {
                let trials = u32::try_from(test.session.counted().len()).ok()?;
                let cm = usual_from_best_cm(best.0.as_cm(), spread.trial_sd_cm, trials)?;
                JumpHeight(Length::from_cm(cm))
            }
        };
        // The total holds the form of the test's own day once. On that same day it is known, on
        // another day a new one is drawn.
        let (total, day) = (parts.total_cm(), parts.day_cm);
        let square = if same_day { total * total - day * day } else { total * total + day * day };
        let shared_sd_cm = square.max(0.0).sqrt();
        let trial_sd_cm = spread.trial_sd_cm;
        Some(Self { standing_reach, usual, best, shared_sd_cm, trial_sd_cm })
    }

    /// SD of where one single go ends, as far as it can be foretold.
    pub fn single_go_sd(&self) -> Length {
        Length::from_cm(libm::hypot(self.shared_sd_cm, self.trial_sd_cm))
    }

    /// Probability that the best of `goes` goes lifts the fingertip to `height` over the floor.
    ///
    /// All goes share the day's form, so three goes are not three independent chances: the chance of
    /// three independent trials is averaged over what they share, by the trapezoidal rule over a
    /// normal distribution. Our own reckoning.
    pub fn probability(&self, height: Length, goes: u32) -> f64 {
        let short_cm = (height - self.standing_reach - self.usual.0).as_cm();
        if height <= self.standing_reach {
            return 1.0;
        }
        if goes == 0 {
            return 0.0;
        }
        let mut reached = 0.0;
        for step in -STEPS_EACH_SIDE..=STEPS_EACH_SIDE {
            let z = f64::from(step) * STEP;
            let left = short_cm - z * self.shared_sd_cm;
            let below = normal_cdf(left / self.trial_sd_cm.max(0.01));
            let all_below = (0..goes).fold(1.0, |all, _| all * below);
            reached += (1.0 - all_below) * normal_density(z) * STEP;
        }
        reached.clamp(0.0, 1.0)
    }

    /// What each purpose at a target needs.
    pub fn needs(&self, target: Target) -> Vec<Need> {
        let need = |purpose: &Purpose| {
            let height = target.height() + purpose.extra();
            let missing = (height - self.standing_reach - self.usual.0).max(Length::ZERO);
            Need {
                purpose: *purpose,
                height,
                missing,
                standing: height <= self.standing_reach,
                one_go: Chance::of(self.probability(height, 1)),
                best_of_goes: Chance::of(self.probability(height, GOES)),
            }
        };
        target.purposes().iter().map(need).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Reach 224.5 cm, usual jump 42 cm: the fingertip goes to 266.5 cm.
    fn fingertip(shared_sd_cm: f64, trial_sd_cm: f64) -> Fingertip {
        Fingertip {
            standing_reach: Length::from_mm(2_245),
            usual: JumpHeight(Length::from_mm(420)),
            best: JumpHeight(Length::from_mm(435)),
            shared_sd_cm,
            trial_sd_cm,
        }
    }

    #[test]
    fn centimetres_are_missing_and_an_extra_is_counted() {
        let needs = fingertip(1.5, 1.6).needs(Target::Ring);
        // 305 + 1 - 266.5 and 305 + 20 - 266.5.
        assert_eq!(
            needs.iter().map(|need| need.missing.as_mm()).collect::<Vec<_>>(),
            [395.0, 585.0]
        );
        assert!(needs.iter().all(|need| need.one_go == Chance::Rare && !need.standing));
        // 224 + 20 is under 266.5: nothing is missing.
        let net = fingertip(1.5, 1.6).needs(Target::NetWomen);
        assert_eq!(
            (net.len(), net[0].missing, net[0].one_go),
            (1, Length::ZERO, Chance::NearlySure)
        );
        let low = fingertip(1.5, 1.6).needs(Target::Custom(Length::from_mm(2_200)));
        assert!(low[0].standing && !low[2].standing);
    }

    #[test]
    fn a_single_go_is_the_normal_tail_of_both_spreads_together() {
        // P(N(0, hypot(1.5, 1.6)) > d), closed form.
        let it = fingertip(1.5, 1.6);
        for mm in [-60, -20, 0, 10, 30, 70] {
            let height = Length::from_mm(2_665 + mm);
            let z = f64::from(i32::try_from(mm).unwrap()) / 10.0 / libm::hypot(1.5, 1.6);
            assert!((it.probability(height, 1) - normal_cdf(-z)).abs() < 1e-6, "{mm}");
        }
    }

    #[test]
    fn three_goes_share_the_day() {
        let height = Length::from_mm(2_680);
        let one = fingertip(1.5, 1.6).probability(height, 1);
        let three = fingertip(1.5, 1.6).probability(height, 3);
        let independent = 1.0 - (1.0 - one) * (1.0 - one) * (1.0 - one);
        assert!(one < three && three < independent - 0.05, "{one} {three} {independent}");
        // With nothing shared they are independent; with nothing but the day they are one.
        let free = fingertip(0.0, 1.6);
        let p = free.probability(height, 1);
        let all = 1.0 - (1.0 - p) * (1.0 - p) * (1.0 - p);
        assert!((free.probability(height, 3) - all).abs() < 1e-6);
        let tied = fingertip(1.6, 0.0);
        assert!((tied.probability(height, 3) - tied.probability(height, 1)).abs() < 0.01);
    }

    #[test]
    fn higher_is_never_likelier() {
        let it = fingertip(2.0, 1.0);
        let mut before = 1.0;
        for mm in (2_200..3_000).step_by(5) {
            let now = it.probability(Length::from_mm(mm), 3);
            assert!(now <= before + 1e-12, "{mm}");
            before = now;
        }
        assert!(before < 1e-6);
        assert!(it.probability(Length::from_mm(2_670), 0) < 1e-12);
    }

    #[test]
    fn chances_are_rounded_and_never_nought_or_ten_in_ten() {
        assert_eq!(Chance::of(0.0), Chance::Rare);
        assert_eq!(Chance::of(f64::NAN), Chance::Rare);
        assert_eq!(Chance::of(0.05), Chance::Tenths(1));
        assert_eq!(Chance::of(0.149), Chance::Tenths(1));
        assert_eq!(Chance::of(0.151), Chance::Tenths(2));
        assert_eq!(Chance::of(0.5), Chance::Tenths(5));
        assert_eq!(Chance::of(0.95), Chance::Tenths(9));
        assert_eq!(Chance::of(1.0), Chance::NearlySure);
    }

    #[test]
    fn nobody_is_sent_to_hold_a_ring_or_to_touch_a_net() {
        for target in [Target::Ring, Target::BoardEdge] {
            assert!(!target.purposes().contains(&Purpose::Grasp));
        }
        for target in [Target::NetMen, Target::NetWomen] {
            assert_eq!(target.purposes(), [Purpose::Clear]);
        }
    }
}
