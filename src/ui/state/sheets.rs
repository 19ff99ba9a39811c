//! Spreadsheet files: written for everybody, and read for one person.

use std::sync::Arc;

use leptos::prelude::*;

use two_marks::assess::mark_practice;
use two_marks::history::{Id, LocalId, Record, Test};
use two_marks::share::csv::{
    CSV_BYTES_MAX, Decimal, Import, ImportPlan, TableProblem, plan_import, read_results,
    tests_table, trials_table,
};

use super::{App, FileText, Notice};

/// What became of the spreadsheet file a person picked.
#[derive(Clone, Debug)]
pub enum Sheet {
    /// Larger than may be read.
    TooLarge,
    /// Not a table.
    NotATable,
    /// What it holds.
    Read(Arc<Import>),
    /// So many tests were added.
    Imported(usize),
}

/// Which rows a spreadsheet file has.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rows {
    /// One per test.
    Tests,
    /// One per trial.
    Trials,
}

impl App {
    /// Gives the person a spreadsheet file of everybody on this device.
    pub fn save_sheet(self, rows: Rows, decimal: Decimal) -> bool {
        let people = self.people.get_untracked();
        let mut tests: Vec<Test> = Vec::new();
        for person in &people {
            let Ok(theirs) = self.with_store(|store| store.tests_of(&person.local)) else {
                return false;
            };
            tests.extend(theirs);
        }
        mark_practice(&mut tests);
        let (name, text) = match rows {
            Rows::Tests => ("tests", tests_table(&people, &tests, decimal)),
            Rows::Trials => ("trials", trials_table(&people, &tests, decimal)),
        };
        let name = format!("two-marks-{name}-{}.csv", self.now().date());
        (self.ports().download)(&name, "text/csv", &text)
    }

    /// Looks into the spreadsheet file that was just picked.
    pub fn pick_sheet(self, event: leptos::ev::Event) {
        let most = u32::try_from(CSV_BYTES_MAX).unwrap_or(u32::MAX);
        let ports = self.ports();
        let Some(text) = (ports.read_file)(event, most) else {
            return;
        };
        (ports.spawn)(Box::pin(async move {
            let sheet = match text.await {
                FileText::Read(text) => match read_results(&text) {
                    Ok(import) => Sheet::Read(Arc::new(import)),
                    Err(TableProblem::TooLarge | TableProblem::TooManyCells) => Sheet::TooLarge,
                    Err(TableProblem::OpenQuote { .. }) => Sheet::NotATable,
                },
                FileText::TooLarge => Sheet::TooLarge,
                FileText::Unreadable => Sheet::NotATable,
            };
            self.sheet.set(Some(sheet));
        }));
    }

    /// What taking over the rows of one name for one person would do; all rows where no name is
    /// chosen.
    pub fn plan_sheet(
        self,
        import: &Import,
        name: Option<&str>,
        person: &LocalId,
    ) -> Option<ImportPlan> {
        let is_wanted = |nickname: Option<&str>| name.is_none() || nickname == name;
        let rows: Vec<_> =
            import.tests.iter().filter(|row| is_wanted(row.nickname.as_deref())).cloned().collect();
        let ports = self.ports();
        let tests = self.with_store(|store| store.tests_of(person)).ok()?;
        let is_stored = |id| self.with_store(|store| store.test(id)).ok().flatten().is_some();
        let new_id = || (ports.id_bytes)().map(Id::from_bytes);
        plan_import(&rows, person, &tests, is_stored, (ports.now)(), new_id)
    }

    /// Adds the rows of one name to one person. The plan is made anew when no other tab writes.
    pub fn take_over_sheet(self, import: Arc<Import>, name: Option<String>, person: LocalId) {
        self.alone(move || {
            let Some(plan) = self.plan_sheet(&import, name.as_deref(), &person) else {
                return;
            };
            let count = plan.new.len();
            let records: Vec<Record> = plan.new.into_iter().map(Record::Test).collect();
            match self.with_store(|store| store.keep_all(&records)) {
                Ok(entries) => {
                    self.show_person(Some(person));
                    self.journal(entries, Notice::Saved);
                    self.note_saved(u32::try_from(count).unwrap_or(u32::MAX));
                    self.sheet.set(Some(Sheet::Imported(count)));
                }
                // What was added before is known at the next try.
                Err(error) => {
                    self.reload();
                    self.notice.set(Some(Notice::NotSaved(error)));
                }
            }
        });
    }
}
