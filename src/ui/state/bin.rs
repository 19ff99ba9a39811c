//! What was deleted or replaced.

use leptos::prelude::*;

use two_marks::history::{BinEntry, JournalEntry, Record, SaveError};

use super::{App, Notice};

impl App {
    /// What was deleted or replaced, and can come back.
    pub fn bin(self) -> Vec<BinEntry> {
        self.with_store(|store| store.bin()).unwrap_or_default()
    }

    /// Throws a version away for good.
    pub fn throw_away(self, record: Record) {
        self.alone(move || {
            let now = self.now().utc_ms;
            match self.with_store(|store| store.purge(&record, now)) {
                Ok(lines) => self.thrown_away(lines, Ok(())),
                Err(error) => self.thrown_away(Vec::new(), Err(error)),
            }
        });
    }

    /// Throws away for good all that is in the bin.
    pub fn empty_bin(self) {
        self.alone(move || {
            let now = self.now().utc_ms;
            let (lines, done) = self.with_store(|store| store.empty_bin(now));
            self.thrown_away(lines, done);
        });
    }

    /// What is gone must go from the journal too, or a later start would bring it back.
    fn thrown_away(self, lines: Vec<JournalEntry>, done: Result<(), SaveError>) {
        self.deleted.set(None);
        self.reload();
        self.journal(lines, Notice::ThrownAway);
        if let Err(error) = done {
            self.notice.set(Some(Notice::NotSaved(error)));
        }
    }
}
