//! The season model: one model behind every sentence about change.
//!
//! A person's level moves: it drifts, it has a trend that fades, the first tests are lower because
//! the test itself is being learnt, and under 18 it grows. Each test shows that level with the error
//! of its trials and with the luck of its day; how much a person's days differ is learnt from the
//! tests, over four factors of the typical day. The model: docs/measurement.md §8.4. How often it is
//! wrong in invented people: `docs/season-rates.md`. Every constant is a design choice unless it says
//! more.

use super::filter::{Cell, DAYS_PER_YEAR, Look, filter, own_growth_sd, smooth};
use crate::statistics::normal_cdf;

pub use super::verdict::{CLEAR_FROM, Change, Missing, TOLD_FROM, Verdict, WORTH_NAMING_CM, Who};

/// How many times the typical one a person's day spread may be.
pub const DAY_FACTORS: [f64; 4] = [0.7, 1.0, 1.4, 2.0];
/// What each factor is worth before the first test: squares of it spread as 8/χ² with 8 degrees of
/// freedom (the weight of the starting spreads), cut at the geometric middles.
pub const DAY_FACTOR_WEIGHTS: [f64; 4] =
    [0.178_577_703_749, 0.500_623_019_155, 0.263_799_322_337, 0.056_999_954_759];
/// Drift of a level without any trend, cm² a day: 0.77 cm in a month.
pub const DRIFT_CM2_PER_DAY: f64 = 0.02;
/// Spread of the trend, cm a day: 2.1 cm in 30 days.
pub const TREND_SD_CM_PER_DAY: f64 = 0.07;
/// A trend has faded to 1/e after this many days: about one block of training.
pub const TREND_DAYS: f64 = 70.0;
/// What people learn of the test itself, counted from the first one, cm.
pub const LEARNING_MEAN_CM: f64 = 1.5;
/// How much that differs, cm. Wide, because measured learning is between nought (Moir 2004,
/// Fernández-Santos 2015) and this project's 1.5 cm.
pub const LEARNING_SD_CM: f64 = 2.0;
/// What is still to be learnt shrinks by this from test to test.
pub const LEARNING_RATIO: f64 = 0.5;
/// From so many earlier tests on nothing is left to learn.
pub const LEARNING_TESTS: u32 = 8;
/// Variance of the level around the first test, cm²: next to nothing is known before it.
pub const START_VARIANCE_CM2: f64 = 100.0;
/// Half of the drawn ribbon, in SDs: the level is inside about two times in three.
pub const RIBBON_SDS: f64 = 0.8;
/// Spread of growth where it is unknown, cm a year: half of the fastest year there is, as for a boy
/// of 13. Nothing is expected then, so that no fall is made of growth that may not be there.
pub const UNKNOWN_GROWTH_SD_CM_PER_YEAR: f64 = 2.9;

/// One test of the season. All tests share one trend key.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SeasonTest {
    /// Day, counted from any fixed day; tests come in order.
    pub day: f64,
    /// Usual height: the mean of the first three counted trials, cm.
    pub height_cm: f64,
    /// Its squared standard error without the day's own luck, cm²; not negative.
    pub rest_variance_cm2: f64,
    /// The typical spread between days of a person like this, one SD, cm; above zero.
    pub day_sd_cm: f64,
    /// How many tests of this kind the person did before, tired ones and practice included.
    pub earlier: u32,
    /// Growth to expect from the first of the tests to this one, cm; 0 in adults.
    pub growth_cm: f64,
}

/// The line at one test.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drawn {
    /// The level, growth included and learning left out, cm.
    pub mean_cm: f64,
    /// Its SD, cm; the ribbon is [`RIBBON_SDS`] of it wide on each side.
    pub sd_cm: f64,
    /// What learning the test still kept from this test, cm.
    pub learning_cm: f64,
    /// Growth since the season's start, expected and the person's own, cm; below zero before it.
    pub growth_cm: f64,
}

/// The season so far.
#[derive(Clone, Debug, PartialEq)]
pub struct Season {
    /// The place of the test that the season starts with.
    pub start: usize,
    /// The line, one place a test, those before the start included.
    pub drawn: Vec<Drawn>,
    /// From the start to the last test; `None` if they are one.
    pub change: Option<Change>,
    /// What each of [`DAY_FACTORS`] is worth now.
    pub day_weights: [f64; 4],
    /// Their mean: how many times the typical one this person's day spread is.
    pub day_factor: f64,
    /// What is so.
    pub verdict: Verdict,
}

/// Reads a season that starts with the test at `start`; earlier tests help to know it.
///
/// May be asked after every test: the rule is the same at every look.
///
/// # Errors
/// `None` without a test at `start`, if tests are out of order, or if a number is not finite or out
/// of its range.
///
/// ```
/// use two_marks::trend::model::{SeasonTest, Verdict, Who, season};
/// let test = |(earlier, height_cm)| SeasonTest {
///     day: 14.0 * f64::from(earlier),
///     height_cm,
///     rest_variance_cm2: 0.9,
///     day_sd_cm: 1.5,
///     earlier,
///     growth_cm: 0.0,
/// };
/// let tests = [(0, 40.0), (1, 41.0), (2, 41.2), (3, 46.0), (4, 47.5), (5, 47.0)].map(test);
/// let season = season(&tests, 0, Who::Adult).unwrap();
/// assert_eq!(season.verdict, Verdict::Higher { clear: false });
/// ```
#[must_use]
pub fn season(tests: &[SeasonTest], start: usize, who: Who) -> Option<Season> {
    let last = tests.len().checked_sub(1)?;
    let mut kept = Vec::with_capacity(tests.len());
    let mut lines = Vec::with_capacity(DAY_FACTORS.len());
    let growth_sd = own_growth_sd(who);
    if start > last || !is_valid(tests, growth_sd) {
        return None;
    }
    let look = Look { earlier: start, later: last, growth_sd };
    let mut cells = Vec::with_capacity(DAY_FACTORS.len());
    for factor in DAY_FACTORS {
        kept.clear();
        cells.push(filter(tests, look, factor, Some(&mut kept))?);
        lines.push(smooth(&kept));
    }
    let day_weights = weights(&cells);
    let mut drawn = Vec::with_capacity(tests.len());
    for (place, test) in tests.iter().enumerate() {
        let (mut mixed, mut learning, mut growing) = (Mixed::default(), 0.0, 0.0);
        for (weight, line) in day_weights.iter().zip(&lines) {
            let smooth = line.get(place)?;
            mixed.add(*weight, smooth.level, smooth.variance);
            learning += weight * smooth.learning;
            growing += weight * smooth.growing;
        }
        drawn.push(Drawn {
            mean_cm: mixed.mean + test.growth_cm,
            sd_cm: mixed.sd(),
            learning_cm: learning,
            growth_cm: growing + test.growth_cm,
        });
    }
    let grown = drawn.get(start).map_or(0.0, |drawn| drawn.growth_cm);
    drawn.iter_mut().for_each(|drawn| drawn.growth_cm -= grown);
    let change = (start < last).then(|| changed(tests, look, &cells, &day_weights)).flatten();
    let verdict = match (who, change) {
        (Who::UnderEight, _) => Verdict::OnlyDrawn,
        (_, None) => Verdict::TooFew,
        (_, Some(change)) => change.verdict(who),
    };
    let day_factor = mean_factor(&day_weights);
    Some(Season { start, drawn, change, day_weights, day_factor, verdict })
}

/// What two tests of a season say, given all of its tests: from the start to the last it is the
/// season's own answer.
///
/// # Errors
/// `None` as in [`season`], or if `earlier` does not come before `later`.
#[must_use]
pub fn pair(tests: &[SeasonTest], (earlier, later): (usize, usize), who: Who) -> Option<Change> {
    let growth_sd = own_growth_sd(who);
    if earlier >= later || later >= tests.len() || !is_valid(tests, growth_sd) {
        return None;
    }
    let look = Look { earlier, later, growth_sd };
    let mut cells = Vec::with_capacity(DAY_FACTORS.len());
    for factor in DAY_FACTORS {
        cells.push(filter(tests, look, factor, None)?);
    }
    changed(tests, look, &cells, &weights(&cells))
}

/// How many times the typical one the spread between days is, learnt from all tests: the mean of
/// [`DAY_FACTORS`] by what they are worth. It makes the ± of one test, √(rest + (factor · day)²).
///
/// Without a test, or where the model cannot be asked, it is the mean before any test, 1.11.
#[must_use]
pub fn day_factor(tests: &[SeasonTest], who: Who) -> f64 {
    let growth_sd = own_growth_sd(who);
    let look = Look { earlier: 0, later: 0, growth_sd };
    let all = |factor: f64| filter(tests, look, factor, None);
    let cells: Vec<Cell> = if is_valid(tests, growth_sd) {
        DAY_FACTORS.into_iter().filter_map(all).collect()
    } else {
        Vec::new()
    };
    mean_factor(&weights(&cells))
}

fn mean_factor(weights: &[f64; 4]) -> f64 {
    DAY_FACTORS.iter().zip(weights).map(|(factor, weight)| factor * weight).sum()
}

/// Whether the model can be asked: numbers are in their ranges and tests in order.
pub(super) fn is_valid(tests: &[SeasonTest], growth_sd: f64) -> bool {
    let valid = |test: &SeasonTest| {
        test.day.is_finite()
            && test.height_cm.is_finite()
            && test.growth_cm.is_finite()
            && (0.0..f64::INFINITY).contains(&test.rest_variance_cm2)
            && test.day_sd_cm > 0.0
            && test.day_sd_cm.is_finite()
    };
    tests.iter().all(valid)
        && tests.iter().is_sorted_by(|a, b| a.day <= b.day)
        && (0.0..f64::INFINITY).contains(&growth_sd)
}

/// What each day factor is worth after all tests.
fn weights(cells: &[Cell]) -> [f64; 4] {
    if cells.is_empty() {
        return DAY_FACTOR_WEIGHTS;
    }
    let best = cells.iter().fold(f64::NEG_INFINITY, |best, cell| best.max(cell.log_chance));
    let mut weights = DAY_FACTOR_WEIGHTS;
    let mut sum = 0.0;
    for (weight, cell) in weights.iter_mut().zip(cells) {
        *weight *= libm::exp(cell.log_chance - best);
        sum += *weight;
    }
    weights.iter_mut().for_each(|weight| *weight /= sum);
    weights
}

/// The change between the two copies, mixed over the day factors.
fn changed(tests: &[SeasonTest], look: Look, cells: &[Cell], weights: &[f64; 4]) -> Option<Change> {
    let (from, to) = (tests.get(look.earlier)?, tests.get(look.later)?);
    let years = (to.day - from.day) / DAYS_PER_YEAR;
    let growth_cm = to.growth_cm - from.growth_cm;
    let (mut own, mut total) = (Mixed::default(), Mixed::default());
    let (mut p_own_higher, mut p_total_higher, mut p_lower) = (0.0, 0.0, 0.0);
    for (cell, weight) in cells.iter().zip(weights) {
        let (mean, sd) = cell.of(&[0.0, -1.0, 1.0, 0.0, 0.0, 0.0]);
        own.add(*weight, mean, sd * sd);
        p_own_higher += weight * normal_cdf((mean - WORTH_NAMING_CM) / sd);
        let (beside, sd) = cell.of(&[0.0, -1.0, 1.0, 0.0, years, 0.0]);
        let mean = beside + growth_cm;
        total.add(*weight, mean, sd * sd);
        p_total_higher += weight * normal_cdf((mean - WORTH_NAMING_CM) / sd);
        p_lower += weight * normal_cdf((-WORTH_NAMING_CM - mean) / sd);
    }
    Some(Change {
        own_cm: own.mean,
        own_sd_cm: own.sd(),
        total_cm: total.mean,
        total_sd_cm: total.sd(),
        p_own_higher,
        p_total_higher,
        p_lower,
    })
}

/// Mean and variance of a mixture, part by part.
#[derive(Clone, Copy, Default)]
struct Mixed {
    mean: f64,
    square: f64,
}

impl Mixed {
    fn add(&mut self, weight: f64, mean: f64, variance: f64) {
        self.mean += weight * mean;
        self.square += weight * (variance + mean * mean);
    }

    fn sd(self) -> f64 {
        (self.square - self.mean * self.mean).max(0.0).sqrt()
    }
}
