//! Classes in the store. They lie beside people and tests and share nothing with them but the rules
//! of every record: stamps, merging, the bin, the journal, backups.

use super::bin::{later, tombstone};
use super::class_record::{Class, ClassResult};
use super::record::{DeletedKind, Record};
use super::store::{JournalEntry, KeyValue, Place, SaveError, Store, StoreError};
use super::{Id, keys};

impl<K: KeyValue> Store<K> {
    /// Every class, put-away ones included, by label.
    ///
    /// # Errors
    /// When the storage does not answer.
    pub fn classes(&self) -> Result<Vec<Class>, StoreError> {
        let mut classes = Vec::new();
        for key in self.storage.keys_with_prefix(keys::CLASSES)? {
            if let Some(Record::Class(class)) = self.record_at(&key)? {
                classes.push(class);
            }
        }
        classes
            .sort_by(|one, other| (&one.setup.label, one.id).cmp(&(&other.setup.label, other.id)));
        Ok(classes)
    }

    /// A class by its id.
    ///
    /// # Errors
    /// When the storage does not answer.
    pub fn class(&self, id: Id) -> Result<Option<Class>, StoreError> {
        match self.record_at(&keys::class(id))? {
            Some(Record::Class(class)) => Ok(Some(class)),
            _ => Ok(None),
        }
    }

    /// Every result of a class, by day, number and id.
    ///
    /// # Errors
    /// When the storage does not answer.
    pub fn class_results(&self, class: Id) -> Result<Vec<ClassResult>, StoreError> {
        let mut results = Vec::new();
        for key in self.storage.keys_with_prefix(keys::CLASS_RESULTS)? {
            match self.record_at(&key)? {
                Some(Record::ClassResult(result)) if result.class == class => results.push(result),
                _ => {}
            }
        }
        results.sort_by_key(|result| (result.date, result.number, result.id));
        Ok(results)
    }

    /// The texts of one class and its results, for a file of its own.
    ///
    /// # Errors
    /// When the storage does not answer.
    pub fn class_texts(&self, class: Id) -> Result<Vec<String>, StoreError> {
        let own = self.class(class)?.map(Record::Class);
        let results = self.class_results(class)?.into_iter().map(Record::ClassResult);
        Ok(own.into_iter().chain(results).map(|record| super::to_text(&record)).collect())
    }

    /// Saves a new class or a new result: one that is there already with the same contents is no error.
    ///
    /// # Errors
    /// When nothing was saved; the reason says whether trying again helps.
    pub fn save_of_class(&self, record: Record) -> Result<JournalEntry, SaveError> {
        self.save_new(record)
    }

    /// Saves an edit of a class that was read from this store.
    ///
    /// # Errors
    /// As for every edit.
    pub fn edit_class(
        &self,
        class: &Class,
        now_utc_ms: i64,
    ) -> Result<(Class, JournalEntry), SaveError> {
        let (stamp, entry) = self.edit(Record::Class(class.clone()), now_utc_ms)?;
        Ok((Class { stamp, ..class.clone() }, entry))
    }

    /// Saves an edit of a result that was read from this store.
    ///
    /// # Errors
    /// As for every edit.
    pub fn edit_class_result(
        &self,
        result: &ClassResult,
        now_utc_ms: i64,
    ) -> Result<(ClassResult, JournalEntry), SaveError> {
        let (stamp, entry) = self.edit(Record::ClassResult(result.clone()), now_utc_ms)?;
        Ok((ClassResult { stamp, ..result.clone() }, entry))
    }

    /// Moves a result to the bin.
    ///
    /// # Errors
    /// When it is still there as before.
    pub fn delete_class_result(
        &self,
        result: Id,
        now_utc_ms: i64,
    ) -> Result<JournalEntry, SaveError> {
        let stored = self.record_at(&keys::class_result(result))?.ok_or(SaveError::NotThere)?;
        self.delete(stored, DeletedKind::ClassResult, now_utc_ms)
    }

    /// Throws a class and all its results away for good; only ids, revisions and times stay. The
    /// lines empty the copies in the journal.
    ///
    /// # Errors
    /// When it could not be thrown away; calling again goes on.
    pub fn purge_class(&self, class: Id, now_utc_ms: i64) -> Result<Vec<JournalEntry>, SaveError> {
        let stored = self.record_at(&keys::class(class))?.ok_or(SaveError::NotThere)?;
        let stamp = later(stored.stamp(), now_utc_ms);
        let gone = tombstone(&stored, DeletedKind::Class, stamp, true);
        self.put(&self.class_place(class), &gone)?;
        let mut entries = vec![JournalEntry::of(&gone, now_utc_ms)];
        entries.extend(self.empty_bin_of(&gone, now_utc_ms)?);
        entries.extend(self.purge_results_of(class, now_utc_ms)?);
        Ok(entries)
    }

    /// Throws away the results of a class, those in the bin too.
    pub(super) fn purge_results_of(
        &self,
        class: Id,
        now_utc_ms: i64,
    ) -> Result<Vec<JournalEntry>, SaveError> {
        let mut entries = Vec::new();
        let mut results = self.class_results(class)?;
        for key in self.storage.keys_with_prefix(keys::BIN)? {
            match self.record_at(&key)? {
                Some(Record::ClassResult(result)) if result.class == class => results.push(result),
                _ => {}
            }
        }
        for result in results {
            let place = self.result_place(result.id);
            let stored = self.record_at(&place.key)?.unwrap_or(Record::ClassResult(result));
            if stored.is_purged() {
                continue;
            }
            let stamp = later(stored.stamp(), now_utc_ms);
            let gone = tombstone(&stored, DeletedKind::ClassResult, stamp, true);
            self.put(&place, &gone)?;
            entries.push(JournalEntry::of(&gone, now_utc_ms));
            entries.extend(self.empty_bin_of(&gone, now_utc_ms)?);
        }
        Ok(entries)
    }

    /// Classes that were thrown away.
    pub(super) fn purged_classes(&self) -> Result<Vec<Id>, StoreError> {
        let mut purged = Vec::new();
        for key in self.storage.keys_with_prefix(keys::CLASSES)? {
            if let Some(record) = self.record_at(&key)?.filter(Record::is_purged) {
                purged.push(record.id());
            }
        }
        Ok(purged)
    }

    pub(super) fn class_place(&self, id: Id) -> Place {
        Place { key: keys::class(id), stored: None }
    }

    pub(super) fn result_place(&self, id: Id) -> Place {
        Place { key: keys::class_result(id), stored: None }
    }

    /// A place of a class or a result, whose key is its whole id.
    pub(super) fn place_at(&self, place: Place) -> Result<Place, SaveError> {
        use super::migrate::{Read, read};
        let Some(text) = self.storage.get(&place.key)? else {
            return Ok(place);
        };
        match read(&text) {
            Read::Good(stored) => Ok(Place { stored: Some(*stored), ..place }),
            Read::Newer { .. } => Err(SaveError::Newer),
            Read::Unreadable { .. } => {
                self.set_aside(&place.key, &text)?;
                Ok(place)
            }
        }
    }
}
