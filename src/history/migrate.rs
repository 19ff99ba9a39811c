//! The one gate by which stored text becomes records. A text of an older version is carried forward
//! step by step before it is read; there is one version so far, so there is no step yet.

use serde::Deserialize;

use super::format::{class_v1, v1};
use super::record::Record;
use super::{class_codec, codec};

/// Longest text of one record, in bytes. Design choice: a test with every field full is under 5,000.
pub const RECORD_BYTES_MAX: usize = 20_000;

/// Why a text is no record. For developers and for the list of texts put aside.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Why {
    /// Longer than any record.
    TooLong,
    /// Not JSON.
    NotJson,
    /// JSON without a version and a kind.
    NotARecord,
    /// A field is missing, of the wrong type, or there twice.
    Shape,
    /// This field is out of its range.
    Field(&'static str),
}

/// What a stored text turned out to be.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Read {
    /// A record.
    Good(Box<Record>),
    /// Written by a later version of this page: it is kept and never written over. A kind that this
    /// version does not know counts as later too.
    Newer {
        /// The version it names.
        version: u32,
    },
    /// Not a record.
    Unreadable {
        /// Why.
        why: Why,
    },
}

impl Read {
    /// The record, where there is one.
    pub fn good(self) -> Option<Record> {
        match self {
            Self::Good(record) => Some(*record),
            Self::Newer { .. } | Self::Unreadable { .. } => None,
        }
    }
}

/// Reads one stored text.
///
/// ```
/// use two_marks::history::{Read, read};
/// assert_eq!(read(r#"{"v":9,"k":"t","more":1}"#), Read::Newer { version: 9 });
/// assert!(matches!(read("oops"), Read::Unreadable { .. }));
/// ```
pub fn read(text: &str) -> Read {
    match record(text) {
        Ok(Some(record)) => Read::Good(Box::new(record)),
        Ok(None) => Read::Newer { version: head(text).map_or(0, |head| head.v) },
        Err(why) => Read::Unreadable { why },
    }
}

/// The record as it is stored and backed up: compact JSON in a fixed order of keys. Equal records
/// give equal text, which is what settles a merge between equal stamps.
pub fn to_text(record: &Record) -> String {
    let text = match record {
        Record::Person(person) => serde_json::to_string(&codec::person_to_wire(person)),
        Record::Test(test) => serde_json::to_string(&codec::test_to_wire(test)),
        Record::Class(class) => serde_json::to_string(&class_codec::class_to_wire(class)),
        Record::ClassResult(result) => serde_json::to_string(&class_codec::result_to_wire(result)),
        Record::Deleted(deleted) => serde_json::to_string(&codec::deleted_to_wire(deleted)),
    };
    // Writing structs with text keys to a string has no way to fail.
    text.unwrap_or_default()
}

/// None for a later version.
fn record(text: &str) -> Result<Option<Record>, Why> {
    if text.len() > RECORD_BYTES_MAX {
        return Err(Why::TooLong);
    }
    let head = head(text)?;
    if head.v > v1::VERSION {
        return Ok(None);
    }
    if head.v < v1::VERSION {
        return Err(Why::Field("v"));
    }
    let record = match head.k.as_str() {
        v1::PERSON => Record::Person(codec::person_from_wire(shape(text)?)?),
        v1::TEST => Record::Test(codec::test_from_wire(shape(text)?)?),
        class_v1::CLASS => Record::Class(class_codec::class_from_wire(shape(text)?)?),
        class_v1::RESULT => Record::ClassResult(class_codec::result_from_wire(shape(text)?)?),
        v1::DELETED => Record::Deleted(codec::deleted_from_wire(shape(text)?)?),
        v1::DRAFT | v1::SETTINGS => return Err(Why::NotARecord),
        _ => return Ok(None),
    };
    Ok(Some(record))
}

/// Version and kind, whatever else there is.
pub(super) fn head(text: &str) -> Result<v1::Head, Why> {
    serde_json::from_str(text)
        .map_err(|problem| if problem.is_data() { Why::NotARecord } else { Why::NotJson })
}

/// One wire type from a text.
pub(super) fn shape<'a, T: Deserialize<'a>>(text: &'a str) -> Result<T, Why> {
    serde_json::from_str(text).map_err(|_| Why::Shape)
}
