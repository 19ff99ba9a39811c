//! The bin: what was deleted, and what lost a merge, until the person throws it away.

use super::checksum::crc32;
use super::merge::{contents, same_contents};
use super::record::{Deleted, DeletedKind, Extra, Record, Stamp};
use super::store::{JournalEntry, KeyValue, SaveError, Store, StoreError};
use super::{Id, LocalId, base64url, keys};

/// After so many days the bin offers to throw an entry away; it never does so by itself, since a
/// clock may jump. Design choice.
pub const BIN_DAYS: i64 = 30;

/// Why a version is in the bin.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Binned {
    /// The record was deleted.
    Deleted,
    /// Another version of it counts now.
    Replaced,
}

/// One version in the bin.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BinEntry {
    /// The version as it was.
    pub record: Record,
    /// Why it is here.
    pub reason: Binned,
    /// Since when, UTC milliseconds by the clock of the device that put it here.
    pub since_utc_ms: i64,
}

impl BinEntry {
    /// Whether to offer throwing it away.
    pub const fn purge_is_offered(&self, now_utc_ms: i64) -> bool {
        now_utc_ms.saturating_sub(self.since_utc_ms) >= BIN_DAYS * 24 * 60 * 60 * 1000
    }
}

impl<K: KeyValue> Store<K> {
    /// What can be brought back, newest first.
    ///
    /// # Errors
    /// When the storage does not answer.
    pub fn bin(&self) -> Result<Vec<BinEntry>, StoreError> {
        let mut entries = Vec::new();
        for key in self.storage.keys_with_prefix(keys::BIN)? {
            let Some(record) = self.record_at(&key)? else { continue };
            let Ok(place) = self.place_of(&record) else { continue };
            let entry = match &place.stored {
                Some(stored) if stored.is_purged() => continue,
                // An interrupted deletion, or a version brought back.
                Some(stored) if same_contents(stored, &record) => continue,
                Some(stored) => BinEntry {
                    reason: if stored.is_deleted() { Binned::Deleted } else { Binned::Replaced },
                    since_utc_ms: stored.stamp().edited_utc_ms,
                    record,
                },
                None => {
                    let since_utc_ms = record.stamp().edited_utc_ms;
                    BinEntry { reason: Binned::Deleted, since_utc_ms, record }
                }
            };
            entries.push(entry);
        }
        entries.sort_by_key(|entry| (-entry.since_utc_ms, entry.record.id()));
        Ok(entries)
    }

    /// Moves a test to the bin.
    ///
    /// # Errors
    /// When the test is still there as before.
    pub fn delete_test(&self, id: Id, now_utc_ms: i64) -> Result<JournalEntry, SaveError> {
        let stored = self.test_place(id)?.stored.ok_or(SaveError::NotThere)?;
        self.delete(stored, DeletedKind::Test, now_utc_ms)
    }

    /// Moves a person to the bin. Their tests stay as they are, out of sight with them, so that one
    /// write deletes all and one brings all back.
    ///
    /// # Errors
    /// When the person is still there as before.
    pub fn delete_person(
        &self,
        person: &LocalId,
        now_utc_ms: i64,
    ) -> Result<JournalEntry, SaveError> {
        let stored = self.record_at(&keys::person(person))?.ok_or(SaveError::NotThere)?;
        self.delete(stored, DeletedKind::Person(person.clone()), now_utc_ms)
    }

    pub(super) fn delete(
        &self,
        stored: Record,
        kind: DeletedKind,
        now_utc_ms: i64,
    ) -> Result<JournalEntry, SaveError> {
        if stored.is_deleted() {
            return Err(SaveError::NotThere);
        }
        self.put_in_bin(&stored)?;
        let deleted = tombstone(&stored, kind, stored.stamp().next(now_utc_ms), false);
        let place = self.place_of(&deleted)?;
        self.put(&place, &deleted)?;
        Ok(JournalEntry::of(&deleted, now_utc_ms))
    }

    /// Brings a version back from the bin, as an edit that comes after everything known of it. A
    /// version it replaces goes to the bin in turn.
    ///
    /// # Errors
    /// When the version is still in the bin and nothing else changed.
    pub fn bring_back(&self, record: &Record, now_utc_ms: i64) -> Result<JournalEntry, SaveError> {
        let place = self.place_of(record)?;
        let newest = place.stored.as_ref().map_or(0, |stored| stored.stamp().rev);
        let rev = newest.max(record.stamp().rev).saturating_add(1);
        let back = record.clone().with_stamp(Stamp { rev, edited_utc_ms: now_utc_ms });
        if let Some(stored) = place.stored.as_ref().filter(|stored| !stored.is_deleted()) {
            self.put_in_bin(stored)?;
        }
        self.put(&place, &back)?;
        // What stays behind equals the record that counts, and is not shown.
        let _ = self.remove_from_bin(|binned| same_contents(binned, &back));
        Ok(JournalEntry::of(&back, now_utc_ms))
    }

    /// Throws a version away for good. Of a deleted record only its id, revision and time stay, so
    /// that an old copy elsewhere does not bring it back; of a deleted person the tests go too.
    ///
    /// # Errors
    /// When it could not be thrown away; calling again goes on.
    pub fn purge(&self, record: &Record, now_utc_ms: i64) -> Result<Vec<JournalEntry>, SaveError> {
        let place = self.place_of(record)?;
        let Some(Record::Deleted(deleted)) = place.stored.clone() else {
            self.remove_from_bin(|binned| same_contents(binned, record))?;
            // A restore may have left this version in the journal, from where it would come back.
            let stored = place.stored.as_ref().map(|stored| JournalEntry::of(stored, now_utc_ms));
            let line = stored.map(|line| JournalEntry { key: bin_name(record), ..line });
            return Ok(line.into_iter().collect());
        };
        let stamp = later(deleted.stamp, now_utc_ms);
        let gone = tombstone(record, deleted.kind.clone(), stamp, true);
        self.put(&place, &gone)?;
        let mut entries = vec![JournalEntry::of(&gone, now_utc_ms)];
        if let DeletedKind::Person(local) = &deleted.kind {
            entries.extend(self.purge_tests_of(local, now_utc_ms)?);
        }
        if deleted.kind == DeletedKind::Class {
            entries.extend(self.purge_results_of(record.id(), now_utc_ms)?);
        }
        entries.extend(self.empty_bin_of(&gone, now_utc_ms)?);
        Ok(entries)
    }

    /// Throws away for good all that is in the bin. The lines are of what is gone, also when the rest
    /// could not be thrown away.
    pub fn empty_bin(&self, now_utc_ms: i64) -> (Vec<JournalEntry>, Result<(), SaveError>) {
        let mut lines = Vec::new();
        let entries = match self.bin() {
            Ok(entries) => entries,
            Err(error) => return (lines, Err(error.into())),
        };
        for entry in entries {
            match self.purge(&entry.record, now_utc_ms) {
                Ok(more) => lines.extend(more),
                Err(error) => return (lines, Err(error)),
            }
        }
        (lines, Ok(()))
    }

    /// Goes on with purges that were interrupted: contents in the bin of what is purged, and tests of
    /// purged people.
    pub(super) fn finish_purges(&self) -> Result<(), StoreError> {
        let mut purged_people = Vec::new();
        for key in self.storage.keys_with_prefix(keys::PEOPLE)? {
            if let Some(Record::Deleted(Deleted { kind, purged: true, .. })) =
                self.record_at(&key)?
                && let DeletedKind::Person(local) = kind
            {
                purged_people.push(local);
            }
        }
        // Only tidying: what cannot be written now is out of sight, and tried again at the next start.
        for local in purged_people {
            let _ = self.purge_tests_of(&local, 0);
        }
        for class in self.purged_classes()? {
            let _ = self.purge_results_of(class, 0);
        }
        let _ = self.remove_from_bin(|binned| {
            let stored = self.place_of(binned).ok().and_then(|place| place.stored);
            stored.as_ref().is_some_and(Record::is_purged)
        });
        Ok(())
    }

    fn purge_tests_of(
        &self,
        person: &LocalId,
        now_utc_ms: i64,
    ) -> Result<Vec<JournalEntry>, SaveError> {
        let mut entries = Vec::new();
        let mut tests = self.tests_of(person)?;
        for key in self.storage.keys_with_prefix(keys::BIN)? {
            match self.record_at(&key)? {
                Some(Record::Test(test)) if test.person == *person => tests.push(test),
                _ => {}
            }
        }
        for test in tests {
            let place = self.test_place(test.id)?;
            let Some(stored) = &place.stored else { continue };
            let gone = match stored {
                _ if stored.is_purged() => stored.clone(),
                // Given to somebody else since: the version in the bin goes, the test stays.
                Record::Test(now) if now.person != *person => {
                    self.remove_from_bin(|binned| *binned == Record::Test(test.clone()))?;
                    continue;
                }
                _ => tombstone(stored, DeletedKind::Test, later(stored.stamp(), now_utc_ms), true),
            };
            self.put(&place, &gone)?;
            entries.push(JournalEntry::of(&gone, now_utc_ms));
            entries.extend(self.empty_bin_of(&gone, now_utc_ms)?);
        }
        Ok(entries)
    }

    /// Takes every version of a purged record out of the bin; the lines empty their copies in the
    /// journal.
    pub(super) fn empty_bin_of(
        &self,
        gone: &Record,
        now_utc_ms: i64,
    ) -> Result<Vec<JournalEntry>, SaveError> {
        let mut entries = Vec::new();
        for key in self.storage.keys_with_prefix(keys::BIN)? {
            let Some(binned) = self.record_at(&key)?.filter(|binned| binned.id() == gone.id())
            else {
                continue;
            };
            self.storage.remove(&key)?;
            let line = JournalEntry::of(gone, now_utc_ms);
            entries.push(JournalEntry { key: bin_name(&binned), ..line });
        }
        Ok(entries)
    }

    /// Keeps a version in the bin, once per contents.
    pub(super) fn put_in_bin(&self, record: &Record) -> Result<(), SaveError> {
        let name = bin_name(record);
        for copy in 0..64 {
            let key = format!("{}{name}{}", keys::BIN, "+".repeat(copy));
            let Some(text) = self.storage.get(&key)? else {
                return self.write(&key, record);
            };
            match super::read(&text).good() {
                Some(kept) if kept.id() == record.id() && same_contents(&kept, record) => {
                    let newer = record.stamp() > kept.stamp();
                    return if newer { self.write(&key, record) } else { Ok(()) };
                }
                // Other contents with the same check sum, or a text that cannot be read.
                _ => {}
            }
        }
        Err(SaveError::Storage(StoreError::Other))
    }

    /// Whether the bin holds a version of these contents.
    pub(super) fn is_in_bin(&self, record: &Record) -> Result<bool, StoreError> {
        let start = format!("{}{}", keys::BIN, bin_name(record));
        for key in self.storage.keys_with_prefix(&start)? {
            if self.record_at(&key)?.is_some_and(|binned| same_contents(&binned, record)) {
                return Ok(true);
            }
        }
        Ok(false)
    }

    fn remove_from_bin(&self, unwanted: impl Fn(&Record) -> bool) -> Result<(), StoreError> {
        for key in self.storage.keys_with_prefix(keys::BIN)? {
            if self.record_at(&key)?.is_some_and(|record| unwanted(&record)) {
                self.storage.remove(&key)?;
            }
        }
        Ok(())
    }
}

/// The name of a version in the bin, and in the journal.
pub(super) fn bin_name(record: &Record) -> String {
    let sum = crc32(contents(record).as_bytes());
    let name = keys::test_names(record.id()).next().unwrap_or_default();
    format!("{name}.{}", base64url::encode(&sum.to_be_bytes()))
}

/// The stamp of what must come after a deletion, whatever the clock says.
pub(super) fn later(stamp: Stamp, now_utc_ms: i64) -> Stamp {
    stamp.next(now_utc_ms.max(stamp.edited_utc_ms))
}

pub(super) fn tombstone(of: &Record, kind: DeletedKind, stamp: Stamp, purged: bool) -> Record {
    Record::Deleted(Deleted { id: of.id(), kind, stamp, purged, extra: Extra::default() })
}
