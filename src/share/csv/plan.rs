//! From what a spreadsheet file holds to new tests of one person, none of them twice.

use std::collections::BTreeSet;

use super::read::ImportedTest;
use crate::history::{Id, LocalId, Test};
use crate::quantity::Moment;

/// What an import would do.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ImportPlan {
    /// The tests to add, labelled as imported, in the order of the file.
    pub new: Vec<Test>,
    /// Rows that are in the store already.
    pub known: usize,
    /// Rows of a day that has not come yet by this clock; they are left out.
    pub later: usize,
}

/// The nicknames in a file, each once, in the order of the file; rows without one give none.
pub fn names_in(rows: &[ImportedTest]) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    for name in rows.iter().filter_map(|row| row.nickname.as_ref()) {
        if !names.contains(name) {
            names.push(name.clone());
        }
    }
    names
}

/// Plans an import of rows for one person. A row is known when a test of its id is in the store
/// (`is_stored`), or when the person has a test of the same day, time, kind and best height; equal
/// rows count as often as they occur, so importing a file a second time adds nothing.
///
/// `new_id` draws a random id for each test; none means that there is no randomness, and no plan.
pub fn plan_import(
    rows: &[ImportedTest],
    person: &LocalId,
    tests: &[Test],
    is_stored: impl Fn(Id) -> bool,
    now: Moment,
    new_id: impl Fn() -> Option<Id>,
) -> Option<ImportPlan> {
    let mut plan = ImportPlan::default();
    let mut matched: BTreeSet<Id> = BTreeSet::new();
    for row in rows {
        if row.date > now.date() {
            plan.later += 1;
            continue;
        }
        let same = tests.iter().find(|test| !matched.contains(&test.id) && is_of(row, test));
        if let Some(test) = same {
            matched.insert(test.id);
            plan.known += 1;
        } else if row.id.is_some_and(&is_stored) {
            plan.known += 1;
        } else {
            plan.new.push(row.clone().into_test(new_id()?, person.clone(), now));
        }
    }
    Some(plan)
}

/// Whether a stored test is what the row says.
fn is_of(row: &ImportedTest, test: &Test) -> bool {
    row.id == Some(test.id)
        || (row.date == test.date
            && (row.minute_of_day.is_none() || row.minute_of_day == test.minute_of_day)
            && row.session.key == test.session.key
            && row.session.best() == test.session.best())
}
