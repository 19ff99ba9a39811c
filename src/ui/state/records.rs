//! Actions on tests that are saved already, on results added by hand, and on people who go and come.

use leptos::prelude::*;

use two_marks::card::Card;
use two_marks::flow::{FormContext, TestForm, give_test};
use two_marks::history::{KeyValue, LocalId, Person, Record, SaveError, StoreError, Test, keys};
use two_marks::share::Route;

use super::{App, Notice};

impl App {
    /// The form of a saved test.
    pub fn form_of(self, test: &Test) -> TestForm {
        let words = self.words.get_untracked();
        let unit = test.session.division.unit();
        TestForm::change(
            test,
            |reading| words.entry_text(reading),
            |mass| words.mass_text(mass, unit),
        )
    }

    /// Shows the wall of whoever a saved test belongs to, so that name, age and earlier tests are theirs.
    pub fn show_owner(self, test: &Test) {
        let shown = self.person_key.with_untracked(|key| key.as_ref() == Some(&test.person));
        let known = |person: &Person| person.local == test.person;
        if !shown && self.people.with_untracked(|people| people.iter().any(known)) {
            self.show_person(Some(test.person.clone()));
        }
    }

    /// Shows the wall of whoever is being tested: a step of a test bears no other name.
    pub fn show_tester(self) {
        let tester = self.progress.with_untracked(|test| Some(test.as_ref()?.person.clone()));
        if tester.is_some() && tester != self.person_key.get_untracked() {
            self.show_person(tester);
        }
    }

    /// Whose test is in progress.
    pub fn tester(self) -> Option<Person> {
        let tester = self.progress.with(|test| Some(test.as_ref()?.person.clone()))?;
        self.people.with(|people| people.iter().find(|person| person.local == tester).cloned())
    }

    /// Works with a form and what is known beside it.
    pub fn with_form_context<T>(self, work: impl FnOnce(FormContext<'_>) -> T) -> Option<T> {
        let (person, today) = (self.person()?, self.now().date());
        Some(self.tests.with(|tests| work(FormContext { person: &person, tests, today })))
    }

    /// The form with what this tab kept of it before a reload.
    pub fn form_as_kept(self, form: TestForm) -> TestForm {
        let kept = self.ports().draft.get(keys::FORM).ok().flatten();
        let whose = self.whose_form(&form);
        match kept.as_deref().and_then(|kept| kept.split_once('\n')) {
            Some((head, typed)) if head == whose => form.with_kept(typed),
            _ => form,
        }
    }

    /// Keeps a half-typed form in this tab; one in which nothing was touched is not kept.
    pub fn keep_form(self, before: &TestForm, form: &TestForm) {
        if before == form {
            return self.forget_form();
        }
        let text = format!("{}\n{}", self.whose_form(form), form.kept());
        let _ = self.ports().draft.set(keys::FORM, &text);
    }

    /// Opens the form of a result that came as a card, for the person shown. Nothing of it is in the
    /// records before the form is saved.
    pub fn open_card(self, card: &Card) {
        let Some(person) = self.person() else { return };
        let words = self.words.get_untracked();
        let new = TestForm::add(&person, self.now().date());
        let text = |reading| words.entry_text(reading);
        if let Some(form) = TestForm::of_card(card, &person, text, words.card_record_note(card)) {
            self.keep_form(&new, &form);
            self.go(&Route::Add);
        }
    }

    /// Forgets the half-typed form.
    pub fn forget_form(self) {
        let _ = self.ports().draft.remove(keys::FORM);
    }

    /// Which record, and which edit of it, a form belongs to: typed text never meets another one.
    fn whose_form(self, form: &TestForm) -> String {
        match &form.base {
            Some(test) => format!("{} {}", test.id, test.stamp.rev),
            None => {
                let person = self.person_key.get_untracked();
                person.map(|person| person.as_str().to_owned()).unwrap_or_default()
            }
        }
    }

    /// Saves a form in which nothing is wrong, and shows the test.
    pub fn save_form(self, form: TestForm) {
        (self.ports().alone)(Box::new(move || self.save_form_now(&form)));
    }

    fn save_form_now(self, form: &TestForm) {
        let now = self.now();
        let id = form.base.as_ref().map(|test| test.id).or_else(|| self.new_id());
        let person = self.person();
        let test = id.zip(person).and_then(|(id, person)| form.to_test(&person, id, now));
        let Some(test) = test else {
            self.notice.set(Some(Notice::NotSaved(SaveError::Storage(StoreError::Other))));
            return;
        };
        let route = Route::Result(test.id.to_string());
        let saved = match &form.base {
            // Nothing was changed, so there is nothing to write.
            Some(base) if *base == test => true,
            Some(base) => self.write_change(base.clone(), &test),
            None => match self.with_store(|store| store.save_test(&test)) {
                Ok(entry) => {
                    self.reload();
                    self.journal(vec![entry], Notice::Saved);
                    self.note_saved(1);
                    true
                }
                Err(error) => {
                    self.notice.set(Some(Notice::NotSaved(error)));
                    false
                }
            },
        };
        if saved {
            self.forget_form();
            (self.ports().replace)(&route.to_string());
        }
    }

    /// Writes a change of a saved test to the store and the journal; `before` can be taken back to.
    fn write_change(self, before: Test, test: &Test) -> bool {
        let now = self.now().utc_ms;
        match self.with_store(|store| store.edit_test(test, now)) {
            Ok((kept, entry)) => {
                self.before.set(Some(before));
                self.person_key.set(Some(kept.person));
                self.reload();
                self.journal(vec![entry], Notice::Changed);
                true
            }
            Err(error) => {
                self.notice.set(Some(Notice::NotSaved(error)));
                false
            }
        }
    }

    /// Gives a saved test to somebody else.
    pub fn give_to(self, test: &Test, to: &Person) {
        let (test, given) = (test.clone(), give_test(test, to));
        (self.ports().alone)(Box::new(move || {
            self.write_change(test, &given);
        }));
    }

    /// Takes the last change of a test back, as one more change.
    pub fn take_back(self, test: &Test) {
        let Some(before) = self.before.get_untracked().filter(|before| before.id == test.id) else {
            return;
        };
        let (test, back) = (test.clone(), Test { stamp: test.stamp, ..before });
        (self.ports().alone)(Box::new(move || {
            if self.write_change(test, &back) {
                self.before.set(None);
            }
        }));
    }

    /// Puts somebody away, or brings them back.
    pub fn put_away(self, person: &Person, away: bool) {
        let (before, mut person) = (person.clone(), person.clone());
        person.archived = away;
        (self.ports().alone)(Box::new(move || {
            let now = self.now().utc_ms;
            let kept = self.with_store(|store| store.edit_person(&person, now));
            self.after_person(kept.map(|(_, entry)| entry), away.then_some(before), &person.local);
        }));
    }

    /// Deletes somebody with all their tests; they can come back.
    pub fn delete_person(self, person: &Person) {
        let person = person.clone();
        (self.ports().alone)(Box::new(move || {
            let now = self.now().utc_ms;
            let gone = self.with_store(|store| store.delete_person(&person.local, now));
            self.after_person(gone, Some(person.clone()), &person.local);
        }));
    }

    /// Brings back whoever was put away or deleted last.
    pub fn bring_person_back(self) {
        let Some(person) = self.gone.get_untracked() else {
            return;
        };
        let back = Record::Person(Person { archived: false, ..person });
        (self.ports().alone)(Box::new(move || {
            let now = self.now().utc_ms;
            let Record::Person(person) = &back else { return };
            let stored = self.people.with_untracked(|people| {
                people.iter().find(|known| known.id == person.id).cloned()
            });
            // One who was put away is still there; a deleted one comes from the bin.
            let entry = match stored {
                Some(stored) => {
                    let here = Person { archived: false, ..stored };
                    self.with_store(|store| store.edit_person(&here, now)).map(|(_, entry)| entry)
                }
                None => self.with_store(|store| store.bring_back(&back, now)),
            };
            self.after_person(entry, None, &person.local);
        }));
    }

    fn after_person(
        self,
        entry: Result<two_marks::history::JournalEntry, SaveError>,
        gone: Option<Person>,
        key: &LocalId,
    ) {
        match entry {
            Ok(entry) => {
                let left = gone.is_some();
                self.gone.set(gone);
                self.person_key.set((!left).then(|| key.clone()));
                self.reload();
                self.journal(vec![entry], Notice::Changed);
            }
            Err(error) => self.notice.set(Some(Notice::NotSaved(error))),
        }
    }
}
