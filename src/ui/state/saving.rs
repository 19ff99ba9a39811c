//! Actions that write to the store and to the journal.

use leptos::prelude::*;

use two_marks::history::{
    Draft, Id, JournalEntry, MarkMethod, Person, Record, SaveError, StoreError, Test,
};
use two_marks::quantity::{Compare, Division, Moment};
use two_marks::share::Route;
use two_marks::share::calendar::{Reminder, calendar};

use super::{App, Notice};

/// How long a whole test takes, as the first page says: a quarter of an hour, and the warm-up.
const TEST_MINUTES: u16 = 30;

impl App {
    /// A new random id, unless the browser has no randomness.
    pub(super) fn new_id(self) -> Option<Id> {
        (self.ports().id_bytes)().map(Id::from_bytes)
    }

    /// Writes to the store while no other tab does.
    pub(super) fn alone(self, work: impl FnOnce() + 'static) {
        (self.ports().alone)(Box::new(work));
    }

    /// Saves the test in progress and shows it. "Saved" is said when it is on the disk.
    pub fn save_test(self) {
        self.alone(move || self.save_test_now());
    }

    fn save_test_now(self) {
        if self.is_visiting() {
            self.finish_visit();
            return;
        }
        let now = self.now();
        let Some(id) = self.draft_id() else {
            self.notice.set(Some(Notice::NotSaved(SaveError::Storage(StoreError::Other))));
            return;
        };
        let age = self.age();
        let test = self.of_progress(|progress| progress.to_test(id, age, now));
        let Some(test) = test else {
            return;
        };
        match self.with_store(|store| store.save_test(&test)) {
            Ok(entry) => {
                let gone = self.end_test();
                self.reload();
                self.journal(std::iter::once(entry).chain(gone).collect(), Notice::Saved);
                self.note_saved(1);
                (self.ports().replace)(&Route::Result(id.to_string()).to_string());
            }
            Err(error) => self.notice.set(Some(Notice::NotSaved(error))),
        }
    }

    /// The notice, if it is about this record: what was saved a page ago is not said of another.
    pub fn notice_about(self, id: Id) -> Option<Notice> {
        let id = id.to_string();
        self.notice.get().filter(|_| self.noticed.get() == Some(id))
    }

    /// Puts entries on disk and tells how it went.
    pub(super) fn journal(self, entries: Vec<JournalEntry>, done: Notice) {
        let ports = self.ports();
        if self.example.get_untracked() {
            // Nothing of the example goes to the disk, so nothing is said of it either.
            self.notice.set((done == Notice::Deleted).then_some(done));
            return;
        }
        self.noticed.set(entries.first().map(|entry| entry.key.clone()));
        self.notice.set(Some(Notice::Saving));
        let on_disk = (ports.journal)(entries);
        (ports.spawn)(Box::pin(async move {
            // Without a journal the store alone holds the record, which a killed browser may lose, so
            // "saved" is not said then.
            let is_on_disk = on_disk.await;
            let done = match done {
                Notice::Saved if !is_on_disk => Notice::SavedUnsure,
                Notice::Changed if !is_on_disk => Notice::ChangedUnsure,
                Notice::Deleted | Notice::ThrownAway if !is_on_disk => Notice::DeletedUnsure,
                done => done,
            };
            if self.notice.try_get_untracked() == Some(Some(Notice::Saving)) {
                self.notice.set(Some(done));
            }
        }));
    }

    /// Saves somebody new, shows their wall, and goes on with `then`.
    pub fn add_person(
        self,
        make: impl FnOnce(&mut Person) + 'static,
        then: impl FnOnce() + 'static,
    ) {
        self.alone(move || {
            if self.add_person_now(make) {
                then();
            }
        });
    }

    fn add_person_now(self, make: impl FnOnce(&mut Person)) -> bool {
        let Some(id) = self.new_id() else {
            return false;
        };
        let now = self.now();
        let Ok(local) = self.with_store(|store| store.free_local_id(id)) else {
            return false;
        };
        let mut person = Person::new(id, local.clone(), String::new(), now.utc_ms);
        make(&mut person);
        match self.with_store(|store| store.save_person(&person)) {
            Ok(entry) => {
                self.person_key.set(Some(local));
                self.reload();
                self.journal(vec![entry], Notice::Saved);
                self.notice.set(None);
                true
            }
            Err(error) => {
                self.notice.set(Some(Notice::NotSaved(error)));
                false
            }
        }
    }

    /// Saves a change of the person shown, and goes on with `then`.
    pub fn change_person(
        self,
        change: impl FnOnce(&mut Person) + 'static,
        then: impl FnOnce() + 'static,
    ) {
        self.alone(move || {
            if self.change_person_now(change) {
                then();
            }
        });
    }

    fn change_person_now(self, change: impl FnOnce(&mut Person)) -> bool {
        let Some(mut person) = self.person() else {
            return false;
        };
        let before = person.clone();
        change(&mut person);
        if person == before {
            return true;
        }
        let now = self.now().utc_ms;
        match self.with_store(|store| store.edit_person(&person, now)) {
            Ok((_, entry)) => {
                self.reload();
                self.journal(vec![entry], Notice::Saved);
                self.notice.set(None);
                true
            }
            Err(error) => {
                self.notice.set(Some(Notice::NotSaved(error)));
                false
            }
        }
    }

    /// Remembers how the person measures, for their next test.
    pub(super) fn remember_way(self) {
        let way = self.of_progress(|progress| (progress.method, progress.session.division));
        if let Some((method, division)) = way {
            self.set_way(method, division);
        }
    }

    fn set_way(self, method: MarkMethod, division: Division) {
        let change = move |person: &mut Person| {
            person.mark_method = method;
            person.division = division;
        };
        self.change_person(change, || {});
    }

    /// Chooses the tables to compare with.
    pub fn compare_with(self, compare: Compare) {
        self.change_person(move |person| person.compare = Some(compare), || {});
    }

    /// A saved test by its id.
    pub fn test(self, id: &str) -> Option<Test> {
        let id = Id::parse(id)?;
        self.tests.track();
        self.with_store(|store| store.test(id)).ok().flatten()
    }

    /// Deletes a test; it can come back from the bin.
    pub fn delete_test(self, id: Id) {
        self.alone(move || self.delete_test_now(id));
    }

    fn delete_test_now(self, id: Id) {
        let now = self.now().utc_ms;
        let before = self.with_store(|store| store.test(id)).ok().flatten();
        match self.with_store(|store| store.delete_test(id, now)) {
            Ok(entry) => {
                self.deleted.set(before);
                self.reload();
                self.journal(vec![entry], Notice::Deleted);
            }
            Err(error) => self.notice.set(Some(Notice::NotSaved(error))),
        }
    }

    /// Brings a deleted test back.
    pub fn bring_back(self, test: &Test) {
        self.bring_back_record(Record::Test(test.clone()));
    }

    /// Brings a version back from the bin.
    pub fn bring_back_record(self, record: Record) {
        self.alone(move || self.bring_back_now(&record));
    }

    fn bring_back_now(self, record: &Record) {
        let now = self.now().utc_ms;
        match self.with_store(|store| store.bring_back(record, now)) {
            Ok(entry) => {
                self.deleted.set(None);
                self.reload();
                self.journal(vec![entry], Notice::Saved);
            }
            Err(error) => self.notice.set(Some(Notice::NotSaved(error))),
        }
    }

    /// An error of one page does not follow the person to the next.
    pub fn leave_trouble_behind(self) {
        if matches!(self.notice.get_untracked(), Some(Notice::NotSaved(_))) {
            self.notice.set(None);
        }
    }

    /// Offers a calendar file with a reminder.
    pub fn remind(self, title: &str, at: Moment) -> bool {
        let Some(id) = self.new_id() else {
            return false;
        };
        let event = calendar(&Reminder {
            uid: &id.to_string(),
            written_utc_ms: self.now().utc_ms,
            starts_utc_ms: at.utc_ms,
            minutes: TEST_MINUTES,
            alarm_minutes_before: 0,
            title,
            text: title,
        });
        (self.ports().download)("jump-test.ics", "text/calendar", &event)
    }

    /// Takes over what the journal holds and the store had lost; the keys of lines it may drop.
    pub fn take_over(self, lines: &[JournalEntry]) -> Vec<String> {
        let now = self.now().utc_ms;
        let one_line = Draft::of_one_line(lines);
        self.held.update_value(|held| match held.real.as_deref_mut() {
            Some(real) => real.one_line = one_line,
            None => held.one_line = one_line,
        });
        match self.with_real_store(|store| store.reconcile(lines, now)) {
            Ok(done) => {
                if done.recovered > 0 {
                    self.reload();
                }
                if done.draft {
                    self.take_up_recovered();
                }
                done.prune
            }
            Err(_) => Vec::new(),
        }
    }
}
