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
}
