//! Whether the records stay: what the browser promises, and when to remind of a backup.

use leptos::prelude::*;

use two_marks::history::Settings;

use super::{App, HomeScreen, Keeping};

impl App {
    /// Changes what the page remembers besides records.
    pub fn change_settings(self, change: impl FnOnce(&mut Settings) + 'static) {
        self.alone(move || self.change_settings_now(change));
    }

    /// The same, inside work that other tabs wait for already.
    pub(super) fn change_settings_now(self, change: impl FnOnce(&mut Settings)) {
        let Ok(mut settings) = self.with_store(|store| store.settings()) else {
            return;
        };
        change(&mut settings);
        // Less than a record: without room it is asked, or reminded of, once more.
        let _ = self.with_store(|store| store.save_settings(&settings));
        self.settings.set(settings);
    }

    /// Counts tests that were just saved, and asks the browser once to keep them.
    pub(super) fn note_saved(self, tests: u32) {
        let first = !self.settings.with_untracked(|settings| settings.asked_to_persist);
        self.change_settings_now(|settings| {
            settings.count_tests(tests);
            settings.asked_to_persist = true;
        });
        if first {
            self.ask_to_keep();
        }
    }

    /// Notes that the person has a backup.
    pub(super) fn note_backup(self) {
        let now = self.now().utc_ms;
        self.change_settings(move |settings| settings.note_backup(now));
    }

    /// Asks the browser to keep what is stored.
    pub fn ask_to_keep(self) {
        self.answer_later((self.ports().ask_to_keep)());
    }

    /// Looks whether the browser has promised to keep what is stored; asks nobody.
    pub fn look_at_keeping(self) {
        self.answer_later((self.ports().keeping)());
    }

    fn answer_later(self, answer: super::Later<Keeping>) {
        (self.ports().spawn)(Box::pin(async move {
            let answer = answer.await;
            self.keeping.set(Some(answer));
        }));
    }

    /// Whether to remind of a backup now.
    pub fn backup_is_due(self) -> bool {
        let nothing_to_lose = self.example.get() || !self.is_kept();
        !nothing_to_lose && self.settings.with(Settings::backup_is_due)
    }

    /// How the browser puts the page on the home screen.
    pub fn way_to_home_screen(self) -> HomeScreen {
        (self.ports().home_screen)()
    }

    /// Takes the browser's offer to put the page there; calls when the person has answered it.
    pub fn add_to_home_screen(self, answered: impl FnOnce() + 'static) {
        let ports = self.ports();
        let asked = (ports.add_to_home_screen)();
        (ports.spawn)(Box::pin(async move {
            if asked.await {
                self.change_settings(|settings| settings.home_screen_told = true);
            }
            answered();
        }));
    }

    /// Whether to explain the home screen now.
    pub fn home_screen_is_due(self) -> bool {
        let ports = self.ports();
        let of_no_use = self.example.get() || ports.is_installed || !ports.is_kept;
        let tests = self.tests.with(Vec::len);
        !of_no_use && self.settings.with(|settings| settings.home_screen_is_due(tests))
    }
}
