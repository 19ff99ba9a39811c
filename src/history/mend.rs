//! Mending at start: what cannot be read is put aside as it is, and the lists are made right again.

use std::collections::BTreeSet;

use super::migrate::{Read, read};
use super::record::Record;
use super::store::{KeyValue, Store, StoreError, Trouble, listing};
use super::{index, keys};

impl<K: KeyValue> Store<K> {
    pub(super) fn test_names(&self) -> Result<BTreeSet<String>, StoreError> {
        let names = self.storage.keys_with_prefix(keys::TESTS)?;
        Ok(names
            .iter()
            .filter_map(|key| key.strip_prefix(keys::TESTS))
            .map(str::to_owned)
            .collect())
    }

    /// Lists every test that no list names, and takes off names without a record.
    pub(super) fn mend_lists(&self, troubles: &mut Vec<Trouble>) -> Result<(), StoreError> {
        let lists = index::lists(&self.storage, keys::INDEX)?;
        let (listed, present) = (index::names_in(&lists), self.test_names()?);
        for name in present.difference(&listed) {
            let key = format!("{}{name}", keys::TESTS);
            let record = self.read_or_set_aside(&key, troubles)?;
            let Some((person, season)) = record.as_ref().and_then(listing) else { continue };
            if index::add(&self.storage, &person, season, name).is_err() {
                self.lists_incomplete.set(true);
            }
        }
        if listed.difference(&present).next().is_some() {
            // Read again: the loop above may have added to the same lists.
            let lists = index::lists(&self.storage, keys::INDEX)?;
            let _ = index::without(&self.storage, &lists, |name| !present.contains(name));
        }
        Ok(())
    }

    pub(super) fn read_or_set_aside(
        &self,
        key: &str,
        troubles: &mut Vec<Trouble>,
    ) -> Result<Option<Record>, StoreError> {
        let Some(text) = self.storage.get(key)? else {
            return Ok(None);
        };
        match read(&text) {
            Read::Good(record) => return Ok(Some(*record)),
            Read::Newer { version } => {
                troubles.push(Trouble::Newer { key: key.to_owned(), version });
            }
            Read::Unreadable { why } => troubles.push(match self.set_aside(key, &text) {
                Ok(key) => Trouble::SetAside { key },
                Err(_) => Trouble::InPlace { key: key.to_owned(), why },
            }),
        }
        Ok(None)
    }

    /// Moves a text aside: it is copied and read back before its own key is removed.
    pub(super) fn set_aside(&self, key: &str, text: &str) -> Result<String, StoreError> {
        for copy in 0.. {
            let aside = keys::aside(key, copy);
            match self.storage.get(&aside)? {
                Some(other) if other != text => continue,
                Some(_) => {}
                None => self.storage.set(&aside, text)?,
            }
            if self.storage.get(&aside)?.as_deref() != Some(text) {
                break;
            }
            self.storage.remove(key)?;
            return Ok(aside);
        }
        Err(StoreError::Other)
    }
}
