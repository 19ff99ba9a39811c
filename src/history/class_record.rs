use chrono::NaiveDate;

use super::record::{Extra, MarkMethod, Stamp};
use super::{Id, clean_line, clean_line_in_bytes};
use crate::measure::{Session, TrendKey, Variant};
use crate::quantity::{AgeGroup, Compare, Division};

/// Longest name of a class, in visible characters.
pub const CLASS_LABEL_MAX: usize = 32;
/// Longest name of a class, in bytes of UTF-8: a set-up must fit a link. Design choice.
pub const CLASS_LABEL_BYTES_MAX: usize = 48;
/// Most numbers of a class. Design choice: six classes of thirty and some spare.
pub const CLASS_NUMBERS_MAX: u8 = 200;
/// Most trials of a class test; a test ends there anyway.
pub const CLASS_TRIALS_MAX: u8 = 6;
/// Longest rest between jumps that can be set, seconds. Design choice.
pub const CLASS_REST_SECONDS_MAX: u16 = 300;
/// Rest is set in steps of so many seconds. Design choice.
pub const REST_STEP_SECONDS: u16 = 5;
/// Most steps of a class's run-up. Design choice, as in the page's own test.
pub const CLASS_STEPS_MAX: u8 = 5;
/// The device tag of results typed on the teacher's own device.
pub const STATION_TAG: u16 = 0;

/// What pupils see of their result.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Shown {
    /// Their own number alone.
    #[default]
    Number,
    /// Their own number and how far to trust it.
    NumberAndSpread,
}

/// How a class is tested: what a link carries, and what is the same for everybody.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ClassSetup {
    /// What the class is called here: up to 32 visible characters and 48 bytes. Never a person's name.
    pub label: String,
    /// Which jump: standing, or a run-up where the teacher chose one against the warning.
    pub variant: Variant,
    /// How marks are read.
    pub marks: MarkMethod,
    /// The step the tape is read to; it decides the unit.
    pub division: Division,
    /// Readings of the standing reach each pupil makes, 1 or 3.
    pub reaches: u8,
    /// Trials each pupil makes, 1 to 6.
    pub trials: u8,
    /// Rest between two jumps, seconds, 0 to 300.
    pub rest_seconds: u16,
    /// Pupils answer the ready check on their own device.
    pub ready_check: bool,
    /// Pupils are led through the warm-up.
    pub warm_up: bool,
    /// What pupils see.
    pub shown: Shown,
    /// Numbers are given from 1 to this, at most 200.
    pub numbers: u8,
    /// The age group, where the teacher gave one. It sets how much noise to expect.
    pub age: Option<AgeGroup>,
}

impl ClassSetup {
    /// The set-up offered first: one reach, three trials, half a minute of rest, thirty numbers.
    pub const fn usual(label: String, division: Division) -> Self {
        Self {
            label,
            variant: Variant::Standing,
            marks: MarkMethod::FromFloor,
            division,
            reaches: 1,
            trials: 3,
            rest_seconds: 30,
            ready_check: true,
            warm_up: true,
            shown: Shown::Number,
            numbers: 30,
            age: None,
        }
    }

    /// What the class's tests may be compared with: its jump at a firm wall, heels down.
    pub const fn key(&self) -> TrendKey {
        TrendKey { variant: self.variant, ..TrendKey::USUAL }
    }

    /// Whether every value is in its range.
    pub fn is_valid(&self) -> bool {
        let label = &self.label;
        let jump = match self.variant {
            Variant::Standing => true,
            Variant::Approach { steps, .. } => (1..=CLASS_STEPS_MAX).contains(&steps),
            Variant::HandsOnHips | Variant::HeldSquat => false,
        };
        jump && !label.is_empty()
            && label.len() <= CLASS_LABEL_BYTES_MAX
            && clean_line(label, CLASS_LABEL_MAX) == *label
            && matches!(self.reaches, 1 | 3)
            && (1..=CLASS_TRIALS_MAX).contains(&self.trials)
            && self.rest_seconds <= CLASS_REST_SECONDS_MAX
            && self.rest_seconds.is_multiple_of(REST_STEP_SECONDS)
            && (1..=CLASS_NUMBERS_MAX).contains(&self.numbers)
    }
}

/// A label as it was typed, cut to what a link can hold.
pub fn class_label(text: &str) -> String {
    clean_line_in_bytes(text, CLASS_LABEL_MAX, CLASS_LABEL_BYTES_MAX)
}

/// What the teacher typed of one number, for the published bands alone.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Pupil {
    /// The number.
    pub number: u8,
    /// The age group, where it is not that of the class.
    pub age: Option<AgeGroup>,
    /// The tables, where they are not those of the class.
    pub compare: Option<Compare>,
}

/// A class of numbers. Which pupil has which number is on the teacher's paper alone.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Class {
    /// The random id, which the link carries; it dies with the class.
    pub id: Id,
    /// Revision and time of the last edit.
    pub stamp: Stamp,
    /// How it is tested.
    pub setup: ClassSetup,
    /// The numbers in use, rising; empty for all from 1.
    pub roster: Vec<u8>,
    /// The published tables for the whole class; nothing where the teacher gave none. No link
    /// carries it.
    pub compare: Option<Compare>,
    /// What is different for single numbers, by number.
    pub pupils: Vec<Pupil>,
    /// Put away.
    pub archived: bool,
    /// Fields of a later version.
    pub extra: Extra,
}

impl Class {
    /// A new class.
    pub fn new(id: Id, setup: ClassSetup, now_utc_ms: i64) -> Self {
        let stamp = Stamp::first(now_utc_ms);
        Self {
            id,
            stamp,
            setup,
            roster: Vec::new(),
            compare: None,
            pupils: Vec::new(),
            archived: false,
            extra: Extra::default(),
        }
    }

    /// The age group of a number: its own, or that of the class.
    pub fn age_of(&self, number: u8) -> Option<AgeGroup> {
        self.pupil(number).and_then(|pupil| pupil.age).or(self.setup.age)
    }

    /// The tables of a number: its own, or those of the class.
    pub fn compare_of(&self, number: u8) -> Option<Compare> {
        self.pupil(number).and_then(|pupil| pupil.compare).or(self.compare)
    }

    /// What is different for a number.
    pub fn pupil(&self, number: u8) -> Option<&Pupil> {
        self.pupils.iter().find(|pupil| pupil.number == number)
    }

    /// Changes what is different for a number; nothing different leaves no line.
    pub fn change_pupil(&mut self, number: u8, change: impl FnOnce(&mut Pupil)) {
        let known = self.pupil(number).copied();
        let mut pupil = known.unwrap_or(Pupil { number, age: None, compare: None });
        change(&mut pupil);
        self.pupils.retain(|other| other.number != number);
        if pupil.age.is_some() || pupil.compare.is_some() {
            self.pupils.push(pupil);
            self.pupils.sort_by_key(|pupil| pupil.number);
        }
    }

    /// The numbers in use, rising.
    pub fn numbers(&self) -> Vec<u8> {
        if self.roster.is_empty() {
            (1..=self.setup.numbers).collect()
        } else {
            self.roster.clone()
        }
    }
}

/// What one number of a class did on one day.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ClassResult {
    /// The long random id.
    pub id: Id,
    /// The class.
    pub class: Id,
    /// Revision and time of the last edit.
    pub stamp: Stamp,
    /// The day.
    pub date: NaiveDate,
    /// The number, 1 to 200.
    pub number: u8,
    /// A random mark of the device for this class and day, to tell a retake from two pupils with one
    /// number; [`STATION_TAG`] for the teacher's own.
    pub device_tag: u16,
    /// How it was done, the reach and the trials.
    pub session: Session,
    /// The pupil said that their legs were tired.
    pub tired: bool,
    /// The number has another role today (reader, chalker, timekeeper) and does not jump.
    pub helps: bool,
    /// Fields of a later version.
    pub extra: Extra,
}

impl ClassResult {
    /// A result with nothing noted.
    pub fn new(id: Id, class: Id, date: NaiveDate, number: u8, session: Session) -> Self {
        Self {
            id,
            class,
            stamp: Stamp::first(0),
            date,
            number,
            device_tag: STATION_TAG,
            session,
            tired: false,
            helps: false,
            extra: Extra::default(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn a_typed_label_fits_a_link(text in any::<String>()) {
            let label = class_label(&text);
            let setup = ClassSetup::usual(label.clone(), Division::CmHalf);
            prop_assert!(label.is_empty() || setup.is_valid());
        }
    }
}
