use super::codec;
use super::draft::check_head;
use super::format::v1;
use super::migrate::{Why, shape};
use super::record::Extra;
use super::store::{KeyValue, Store, StoreError};
use super::{LocalId, keys};
use crate::quantity::Unit;

/// Longest language tag, in characters.
pub(super) const LANGUAGE_MAX: usize = 35;

/// Tests from one reminder of a backup to the next. Design choice: about a month of one child.
pub const REMIND_AFTER_TESTS: u32 = 5;
/// Tests before the home screen is explained. Design choice: who comes back a second time may stay.
const HOME_SCREEN_AFTER_TESTS: usize = 2;

/// A look that was chosen.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Theme {
    /// Light.
    Light,
    /// Dark.
    Dark,
}

/// What the page remembers besides records.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Settings {
    /// The unit, once chosen.
    pub unit: Option<Unit>,
    /// The look; nothing follows the system.
    pub theme: Option<Theme>,
    /// The language, as a tag such as `de`; nothing follows the browser.
    pub language: Option<String>,
    /// Who tested last.
    pub last_person: Option<LocalId>,
    /// No sound at the end of a rest.
    pub quiet: bool,
    /// Do not remind of backups.
    pub no_backup_reminder: bool,
    /// The last backup, UTC milliseconds.
    pub backup_utc_ms: Option<i64>,
    /// Tests saved since then.
    pub tests_since_backup: u32,
    /// The browser was asked once to keep the data.
    pub asked_to_persist: bool,
    /// How many tests had been saved since the last backup when the reminder was put off.
    pub put_off_at: u32,
    /// The advice about the home screen was read and closed.
    pub home_screen_told: bool,
    /// Fields of a later version.
    pub extra: Extra,
}

impl Settings {
    /// As they are stored.
    pub fn to_text(&self) -> String {
        // Writing structs with text keys to a string has no way to fail.
        serde_json::to_string(&codec::settings_to_wire(self)).unwrap_or_default()
    }

    /// From stored text.
    ///
    /// # Errors
    /// Why they cannot be read; a later version counts as [`Why::Field`] of `v`.
    pub fn parse(text: &str) -> Result<Self, Why> {
        check_head(text, v1::SETTINGS)?;
        codec::settings_from_wire(shape(text)?)
    }

    /// Counts tests that were just saved or imported.
    pub const fn count_tests(&mut self, tests: u32) {
        self.tests_since_backup = self.tests_since_backup.saturating_add(tests);
    }

    /// Notes a backup: the count of tests begins anew.
    pub const fn note_backup(&mut self, now_utc_ms: i64) {
        self.backup_utc_ms = Some(now_utc_ms);
        self.tests_since_backup = 0;
        self.put_off_at = 0;
    }

    /// Puts the reminder off until as many tests again have been saved.
    pub const fn put_reminder_off(&mut self) {
        self.put_off_at = self.tests_since_backup;
    }

    /// Whether to remind of a backup now: enough tests since the last one, or since the reminder was
    /// put off. Tests are counted and not days, so a wrong clock changes nothing.
    pub const fn backup_is_due(&self) -> bool {
        let since = self.tests_since_backup.saturating_sub(self.put_off_at);
        !self.no_backup_reminder && since >= REMIND_AFTER_TESTS
    }

    /// Whether to explain the home screen now, by the number of tests on the wall shown: before a
    /// season begins, and once.
    pub const fn home_screen_is_due(&self, tests: usize) -> bool {
        !self.home_screen_told && tests >= HOME_SCREEN_AFTER_TESTS
    }
}

impl<K: KeyValue> Store<K> {
    /// The settings; the defaults where there are none. Settings that cannot be read are put aside.
    ///
    /// # Errors
    /// When the storage does not answer.
    pub fn settings(&self) -> Result<Settings, StoreError> {
        let Some(text) = self.storage.get(keys::SETTINGS)? else {
            return Ok(Settings::default());
        };
        if let Ok(settings) = Settings::parse(&text) {
            return Ok(settings);
        }
        self.set_aside(keys::SETTINGS, &text)?;
        Ok(Settings::default())
    }

    /// Keeps the settings.
    ///
    /// # Errors
    /// When they were not written.
    pub fn save_settings(&self, settings: &Settings) -> Result<(), StoreError> {
        self.storage.set(keys::SETTINGS, &settings.to_text())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn settings_survive_and_keep_what_they_do_not_know() {
        let text = r#"{"v":1,"k":"s","unit":"in","theme":"dark","since":3,"later":{"a":[1]}}"#;
        let settings = Settings::parse(text).unwrap();
        assert_eq!((settings.unit, settings.theme), (Some(Unit::Inch), Some(Theme::Dark)));
        assert!(!settings.extra.is_empty());
        assert_eq!(settings.to_text(), text);
    }

    #[test]
    fn a_backup_is_due_after_five_tests_and_again_after_five_more() {
        let mut settings = Settings::default();
        settings.count_tests(4);
        assert!(!settings.backup_is_due());
        settings.count_tests(1);
        assert!(settings.backup_is_due());
        settings.put_reminder_off();
        assert!(!settings.backup_is_due());
        settings.count_tests(5);
        assert!(settings.backup_is_due());
        assert!(!Settings { no_backup_reminder: true, ..settings.clone() }.backup_is_due());
        let kept = Settings::parse(&settings.to_text());
        assert_eq!(kept, Ok(settings.clone()));
        settings.note_backup(7);
        assert_eq!((settings.backup_is_due(), settings.backup_utc_ms), (false, Some(7)));
    }

    #[test]
    fn the_home_screen_is_explained_once_after_the_second_test() {
        let settings = Settings::default();
        assert!(!settings.home_screen_is_due(1) && settings.home_screen_is_due(2));
        assert!(!Settings { home_screen_told: true, ..settings }.home_screen_is_due(2));
    }
}
