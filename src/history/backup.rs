//! The backup file: `{"kind":"two-marks backup","version":1,"saved":…,"records":[…],"sum":"…"}`.
//! Its records are the stored ones as they are, so a plain script can write it too; such a file
//! has no sum.

use serde_json::{Map, Value};

use super::checksum::Crc32;
use super::merge::RecordSet;
use super::migrate::{Read, Why, read};

/// What the file says it is.
pub const BACKUP_KIND: &str = "two-marks backup";
/// The version of the file around the records.
pub const BACKUP_VERSION: u32 = 1;
/// Largest file read, in bytes. Design choice: twice what 10,000 tests take.
pub const BACKUP_BYTES_MAX: usize = 5_000_000;
/// Most records read from one file. Design choice.
pub const BACKUP_RECORDS_MAX: usize = 50_000;
/// Deepest nesting read. Design choice: our own records need five.
const DEPTH_MAX: usize = 16;

/// Why a file is no backup that can be read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BackupProblem {
    /// Over five million bytes.
    TooLarge,
    /// Nested too deep.
    TooDeep,
    /// Too many records.
    TooManyRecords,
    /// Not JSON: cut off, or another kind of file.
    NotJson,
    /// JSON, but not a backup of this page.
    NotABackup,
    /// Written by a later version of this page.
    Newer {
        /// The version it names.
        version: u64,
    },
}

/// Whether the sum in the file fits its records.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SumCheck {
    /// There is none: written by the page's emergency script, or by hand.
    Missing,
    /// It fits.
    Right,
    /// It does not: the file was damaged or edited.
    Wrong,
}

/// A backup file as it was read. Nothing is stored yet.
#[derive(Clone, Debug)]
pub struct Backup {
    /// When it was written, UTC milliseconds, where it says so.
    pub saved_utc_ms: Option<i64>,
    /// Whether the sum fits.
    pub sum: SumCheck,
    /// Every readable record.
    pub records: RecordSet,
    /// Texts of a later version, with their place in the file, from 0.
    pub newer: Vec<(usize, u32)>,
    /// Texts that are no records, with their place in the file, from 0, and why.
    pub unreadable: Vec<(usize, Why)>,
}

/// Writes a backup of record texts as they are stored. A text that is not JSON has no place in the
/// file and is left out; the store has put such texts aside.
pub fn write_backup(texts: &[String], saved_utc_ms: i64) -> String {
    let mut sum = Crc32::new();
    let mut records = String::new();
    for text in texts {
        let Ok(value) = serde_json::from_str::<Value>(text) else { continue };
        add_to_sum(&mut sum, &value);
        records.push_str(if records.is_empty() { "\n" } else { ",\n" });
        records.push_str(text.trim());
    }
    let sum = sum.value();
    format!(
        "{{\"kind\":\"{BACKUP_KIND}\",\"version\":{BACKUP_VERSION},\"saved\":{saved_utc_ms},\
         \"records\":[{records}\n],\"sum\":\"{sum:08x}\"}}\n"
    )
}

/// Reads a backup file.
///
/// # Errors
/// When the file as a whole cannot be read; single records that cannot are listed in the result.
pub fn read_backup(text: &str) -> Result<Backup, BackupProblem> {
    if text.len() > BACKUP_BYTES_MAX {
        return Err(BackupProblem::TooLarge);
    }
    if depth(text) > DEPTH_MAX {
        return Err(BackupProblem::TooDeep);
    }
    let text = text.trim_start_matches('\u{feff}');
    let value: Value = serde_json::from_str(text).map_err(|_| BackupProblem::NotJson)?;
    let Value::Object(mut file) = value else {
        return Err(BackupProblem::NotABackup);
    };
    check_head(&file)?;
    let Some(Value::Array(values)) = file.remove("records") else {
        return Err(BackupProblem::NotABackup);
    };
    if values.len() > BACKUP_RECORDS_MAX {
        return Err(BackupProblem::TooManyRecords);
    }
    let mut backup = Backup {
        saved_utc_ms: file.get("saved").and_then(Value::as_i64),
        sum: check_sum(&file, &values),
        records: RecordSet::new(),
        newer: Vec::new(),
        unreadable: Vec::new(),
    };
    for (place, value) in values.into_iter().enumerate() {
        match read(&value.to_string()) {
            Read::Good(record) => backup.records.add(*record),
            Read::Newer { version } => backup.newer.push((place, version)),
            Read::Unreadable { why } => backup.unreadable.push((place, why)),
        }
    }
    Ok(backup)
}

fn check_head(file: &Map<String, Value>) -> Result<(), BackupProblem> {
    if file.get("kind").and_then(Value::as_str) != Some(BACKUP_KIND) {
        return Err(BackupProblem::NotABackup);
    }
    match file.get("version").and_then(Value::as_u64) {
        Some(version) if version == u64::from(BACKUP_VERSION) => Ok(()),
        Some(version) if version > u64::from(BACKUP_VERSION) => {
            Err(BackupProblem::Newer { version })
        }
        _ => Err(BackupProblem::NotABackup),
    }
}

fn check_sum(file: &Map<String, Value>, values: &[Value]) -> SumCheck {
    let Some(stated) = file.get("sum") else {
        return SumCheck::Missing;
    };
    let mut sum = Crc32::new();
    for value in values {
        add_to_sum(&mut sum, value);
    }
    let right = stated.as_str() == Some(&format!("{:08x}", sum.value()));
    if right { SumCheck::Right } else { SumCheck::Wrong }
}

/// The sum runs over every record as compact JSON with its keys in alphabetical order and a line end,
/// so that setting the file out anew does not change it.
fn add_to_sum(sum: &mut Crc32, value: &Value) {
    sum.add(value.to_string().as_bytes());
    sum.add(b"\n");
}

/// The deepest nesting of arrays and objects, without building anything.
fn depth(text: &str) -> usize {
    let (mut depth, mut deepest) = (0usize, 0usize);
    let (mut in_text, mut escaped) = (false, false);
    for byte in text.bytes() {
        if in_text {
            let ends = byte == b'"' && !escaped;
            escaped = byte == b'\\' && !escaped;
            in_text = !ends;
            continue;
        }
        match byte {
            b'"' => in_text = true,
            b'[' | b'{' => {
                depth += 1;
                deepest = deepest.max(depth);
            }
            b']' | b'}' => depth = depth.saturating_sub(1),
            _ => {}
        }
    }
    deepest
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn brackets_inside_text_are_not_depth() {
        assert_eq!(depth(r#"{"a":["[[[[\"[["]}"#), 2);
        assert_eq!(depth("[[[]]]]]]["), 3);
    }

    #[test]
    fn each_way_a_file_can_be_wrong_has_its_own_answer() {
        let problem = |text: &str| read_backup(text).err();
        assert_eq!(problem("{"), Some(BackupProblem::NotJson));
        assert_eq!(problem("[]"), Some(BackupProblem::NotABackup));
        assert_eq!(problem(&"[".repeat(17)), Some(BackupProblem::TooDeep));
        assert_eq!(problem(&" ".repeat(5_000_001)), Some(BackupProblem::TooLarge));
        let later = r#"{"kind":"two-marks backup","version":2,"records":[]}"#;
        assert_eq!(problem(later), Some(BackupProblem::Newer { version: 2 }));
        let many = format!(
            r#"{{"kind":"two-marks backup","version":1,"records":[{}0]}}"#,
            "0,".repeat(50_000)
        );
        assert_eq!(problem(&many), Some(BackupProblem::TooManyRecords));
    }

    #[test]
    fn a_missing_sum_is_noted_and_a_wrong_one_too() {
        let file = |sum: &str| {
            let text =
                format!(r#"{{"kind":"two-marks backup","version":1,"records":[{{"a":1}}]{sum}}}"#);
            read_backup(&text).map(|backup| backup.sum)
        };
        assert_eq!(file(""), Ok(SumCheck::Missing));
        assert_eq!(file(r#","sum":"00000000""#), Ok(SumCheck::Wrong));
        let written = write_backup(&[r#"{"b":1, "a":2}"#.to_owned()], 0);
        assert_eq!(read_backup(&written).map(|backup| backup.sum), Ok(SumCheck::Right));
    }
}
