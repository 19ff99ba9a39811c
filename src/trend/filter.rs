//! The season model for one day factor: an exact filter, and a smoother without inverses.
//!
//! State, in this order: own level w (cm, growth left out), learning still to come L (cm), the person's
//! growth less the expected (cm a year), trend b (cm a day). Copies of w at two chosen tests are carried
//! beside it: all later tests teach them too, and no test sees them. The filter is Kalman's (1960, J. Basic Eng. 82:35), the smoother the one by de Jong (1989, J. Am.
//! Stat. Assoc. 84:1085). The model: docs/measurement.md §8.4.

use super::model::{
    DRIFT_CM2_PER_DAY, LEARNING_MEAN_CM, LEARNING_RATIO, LEARNING_SD_CM, LEARNING_TESTS,
    START_VARIANCE_CM2, SeasonTest, TREND_DAYS, TREND_SD_CM_PER_DAY, UNKNOWN_GROWTH_SD_CM_PER_YEAR,
    Who,
};

/// Days in a mean year.
pub(super) const DAYS_PER_YEAR: f64 = 365.25;
/// Numbers in the state.
const N: usize = 4;

/// The state's mean or one row of its covariance.
type Row = [f64; N];
type Square = [Row; N];

/// What one day factor says of a season.
#[derive(Clone, Copy, Debug)]
pub(super) struct Cell {
    /// Logarithm of the chance of the measured heights, up to a constant shared by all factors.
    pub log_chance: f64,
    /// The copies at the earlier and the later of the two tests.
    copies: [Copied; 2],
    /// Covariance of the two.
    both: f64,
    /// Mean and variance of the growth beside the expected.
    growth: (f64, f64),
}

/// A copy of the own level at one test.
#[derive(Clone, Copy, Debug, Default)]
struct Copied {
    mean: f64,
    variance: f64,
    /// Covariance with the state.
    with: Row,
}

impl Cell {
    /// Mean and SD of the later copy less the earlier one, with so many years of the person's growth
    /// beside the expected.
    pub fn change(&self, years: f64) -> (f64, f64) {
        let [from, to] = &self.copies;
        let (growth, variance) = self.growth;
        let [_, _, grows_from, _] = from.with;
        let [_, _, grows_to, _] = to.with;
        let own = from.variance + to.variance - 2.0 * self.both;
        let spread = own + years * (years * variance + 2.0 * (grows_to - grows_from));
        (to.mean - from.mean + years * growth, spread.max(0.0).sqrt())
    }
}

impl Copied {
    /// What a test with this gain, surprise and variance teaches of it; returns its own gain.
    fn taught(&mut self, seen: &Row, gain: &Row, surprise: f64, variance: f64) -> f64 {
        let own = dot(&self.with, seen);
        self.mean += own * surprise / variance;
        self.variance -= own * own / variance;
        add(&mut self.with, gain, -own / variance);
        own
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
    /// What the trend carried from the test before, and what was left of it.
    faded: (f64, f64),
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
    let mut mean = [at, LEARNING_MEAN_CM, 0.0, 0.0];
    let mut covariance = [[0.0; N]; N];
    covariance[0][0] = START_VARIANCE_CM2;
    covariance[1][1] = LEARNING_SD_CM * LEARNING_SD_CM;
    covariance[2][2] = look.growth_sd * look.growth_sd;
    covariance[3][3] = TREND_SD_CM_PER_DAY * TREND_SD_CM_PER_DAY;
    let mut copies = [Copied::default(); 2];
    let (mut log_chance, mut both, mut day) = (0.0, 0.0, first.day);
    for (place, test) in tests.iter().enumerate() {
        let days = test.day - day;
        day = test.day;
        let faded = fading(days);
        step(&mut mean, &mut covariance, days, faded);
        copies.iter_mut().for_each(|copy| carry(&mut copy.with, faded));
        let years = (test.day - first.day) / DAYS_PER_YEAR;
        let seen = [1.0, -unlearnt(test), years, 0.0];
        let gain = times(&covariance, &seen);
        let day_sd = day_factor * test.day_sd_cm;
        let variance = dot(&seen, &gain) + test.rest_variance_cm2 + day_sd * day_sd;
        let surprise = test.height_cm - test.growth_cm - dot(&seen, &mean);
        if let Some(kept) = kept.as_deref_mut() {
            kept.push(Before { mean, covariance, seen, gain, surprise, variance, faded });
        }
        add(&mut mean, &gain, surprise / variance);
        for (row, part) in covariance.iter_mut().zip(gain) {
            add(row, &gain, -part / variance);
        }
        let own = copies.each_mut().map(|copy| copy.taught(&seen, &gain, surprise, variance));
        both -= own[0] * own[1] / variance;
        log_chance -= 0.5 * (libm::log(variance) + surprise * surprise / variance);
        let copied = Copied { mean: mean[0], variance: covariance[0][0], with: covariance[0] };
        if place == look.earlier {
            copies[0] = copied;
        }
        if place == look.later {
            copies[1] = copied;
            both = copies[0].with[0];
        }
    }
    Some(Cell { log_chance, copies, both, growth: (mean[2], covariance[2][2]) })
}

/// The line given all tests, from what the filter noted, the first test first.
pub(super) fn smooth(kept: &[Before]) -> Vec<Smooth> {
    let (mut pull, mut worth) = ([0.0; N], [[0.0; N]; N]);
    let mut line: Vec<Smooth> = vec![Smooth::default(); kept.len()];
    let mut faded = (0.0, 1.0);
    for (before, smooth) in kept.iter().zip(&mut line).rev() {
        step_back(&mut pull, &mut worth, faded);
        faded = before.faded;
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
        let years = seen[2];
        let parts = [1.0, 0.0, years, 0.0];
        let held = times(&before.covariance, &parts);
        let moved = times(&before.covariance, &pull);
        smooth.level = dot(&parts, &before.mean) + dot(&parts, &moved);
        smooth.variance = dot(&parts, &held) - dot(&held, &times(&worth, &held));
        smooth.learning = -seen[1] * (before.mean[1] + moved[1]);
        smooth.growing = years * (before.mean[2] + moved[2]);
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

/// The trend carries the level on and fades: what that does to a row.
fn carry(row: &mut Row, (carried, left): (f64, f64)) {
    row[0] += carried * row[3];
    row[3] *= left;
}

/// From one test to the next, with new chance in the level and in the trend.
fn step(mean: &mut Row, covariance: &mut Square, days: f64, faded: (f64, f64)) {
    let (carried, left) = faded;
    carry(mean, faded);
    let trend = covariance[3];
    add(&mut covariance[0], &trend, carried);
    covariance[3].iter_mut().for_each(|part| *part *= left);
    covariance.iter_mut().for_each(|row| carry(row, faded));
    let spread = TREND_SD_CM_PER_DAY * TREND_SD_CM_PER_DAY;
    let new = 1.0 - left;
    let walked = 2.0 * days / TREND_DAYS - 3.0 + 4.0 * left - left * left;
    covariance[0][0] += spread * TREND_DAYS * TREND_DAYS * walked + DRIFT_CM2_PER_DAY * days;
    covariance[0][3] += spread * TREND_DAYS * new * new;
    covariance[3][0] += spread * TREND_DAYS * new * new;
    covariance[3][3] += spread * (1.0 - left * left);
}

/// The step's transpose on both sides.
fn step_back(pull: &mut Row, worth: &mut Square, (carried, left): (f64, f64)) {
    pull[3] = carried * pull[0] + left * pull[3];
    let level = worth[0];
    worth[3].iter_mut().for_each(|part| *part *= left);
    add(&mut worth[3], &level, carried);
    for row in worth.iter_mut() {
        row[3] = carried * row[0] + left * row[3];
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
