//! How often a plan of tests would tell a real gain.

use super::filter::{DAYS_PER_YEAR, Look, filter, own_growth_sd, unlearnt};
use super::model::{LEARNING_MEAN_CM, SeasonTest, WORTH_NAMING_CM, Who, is_valid};
use crate::statistics::normal_cdf;

/// The day factor whose season stands for a whole mixture when the doubt is reckoned. A design choice,
/// found by comparing with simulated plans: with the typical factor itself the doubt comes out too
/// small, because a season never quite knows how much its days differ.
pub const PLANNER_DAY_FACTOR: f64 = 1.3;
/// So many SDs of doubt are passed with [`TOLD_FROM`](super::model::TOLD_FROM).
const TOLD_FROM_SDS: f64 = 1.475_791_028;
/// The own change, out of the state.
const OWN: [f64; 6] = [0.0, -1.0, 1.0, 0.0, 0.0, 0.0];

/// One test of a plan.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Planned {
    /// The test; its height is not looked at.
    pub test: SeasonTest,
    /// How much of the gain is there by then, from 0 to 1.
    pub share: f64,
}

/// What a plan of tests would show of a gain.
///
/// The change the model expects is a weighted sum of the heights, so its spread over invented
/// people who learn the test as expected is known without inventing any. Against simulated plans of
/// grown-ups the chance is off by 2 to 4 points in 100, 5 to 7 where tests are few or the gain is
/// small; `docs/season-rates.md` prints simulated ones.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Outlook {
    /// The change that the model expects of somebody who gains nothing, cm.
    nothing_cm: f64,
    /// What it expects of each centimetre gained.
    share: f64,
    /// Its own doubt of the change, one SD, cm.
    doubt_cm: f64,
    /// How much the expected change differs from season to season, one SD, cm.
    noise_cm: f64,
}

impl Outlook {
    /// Reads a plan.
    ///
    /// # Errors
    /// `None` with fewer than two tests, for whom no gain is ever claimed, or if a number is not valid
    /// (as in [`season`](super::model::season)).
    #[must_use]
    pub fn new(plan: &[Planned], who: Who) -> Option<Self> {
        if matches!(who, Who::Unknown(_) | Who::UnderEight) {
            return None;
        }
        let last = plan.len().checked_sub(1).filter(|last| *last > 0)?;
        let growth_sd = own_growth_sd(who);
        let look = Look { earlier: 0, later: last, growth_sd };
        let mut tests: Vec<SeasonTest> = plan.iter().map(|planned| planned.test).collect();
        for test in &mut tests {
            // Without growth: what it brings on average is taken off again.
            test.growth_cm = 0.0;
            test.height_cm = -LEARNING_MEAN_CM * unlearnt(test);
        }
        if !is_valid(&tests, growth_sd) {
            return None;
        }
        let change =
            |tests: &[SeasonTest]| Some(filter(tests, look, PLANNER_DAY_FACTOR, None)?.of(&OWN));
        let (nothing_cm, doubt_cm) = change(&tests)?;
        let first = tests.first()?.day;
        let (mut share, mut noise, mut growing) = (0.0, 0.0, 0.0);
        for (place, planned) in plan.iter().enumerate() {
            let mut moved = tests.clone();
            let test = moved.get_mut(place)?;
            test.height_cm += 1.0;
            let years = (test.day - first) / DAYS_PER_YEAR;
            let variance = test.rest_variance_cm2 + test.day_sd_cm * test.day_sd_cm;
            let weight = change(&moved)?.0 - nothing_cm;
            share += weight * planned.share;
            noise += weight * weight * variance;
            growing += weight * years * growth_sd;
        }
        let noise_cm = libm::sqrt(noise + growing * growing);
        Some(Self { nothing_cm, share, doubt_cm, noise_cm })
    }

    /// The chance that the season ends with "higher" if the level rises by `gain_cm` beyond growth.
    #[must_use]
    pub fn chance_of_telling(&self, gain_cm: f64) -> f64 {
        let needed = WORTH_NAMING_CM + TOLD_FROM_SDS * self.doubt_cm;
        let expected = self.nothing_cm + self.share * gain_cm;
        normal_cdf((expected - needed) / self.noise_cm)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// So many tests before and after eight weeks of training, three days apart.
    fn plan(each_side: u32) -> Vec<Planned> {
        let test = |place: u32| {
            let after = place >= each_side;
            let gap = if after { 56.0 } else { 0.0 };
            let test = SeasonTest {
                day: 3.0 * f64::from(place) + gap,
                height_cm: f64::NAN,
                rest_variance_cm2: if place == 0 { 1.84 } else { 0.9 },
                day_sd_cm: if place < 3 { 1.54 } else { 0.93 },
                earlier: place,
                growth_cm: 0.0,
            };
            Planned { test, share: if after { 1.0 } else { 0.0 } }
        };
        (0..2 * each_side).map(test).collect()
    }

    fn chance(each_side: u32, gain_cm: f64, who: Who) -> f64 {
        Outlook::new(&plan(each_side), who).unwrap().chance_of_telling(gain_cm)
    }

    #[test]
    fn more_tests_and_larger_gains_are_told_more_often() {
        for (each_side, gain_cm) in [(6, 4.0), (4, 5.0), (3, 6.0), (2, 8.0)] {
            println!("{each_side} {gain_cm} {}", chance(each_side, gain_cm, Who::Adult));
        }
        assert!(chance(2, 5.0, Who::Adult) < chance(4, 5.0, Who::Adult));
        assert!(chance(4, 4.0, Who::Adult) < chance(4, 6.0, Who::Adult));
        assert!(chance(4, 5.0, Who::Growing { sd_cm_per_year: 2.9 }) < chance(4, 5.0, Who::Adult));
        assert!(chance(4, 0.0, Who::Adult) < 0.02);
    }

    #[test]
    fn the_number_of_spreads_is_that_of_the_rule() {
        let exact = crate::statistics::normal_quantile(super::super::model::TOLD_FROM).unwrap();
        assert!((TOLD_FROM_SDS - exact).abs() < 1e-8, "{exact}");
    }

    #[test]
    fn what_cannot_be_planned_gives_nothing() {
        use super::super::model::Missing;
        assert_eq!(Outlook::new(&plan(4), Who::UnderEight), None);
        assert_eq!(Outlook::new(&plan(4), Who::Unknown(Missing::Age)), None);
        assert_eq!(Outlook::new(&plan(4)[..1], Who::Adult), None);
        let mut backwards = plan(4);
        backwards.reverse();
        assert_eq!(Outlook::new(&backwards, Who::Adult), None);
    }
}
