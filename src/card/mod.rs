//! One result as a link: what its owner ticked, and nothing else.
//!
//! **Invariants.** What was not ticked is not in the code at all. A code reads as exactly what was
//! written or is refused with its reason. A card is no record: it becomes one only on request, as a
//! result that is added by hand.

mod wire;

use chrono::NaiveDate;

use crate::assess::Assessment;
use crate::history::{NICKNAME_MAX, Test, clean_line_in_bytes};
use crate::measure::{ReachMethod, TrendKey, Usual};
use crate::quantity::{AgeGroup, Division, JumpHeight, Length, StandingReach};

pub use wire::{read_card, write_card};

/// Most bytes of a name on a card. Design choice: as the label of a class, so that the code stays small.
const NAME_BYTES_MAX: usize = 48;

/// What a card tells beside the height and the kind of jump. Nothing of it is there unless it was
/// asked for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct CardFields {
    /// The nickname.
    pub name: bool,
    /// The date.
    pub date: bool,
    /// The usual jump and its ±.
    pub usual: bool,
    /// The standing reach, which tells how tall somebody is.
    pub reach: bool,
    /// The age group on the day.
    pub age: bool,
    /// Whether the test was tired or rough.
    pub notes: bool,
}

/// One result as a link carries it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Card {
    /// The kind of test.
    pub key: TrendKey,
    /// The step the tape was read to; it decides the unit.
    pub division: Division,
    /// The best jump.
    pub best: JumpHeight,
    /// The usual jump and one standard error of it.
    pub usual: Option<(Usual, Length)>,
    /// The standing reach.
    pub reach: Option<StandingReach>,
    /// The day.
    pub date: Option<NaiveDate>,
    /// The age group on that day.
    pub age: Option<AgeGroup>,
    /// The nickname, up to 48 bytes; empty when it is not told.
    pub name: String,
    /// The score may be too low; said only when the notes are told.
    pub is_tired: bool,
    /// The ± is wider; said only when the notes are told.
    pub is_rough: bool,
}

/// Why a card cannot become a record.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoRecord {
    /// The day is not told.
    NoDate,
    /// It was timed in the air, and a card does not carry times.
    Clock,
    /// The reach was taken in another way, which a result added by hand cannot say.
    ReachMethod,
}

impl Card {
    /// The card of a test; none for a test without a trial that counts.
    pub fn of(test: &Test, assessed: &Assessment, name: &str, fields: CardFields) -> Option<Self> {
        let name = if fields.name { name } else { "" };
        Some(Self {
            key: test.session.key,
            division: test.session.division,
            best: assessed.best?,
            usual: assessed.usual.zip(assessed.standard_error).filter(|_| fields.usual),
            reach: test.session.standing_reach().filter(|_| fields.reach),
            date: fields.date.then_some(test.date),
            age: assessed.age.group().filter(|_| fields.age),
            name: clean_line_in_bytes(name, NICKNAME_MAX, NAME_BYTES_MAX),
            is_tired: fields.notes && assessed.is_tired,
            is_rough: fields.notes && !assessed.rough.is_empty(),
        })
    }

    /// Why the card cannot be kept as a record, if it cannot.
    pub fn no_record(&self) -> Option<NoRecord> {
        if self.key.device.is_clock() {
            Some(NoRecord::Clock)
        } else if self.key.reach_method == ReachMethod::Other {
            Some(NoRecord::ReachMethod)
        } else if self.date.is_none() {
            Some(NoRecord::NoDate)
        } else {
            None
        }
    }
}
