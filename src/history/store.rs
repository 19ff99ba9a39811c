use std::cell::Cell;
use std::collections::{BTreeMap, BTreeSet};

use super::index::{self, Season};
use super::merge::RecordSet;
use super::migrate::{Read, Why, read, to_text};
use super::record::{DeletedKind, Person, Record, Stamp, Test};
use super::{Id, LocalId, keys};

/// What the browser's storage can do. The page hands in the real one, tests and private mode
/// [`super::Memory`].
pub trait KeyValue {
    /// The text under a key.
    ///
    /// # Errors
    /// When the storage does not answer.
    fn get(&self, key: &str) -> Result<Option<String>, StoreError>;
    /// Writes a text under a key, whole or not at all.
    ///
    /// # Errors
    /// When nothing was written.
    fn set(&self, key: &str, value: &str) -> Result<(), StoreError>;
    /// Removes a key; one that is not there is no error.
    ///
    /// # Errors
    /// When the storage does not answer.
    fn remove(&self, key: &str) -> Result<(), StoreError>;
    /// Every key that starts with a text, in any order.
    ///
    /// # Errors
    /// When the storage does not answer.
    fn keys_with_prefix(&self, prefix: &str) -> Result<Vec<String>, StoreError>;
}

/// Why storage failed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StoreError {
    /// The browser does not let the page store anything.
    Blocked,
    /// There is no room left.
    Full,
    /// Anything else.
    Other,
}

/// Why a record was not saved. What was stored before is still there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SaveError {
    /// The storage failed.
    Storage(StoreError),
    /// What was read back is not what was written.
    NotKept,
    /// Somebody else edited it meanwhile, in another tab: this revision is stored.
    Stale {
        /// The stored revision.
        stored_rev: u32,
    },
    /// There is nothing of that id to edit, delete or bring back.
    NotThere,
    /// The place holds data of a later version, which is never written over.
    Newer,
    /// The record holds something out of its range, such as a nickname that is too long.
    OutOfRange,
}

impl From<StoreError> for SaveError {
    fn from(error: StoreError) -> Self {
        Self::Storage(error)
    }
}

/// One line of the browser's durable journal: the same text as in the store, by the full id. A later
/// line of the same key replaces the earlier one, so deleting a record empties its copies.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct JournalEntry {
    /// The id as text; of a version in the bin, the id and a mark of its contents.
    pub key: String,
    /// The record as it is stored; empty where the line goes.
    pub text: String,
    /// When it was written, UTC milliseconds.
    pub written_utc_ms: i64,
}

impl JournalEntry {
    /// The line for a record that counts.
    pub fn of(record: &Record, written_utc_ms: i64) -> Self {
        Self { key: record.id().to_string(), text: to_text(record), written_utc_ms }
    }
}

/// Something in the store that this page cannot read. Nothing of it is lost.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Trouble {
    /// Of a later version; it stays where it is.
    Newer {
        /// Where it is.
        key: String,
        /// The version it names.
        version: u32,
    },
    /// Not readable; put aside as it was.
    SetAside {
        /// Where it is now.
        key: String,
    },
    /// Not readable, and there was no room to put it aside; it stays where it is.
    InPlace {
        /// Where it is.
        key: String,
        /// Why it cannot be read.
        why: Why,
    },
}

/// Where a record is, or would go.
pub(super) struct Place {
    pub(super) key: String,
    pub(super) stored: Option<Record>,
}

/// The records of this device.
#[derive(Debug)]
pub struct Store<K> {
    pub(super) storage: K,
    /// A list could not be written: read every record until the next start.
    pub(super) lists_incomplete: Cell<bool>,
}

impl<K: KeyValue> Store<K> {
    /// Opens a store: puts aside what cannot be read, and mends the lists of tests after an
    /// interrupted write. An empty storage is an empty store.
    ///
    /// # Errors
    /// When the storage does not answer at all.
    pub fn open(storage: K) -> Result<(Self, Vec<Trouble>), StoreError> {
        let store = Self { storage, lists_incomplete: Cell::new(false) };
        let mut troubles = Vec::new();
        for kind in [keys::PEOPLE, keys::CLASSES, keys::CLASS_RESULTS] {
            for key in store.storage.keys_with_prefix(kind)? {
                store.read_or_set_aside(&key, &mut troubles)?;
            }
        }
        store.mend_lists(&mut troubles)?;
        store.finish_purges()?;
        Ok((store, troubles))
    }

    /// Mends the lists after another tab wrote.
    ///
    /// # Errors
    /// When the storage does not answer.
    pub fn refresh(&self) -> Result<Vec<Trouble>, StoreError> {
        let mut troubles = Vec::new();
        self.mend_lists(&mut troubles)?;
        Ok(troubles)
    }

    /// The people, put-away ones included, by nickname.
    ///
    /// # Errors
    /// When the storage does not answer.
    pub fn people(&self) -> Result<Vec<Person>, StoreError> {
        let mut people = Vec::new();
        for key in self.storage.keys_with_prefix(keys::PEOPLE)? {
            if let Some(Record::Person(person)) = self.record_at(&key)? {
                people.push(person);
            }
        }
        people.sort_by(|one, other| (&one.nickname, one.id).cmp(&(&other.nickname, other.id)));
        Ok(people)
    }

    /// The shortest free key for somebody new.
    ///
    /// # Errors
    /// When the storage does not answer.
    pub fn free_local_id(&self, id: Id) -> Result<LocalId, StoreError> {
        let taken: BTreeSet<String> =
            self.storage.keys_with_prefix(keys::PEOPLE)?.into_iter().collect();
        Ok(LocalId::shortest(id, |local| taken.contains(&keys::person(local))))
    }

    /// Saves somebody new.
    ///
    /// # Errors
    /// When nothing was saved; the reason says whether trying again helps.
    pub fn save_person(&self, person: &Person) -> Result<JournalEntry, SaveError> {
        self.save_new(Record::Person(person.clone()))
    }

    /// Saves a new test: writes it, reads it back, compares, then lists it.
    ///
    /// # Errors
    /// When nothing was saved; the reason says whether trying again helps.
    pub fn save_test(&self, test: &Test) -> Result<JournalEntry, SaveError> {
        self.save_new(Record::Test(test.clone()))
    }

    /// Saves several new records, people before their tests. One that is there already is left as it
    /// is, so a second call completes an interrupted first one.
    ///
    /// # Errors
    /// At the first that was not saved; those before it are.
    pub fn keep_all(&self, records: &[Record]) -> Result<Vec<JournalEntry>, SaveError> {
        let of_people = |record: &&Record| matches!(record, Record::Person(_));
        let people = records.iter().filter(of_people);
        let rest = records.iter().filter(|record| !of_people(record));
        people.chain(rest).map(|record| self.save_new(record.clone())).collect()
    }

    /// Saves an edit of a person that was read from this store.
    ///
    /// # Errors
    /// [`SaveError::Stale`] when another tab was faster; other reasons as for a new record.
    pub fn edit_person(
        &self,
        person: &Person,
        now_utc_ms: i64,
    ) -> Result<(Person, JournalEntry), SaveError> {
        let (stamp, entry) = self.edit(Record::Person(person.clone()), now_utc_ms)?;
        Ok((Person { stamp, ..person.clone() }, entry))
    }

    /// Saves an edit of a test that was read from this store; giving it another person or day moves
    /// it in the lists.
    ///
    /// # Errors
    /// [`SaveError::Stale`] when another tab was faster; other reasons as for a new record.
    pub fn edit_test(
        &self,
        test: &Test,
        now_utc_ms: i64,
    ) -> Result<(Test, JournalEntry), SaveError> {
        let (stamp, entry) = self.edit(Record::Test(test.clone()), now_utc_ms)?;
        Ok((Test { stamp, ..test.clone() }, entry))
    }

    /// The version of a test that counts, where it is not deleted.
    ///
    /// # Errors
    /// When the storage does not answer.
    pub fn test(&self, id: Id) -> Result<Option<Test>, StoreError> {
        match self.test_place(id)?.stored {
            Some(Record::Test(test)) => Ok(Some(test)),
            _ => Ok(None),
        }
    }

    /// A person's tests of one season, oldest first.
    ///
    /// # Errors
    /// When the storage does not answer.
    pub fn tests_in(&self, person: &LocalId, season: Season) -> Result<Vec<Test>, StoreError> {
        let names = if self.lists_incomplete.get() {
            self.test_names()?
        } else {
            index::listed(&self.storage, person, season)?
        };
        let mut tests = self.tests_named(names, person)?;
        tests.retain(|test| Season::of(test.date) == season);
        Ok(tests)
    }

    /// All tests of a person, oldest first.
    ///
    /// # Errors
    /// When the storage does not answer.
    pub fn tests_of(&self, person: &LocalId) -> Result<Vec<Test>, StoreError> {
        let names = if self.lists_incomplete.get() {
            self.test_names()?
        } else {
            index::names_in(&index::lists(&self.storage, &keys::index_of(person))?)
        };
        self.tests_named(names, person)
    }

    /// Every readable record, versions in the bin included.
    ///
    /// # Errors
    /// When the storage does not answer.
    pub fn all(&self) -> Result<RecordSet, StoreError> {
        let mut all = RecordSet::new();
        for key in self.storage.keys_with_prefix(keys::RECORDS)? {
            if let Some(record) = self.record_at(&key)? {
                all.add(record);
            }
        }
        Ok(all)
    }

    /// The text of every record as it is stored, for a backup: also those of a later version.
    ///
    /// # Errors
    /// When the storage does not answer.
    pub fn record_texts(&self) -> Result<Vec<String>, StoreError> {
        let mut texts = Vec::new();
        let mut names = self.storage.keys_with_prefix(keys::RECORDS)?;
        names.sort_unstable();
        for key in names {
            texts.extend(self.storage.get(&key)?);
        }
        Ok(texts)
    }

    /// Texts that were put aside, by key.
    ///
    /// # Errors
    /// When the storage does not answer.
    pub fn aside(&self) -> Result<BTreeMap<String, String>, StoreError> {
        let lists = index::lists(&self.storage, keys::ASIDE)?;
        Ok(lists.into_iter().collect())
    }

    fn tests_named(
        &self,
        names: BTreeSet<String>,
        person: &LocalId,
    ) -> Result<Vec<Test>, StoreError> {
        let mut tests = BTreeMap::new();
        for name in names {
            let record = self.record_at(&format!("{}{name}", keys::TESTS))?;
            let Some(Record::Test(test)) = record else { continue };
            // Two keys can hold one id only after a text was put aside from the shorter one.
            let known = tests.get(&test.id);
            let older = known.is_some_and(|known: &Test| known.stamp >= test.stamp);
            if test.person == *person && !older {
                tests.insert(test.id, test);
            }
        }
        let mut tests: Vec<Test> = tests.into_values().collect();
        tests.sort_by_key(|test| (test.date, test.minute_of_day, test.id));
        Ok(tests)
    }

    pub(super) fn record_at(&self, key: &str) -> Result<Option<Record>, StoreError> {
        Ok(self.storage.get(key)?.and_then(|text| read(&text).good()))
    }

    /// Where the record of an id is or would go.
    pub(super) fn place_of(&self, record: &Record) -> Result<Place, SaveError> {
        match record {
            Record::Person(person) => self.person_place(person.id, &person.local),
            Record::Test(test) => Ok(self.test_place(test.id)?),
            Record::Class(class) => self.place_at(self.class_place(class.id)),
            Record::ClassResult(result) => self.place_at(self.result_place(result.id)),
            Record::Deleted(deleted) => match &deleted.kind {
                DeletedKind::Person(local) => self.person_place(deleted.id, local),
                DeletedKind::Test => Ok(self.test_place(deleted.id)?),
                DeletedKind::Class => self.place_at(self.class_place(deleted.id)),
                DeletedKind::ClassResult => self.place_at(self.result_place(deleted.id)),
            },
        }
    }

    pub(super) fn person_place(&self, id: Id, local: &LocalId) -> Result<Place, SaveError> {
        let key = keys::person(local);
        let Some(text) = self.storage.get(&key)? else {
            return Ok(Place { key, stored: None });
        };
        match read(&text) {
            Read::Good(stored) if stored.id() == id => Ok(Place { key, stored: Some(*stored) }),
            Read::Good(stored) => Err(SaveError::Stale { stored_rev: stored.stamp().rev }),
            Read::Newer { .. } => Err(SaveError::Newer),
            Read::Unreadable { .. } => {
                self.set_aside(&key, &text)?;
                Ok(Place { key, stored: None })
            }
        }
    }

    /// A key that holds another test, or what cannot be read, is left alone.
    pub(super) fn test_place(&self, id: Id) -> Result<Place, StoreError> {
        for name in keys::test_names(id) {
            let key = format!("{}{name}", keys::TESTS);
            let Some(text) = self.storage.get(&key)? else {
                return Ok(Place { key, stored: None });
            };
            if let Read::Good(stored) = read(&text)
                && stored.id() == id
            {
                return Ok(Place { key, stored: Some(*stored) });
            }
        }
        Err(StoreError::Other)
    }

    pub(super) fn save_new(&self, record: Record) -> Result<JournalEntry, SaveError> {
        let place = self.place_of(&record)?;
        match &place.stored {
            // A second tap on "save" saves nothing twice.
            Some(stored) if *stored == record => {}
            Some(stored) => return Err(SaveError::Stale { stored_rev: stored.stamp().rev }),
            None => self.put(&place, &record)?,
        }
        Ok(JournalEntry::of(&record, record.stamp().edited_utc_ms))
    }

    pub(super) fn edit(
        &self,
        record: Record,
        now_utc_ms: i64,
    ) -> Result<(Stamp, JournalEntry), SaveError> {
        let base = record.stamp();
        let place = self.place_of(&record)?;
        // A lower stored revision means that the browser lost a write: the edit brings it back.
        let stored = place.stored.as_ref().map(Record::stamp).filter(|stored| *stored != base);
        if let Some(stored) = stored.filter(|stored| stored.rev >= base.rev) {
            return Err(SaveError::Stale { stored_rev: stored.rev });
        }
        let record = record.with_stamp(base.next(now_utc_ms));
        self.put(&place, &record)?;
        Ok((record.stamp(), JournalEntry::of(&record, now_utc_ms)))
    }

    /// Writes a record over an older version of itself and keeps the lists right: a test that moves
    /// is listed at its new place before it moves and taken off the old one afterwards, so an
    /// interruption leaves one entry too many and never one too few.
    pub(super) fn put(&self, place: &Place, record: &Record) -> Result<(), SaveError> {
        let old = place.stored.as_ref().and_then(listing);
        let new = listing(record);
        let name = place.key.strip_prefix(keys::TESTS).unwrap_or_default();
        if let (Some((person, season)), Some(old)) = (&new, &old)
            && (person, season) != (&old.0, &old.1)
        {
            index::add(&self.storage, person, *season, name)?;
        }
        self.write(&place.key, record)?;
        if let (Some((person, season)), None) = (&new, &old) {
            let added = index::add(&self.storage, person, *season, name);
            self.lists_incomplete.set(self.lists_incomplete.get() || added.is_err());
        }
        if let Some((person, season)) = old.filter(|old| new.as_ref() != Some(old)) {
            // An entry too many is harmless: reading checks it against the record.
            let _ = index::remove(&self.storage, &person, season, name);
        }
        Ok(())
    }

    /// Writes one record and reads it back.
    pub(super) fn write(&self, key: &str, record: &Record) -> Result<(), SaveError> {
        let text = to_text(record);
        if read(&text).good().as_ref() != Some(record) {
            return Err(SaveError::OutOfRange);
        }
        self.storage.set(key, &text)?;
        match self.storage.get(key)? {
            Some(kept) if kept == text => Ok(()),
            _ => Err(SaveError::NotKept),
        }
    }
}

/// The list a record belongs on.
pub(super) fn listing(record: &Record) -> Option<(LocalId, Season)> {
    match record {
        Record::Test(test) => Some((test.person.clone(), Season::of(test.date))),
        Record::Person(_) | Record::Class(_) | Record::ClassResult(_) | Record::Deleted(_) => None,
    }
}
