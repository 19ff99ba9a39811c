use leptos::prelude::*;

use two_marks::flow::{Answers, Progress};

use two_marks::assess::{self, Assessment};
use two_marks::class::Visit;
use two_marks::history::{
    Born, Draft, Id, JournalEntry, KeyValue, LocalId, Person, SaveError, Settings, Store,
    StoreError, Test, Trouble, keys,
};
use two_marks::measure::{Device, Session, Surface, TrendKey, Variant};
use two_marks::quantity::{Age, JumpHeight, Moment, Reading, Unit};
use two_marks::share::Route;

use super::backups::Picked;
use super::{Film, Front, Keeping, Look, Ports, Sheet, Shelf};

/// Something to tell the person, until they have read it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Notice {
    /// On its way to the disk.
    Saving,
    /// On the disk.
    Saved,
    /// In the store of record, and not known to be on the disk.
    SavedUnsure,
    /// A change of a saved test is on the disk.
    Changed,
    /// It is in the store of record, and not known to be on the disk.
    ChangedUnsure,
    /// A test was deleted and can come back.
    Deleted,
    /// It was deleted in the store of record, which is not known to be on the disk.
    DeletedUnsure,
    /// It was thrown away for good.
    ThrownAway,
    /// Saving failed; what was typed is still there.
    NotSaved(SaveError),
}

/// The whole state of the page. It is a handle: copies share the same signals.
#[derive(Clone, Copy)]
pub struct App {
    /// What is known without any record.
    pub front: Front,
    /// Everybody, by nickname.
    pub people: RwSignal<Vec<Person>>,
    /// Whose wall is shown.
    pub person_key: RwSignal<Option<LocalId>>,
    /// The tests of that person, newest first.
    pub tests: RwSignal<Vec<Test>>,
    /// The test in progress.
    pub progress: RwSignal<Option<Progress>>,
    /// Answers to the ready check; never stored.
    pub answers: RwSignal<Answers>,
    /// The reading that the person said is right although it was questioned.
    pub confirmed: RwSignal<Option<Reading>>,
    /// The main action was pressed with something wrong: problems are shown from now on.
    pub tried: RwSignal<bool>,
    /// What to tell.
    pub notice: RwSignal<Option<Notice>>,
    /// The record that the notice is about, by its line in the journal.
    pub(super) noticed: RwSignal<Option<String>>,
    /// The test deleted last, which can come back.
    pub deleted: RwSignal<Option<Test>>,
    /// The test as it was before its last change, which can be taken back.
    pub before: RwSignal<Option<Test>>,
    /// The person put away or deleted last, as they were.
    pub gone: RwSignal<Option<Person>>,
    /// Who was given another name although they have tests: as they were, and the new name.
    pub renamed: RwSignal<Option<(Person, String)>>,
    /// The page from which the pages of a person were opened, and to which they lead back.
    pub came_from: RwSignal<Route>,
    /// The backup file being looked at.
    pub picked: RwSignal<Option<Picked>>,
    /// How the page looks.
    pub look: RwSignal<Look>,
    /// The newest change of what is kept of the test in progress is on the disk.
    pub is_draft_on_disk: RwSignal<bool>,
    /// What could not be read at the start.
    pub troubles: RwSignal<Vec<Trouble>>,
    /// Ticks once a second while a timer is shown.
    pub beat: RwSignal<u32>,
    /// Goes up when the window or the text size changed.
    pub resized: RwSignal<u32>,
    /// What the page remembers besides records.
    pub settings: RwSignal<Settings>,
    /// What the browser said about keeping the records; nothing until it was asked.
    pub keeping: RwSignal<Option<Keeping>>,
    /// The spreadsheet file being looked at.
    pub sheet: RwSignal<Option<Sheet>>,
    /// The invented family is shown, and nothing of anybody's own.
    pub example: RwSignal<bool>,
    /// Goes up when a class or a result changed.
    pub class_tick: RwSignal<u32>,
    /// The class test that this tab is in.
    pub visit: RwSignal<Option<Visit>>,
    /// The class test that was just finished here.
    pub finished: RwSignal<Option<(Visit, Session)>>,
    /// A slip on its way to its class.
    pub slip_text: RwSignal<String>,
    /// The clock and the jump that somebody chose before the page knew who they are.
    pub wanted_clock: RwSignal<Option<(Device, Variant, Surface)>>,
    /// A film looked through frame by frame.
    pub film: Film,
    /// The browser's side and the store.
    pub(super) held: StoredValue<Held, LocalStorage>,
}

pub(super) struct Held {
    pub(super) ports: Ports,
    pub(super) store: Store<Shelf>,
    /// The id that the test in progress will have, so that saving it twice saves one test.
    pub(super) draft_id: Option<Id>,
    /// Whose test stands in the journal's one line of an earlier page.
    pub(super) one_line: Option<Id>,
    /// The person's own, while the example is shown.
    pub(super) real: Option<Box<Held>>,
}

impl std::ops::Deref for App {
    type Target = Front;

    fn deref(&self) -> &Front {
        &self.front
    }
}

impl App {
    /// Opens the store and reads what is there. A storage that does not answer is an error for the
    /// caller, who hands in memory then.
    pub fn open(ports: Ports, front: Front) -> Result<Self, StoreError> {
        let (store, troubles) = Store::open(ports.shelf.clone())?;
        let app = Self {
            front,
            people: RwSignal::new(Vec::new()),
            person_key: RwSignal::new(None),
            tests: RwSignal::new(Vec::new()),
            progress: RwSignal::new(None),
            answers: RwSignal::new(Answers::default()),
            confirmed: RwSignal::new(None),
            tried: RwSignal::new(false),
            notice: RwSignal::new(None),
            noticed: RwSignal::new(None),
            deleted: RwSignal::new(None),
            before: RwSignal::new(None),
            gone: RwSignal::new(None),
            renamed: RwSignal::new(None),
            came_from: RwSignal::new(Route::Home),
            picked: RwSignal::new(None),
            look: RwSignal::new(ports.look),
            is_draft_on_disk: RwSignal::new(false),
            troubles: RwSignal::new(troubles),
            beat: RwSignal::new(0),
            resized: RwSignal::new(0),
            class_tick: RwSignal::new(0),
            visit: RwSignal::new(None),
            finished: RwSignal::new(None),
            slip_text: RwSignal::new(String::new()),
            wanted_clock: RwSignal::new(None),
            film: Film::new(ports.reel.clone(), ports.spawn),
            settings: RwSignal::new(Settings::default()),
            keeping: RwSignal::new(None),
            sheet: RwSignal::new(None),
            example: RwSignal::new(false),
            held: StoredValue::new_local(Held {
                ports,
                store,
                draft_id: None,
                one_line: None,
                real: None,
            }),
        };
        app.pick_up_visit();
        app.reload();
        app.pick_up_draft();
        if app.progress.with_untracked(Option::is_none) {
            app.forget_visit();
            app.reload();
            app.pick_up_draft();
        }
        Ok(app)
    }

    /// The browser's side.
    pub fn ports(self) -> Ports {
        self.held.with_value(|held| held.ports.clone())
    }

    /// Works with the store.
    pub(super) fn with_store<T>(self, work: impl FnOnce(&Store<Shelf>) -> T) -> T {
        self.held.with_value(|held| work(&held.store))
    }

    /// Works with the store of the person's own records, also while the example is shown.
    pub(super) fn with_real_store<T>(self, work: impl FnOnce(&Store<Shelf>) -> T) -> T {
        self.held.with_value(|held| work(&held.real.as_deref().unwrap_or(held).store))
    }

    /// Reads people, tests and settings from the store again.
    pub fn reload(self) {
        self.settings.set(self.with_store(|store| store.settings()).unwrap_or_default());
        let people = self.with_store(|store| store.people()).unwrap_or_default();
        let known = |key: &LocalId| people.iter().any(|person| person.local == *key);
        let key = self.person_key.get_untracked().filter(known);
        let first = people.iter().find(|person| !person.archived);
        let key = key.or_else(|| first.map(|person| person.local.clone()));
        self.people.set(people);
        self.class_tick.update(|tick| *tick = tick.wrapping_add(1));
        // A class test shows nothing of this device's own people.
        self.show_person(key.filter(|_| !self.visit.with_untracked(Option::is_some)));
    }

    /// Shows the wall of a person.
    pub fn show_person(self, key: Option<LocalId>) {
        let tests = key.as_ref().map(|key| self.with_store(|store| store.tests_of(key)));
        let mut tests = tests.and_then(Result::ok).unwrap_or_default();
        tests.sort_by_key(|test| std::cmp::Reverse((test.date, test.minute_of_day, test.id)));
        assess::mark_practice(&mut tests);
        self.person_key.set(key);
        self.tests.set(tests);
    }

    /// Whether what is saved outlives the page.
    pub fn is_kept(self) -> bool {
        self.ports().is_kept
    }

    /// The unit offered first, from the browser's locale.
    pub fn first_unit(self) -> Unit {
        if self.ports().prefers_inches { Unit::Inch } else { Unit::Centimetre }
    }

    /// What there is to say of a test of the person shown.
    pub fn assess(self, test: &Test) -> Assessment {
        let person = self.person_of(test);
        self.tests.with(|tests| assess::assess(test, &person, tests))
    }

    /// What there is to say of tests of one person and one kind; what they teach of their days is
    /// learnt once.
    pub fn assess_kind(self, tests: &[Test]) -> Vec<Assessment> {
        let Some(first) = tests.first() else { return Vec::new() };
        let person = self.person_of(first);
        self.tests.with(|all| {
            let factor = assess::learnt_day_factor(&person, all, first.session.key);
            tests.iter().map(|test| assess::assess_with(test, &person, all, factor)).collect()
        })
    }

    fn person_of(self, test: &Test) -> Person {
        let nobody = || Person::new(test.id, test.person.clone(), String::new(), 0);
        let person = self
            .people
            .with(|people| people.iter().find(|person| person.local == test.person).cloned());
        person.unwrap_or_else(nobody)
    }

    /// Puts the draft where a reload of this tab finds it. It is written at every input, so it goes
    /// to the tab's own store alone; what is kept goes further ([`Self::keep_draft_on_disk`]).
    pub fn keep_draft(self) {
        if let Some(draft) = self.draft() {
            let _ = self.ports().draft.set(keys::DRAFT, &draft.to_text());
        }
    }

    /// Puts the draft into the store of record too: at a step change, and when the page is hidden.
    pub fn keep_draft_for_long(self) {
        if self.visit.with_untracked(Option::is_some) {
            return;
        }
        if let Some(draft) = self.draft() {
            // A draft that finds no room is no reason to stop a test: the tab's copy is there.
            let _ = self.with_store(|store| store.save_draft(&draft));
        }
    }

    /// Puts the draft into the store of record and on the disk, so that what is kept of a test
    /// outlives a crashed tab and a killed browser. [`Self::is_draft_on_disk`] says when it does.
    pub(super) fn keep_draft_on_disk(self) {
        self.is_draft_on_disk.set(false);
        self.keep_draft_for_long();
        let is_own = self.visit.with_untracked(Option::is_none) && !self.example.get_untracked();
        let session = |progress: &Option<Progress>| Some(progress.as_ref()?.session.clone());
        let written = self.progress.with_untracked(session).filter(|_| is_own);
        let (Some(draft), Some(written)) = (self.draft(), written) else {
            return;
        };
        let ports = self.ports();
        let on_disk = (ports.journal)(vec![draft.journal_line()]);
        (ports.spawn)(Box::pin(async move {
            let is_on_disk = on_disk.await;
            // A later change says it for itself, and a test that ended has nothing to say.
            let is_newest = self
                .progress
                .with_untracked(|now| now.as_ref().is_some_and(|now| now.session == written));
            if is_on_disk && is_newest {
                self.is_draft_on_disk.set(true);
            }
        }));
    }

    /// Forgets the draft of this tab, and of a test of the device's own people the same one in the
    /// store of record; what takes that from the disk too. The test of another tab stays.
    pub(super) fn forget_draft(self) -> Vec<JournalEntry> {
        let (own, one_line) = self.held.with_value(|held| (held.draft_id, held.one_line));
        self.forget_tab_draft();
        let Some(id) = own.filter(|_| self.visit.with_untracked(Option::is_none)) else {
            return Vec::new();
        };
        let _ = self.with_store(|store| store.drop_draft(id));
        let now = self.now().utc_ms;
        let mut gone = vec![Draft::no_journal_line(id, now)];
        if one_line == Some(id) {
            gone.push(Draft::no_one_line(now));
        }
        gone
    }

    /// Forgets the draft in this tab alone.
    pub(super) fn forget_tab_draft(self) {
        let _ = self.ports().draft.remove(keys::DRAFT);
        self.held.update_value(|held| held.draft_id = None);
    }

    /// The id that the test in progress will have.
    pub(super) fn draft_id(self) -> Option<Id> {
        if let Some(id) = self.held.with_value(|held| held.draft_id) {
            return Some(id);
        }
        let id = (self.ports().id_bytes)().map(Id::from_bytes)?;
        self.held.update_value(|held| held.draft_id = Some(id));
        Some(id)
    }

    fn draft(self) -> Option<Draft> {
        let step = self.route.get_untracked().to_string();
        let (id, now) = (self.draft_id()?, self.now());
        self.progress.with_untracked(|progress| Some(progress.as_ref()?.to_draft(id, step, now)))
    }

    /// Takes up the test that a reload or a crash interrupted.
    pub(super) fn pick_up_draft(self) {
        let of_tab = self.ports().draft.get(keys::DRAFT).ok().flatten();
        let of_tab = of_tab.and_then(|text| Draft::parse(&text).ok());
        let kept = || {
            self.visit
                .with_untracked(Option::is_none)
                .then(|| self.with_store(|store| store.draft()).ok().flatten())
                .flatten()
        };
        if let Some(draft) = of_tab.or_else(kept) {
            self.take_up(&draft);
        }
    }

    /// Takes up the test in progress as the journal gave it back to the store, unless this tab holds as
    /// much of it already, or another test.
    pub(super) fn take_up_recovered(self) {
        if self.example.get_untracked() || self.visit.with_untracked(Option::is_some) {
            return;
        }
        let Some(draft) = self.with_store(|store| store.draft()).ok().flatten() else {
            return;
        };
        let holds_less = self
            .draft()
            .is_none_or(|held| held.id == draft.id && held.kept_readings() < draft.kept_readings());
        if holds_less {
            self.take_up(&draft);
        }
    }

    fn take_up(self, draft: &Draft) {
        // Killed between the test and the forgetting of its draft.
        if self.with_store(|store| store.test(draft.id)).is_ok_and(|test| test.is_some()) {
            self.held.update_value(|held| held.draft_id = Some(draft.id));
            let gone = self.forget_draft();
            return self.take_from_disk(gone);
        }
        let Some(progress) = Progress::from_draft(draft, self.now()) else {
            return;
        };
        self.held.update_value(|held| held.draft_id = Some(draft.id));
        if self.visit.with_untracked(Option::is_none) {
            self.show_person(Some(progress.person.clone()));
        }
        self.progress.set(Some(progress));
    }

    /// Takes lines out of the journal. One that stays after all is found out at the next start.
    pub(super) fn take_from_disk(self, gone: Vec<JournalEntry>) {
        if gone.is_empty() || self.example.get_untracked() {
            return;
        }
        let ports = self.ports();
        let work = (ports.journal)(gone);
        (ports.spawn)(Box::pin(async move {
            let _ = work.await;
        }));
    }

    /// The clock.
    pub fn now(self) -> Moment {
        (self.ports().now)()
    }

    /// Counts seconds and keeps the screen on, for as long as what it returns is held.
    pub fn count_seconds(self) -> Box<dyn std::any::Any> {
        (self.ports().every_second)(Box::new(move || {
            self.beat.update(|beat| *beat = beat.wrapping_add(1));
        }))
    }

    /// Keeps the draft, and lets no trouble of one page follow the person to the next.
    pub fn leave_page(self) {
        self.keep_draft_for_long();
        self.leave_trouble_behind();
        let route = self.route.get_untracked();
        if !matches!(route, Route::AddPerson | Route::Person(_)) {
            self.came_from.set(route);
        }
    }

    /// The person whose wall is shown.
    pub fn person(self) -> Option<Person> {
        let key = self.person_key.get()?;
        self.people.with(|people| people.iter().find(|person| person.local == key).cloned())
    }

    /// That person's age today.
    pub fn age(self) -> Age {
        if let Some(setup) = self.visit_setup() {
            return setup.age.map_or(Age::Unknown, Age::Group);
        }
        self.person().map_or(Age::Unknown, |person| age_of(&person, self.now()))
    }

    /// The unit of the test in progress, or of the person shown.
    pub fn unit(self) -> Unit {
        let testing = self
            .progress
            .with(|progress| progress.as_ref().map(|progress| progress.session.division.unit()));
        let person = || self.person().map(|person| person.division.unit());
        testing.or_else(person).unwrap_or(Unit::Centimetre)
    }

    /// What the test in progress may be compared with, or the usual test.
    pub fn trend_key(self) -> TrendKey {
        let testing = |progress: &Option<Progress>| progress.as_ref().map(|test| test.session.key);
        self.progress.with(testing).unwrap_or(TrendKey::USUAL)
    }

    /// The person's best jump of the same kind, to tell losses and heights in their own measure.
    pub fn own_best(self) -> Option<JumpHeight> {
        let key = self.trend_key();
        let same = |test: &&Test| test.session.key == key;
        self.tests.with(|tests| tests.iter().filter(same).filter_map(|t| t.session.best()).max())
    }
}

/// A person's age on the day of a moment.
pub fn age_of(person: &Person, now: Moment) -> Age {
    match person.born {
        Some(Born::Month(month)) => Age::on(month, now.date()),
        Some(Born::Group(group)) => Age::Group(group),
        None => Age::Unknown,
    }
}
