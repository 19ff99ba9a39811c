//! Version 1 of the stored records of classes. `docs/records.md` explains every key.

use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

use super::v1::{Session, is_false};

/// The kind of a class.
pub const CLASS: &str = "c";
/// The kind of a result of a class.
pub const RESULT: &str = "n";

/// A class.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Class {
    /// Version.
    pub v: u32,
    /// Kind.
    pub k: String,
    /// Id.
    pub i: String,
    /// Revision.
    pub r: u32,
    /// Edited, UTC milliseconds.
    pub e: i64,
    /// Label.
    pub name: String,
    /// Division.
    pub u: String,
    /// Jump; absent for standing.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub jump: Option<String>,
    /// Steps of the run-up.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub steps: Option<u8>,
    /// Take-off after the run-up.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub off: Option<String>,
    /// How marks are read; absent for heights from the floor.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub marks: Option<String>,
    /// Readings of the reach.
    pub reaches: u8,
    /// Trials.
    pub trials: u8,
    /// Rest, seconds.
    pub rest: u16,
    /// Pupils answer the ready check.
    #[serde(default, skip_serializing_if = "is_false")]
    pub ready: bool,
    /// Pupils are led through the warm-up.
    #[serde(default, skip_serializing_if = "is_false")]
    pub warm: bool,
    /// What pupils see; absent for their number alone.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shows: Option<String>,
    /// Numbers from 1 to this.
    pub numbers: u8,
    /// Age group.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub age: Option<String>,
    /// Numbers in use; absent for all.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub roster: Vec<u8>,
    /// Published tables for the whole class.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cmp: Option<String>,
    /// What is different for single numbers.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub pupils: Vec<Pupil>,
    /// Put away.
    #[serde(default, skip_serializing_if = "is_false")]
    pub away: bool,
    /// Fields of a later version.
    #[serde(flatten)]
    pub extra: Map<String, Value>,
}

/// What the teacher typed of one number.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Pupil {
    /// The number.
    pub no: u8,
    /// Age group.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub age: Option<String>,
    /// Published tables.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cmp: Option<String>,
}

/// A result of a class.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct ClassResult {
    /// Version.
    pub v: u32,
    /// Kind.
    pub k: String,
    /// Id.
    pub i: String,
    /// Id of the class.
    pub c: String,
    /// Revision.
    pub r: u32,
    /// Edited, UTC milliseconds.
    pub e: i64,
    /// Day, as year, month and day in one number.
    pub d: i32,
    /// The number.
    pub no: u8,
    /// Mark of the device; absent for the teacher's own.
    #[serde(default, skip_serializing_if = "is_zero")]
    pub dev_tag: u16,
    /// How it was done, and what was read.
    #[serde(flatten)]
    pub session: Session,
    /// Legs were tired.
    #[serde(default, skip_serializing_if = "is_false")]
    pub tired: bool,
    /// Has another role.
    #[serde(default, skip_serializing_if = "is_false")]
    pub helps: bool,
    /// Fields of a later version.
    #[serde(flatten)]
    pub extra: Map<String, Value>,
}

// Serde hands this the field by reference.
fn is_zero(number: &u16) -> bool {
    *number == 0
}
