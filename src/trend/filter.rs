//! The season model for one day factor: an exact filter, and a smoother without inverses.
//!
//! State, in this order: own level w (cm, growth left out), its copies at two chosen tests, learning
//! still to come L (cm), the person's growth less the expected (cm a year), trend b (cm a day). The
//! filter is Kalman's (1960, J. Basic Eng. 82:35), the smoother the one by de Jong (1989, J. Am.
//! Stat. Assoc. 84:1085). The model: docs/measurement.md §8.4.

use super::model::{
    DRIFT_CM2_PER_DAY, LEARNING_MEAN_CM, LEARNING_RATIO, LEARNING_SD_CM, LEARNING_TESTS,
    START_VARIANCE_CM2, SeasonTest, TREND_DAYS, TREND_SD_CM_PER_DAY, UNKNOWN_GROWTH_SD_CM_PER_YEAR,
    Who,
};

/// Days in a mean year.
pub(super) const DAYS_PER_YEAR: f64 = 365.25;
/// Numbers in the state.
const N: usize = 6;

/// The state's mean or one row of its covariance.
pub(super) type Row = [f64; N];
type Square = [Row; N];

/// What one day factor says of a season.
#[derive(Clone, Copy, Debug)]
pub(super) struct Cell {
    /// Logarithm of the chance of the measured heights, up to a constant shared by all factors.
    pub log_chance: f64,
    /// Mean of the state after the last test.
    pub mean: Row,
    /// Its covariance.
    pub covariance: Square,
}

impl Cell {
    /// Mean and SD of a sum of the state's numbers, each times its part.
    pub fn of(&self, parts: &Row) -> (f64, f64) {
        let variance = dot(parts, &times(&self.covariance, parts));
        (dot(parts, &self.mean), variance.max(0.0).sqrt())
    }
}

/// What was known before a test, and what the test then said.
#[derive(Clone, Copy, Debug)]
pub(super) struct Before {
    mean: Row,
    covariance: Square,
    seen: Row,
    gain: Row,
    surprise: f64,
    variance: f64,
    /// Days from the test before.
    days: f64,
}

/// One test's place on the smoothed line.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Smooth {
    /// Own level and the person's growth beside the expected, cm.
    pub level: f64,
    /// Its variance, cm².
    pub variance: f64,
    /// What is still to be learnt of the test at that place, cm.
    pub learning: f64,
    /// The person's growth beside the expected since the first test, cm.
    pub growing: f64,
}

/// Which tests are copied, and the spread of growth.
#[derive(Clone, Copy, Debug)]
pub(super) struct Look {
    /// The place of the earlier copy.
    pub earlier: usize,
    /// The place of the later copy.
    pub later: usize,
    /// Spread of growth between people, cm a year.
    pub growth_sd: f64,
}

/// Runs the filter over all tests for one day factor; with `kept` it notes what the smoother needs.
///
/// `None` without a test.
pub(super) fn filter(
    tests: &[SeasonTest],
    look: Look,
    day_factor: f64,
    mut kept: Option<&mut Vec<Before>>,
) -> Option<Cell> {
    let first = tests.first()?;
    let at = first.height_cm - first.growth_cm + LEARNING_MEAN_CM * unlearnt(first);
    let mut mean = [at, 0.0, 0.0, LEARNING_MEAN_CM, 0.0, 0.0];
    let mut covariance = [[0.0; N]; N];
    covariance[0][0] = START_VARIANCE_CM2;
    covariance[3][3] = LEARNING_SD_CM * LEARNING_SD_CM;
    covariance[4][4] = look.growth_sd * look.growth_sd;
    covariance[5][5] = TREND_SD_CM_PER_DAY * TREND_SD_CM_PER_DAY;
    let (mut log_chance, mut day) = (0.0, first.day);
    for (place, test) in tests.iter().enumerate() {
        let days = test.day - day;
        day = test.day;
        step(&mut mean, &mut covariance, days);
        let years = (test.day - first.day) / DAYS_PER_YEAR;
        let seen = [1.0, 0.0, 0.0, -unlearnt(test), years, 0.0];
        let gain = times(&covariance, &seen);
        let day_sd = day_factor * test.day_sd_cm;
        let variance = dot(&seen, &gain) + test.rest_variance_cm2 + day_sd * day_sd;
        let surprise = test.height_cm - test.growth_cm - dot(&seen, &mean);
        if let Some(kept) = kept.as_deref_mut() {
            kept.push(Before { mean, covariance, seen, gain, surprise, variance, days });
        }
        add(&mut mean, &gain, surprise / variance);
        for (row, part) in covariance.iter_mut().zip(gain) {
            add(row, &gain, -part / variance);
        }
        log_chance -= 0.5 * (libm::log(variance) + surprise * surprise / variance);
        if place == look.earlier {
            mean[1] = mean[0];
            covariance[1] = covariance[0];
            covariance.iter_mut().for_each(|row| row[1] = row[0]);
        }
        if place == look.later {
            mean[2] = mean[0];
            covariance[2] = covariance[0];
            covariance.iter_mut().for_each(|row| row[2] = row[0]);
        }
    }
    Some(Cell { log_chance, mean, covariance })
}

/// The line given all tests, from what the filter noted, the first test first.
pub(super) fn smooth(kept: &[Before]) -> Vec<Smooth> {
    let (mut pull, mut worth) = ([0.0; N], [[0.0; N]; N]);
    let mut line: Vec<Smooth> = vec![Smooth::default(); kept.len()];
    let mut days = 0.0;
    for (before, smooth) in kept.iter().zip(&mut line).rev() {
        step_back(&mut pull, &mut worth, days);
        days = before.days;
        let (seen, gain) = (&before.seen, &before.gain);
        // r = h v/f + A'r and N = hh'/f + A'NA, with A = I - Ph h'/f.
        let pulled = dot(gain, &pull);
        add(&mut pull, seen, (before.surprise - pulled) / before.variance);
        let mut across = times(&worth, gain);
        across.iter_mut().for_each(|part| *part /= before.variance);
        let square = (1.0 + dot(gain, &across)) / before.variance;
        for ((row, own), other) in worth.iter_mut().zip(seen).zip(across) {
            add(row, &across, -own);
            add(row, seen, own * square - other);
        }
        let years = seen[4];
        let parts = [1.0, 0.0, 0.0, 0.0, years, 0.0];
        let held = times(&before.covariance, &parts);
        let moved = times(&before.covariance, &pull);
        smooth.level = dot(&parts, &before.mean) + dot(&parts, &moved);
        smooth.variance = dot(&parts, &held) - dot(&held, &times(&worth, &held));
        smooth.learning = -seen[3] * (before.mean[3] + moved[3]);
        smooth.growing = years * (before.mean[4] + moved[4]);
    }
    line
}

/// How much growth differs between people like this one, cm a year.
pub(super) fn own_growth_sd(who: Who) -> f64 {
    match who {
        Who::Adult => 0.0,
        Who::Growing { sd_cm_per_year } => sd_cm_per_year,
        Who::Unknown(_) | Who::UnderEight => UNKNOWN_GROWTH_SD_CM_PER_YEAR,
    }
}

/// Which part of the learning a test still lacks.
pub(super) fn unlearnt(test: &SeasonTest) -> f64 {
    if test.earlier >= LEARNING_TESTS {
        return 0.0;
    }
    (0..test.earlier).fold(1.0, |part, _| part * LEARNING_RATIO)
}

/// How far a trend of 1 cm a day carries before it has faded, and what is left of it.
fn fading(days: f64) -> (f64, f64) {
    let left = libm::exp(-days / TREND_DAYS);
    (TREND_DAYS * (1.0 - left), left)
}

/// From one test to the next: the trend carries the level on and fades, both with new chance.
fn step(mean: &mut Row, covariance: &mut Square, days: f64) {
    let (carried, left) = fading(days);
    mean[0] += carried * mean[5];
    mean[5] *= left;
    let trend = covariance[5];
    add(&mut covariance[0], &trend, carried);
    covariance[5].iter_mut().for_each(|part| *part *= left);
    for row in covariance.iter_mut() {
        row[0] += carried * row[5];
        row[5] *= left;
    }
    let spread = TREND_SD_CM_PER_DAY * TREND_SD_CM_PER_DAY;
    let faded = 1.0 - left;
    let walked = 2.0 * days / TREND_DAYS - 3.0 + 4.0 * left - left * left;
    covariance[0][0] += spread * TREND_DAYS * TREND_DAYS * walked + DRIFT_CM2_PER_DAY * days;
    covariance[0][5] += spread * TREND_DAYS * faded * faded;
    covariance[5][0] += spread * TREND_DAYS * faded * faded;
    covariance[5][5] += spread * (1.0 - left * left);
}

/// The step's transpose on both sides.
fn step_back(pull: &mut Row, worth: &mut Square, days: f64) {
    let (carried, left) = fading(days);
    pull[5] = carried * pull[0] + left * pull[5];
    let level = worth[0];
    worth[5].iter_mut().for_each(|part| *part *= left);
    add(&mut worth[5], &level, carried);
    for row in worth.iter_mut() {
        row[5] = carried * row[0] + left * row[5];
    }
}

fn dot(a: &Row, b: &Row) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

fn times(square: &Square, row: &Row) -> Row {
    let mut product = [0.0; N];
    for (sum, own) in product.iter_mut().zip(square) {
        *sum = dot(own, row);
    }
    product
}

fn add(to: &mut Row, row: &Row, times: f64) {
    for (sum, part) in to.iter_mut().zip(row) {
        *sum += times * part;
    }
}
