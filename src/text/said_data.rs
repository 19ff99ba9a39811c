//! What is said of records on the data page: conflicts, the bin, rows of spreadsheet files.

use super::{DateForm, Words};
use crate::history::{BinEntry, Binned, Conflict, Purged, Record};
use crate::quantity::{Moment, days_between};
use crate::share::csv::{ImportProblem, ProblemKind};

/// A conflict of a restore in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ConflictSaid {
    /// Which record it is.
    pub title: String,
    /// What this device holds.
    pub here: String,
    /// What the file holds.
    pub there: String,
    /// Which of them counts, and what becomes of the other.
    pub counts: String,
}

impl Words {
    /// Both versions of a record, with the times of their edits on a clock that runs ahead of UTC
    /// by `offset_minutes`, and which one will count.
    pub fn conflict(&self, conflict: &Conflict, offset_minutes: i16) -> ConflictSaid {
        let said = |record: &Record| {
            let utc_ms = record.stamp().edited_utc_ms;
            let at = Moment { utc_ms, offset_minutes };
            let when = self.two_things(&self.date(at.date(), DateForm::Full), &self.time(at));
            (self.contents(record), when)
        };
        let (here, there) = (said(&conflict.here), said(&conflict.there));
        ConflictSaid {
            title: self.record_title(&conflict.here),
            here: self.data_conflict_here(&here.0, &here.1),
            there: self.data_conflict_there(&there.0, &there.1),
            counts: if conflict.there_counts {
                self.data_conflict_there_counts()
            } else {
                self.data_conflict_here_counts()
            },
        }
    }

    /// Whether to bring back what was thrown away here, on a clock that runs ahead of UTC by
    /// `offset_minutes`.
    pub fn bring_back(&self, purged: &Purged, offset_minutes: i16) -> String {
        let at = Moment { utc_ms: purged.purged_utc_ms, offset_minutes };
        let date = self.date(at.date(), DateForm::Full);
        match &purged.record {
            Record::Class(class) => self.data_bring_back_class(&class.setup.label, &date),
            Record::Person(person) => self.data_bring_back_person(&person.nickname, &date),
            Record::Test(test) => {
                self.data_bring_back_test(&self.date(test.date, DateForm::Full), &date)
            }
            Record::ClassResult(result) => {
                self.data_bring_back_result(&self.date(result.date, DateForm::Full), &date)
            }
            Record::Deleted(_) => self.data_deletion(),
        }
    }

    /// Which record it is, by its day or its person's name.
    fn record_title(&self, record: &Record) -> String {
        match record {
            Record::Test(test) => self.data_test_of(&self.date(test.date, DateForm::Full)),
            Record::Person(person) => self.data_person(&person.nickname),
            Record::Class(class) => class.setup.label.clone(),
            Record::ClassResult(result) => self.class_number(&result.number.to_string()),
            Record::Deleted(_) => self.data_deletion(),
        }
    }

    /// What tells two versions apart at a glance.
    fn contents(&self, record: &Record) -> String {
        match record {
            Record::Test(test) => {
                let unit = test.session.division.unit();
                let best = test.session.best().map(|best| self.length(best.0, unit));
                best.unwrap_or_else(|| self.data_no_height())
            }
            Record::Person(person) => person.nickname.clone(),
            Record::Class(_) | Record::ClassResult(_) => self.record_title(record),
            Record::Deleted(_) => self.data_deletion(),
        }
    }

    /// One version in the bin: what it is, why it is there, and for how many days.
    pub fn bin_entry(&self, entry: &BinEntry, now: Moment) -> String {
        let what = match &entry.record {
            Record::Test(_) => {
                self.two_things(&self.record_title(&entry.record), &self.contents(&entry.record))
            }
            Record::Person(_) | Record::Class(_) | Record::ClassResult(_) | Record::Deleted(_) => {
                self.record_title(&entry.record)
            }
        };
        let since = Moment { utc_ms: entry.since_utc_ms, ..now }.date();
        // A clock that was ahead may give a day that has not come yet.
        let days = days_between(since, now.date()).max(0);
        let days = u32::try_from(days).unwrap_or(0);
        let why = match entry.reason {
            Binned::Deleted => self.bin_deleted(days),
            Binned::Replaced => self.bin_replaced(days),
        };
        self.bin_line(&what, &why)
    }

    /// What is wrong with a line of a spreadsheet file.
    pub fn import_problem(&self, problem: &ImportProblem) -> String {
        let column = problem.column;
        let what = match problem.kind {
            // The file as a whole, so no line is named.
            ProblemKind::MissingColumn => return self.sheet_missing_column(column),
            ProblemKind::DoubleColumn => return self.sheet_double_column(column),
            ProblemKind::Empty => self.sheet_empty(column),
            ProblemKind::NotADate => self.sheet_not_a_date(),
            ProblemKind::NotATime => self.sheet_not_a_time(),
            ProblemKind::NotANumber => self.sheet_not_a_number(column),
            ProblemKind::Impossible => self.sheet_impossible(column),
            ProblemKind::UnknownName => self.sheet_unknown_name(column),
            ProblemKind::NoResult => self.sheet_no_result(),
        };
        let line = self.whole(u32::try_from(problem.line).unwrap_or(u32::MAX));
        self.sheet_line(&line, &what)
    }
}
