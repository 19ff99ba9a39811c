use chrono::NaiveDate;
use serde_json::{Map, Value};

use super::{Class, ClassResult, Id, LocalId};
use crate::measure::{Hand, Session};
use crate::quantity::{AgeGroup, BirthMonth, BodyMass, Compare, Division, Moment, Reading};

/// When and how often a record was edited. The higher revision wins a merge, so a wrong clock alone
/// never does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Stamp {
    /// 1 for a new record, one more with every edit.
    pub rev: u32,
    /// When that edit was made, milliseconds since 1970 in UTC, by the clock of the device.
    pub edited_utc_ms: i64,
}

impl Stamp {
    /// The stamp of a new record.
    pub const fn first(now_utc_ms: i64) -> Self {
        Self { rev: 1, edited_utc_ms: now_utc_ms }
    }

    /// The stamp of the next edit.
    pub const fn next(self, now_utc_ms: i64) -> Self {
        Self { rev: self.rev.saturating_add(1), edited_utc_ms: now_utc_ms }
    }
}

/// Fields that this version does not know and must not lose.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Extra(pub(super) Map<String, Value>);

impl Extra {
    /// Whether there are any.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
}

/// What a person said about their age.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Born {
    /// Month and year.
    Month(BirthMonth),
    /// Only a group.
    Group(AgeGroup),
}

/// How a person likes to measure.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum MarkMethod {
    /// Reach mark and jump mark as heights from the floor.
    #[default]
    FromFloor,
    /// The distance between the two marks.
    BetweenMarks,
}

/// Somebody who jumps on this device.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Person {
    /// The long random id.
    pub id: Id,
    /// The short key by which tests name the person.
    pub local: LocalId,
    /// Revision and time of the last edit.
    pub stamp: Stamp,
    /// What the person is called here; up to 40 visible characters.
    pub nickname: String,
    /// Birth month or age group, where given.
    pub born: Option<Born>,
    /// Which published tables to compare with; nothing while not asked.
    pub compare: Option<Compare>,
    /// The hand that marks.
    pub hand: Hand,
    /// The step of the tape they usually read to; it decides the unit.
    pub division: Division,
    /// How they usually measure.
    pub mark_method: MarkMethod,
    /// Tests in their own way: own records and trend, no published bands.
    pub own_way: bool,
    /// Body mass, of adults only and never required.
    pub body_mass: Option<BodyMass>,
    /// Put away: kept, but not offered for a new test.
    pub archived: bool,
    /// Fields of a later version.
    pub extra: Extra,
}

impl Person {
    /// Somebody new, with the defaults of the first use.
    pub fn new(id: Id, local: LocalId, nickname: String, now_utc_ms: i64) -> Self {
        Self {
            id,
            local,
            stamp: Stamp::first(now_utc_ms),
            nickname,
            born: None,
            compare: None,
            hand: Hand::Right,
            division: Division::CmHalf,
            mark_method: MarkMethod::default(),
            own_way: false,
            body_mass: None,
            archived: false,
            extra: Extra::default(),
        }
    }
}

/// The kind of hard leg work before a test.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum HardDay {
    /// A hard leg session.
    LegSession,
    /// A full match or a tournament day.
    Match,
}

/// What may have lowered a score. It stays a best, and stays out of trends.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Tired {
    /// Hard leg work, and the whole hours since it ended.
    pub leg_work: Option<(HardDay, u16)>,
    /// Held stretches just before.
    pub stretch: Option<StretchNote>,
}

/// Held stretches just before a test.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct StretchNote {
    /// Some muscle was held for a minute or longer.
    pub long: bool,
    /// Whole minutes from the last hold to the first trial.
    pub minutes_since: u16,
}

impl Tired {
    /// Whether anything is noted.
    pub const fn is_noted(self) -> bool {
        self.leg_work.is_some() || self.stretch.is_some()
    }
}

/// Where a test comes from.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Origin {
    /// Measured with this page, step by step.
    #[default]
    Measured,
    /// An earlier result, added by hand.
    ByHand,
    /// Read from a file.
    Imported,
}

/// One test of one person on one day, as it was read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Test {
    /// The long random id.
    pub id: Id,
    /// Whose test it is.
    pub person: LocalId,
    /// Revision and time of the last edit.
    pub stamp: Stamp,
    /// The day, as the person's own calendar had it.
    pub date: NaiveDate,
    /// Minutes since local midnight, 0 to 1439, where known.
    pub minute_of_day: Option<u16>,
    /// Minutes that the person's clock ran ahead of UTC.
    pub utc_offset_minutes: i16,
    /// How it was done, the reach and the trials.
    pub session: Session,
    /// What may have lowered the score.
    pub tired: Tired,
    /// A practice test: shown, but not counted in trends.
    pub practice: bool,
    /// Free words, up to 500 visible characters.
    pub note: String,
    /// Up to ten tags of up to 30 visible characters, in the order given.
    pub tags: Vec<String>,
    /// Where the test comes from.
    pub origin: Origin,
    /// Body height that day, never required.
    pub body_height: Option<Reading>,
    /// Body mass that day, of adults only and never required.
    pub body_mass: Option<BodyMass>,
    /// Fields of a later version.
    pub extra: Extra,
}

impl Test {
    /// A new test measured at a moment, with nothing noted.
    pub fn new(id: Id, person: LocalId, at: Moment, session: Session) -> Self {
        Self {
            id,
            person,
            stamp: Stamp::first(at.utc_ms),
            date: at.date(),
            minute_of_day: Some(at.minute_of_day()),
            utc_offset_minutes: at.offset_minutes,
            session,
            tired: Tired::default(),
            practice: false,
            note: String::new(),
            tags: Vec::new(),
            origin: Origin::Measured,
            body_height: None,
            body_mass: None,
            extra: Extra::default(),
        }
    }

    /// The instant of the test; noon where the minute is not known.
    pub fn moment(&self) -> Moment {
        let minute = self.minute_of_day.unwrap_or(12 * 60);
        Moment::from_civil(self.date, minute, self.utc_offset_minutes)
    }
}

/// What was deleted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum DeletedKind {
    /// A person, with their key; their tests are out of sight with them.
    Person(LocalId),
    /// A test.
    Test,
    /// A class; its results are out of sight with it.
    Class,
    /// A result of a class.
    ClassResult,
}

/// That a record was deleted. It competes in a merge like any edit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Deleted {
    /// The id of what was deleted.
    pub id: Id,
    /// What it was.
    pub kind: DeletedKind,
    /// Revision and time of the deletion.
    pub stamp: Stamp,
    /// The contents were thrown away too, so nothing is left to bring back.
    pub purged: bool,
    /// Fields of a later version.
    pub extra: Extra,
}

/// Any record: of a person's own history, or of a class.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Record {
    /// Somebody who jumps.
    Person(Person),
    /// One test.
    Test(Test),
    /// A class.
    Class(Class),
    /// A result of a class.
    ClassResult(ClassResult),
    /// A deletion.
    Deleted(Deleted),
}

impl Record {
    /// The long random id.
    pub const fn id(&self) -> Id {
        match self {
            Self::Person(person) => person.id,
            Self::Test(test) => test.id,
            Self::Class(class) => class.id,
            Self::ClassResult(result) => result.id,
            Self::Deleted(deleted) => deleted.id,
        }
    }

    /// Revision and time of the last edit.
    pub const fn stamp(&self) -> Stamp {
        match self {
            Self::Person(person) => person.stamp,
            Self::Test(test) => test.stamp,
            Self::Class(class) => class.stamp,
            Self::ClassResult(result) => result.stamp,
            Self::Deleted(deleted) => deleted.stamp,
        }
    }

    /// The same record with another stamp.
    #[must_use]
    pub fn with_stamp(mut self, stamp: Stamp) -> Self {
        match &mut self {
            Self::Person(person) => person.stamp = stamp,
            Self::Test(test) => test.stamp = stamp,
            Self::Class(class) => class.stamp = stamp,
            Self::ClassResult(result) => result.stamp = stamp,
            Self::Deleted(deleted) => deleted.stamp = stamp,
        }
        self
    }

    /// Whether this is a deletion.
    pub const fn is_deleted(&self) -> bool {
        matches!(self, Self::Deleted(_))
    }

    /// Whether this is a deletion that left no contents.
    pub const fn is_purged(&self) -> bool {
        matches!(self, Self::Deleted(deleted) if deleted.purged)
    }
}
