use chrono::{NaiveDate, TimeDelta};

use super::code::{self, CodeProblem, Packed};
use crate::history::{CLASS_NUMBERS_MAX, Class, ClassResult, Id, MarkMethod};
use crate::measure::{FoulReason, Hand, Reach, Session, TrendKey, Trial};
use crate::quantity::{Division, Length, Reading};

/// The first sign of a result slip in version 1.
pub(super) const KIND: char = 'J';
/// Class tags: three signs of a code.
const CLASS_TAGS: u32 = 23 * 23 * 23;
/// Device tags: two signs of a code.
pub const DEVICE_TAGS: u16 = 23 * 23;
/// Days that can be told apart, two signs of a code: a slip is read within 527 days of its test.
const DAYS: i64 = 23 * 23;
/// Most trials on a slip.
pub const SLIP_TRIALS_MAX: usize = 6;
/// Largest reach on a slip. Design choice: what counts as possible, 3.5 m.
const REACH_MAX: Length = Length::from_mm(3_500);
/// Largest height on a slip: what counts as possible for a standing jump, 1.25 m.
const HEIGHT_MAX: Length = Length::from_mm(1_250);
/// Largest difference of two reaches on a slip. Design choice: reaches further apart do not count.
const REACH_SPREAD_MAX: Length = Length::from_mm(40);
/// How many reaches a slip can hold.
const REACH_COUNTS: [usize; 4] = [0, 1, 2, 3];
const MARKS: [MarkMethod; 2] = [MarkMethod::FromFloor, MarkMethod::BetweenMarks];
/// Day nought of slips.
const DAY_NOUGHT: NaiveDate = match NaiveDate::from_ymd_opt(2025, 1, 1) {
    Some(day) => day,
    None => NaiveDate::MIN,
};

/// One pupil's result as a code carries it: about 22 signs for one reach and three trials.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Slip {
    /// The mark of the class, from its id.
    pub class_tag: u32,
    /// The number, 1 to 200.
    pub number: u8,
    /// A random mark of the device for this class and day; 0 is the teacher's own.
    pub device_tag: u16,
    /// The day of the test.
    pub date: NaiveDate,
    /// The pupil said that their legs were tired.
    pub tired: bool,
    /// Reach and trials: a standing jump at a wall.
    pub session: Session,
}

/// Why a result has no slip.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SlipFault {
    /// Number, device tag or count of trials beyond what a slip holds.
    OutOfRange,
    /// A reading that a class test does not have: time in the air, another unit, a mark below the reach.
    Reading,
}

/// The mark of a class on its slips. Two classes have the same once in 12,167 cases.
pub fn class_tag(class: Id) -> u32 {
    let bytes = class.bytes();
    let three = bytes.iter().take(3);
    three.fold(0, |sum, byte| sum << 8 | u32::from(*byte)) % CLASS_TAGS
}

impl Slip {
    /// The slip of a stored result.
    pub fn of(result: &ClassResult) -> Self {
        Self {
            class_tag: class_tag(result.class),
            number: result.number,
            device_tag: result.device_tag,
            date: result.date,
            tired: result.tired,
            session: result.session.clone(),
        }
    }

    /// The stored result that a slip becomes in a class. A slip does not say which jump it was: that
    /// is the class's.
    pub fn to_result(&self, id: Id, class: &Class, now_utc_ms: i64) -> ClassResult {
        let mut result =
            ClassResult::new(id, class.id, self.date, self.number, self.session.clone());
        result.session.key = class.setup.key();
        result.stamp.edited_utc_ms = now_utc_ms;
        result.device_tag = self.device_tag;
        result.tired = self.tired;
        result
    }

    /// Writes the code, without groups.
    ///
    /// # Errors
    /// A [`SlipFault`] when the result does not fit a slip.
    pub fn write(&self) -> Result<String, SlipFault> {
        let session = &self.session;
        let division = common_division(session).ok_or(SlipFault::Reading)?;
        let scale = Scale::of(division);
        let (marks, reaches) = match &session.reach {
            Reach::Measured(readings) => (MarkMethod::FromFloor, readings.as_slice()),
            Reach::MarkOnly => (MarkMethod::BetweenMarks, &[][..]),
            Reach::Reused { .. } => return Err(SlipFault::Reading),
        };
        // More than three reaches, or some far apart: the one that counts stands for all.
        let counted = session.standing_reach().map(|reach| Reading::nearest(reach.0, division));
        let reaches = match scale.reaches(reaches) {
            Some(reaches) => reaches,
            None => scale.reaches(counted.as_slice()).ok_or(SlipFault::Reading)?,
        };
        let trials = session.trials.iter().map(|trial| scale.trial(*trial, counted));
        let trials: Vec<u32> = trials.collect::<Option<_>>().ok_or(SlipFault::Reading)?;
        let fits = (1..=CLASS_NUMBERS_MAX).contains(&self.number)
            && self.device_tag < DEVICE_TAGS
            && self.class_tag < CLASS_TAGS
            && trials.len() <= SLIP_TRIALS_MAX;
        if !fits {
            return Err(SlipFault::OutOfRange);
        }
        let mut fields = vec![
            (self.class_tag, CLASS_TAGS),
            (u32::from(self.number - 1), u32::from(CLASS_NUMBERS_MAX)),
            (u32::from(self.device_tag), u32::from(DEVICE_TAGS)),
            (day_sign(self.date), small(DAYS)),
            (place_in(&Division::ALL, division), 7),
            (place_in(&MARKS, marks), 2),
            (u32::from(self.tired), 2),
            (u32::try_from(reaches.len()).unwrap_or(0), 4),
        ];
        fields.extend(reaches);
        fields.push((u32::try_from(trials.len()).unwrap_or(0), 7));
        fields.extend(trials.into_iter().map(|value| (value, scale.trial_limit())));
        let mut packed = Packed::default();
        for (value, limit) in fields.into_iter().rev() {
            packed.put(value, limit);
        }
        Ok(code::write(KIND, &packed))
    }

    /// Reads a code. `today` tells which of the days that look alike on a slip is meant: the one
    /// nearest to it, and not later than tomorrow.
    ///
    /// # Errors
    /// A [`SlipProblem`].
    pub fn read(text: &str, today: NaiveDate) -> Result<Self, SlipProblem> {
        let mut packed = code::read(KIND, text).map_err(SlipProblem::Code)?;
        let class_tag = packed.take(CLASS_TAGS);
        let number = packed.take(u32::from(CLASS_NUMBERS_MAX)) + 1;
        let device_tag = packed.take(u32::from(DEVICE_TAGS));
        let day = packed.take(small(DAYS));
        let division = usize::try_from(packed.take(7)).ok();
        let division = division.and_then(|place| Division::ALL.get(place).copied());
        let division = division.ok_or(SlipProblem::OutOfRange)?;
        let between = packed.take(2) == 1;
        let tired = packed.take(2) == 1;
        let scale = Scale::of(division);
        let count = packed.take(4);
        let readings = scale.read_reaches(&mut packed, count);
        if between != readings.is_empty() {
            return Err(SlipProblem::OutOfRange);
        }
        let mut session = Session::new(TrendKey::USUAL, Hand::Right, division);
        session.reach = if between { Reach::MarkOnly } else { Reach::Measured(readings) };
        let reach = session.standing_reach().map(|reach| Reading::nearest(reach.0, division));
        for _ in 0..packed.take(7) {
            let value = packed.take(scale.trial_limit());
            session.trials.push(scale.read_trial(value, reach).ok_or(SlipProblem::OutOfRange)?);
        }
        if !packed.is_empty() {
            return Err(SlipProblem::OutOfRange);
        }
        Ok(Self {
            class_tag,
            number: u8::try_from(number).map_err(|_| SlipProblem::OutOfRange)?,
            device_tag: u16::try_from(device_tag).map_err(|_| SlipProblem::OutOfRange)?,
            date: date_of(day, today),
            tired,
            session,
        })
    }
}

/// Why a text is no slip.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SlipProblem {
    /// It is no right code.
    Code(CodeProblem),
    /// The checks fit, but it says what no slip says.
    OutOfRange,
}

/// The division that holds every reading of a session; none when units are mixed.
fn common_division(session: &Session) -> Option<Division> {
    let mut all = vec![session.division];
    if let Reach::Measured(readings) = &session.reach {
        all.extend(readings.iter().map(|reading| reading.division));
    }
    for trial in &session.trials {
        match trial {
            Trial::FloorMark(reading) | Trial::MarkDistance(reading) => all.push(reading.division),
            Trial::Foul(_) => {}
            Trial::FlightTime(_) => return None,
        }
    }
    let unit = session.division.unit();
    let same_unit = all.iter().all(|division| division.unit() == unit);
    let finest = all.into_iter().min_by_key(|division| division.counts());
    // An eighth is no multiple of a quarter's steps only the other way round: the finest holds all.
    finest.filter(|_| same_unit)
}

/// Readings as whole steps of a division.
#[derive(Clone, Copy)]
struct Scale {
    division: Division,
}

impl Scale {
    const fn of(division: Division) -> Self {
        Self { division }
    }

    /// Steps of a length, rounded down.
    fn steps(self, length: Length) -> u32 {
        let step = self.division.step().as_micrometres().max(1);
        u32::try_from(length.as_micrometres() / step).unwrap_or(0)
    }

    fn steps_of(self, reading: Reading) -> Option<i32> {
        let counts = self.division.counts();
        (reading.count % counts == 0).then_some(reading.count / counts)
    }

    fn reading(self, steps: i32) -> Reading {
        Reading { count: steps.saturating_mul(self.division.counts()), division: self.division }
    }

    /// The first reach, and how far the others lie from it.
    fn reaches(self, readings: &[Reading]) -> Option<Vec<(u32, u32)>> {
        if !REACH_COUNTS.contains(&readings.len()) {
            return None;
        }
        let mut fields = Vec::new();
        let mut first = None;
        for reading in readings {
            let steps = self.steps_of(*reading)?;
            let from = *first.get_or_insert(steps);
            let (value, limit) = if fields.is_empty() {
                (steps, self.reach_limit())
            } else {
                let spread = i32::try_from(self.steps(REACH_SPREAD_MAX)).unwrap_or(0);
                (steps - from + spread, self.spread_limit())
            };
            let value = u32::try_from(value).ok().filter(|value| *value < limit)?;
            fields.push((value, limit));
        }
        Some(fields)
    }

    fn read_reaches(self, packed: &mut Packed, count: u32) -> Vec<Reading> {
        let spread = i32::try_from(self.steps(REACH_SPREAD_MAX)).unwrap_or(0);
        let mut readings = Vec::new();
        let mut first = None;
        for _ in 0..count {
            let limit = if first.is_none() { self.reach_limit() } else { self.spread_limit() };
            let value = i32::try_from(packed.take(limit)).unwrap_or(0);
            let steps = match first {
                None => *first.insert(value),
                Some(first) => first + value - spread,
            };
            readings.push(self.reading(steps));
        }
        readings
    }

    fn reach_limit(self) -> u32 {
        self.steps(REACH_MAX) + 1
    }

    fn spread_limit(self) -> u32 {
        2 * self.steps(REACH_SPREAD_MAX) + 1
    }

    /// Heights first, then reasons of a foul.
    fn trial_limit(self) -> u32 {
        self.steps(HEIGHT_MAX) + 1 + u32::try_from(FoulReason::ALL.len()).unwrap_or(0)
    }

    fn trial(self, trial: Trial, reach: Option<Reading>) -> Option<u32> {
        let heights = self.steps(HEIGHT_MAX) + 1;
        let steps = match trial {
            Trial::FloorMark(mark) => self.steps_of(mark)? - self.steps_of(reach?)?,
            Trial::MarkDistance(distance) if reach.is_none() => self.steps_of(distance)?,
            Trial::MarkDistance(_) | Trial::FlightTime(_) => return None,
            Trial::Foul(reason) => return Some(heights + place_in(&FoulReason::ALL, reason)),
        };
        u32::try_from(steps).ok().filter(|steps| *steps < heights)
    }

    fn read_trial(self, value: u32, reach: Option<Reading>) -> Option<Trial> {
        let heights = self.steps(HEIGHT_MAX) + 1;
        if let Some(reason) = value.checked_sub(heights) {
            return FoulReason::ALL.get(usize::try_from(reason).ok()?).copied().map(Trial::Foul);
        }
        let steps = i32::try_from(value).ok()?;
        Some(match reach {
            Some(reach) => Trial::FloorMark(self.reading(steps + self.steps_of(reach)?)),
            None => Trial::MarkDistance(self.reading(steps)),
        })
    }
}

fn place_in<T: PartialEq>(all: &[T], value: T) -> u32 {
    let place = all.iter().position(|known| *known == value);
    place.and_then(|place| u32::try_from(place).ok()).unwrap_or(0)
}

fn small(count: i64) -> u32 {
    u32::try_from(count).unwrap_or(0)
}

fn day_sign(date: NaiveDate) -> u32 {
    small(date.signed_duration_since(DAY_NOUGHT).num_days().rem_euclid(DAYS))
}

fn date_of(day: u32, today: NaiveDate) -> NaiveDate {
    let tomorrow = today.checked_add_signed(TimeDelta::days(1)).unwrap_or(today);
    let back = i64::from(day_sign(tomorrow)) - i64::from(day);
    let back = TimeDelta::days(back.rem_euclid(DAYS));
    tomorrow.checked_sub_signed(back).unwrap_or(today)
}
