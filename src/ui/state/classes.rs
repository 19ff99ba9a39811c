//! Actions of class mode: the teacher's classes, and a pupil's visit.

use leptos::prelude::*;

use chrono::NaiveDate;
use two_marks::assess;
use two_marks::class::{
    Change, Invitation, Queue, Slip, SlipFault, StationDraft, Step, Task, Visit, class_csv,
    class_id, class_tag, class_trials_csv, device_tag, new_session,
};
use two_marks::flow::{Judged, Progress, judge_mark, judge_reach};
use two_marks::history::{
    Born, Class, ClassResult, ClassSetup, Id, JournalEntry, KeyValue, LocalId, Person, Record,
    SaveError, StoreError, Test, write_backup,
};
use two_marks::measure::{FoulReason, MarkContext, Reach, ReachContext, Trial};
use two_marks::quantity::{Age, JumpHeight, Length, Reading};
use two_marks::share::csv::Decimal;
use two_marks::share::{ClassPage, Route};

use super::{App, Notice};

/// Where a tab keeps the pupil's visit, so that a reload goes on.
const VISIT_KEY: &str = "two-marks/visit";

/// Where a tab keeps the order of its station.
const STATION_KEY: &str = "two-marks/station";

impl App {
    /// Every class.
    pub fn classes(self) -> Vec<Class> {
        self.class_tick.track();
        self.with_store(|store| store.classes()).unwrap_or_default()
    }

    /// A class by its id.
    pub fn class(self, id: &str) -> Option<Class> {
        self.class_tick.track();
        let id = Id::parse(id)?;
        self.with_store(|store| store.class(id)).ok().flatten()
    }

    /// The class of this device that a slip belongs to.
    pub fn class_of_slip(self, slip: &Slip) -> Option<Class> {
        self.classes().into_iter().find(|class| class_tag(class.id) == slip.class_tag)
    }

    /// Every result of a class.
    pub fn class_results(self, class: Id) -> Vec<ClassResult> {
        self.class_tick.track();
        self.with_store(|store| store.class_results(class)).unwrap_or_default()
    }

    /// Saves a new class, or one that a link brought, and leads to it.
    pub fn add_class(self, id: Option<Id>, setup: ClassSetup) {
        let id = id.or_else(|| Some(class_id((self.ports().id_bytes)()?)));
        let Some(id) = id else { return };
        let now = self.now().utc_ms;
        let known = self.with_store(|store| store.class(id)).ok().flatten().is_some();
        if !known {
            let class = Record::Class(Class::new(id, setup, now));
            let saved = self.with_store(|store| store.save_of_class(class));
            if !self.class_saved(saved.map(|entry| vec![entry])) {
                return;
            }
            self.ask_to_keep();
        }
        self.go(&Route::Class(ClassPage::Of(id.to_string())));
    }

    /// Saves a change of a class.
    pub fn change_class(self, class: &Class, change: impl FnOnce(&mut Class)) {
        let mut changed = class.clone();
        change(&mut changed);
        let now = self.now().utc_ms;
        let saved = self.with_store(|store| store.edit_class(&changed, now));
        self.class_saved(saved.map(|(_, entry)| vec![entry]));
    }

    /// Saves another set-up of a class without results, and leads back to it.
    pub fn change_class_setup(self, class: &Class, setup: ClassSetup) {
        let Some(now) = untrack(|| self.class(&class.id.to_string())) else { return };
        self.change_class(&now, |class| class.setup = setup);
        self.go(&Route::Class(ClassPage::Of(class.id.to_string())));
    }

    /// Makes a new class with another set-up and the numbers of a known one, and leads to it.
    pub fn copy_class(self, of: &Class, setup: ClassSetup) {
        let Some(random) = (self.ports().id_bytes)() else { return };
        let of = untrack(|| self.class(&of.id.to_string())).unwrap_or_else(|| of.clone());
        let mut class = Class::new(class_id(random), setup, self.now().utc_ms);
        (class.roster, class.compare, class.pupils) = (of.roster, of.compare, of.pupils);
        let to = ClassPage::Of(class.id.to_string());
        let saved = self.with_store(|store| store.save_of_class(Record::Class(class)));
        if self.class_saved(saved.map(|entry| vec![entry])) {
            self.go(&Route::Class(to));
        }
    }

    /// Where a station of this tab was before a reload, or its beginning.
    pub fn station_draft(self, class: Id) -> StationDraft {
        let today = self.now().date();
        let text = self.ports().draft.get(STATION_KEY).ok().flatten();
        let known = text.and_then(|text| StationDraft::parse(&text, class, today));
        known.unwrap_or(StationDraft {
            class,
            written_on: today,
            day: today,
            queue: Queue::default(),
        })
    }

    /// Remembers a station until the tab is closed.
    pub fn keep_station_draft(self, draft: &StationDraft) {
        // Without room the order is asked again after a reload; no reading is lost.
        let _ = self.ports().draft.set(STATION_KEY, &draft.to_text());
    }

    /// Throws a class away for good.
    pub fn purge_class(self, class: Id) {
        let now = self.now().utc_ms;
        let gone = self.with_store(|store| store.purge_class(class, now));
        if self.class_saved(gone) {
            self.go(&Route::Class(ClassPage::List));
        }
    }

    /// Tells how a save went; the journal has the lines.
    fn class_saved(self, saved: Result<Vec<JournalEntry>, SaveError>) -> bool {
        self.class_tick.update(|tick| *tick = tick.wrapping_add(1));
        match saved {
            Ok(entries) => {
                self.journal(entries, Notice::Saved);
                // The pages of a class show what is stored; only trouble needs telling.
                self.notice.set(None);
                true
            }
            Err(error) => {
                self.notice.set(Some(Notice::NotSaved(error)));
                false
            }
        }
    }

    /// Random bytes as an id of a record.
    pub fn record_id(self) -> Option<Id> {
        (self.ports().id_bytes)().map(Id::from_bytes)
    }

    /// Carries out what was decided about slips.
    pub fn take_slips(self, changes: Vec<Change>) -> bool {
        let now = self.now().utc_ms;
        let mut entries = Vec::new();
        for change in changes {
            let saved = self.with_store(|store| match change {
                Change::Add(result) => store.save_of_class(Record::ClassResult(result)),
                Change::Edit(result) => {
                    store.edit_class_result(&result, now).map(|(_, entry)| entry)
                }
            });
            match saved {
                Ok(entry) => entries.push(entry),
                Err(error) => return self.class_saved(Err(error)),
            }
        }
        self.class_saved(Ok(entries))
    }

    /// Changes the station's result of a number on a day; makes one where there is none.
    pub fn change_result(
        self,
        class: &Class,
        number: u8,
        day: NaiveDate,
        change: impl FnOnce(&mut ClassResult),
    ) -> bool {
        let results = self.with_store(|store| store.class_results(class.id)).unwrap_or_default();
        let own = results.into_iter().filter(|one| one.number == number && one.date == day);
        let known = own.max_by_key(|one| (one.stamp.edited_utc_ms, one.id));
        if let Some(mut result) = known {
            change(&mut result);
            return self.take_slips(vec![Change::Edit(result)]);
        }
        let Some(id) = self.record_id() else {
            return self.class_saved(Err(SaveError::Storage(StoreError::Other)));
        };
        let mut result = ClassResult::new(id, class.id, day, number, new_session(&class.setup));
        result.stamp.edited_utc_ms = self.now().utc_ms;
        change(&mut result);
        self.take_slips(vec![Change::Add(result)])
    }

    /// Keeps a reading at the station, or a foul.
    pub fn keep_at_station(
        self,
        class: &Class,
        day: NaiveDate,
        step: Step,
        reading: Option<Reading>,
    ) -> bool {
        self.change_result(class, step.number, day, |result| {
            let session = &mut result.session;
            match (step.task, reading, &mut session.reach) {
                (Task::Reach(_), Some(reading), Reach::Measured(readings)) => {
                    readings.push(reading)
                }
                (Task::Trial(_), Some(reading), Reach::Measured(_)) => {
                    session.trials.push(Trial::FloorMark(reading));
                }
                (Task::Trial(_), Some(reading), _) => {
                    session.trials.push(Trial::MarkDistance(reading));
                }
                (Task::Trial(_), None, _) => session.trials.push(Trial::Foul(FoulReason::Other)),
                (Task::Reach(_), ..) => {}
            }
        })
    }

    /// Takes the newest reading of a step back.
    pub fn undo_at_station(self, class: &Class, day: NaiveDate, step: Step) -> bool {
        self.change_result(class, step.number, day, |result| {
            match (step.task, &mut result.session.reach) {
                (Task::Reach(_), Reach::Measured(readings)) => {
                    readings.pop();
                }
                _ => {
                    result.session.trials.pop();
                }
            }
        })
    }

    /// What is typed at the station, judged.
    pub fn judged_at_station(
        self,
        class: &Class,
        day: NaiveDate,
        step: Step,
        typed: &str,
    ) -> Judged {
        let age = class.setup.age.map_or(Age::Unknown, Age::Group);
        let division = class.setup.division;
        if matches!(step.task, Task::Reach(_)) {
            return judge_reach(typed, division, ReachContext { age, today: day, last: None });
        }
        let results = self.class_results(class.id);
        let own = results.iter().filter(|one| one.number == step.number && one.date == day);
        let own = own.max_by_key(|one| (one.stamp.edited_utc_ms, one.id));
        let others = own.map(|one| one.session.counted()).unwrap_or_default();
        let typical = others.first().map_or(Length::from_mm(400), |height| height.0);
        let context = MarkContext {
            age,
            variant: class.setup.variant,
            reach: own.and_then(|one| one.session.standing_reach()),
            others: &others,
            trial_sd_cm: assess::expected_trial_sd_cm(age, 0, typical),
        };
        judge_mark(typed, division, context)
    }

    /// Gives the person a file of a class.
    pub fn save_class_file(self, class: &Class, kind: ClassFile) -> bool {
        let stored = self.with_store(|store| store.class(class.id)).ok().flatten();
        let class = stored.as_ref().unwrap_or(class);
        let results = self.with_store(|store| store.class_results(class.id)).unwrap_or_default();
        let words = self.words.get_untracked();
        let note = words.class_not_for_grading();
        let decimal = if words.locale().decimal(15, 1).contains(',') {
            Decimal::Comma
        } else {
            Decimal::Point
        };
        let now = self.now();
        let (what, mime, text) = match kind {
            ClassFile::Pupils => {
                ("pupils.csv", "text/csv", class_csv(class, &results, decimal, &note))
            }
            ClassFile::Trials => {
                ("trials.csv", "text/csv", class_trials_csv(class, &results, decimal, &note))
            }
            ClassFile::Records => {
                let texts = self.with_store(|store| store.class_texts(class.id));
                let file = write_backup(&texts.unwrap_or_default(), now.utc_ms);
                ("class.json", "application/json", file)
            }
        };
        (self.ports().download)(&format!("two-marks-{}-{what}", now.date()), mime, &text)
    }

    /// Begins a class test with a number. Nothing of this device's own records has a part in it.
    pub fn begin_visit(self, invitation: Invitation, number: u8) {
        let Some(random) = (self.ports().id_bytes)() else { return };
        // Going on after a reload, or a retake in the same tab, keeps the mark.
        let finished = || self.finished.get_untracked().map(|(visit, _)| visit);
        let before = self.visit.get_untracked().or_else(finished);
        let same = before.filter(|visit| visit.invitation.class == invitation.class);
        let tag = same.map_or_else(|| device_tag(random), |visit| visit.device_tag);
        let visit = Visit { invitation, number, device_tag: tag };
        if self.is_visiting() {
            self.drop_test();
        } else {
            self.put_own_test_by();
        }
        self.start_visit(visit);
    }

    fn start_visit(self, visit: Visit) {
        let Some(nobody) = LocalId::parse("class") else { return };
        let setup = visit.invitation.setup.clone();
        let mut progress = Progress::new(nobody, setup.marks, new_session(&setup));
        progress.one_reach = setup.reaches == 1;
        if !setup.ready_check {
            progress.ready_passed_at = Some(self.now());
        }
        if let Some(text) = visit.to_text() {
            let _ = self.ports().draft.set(VISIT_KEY, &text);
        }
        self.visit.set(Some(visit));
        self.answers.set(Default::default());
        self.reset_entry();
        self.show_person(None);
        self.progress.set(Some(progress));
        self.keep_draft();
        self.go(match (setup.ready_check, setup.warm_up) {
            (true, _) => &Route::Ready,
            (false, true) => &Route::WarmUp,
            (false, false) => &Route::Reach,
        });
    }

    /// Takes up a visit that a reload interrupted.
    pub(super) fn pick_up_visit(self) {
        let text = self.ports().draft.get(VISIT_KEY).ok().flatten();
        self.visit.set(text.and_then(|text| Visit::parse(&text)));
    }

    /// The class test of this tab is over.
    pub(super) fn forget_visit(self) {
        if self.visit.with_untracked(Option::is_some) {
            let _ = self.ports().draft.remove(VISIT_KEY);
            self.visit.set(None);
        }
    }

    /// Whether the test in progress belongs to a class.
    pub fn is_visiting(self) -> bool {
        self.visit.with(Option::is_some) && self.progress.with(Option::is_some)
    }

    /// The number of the test in progress, of a class test.
    pub fn visit_number(self) -> Option<u8> {
        self.is_visiting()
            .then(|| self.visit.with(|visit| visit.as_ref().map(|one| one.number)))
            .flatten()
    }

    /// The class's set-up of the test in progress.
    pub fn visit_setup(self) -> Option<ClassSetup> {
        let setup = |visit: &Option<Visit>| Some(visit.as_ref()?.invitation.setup.clone());
        self.is_visiting().then(|| self.visit.with(setup)).flatten()
    }

    /// Ends a class test: its slip is shown, and nothing is kept.
    pub(super) fn finish_visit(self) {
        let Some(visit) = self.visit.get_untracked() else { return };
        let now = self.now();
        let done = self.of_progress(|progress| {
            let tired = progress.tired(self.age(), now).is_noted();
            let slip = Slip {
                class_tag: class_tag(visit.invitation.class),
                number: visit.number,
                device_tag: visit.device_tag,
                date: now.date(),
                tired,
                session: progress.session.clone(),
            };
            (slip.write(), progress.session.clone())
        });
        match done {
            Some((Ok(code), session)) => {
                self.drop_test();
                self.reload();
                self.finished.set(Some((visit, session)));
                self.go(&Route::Class(ClassPage::Slip(code)));
            }
            Some((Err(SlipFault::OutOfRange | SlipFault::Reading), _)) => {
                self.notice.set(Some(Notice::NotSaved(SaveError::OutOfRange)));
            }
            None => {}
        }
    }

    /// Keeps a finished class test for a person of this device, when they ask.
    pub fn keep_for_person(self, person: &LocalId) {
        let Some((_, session)) = self.finished.get_untracked() else { return };
        let Some(id) = self.record_id() else { return };
        let test = Test::new(id, person.clone(), self.now(), session);
        match self.with_store(|store| store.save_test(&test)) {
            Ok(entry) => {
                self.finished.set(None);
                self.reload();
                self.journal(vec![entry], Notice::Saved);
            }
            Err(error) => self.notice.set(Some(Notice::NotSaved(error))),
        }
    }

    /// One standard error of the usual jump of a finished class test, where its class shows it.
    pub fn finished_spread(self) -> Option<(JumpHeight, Length)> {
        let (visit, session) = self.finished.get()?;
        let setup = visit.invitation.setup;
        if setup.shown == two_marks::history::Shown::Number {
            return None;
        }
        let id = Id::from_bytes([0; 16]);
        let nobody = LocalId::parse("class")?;
        let test = Test::new(id, nobody.clone(), self.now(), session);
        let mut person = Person::new(id, nobody, String::new(), 0);
        person.born = setup.age.map(Born::Group);
        let assessed = assess::assess(&test, &person, &[]);
        Some((assessed.usual?.height, assessed.standard_error?))
    }
}

/// A file of a class.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ClassFile {
    /// One row per pupil and day.
    Pupils,
    /// One row per trial.
    Trials,
    /// The records, for another device.
    Records,
}
