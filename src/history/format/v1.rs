//! Version 1 of the stored records. `docs/records.md` explains every key.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

/// The version written in every record.
pub const VERSION: u32 = 1;

/// The kind of a person.
pub const PERSON: &str = "p";
/// The kind of a test.
pub const TEST: &str = "t";
/// The kind of a deletion.
pub const DELETED: &str = "x";
/// The kind of a half-finished test.
pub const DRAFT: &str = "d";
/// The kind of the settings.
pub const SETTINGS: &str = "s";

/// The two fields every record starts with, whatever its version.
#[derive(Debug, Deserialize)]
pub struct Head {
    /// Version.
    pub v: u32,
    /// Kind.
    pub k: String,
}

/// A reading or a trial.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(untagged)]
pub enum Entry {
    /// A height from the floor, read to the division of the test.
    Count(i32),
    /// Anything else.
    Full(FullEntry),
}

/// A reading or a trial that is more than a count: exactly one of the first four is present.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FullEntry {
    /// Height from the floor, in counts.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mark: Option<i32>,
    /// Distance between the two marks, in counts.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub dist: Option<i32>,
    /// Time in the air, microseconds.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub air: Option<u32>,
    /// Why it was a foul.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub foul: Option<String>,
    /// Division of this reading, where it is not that of the test.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub u: Option<String>,
}

/// How a test was done, and what was read.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Session {
    /// Variant; absent for the standing jump.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub jump: Option<String>,
    /// Steps of the run-up.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub steps: Option<u8>,
    /// Take-off after the run-up.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub off: Option<String>,
    /// Device; absent for the wall.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub dev: Option<String>,
    /// Reach method; absent for one hand with heels down.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rm: Option<String>,
    /// Surface; absent for firm ground.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sf: Option<String>,
    /// In the person's own way.
    #[serde(default, skip_serializing_if = "is_false")]
    pub own: bool,
    /// Hand; absent for the right one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub h: Option<String>,
    /// Division.
    pub u: String,
    /// Readings of the standing reach; absent when only a mark was made.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub reach: Option<Vec<Entry>>,
    /// Day the reach was measured, when it was an earlier one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ron: Option<i32>,
    /// Trials in order.
    pub trials: Vec<Entry>,
    /// Only the top mark is known.
    #[serde(default, skip_serializing_if = "is_false")]
    pub top: bool,
}

/// What may have lowered a score.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Tired {
    /// Hours since a hard leg session.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub leg: Option<u16>,
    /// Hours since a match.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub game: Option<u16>,
    /// Minutes since a short held stretch.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub held: Option<u16>,
    /// Minutes since a stretch held a minute or longer.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub held_long: Option<u16>,
}

/// A test.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Test {
    /// Version.
    pub v: u32,
    /// Kind.
    pub k: String,
    /// Id.
    pub i: String,
    /// Key of the person.
    pub p: String,
    /// Revision.
    pub r: u32,
    /// Edited, UTC milliseconds.
    pub e: i64,
    /// Day, as year, month and day in one number.
    pub d: i32,
    /// Minute of the day.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub m: Option<u16>,
    /// Minutes ahead of UTC.
    #[serde(default, skip_serializing_if = "is_zero")]
    pub o: i16,
    /// How it was done, and what was read.
    #[serde(flatten)]
    pub session: Session,
    /// What may have lowered the score.
    #[serde(flatten)]
    pub tired: Tired,
    /// Practice.
    #[serde(default, skip_serializing_if = "is_false")]
    pub practice: bool,
    /// Note.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
    /// Tags.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub tags: Vec<String>,
    /// Origin; absent when measured here.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub from: Option<String>,
    /// Body height.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tall: Option<Entry>,
    /// Body mass, grams.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mass: Option<u32>,
    /// Fields of a later version.
    #[serde(flatten)]
    pub extra: Map<String, Value>,
}

/// A person.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Person {
    /// Version.
    pub v: u32,
    /// Kind.
    pub k: String,
    /// Id.
    pub i: String,
    /// Key by which tests name the person.
    pub l: String,
    /// Revision.
    pub r: u32,
    /// Edited, UTC milliseconds.
    pub e: i64,
    /// Nickname.
    pub name: String,
    /// Birth year and month in one number.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub born: Option<i32>,
    /// Age group, where no birth month is known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub age: Option<String>,
    /// Tables to compare with; absent while not asked.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cmp: Option<String>,
    /// Hand; absent for the right one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub h: Option<String>,
    /// Division.
    pub u: String,
    /// How they measure; absent for heights from the floor.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub marks: Option<String>,
    /// In the person's own way.
    #[serde(default, skip_serializing_if = "is_false")]
    pub own: bool,
    /// Body mass, grams.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mass: Option<u32>,
    /// Put away.
    #[serde(default, skip_serializing_if = "is_false")]
    pub away: bool,
    /// Fields of a later version.
    #[serde(flatten)]
    pub extra: Map<String, Value>,
}

/// A deletion.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Deleted {
    /// Version.
    pub v: u32,
    /// Kind.
    pub k: String,
    /// Id of what was deleted.
    pub i: String,
    /// Key of a deleted person; absent for a test.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub l: Option<String>,
    /// Kind of what was deleted, for a class and its results; absent for people and tests.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub of: Option<String>,
    /// Revision.
    pub r: u32,
    /// Deleted, UTC milliseconds.
    pub e: i64,
    /// The contents are gone too.
    #[serde(default, skip_serializing_if = "is_false")]
    pub purged: bool,
    /// Fields of a later version.
    #[serde(flatten)]
    pub extra: Map<String, Value>,
}

/// A half-finished test.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Draft {
    /// Version.
    pub v: u32,
    /// Kind.
    pub k: String,
    /// Id the test will have.
    pub i: String,
    /// Step of the flow.
    pub step: String,
    /// Key of the person.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub p: Option<String>,
    /// Last change, UTC milliseconds.
    pub e: i64,
    /// When the ready check was passed, UTC milliseconds.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ready: Option<i64>,
    /// Text as typed, by field.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub typed: BTreeMap<String, String>,
    /// What is measured so far.
    pub session: Session,
    /// What may have lowered the score.
    #[serde(flatten)]
    pub tired: Tired,
    /// Fields of a later version.
    #[serde(flatten)]
    pub extra: Map<String, Value>,
}

/// The settings of the page.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Settings {
    /// Version.
    pub v: u32,
    /// Kind.
    pub k: String,
    /// Unit; absent until chosen.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub unit: Option<String>,
    /// Look; absent to follow the system.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub theme: Option<String>,
    /// Language tag; absent to follow the browser.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lang: Option<String>,
    /// Key of the person who tested last.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub p: Option<String>,
    /// No sound at the end of a rest.
    #[serde(default, skip_serializing_if = "is_false")]
    pub quiet: bool,
    /// No reminder to back up.
    #[serde(default, skip_serializing_if = "is_false")]
    pub no_reminder: bool,
    /// Last backup, UTC milliseconds.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub backup: Option<i64>,
    /// Tests saved since the last backup.
    #[serde(default, skip_serializing_if = "is_zero_u32")]
    pub since: u32,
    /// The browser was asked to keep the data.
    #[serde(default, skip_serializing_if = "is_false")]
    pub asked: bool,
    /// How many tests stood in `since` when the reminder was put off.
    #[serde(default, skip_serializing_if = "is_zero_u32")]
    pub put_off: u32,
    /// The advice about the home screen was read and closed.
    #[serde(default, skip_serializing_if = "is_false")]
    pub told: bool,
    /// Fields of a later version.
    #[serde(flatten)]
    pub extra: Map<String, Value>,
}

// Serde hands these the field by reference.
pub(super) fn is_false(flag: &bool) -> bool {
    !flag
}

fn is_zero(number: &i16) -> bool {
    *number == 0
}

fn is_zero_u32(number: &u32) -> bool {
    *number == 0
}
