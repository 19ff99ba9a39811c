//! What can be said of a class as a whole.

use chrono::NaiveDate;

use super::table::{Row, rows};
use crate::history::{Class, ClassResult};
use crate::quantity::{AgeGroup, JumpHeight, Length};
use crate::reliability::{
    AgeBand, Experience, Interval, MarksKnown, ReachReadings, Reading, SessionConditions,
    TwoWayTable, session_error, session_se_of_mean_cm, typical_spread,
};
use crate::statistics::{mean, quantile, sample_sd};
use crate::trend::model::{Who, day_factor};

/// Below this many results a class has no picture, no middle and no typical error, since a brick
/// would be a person. Design choice, the same as the class wall's.
const FEWEST: usize = 8;
/// 95 % intervals throughout.
const LEVEL: f64 = 0.95;
/// Half of a normal distribution's 95 % in SDs.
const NORMAL_95: f64 = 1.96;

/// The middle of a class: quartiles by rule 7 of Hyndman & Fan 1996 (The American Statistician
/// 50:361), linear between neighbours, the usual default of statistical software.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Middle {
    /// A quarter of the class lies below.
    pub lower: Length,
    /// Half of the class lies below.
    pub median: Length,
    /// Three quarters lie below.
    pub upper: Length,
}

/// How much the trials of one pupil scatter in this class, by two-way analysis of variance of those
/// who made all trials.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Trust {
    /// Pupils in it.
    pub pupils: usize,
    /// Trials of each.
    pub trials: usize,
    /// Typical error of one trial, cm.
    pub typical_error_cm: f64,
    /// Its 95 % interval, cm.
    pub typical_error_interval_cm: Interval,
    /// How far one jump may be from what the pupil usually jumps over many days, one standard error,
    /// cm: the trial, a typical spread between days, the reach and the tape.
    pub one_jump_cm: f64,
    /// The same at both ends of the interval.
    pub one_jump_interval_cm: Interval,
    /// ICC(3,1): 1 when trials keep pupils perfectly in order.
    pub icc: f64,
    /// Its 95 % interval.
    pub icc_interval: Interval,
}

/// One day of a class.
#[derive(Clone, Debug, PartialEq)]
pub struct Summary {
    /// Numbers with a counted trial.
    pub counted: usize,
    /// Of them, with a flag.
    pub flagged: usize,
    /// Numbers without any result yet, other roles left out.
    pub missing: usize,
    /// The middle of the bests; none below eight results.
    pub middle: Option<Middle>,
    /// Scatter of trials; none below eight pupils with at least two trials each.
    pub trust: Option<Trust>,
}

/// Sums up one day.
pub fn summary(class: &Class, rows: &[Row]) -> Summary {
    let bests: Vec<f64> = rows.iter().filter_map(|row| Some(row.best?.0.as_cm())).collect();
    let missing = rows.iter().filter(|row| row.best.is_none() && !row.helps).count();
    Summary {
        counted: bests.len(),
        flagged: rows.iter().filter(|row| row.is_flagged()).count(),
        missing,
        middle: middle(&bests),
        trust: trust(class, rows),
    }
}

fn middle(bests_cm: &[f64]) -> Option<Middle> {
    if bests_cm.len() < FEWEST {
        return None;
    }
    let at = |share| quantile(bests_cm, share).map(Length::from_cm);
    Some(Middle { lower: at(0.25)?, median: at(0.5)?, upper: at(0.75)? })
}

fn trust(class: &Class, rows: &[Row]) -> Option<Trust> {
    let trials = usize::from(class.setup.trials);
    let results = rows.iter().filter_map(|row| row.result.as_ref());
    let table: Vec<Vec<f64>> = results
        .map(|result| result.session.counted())
        .filter(|heights| heights.len() >= trials)
        .map(|heights| heights.into_iter().take(trials).map(|height| height.0.as_cm()).collect())
        .collect();
    if table.len() < FEWEST {
        return None;
    }
    let analysed = TwoWayTable::new(&table)?;
    let interval = analysed.typical_error_interval(LEVEL)?;
    let one_jump_cm = |trial_sd_cm| one_jump_cm(class, trial_sd_cm, analysed.mean);
    let ends = Interval { low: one_jump_cm(interval.low)?, high: one_jump_cm(interval.high)? };
    Some(Trust {
        pupils: table.len(),
        trials,
        typical_error_cm: analysed.typical_error(),
        typical_error_interval_cm: interval,
        one_jump_cm: one_jump_cm(analysed.typical_error())?,
        one_jump_interval_cm: ends,
        icc: analysed.icc_3_1()?,
        icc_interval: analysed.icc_3_1_interval(LEVEL)?,
    })
}

/// One standard error of a single jump of a class, read from the floor after three reaches.
fn one_jump_cm(class: &Class, trial_sd_cm: f64, height_cm: f64) -> Option<f64> {
    let height_cm = height_cm.max(0.0);
    let typical = typical_spread(band(class.setup.age), Experience::Learning, height_cm)?;
    let parts = session_error(&SessionConditions {
        height_cm,
        trials: 1,
        marks: MarksKnown::Each,
        trial_sd_cm,
        day_sd_cm: typical.day_sd_cm,
        reach: Some(ReachReadings { count: 3, spread_cm: 0.0 }),
        reading: Reading::TwoHeights { step_cm: class.setup.division.step().as_cm() },
        other_clock: false,
        still_recovering: false,
    })?;
    Some(parts.with_day_factor(day_factor(&[], Who::Adult)).total_cm())
}

/// How one number moved between two days.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Moved {
    /// The number.
    pub number: u8,
    /// The earlier usual jump.
    pub before: JumpHeight,
    /// The later one.
    pub after: JumpHeight,
    /// Later minus earlier.
    pub by: Length,
    /// A move that noise alone exceeds one time in twenty, either way.
    pub noise: Length,
}

impl Moved {
    /// Whether the move is larger than noise.
    pub fn is_beyond_noise(&self) -> bool {
        self.by.magnitude() > self.noise
    }
}

/// How a class moved between two days. Growing up is part of it and is not taken off, since nobody's
/// birth month is known; so nothing here is called a gain.
#[derive(Clone, Debug, PartialEq)]
pub struct ClassChange {
    /// Numbers with a usual jump on both days, by number.
    pub moved: Vec<Moved>,
    /// Mean of all moves; none below eight numbers.
    pub mean: Option<Length>,
    /// One standard error of that mean.
    pub mean_error: Option<Length>,
    /// Higher by more than noise.
    pub higher: usize,
    /// Lower by more than noise.
    pub lower: usize,
    /// How many would move that far by luck alone, both ways together, in tenths of a number.
    pub luck_tenths: usize,
}

/// Compares two days by number, with the day-to-day scatter as well as that of the trials.
pub fn change(
    class: &Class,
    results: &[ClassResult],
    before: NaiveDate,
    after: NaiveDate,
) -> ClassChange {
    let (earlier, later) = (rows(class, results, before), rows(class, results, after));
    let trial_sd_cm = [&earlier, &later].map(|rows| trust(class, rows));
    // The class's own scatter, pooled over the days that have one.
    let known: Vec<f64> =
        trial_sd_cm.iter().flatten().map(|trust| trust.typical_error_cm.powi(2)).collect();
    let own_sd_cm = mean(&known).map(f64::sqrt);
    let mut moved = Vec::new();
    for row in &earlier {
        let other = later.iter().find(|other| other.number == row.number);
        moved.extend(other.and_then(|other| move_of(class, row, other, own_sd_cm)));
    }
    let by_cm: Vec<f64> = moved.iter().map(|moved| moved.by.as_cm()).collect();
    let enough = by_cm.len() >= FEWEST;
    let count = by_cm.len() as f64;
    let beyond = |sign: i64| {
        let way = |one: &&Moved| one.is_beyond_noise() && one.by.as_micrometres().signum() == sign;
        moved.iter().filter(way).count()
    };
    ClassChange {
        mean: mean(&by_cm).filter(|_| enough).map(Length::from_cm),
        mean_error: sample_sd(&by_cm)
            .filter(|_| enough)
            .map(|sd| Length::from_cm(sd / count.sqrt())),
        higher: beyond(1),
        lower: beyond(-1),
        // Five in a hundred, in tenths of a number, halves up.
        luck_tenths: moved.len().div_ceil(2),
        moved,
    }
}

fn move_of(class: &Class, row: &Row, other: &Row, own_sd_cm: Option<f64>) -> Option<Moved> {
    let (before, after) = (row.usual?, other.usual?);
    let height_cm = (before.0.as_cm() + after.0.as_cm()) / 2.0;
    let typical = typical_spread(band(class.setup.age), Experience::Learning, height_cm.max(0.0))?;
    let trial_sd_cm = own_sd_cm.unwrap_or(typical.trial_sd_cm);
    let error = |counted: usize| {
        let trials = u32::try_from(counted.min(3)).unwrap_or(1);
        session_se_of_mean_cm(trial_sd_cm, typical.day_sd_cm, trials)
    };
    let (first, second) = (error(row.counted)?, error(other.counted)?);
    Some(Moved {
        number: row.number,
        before,
        after,
        by: after.0 - before.0,
        noise: Length::from_cm(NORMAL_95 * (first * first + second * second).sqrt()),
    })
}

const fn band(age: Option<AgeGroup>) -> AgeBand {
    match age {
        None => AgeBand::Unknown,
        Some(AgeGroup::Under12) => AgeBand::From9To11,
        Some(AgeGroup::From12To14) => AgeBand::From12To14,
        Some(AgeGroup::From15To17) => AgeBand::From15To18,
        Some(AgeGroup::Adult) => AgeBand::From19,
    }
}
