//! The names under which things are kept. Every record lies under [`RECORDS`], so that a plain script
//! can save all of them when the page itself has failed.

use super::{Id, LocalId, Season};

/// Every record: people, tests, deletions, and versions in the bin.
pub const RECORDS: &str = "two-marks/r/";
/// People, by their short key.
pub const PEOPLE: &str = "two-marks/r/p/";
/// Tests and deleted tests, by the first characters of their id.
pub const TESTS: &str = "two-marks/r/t/";
/// Classes, by their id.
pub const CLASSES: &str = "two-marks/r/c/";
/// Results of classes, by their id.
pub const CLASS_RESULTS: &str = "two-marks/r/n/";
/// Versions that were deleted or lost a merge.
pub const BIN: &str = "two-marks/r/b/";
/// Lists of tests per person and season; they can be rebuilt from the records.
pub const INDEX: &str = "two-marks/i/";
/// Texts that could not be read, as they were.
pub const ASIDE: &str = "two-marks/aside/";
/// The settings of the page.
pub const SETTINGS: &str = "two-marks/s";
/// The half-finished test.
pub const DRAFT: &str = "two-marks/d";
/// Lines of the journal for half-finished tests, one for each test by its id.
const DRAFT_LINES: &str = "two-marks/d/";
/// A half-typed form of a saved or added test, in the tab's own storage alone.
pub const FORM: &str = "two-marks/form";
/// What every key starts with, since other pages of the same origin share the storage.
pub const ROOT: &str = "two-marks/";

/// Fewest characters of an id in a key; two tests that share them get longer keys.
const ID_LENGTH: usize = 6;

/// The key of a half-finished test's line in the journal.
pub(super) fn draft_line(id: Id) -> String {
    format!("{DRAFT_LINES}{id}")
}

/// Whether a line of the journal is a half-finished test; earlier pages had one line for all.
pub(super) fn is_draft_line(key: &str) -> bool {
    key == DRAFT || key.starts_with(DRAFT_LINES)
}

/// The key of a person.
pub(super) fn person(local: &LocalId) -> String {
    format!("{PEOPLE}{}", local.as_str())
}

/// The key of a class.
pub(super) fn class(id: Id) -> String {
    format!("{CLASSES}{id}")
}

/// The key of a result of a class.
pub(super) fn class_result(id: Id) -> String {
    format!("{CLASS_RESULTS}{id}")
}

/// The names a test may have under [`TESTS`], the preferred one first.
pub(super) fn test_names(id: Id) -> impl Iterator<Item = String> {
    let text = id.to_string();
    (ID_LENGTH..=text.len()).filter_map(move |end| text.get(..end).map(str::to_owned))
}

/// Whether a text can be the name of a test.
pub(super) fn is_test_name(text: &str) -> bool {
    (ID_LENGTH..=Id::TEXT_LENGTH).contains(&text.len()) && super::base64url::is_alphabet(text)
}

/// The start of the keys of a person's lists.
pub(super) fn index_of(person: &LocalId) -> String {
    format!("{INDEX}{}/", person.as_str())
}

/// One page of the list of a person's season.
pub(super) fn index_page(person: &LocalId, season: Season, page: usize) -> String {
    format!("{INDEX}{}/{}/{page}", person.as_str(), season.first_year)
}

/// Where a text that cannot be read goes; `copy` tells several of the same key apart.
pub(super) fn aside(key: &str, copy: usize) -> String {
    let name = key.strip_prefix(ROOT).unwrap_or(key);
    if copy == 0 { format!("{ASIDE}{name}") } else { format!("{ASIDE}{name}~{copy}") }
}
