//! Changes of somebody who is here, and the way back to a name.

use leptos::prelude::*;

use two_marks::history::{Id, Person};

use super::{App, Notice};

impl App {
    /// How many tests of somebody are saved.
    pub fn tests_of(self, person: &Person) -> u32 {
        let tests = self.with_store(|store| store.tests_of(&person.local)).unwrap_or_default();
        u32::try_from(tests.len()).unwrap_or(u32::MAX)
    }

    /// Saves a change of somebody by their id, whoever is shown, and goes on with `then`. A test of
    /// theirs that is under way takes the change along.
    pub fn change_somebody(
        self,
        id: Id,
        change: impl FnOnce(&mut Person) + 'static,
        then: impl FnOnce() + 'static,
    ) {
        self.alone(move || {
            if self.change_somebody_now(id, change) {
                then();
            }
        });
    }

    /// Gives whoever was renamed last their name back.
    pub fn name_back(self) {
        let Some((before, _)) = self.renamed.get_untracked() else { return };
        let id = before.id;
        self.alone(move || {
            if self.change_somebody_now(id, move |person| person.nickname = before.nickname) {
                self.renamed.set(None);
            }
        });
    }

    fn change_somebody_now(self, id: Id, change: impl FnOnce(&mut Person)) -> bool {
        let known = |people: &Vec<Person>| people.iter().find(|person| person.id == id).cloned();
        let Some(before) = self.people.with_untracked(known) else {
            return false;
        };
        let mut person = before.clone();
        change(&mut person);
        if person == before {
            return true;
        }
        let now = self.now().utc_ms;
        match self.with_store(|store| store.edit_person(&person, now)) {
            Ok((_, entry)) => {
                if person.nickname != before.nickname && self.tests_of(&before) > 0 {
                    self.renamed.set(Some((before, person.nickname.clone())));
                }
                self.reload();
                self.journal(vec![entry], Notice::Saved);
                self.notice.set(None);
                self.follow_in_test(&person);
                true
            }
            Err(error) => {
                self.notice.set(Some(Notice::NotSaved(error)));
                false
            }
        }
    }

    fn follow_in_test(self, person: &Person) {
        if untrack(|| self.tester()).is_some_and(|tester| tester.id == person.id) {
            self.show_person(Some(person.local.clone()));
            self.hand_test_over();
        }
    }
}
