use std::collections::BTreeMap;

use super::Id;
use super::migrate::to_text;
use super::record::{Record, Stamp};

/// Everything known about some records: of each id the version that counts, and the versions that
/// lost to it and say something else.
///
/// Merging is a union: in any order, grouping and number of times it gives the same set. The highest
/// (revision, time of edit, text) counts. Of several versions with the same contents the highest is
/// kept, and a lost deletion has no contents to keep.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct RecordSet {
    by_id: BTreeMap<Id, Versions>,
}

/// The versions of one record.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Versions {
    counts: Record,
    /// By contents, deletions left out.
    others: BTreeMap<String, Record>,
}

/// The text of a record but for its stamp: what makes two versions differ.
pub(super) fn contents(record: &Record) -> String {
    to_text(&record.clone().with_stamp(Stamp { rev: 1, edited_utc_ms: 0 }))
}

/// Whether the first version beats the second.
pub fn beats(one: &Record, other: &Record) -> bool {
    match one.stamp().cmp(&other.stamp()) {
        std::cmp::Ordering::Equal => to_text(one) > to_text(other),
        order => order.is_gt(),
    }
}

/// Whether two versions say the same, whenever they were edited.
pub fn same_contents(one: &Record, other: &Record) -> bool {
    let stamp = one.stamp();
    one == other || *one == other.clone().with_stamp(stamp)
}

impl Versions {
    fn add(&mut self, record: Record) {
        if record == self.counts {
            return;
        }
        let lost = if beats(&record, &self.counts) {
            std::mem::replace(&mut self.counts, record)
        } else {
            record
        };
        self.keep(lost);
        if !self.others.is_empty() {
            self.others.remove(&contents(&self.counts));
        }
    }

    fn keep(&mut self, lost: Record) {
        if lost.is_deleted() {
            return;
        }
        let key = contents(&lost);
        match self.others.get(&key) {
            Some(kept) if !beats(&lost, kept) => {}
            _ => {
                self.others.insert(key, lost);
            }
        }
    }
}

impl RecordSet {
    /// A set of nothing.
    pub fn new() -> Self {
        Self::default()
    }

    /// Adds one version of one record.
    pub fn add(&mut self, record: Record) {
        match self.by_id.entry(record.id()) {
            std::collections::btree_map::Entry::Vacant(place) => {
                place.insert(Versions { counts: record, others: BTreeMap::new() });
            }
            std::collections::btree_map::Entry::Occupied(mut place) => place.get_mut().add(record),
        }
    }

    /// The union of two sets.
    #[must_use]
    pub fn merge(mut self, other: Self) -> Self {
        for record in other.into_versions() {
            self.add(record);
        }
        self
    }

    /// The version of an id that counts.
    pub fn get(&self, id: Id) -> Option<&Record> {
        self.by_id.get(&id).map(|versions| &versions.counts)
    }

    /// The versions that count, by id.
    pub fn counting(&self) -> impl Iterator<Item = &Record> {
        self.by_id.values().map(|versions| &versions.counts)
    }

    /// Whether this very version is in the set: a look-up by its contents, however many there are.
    pub fn holds(&self, record: &Record) -> bool {
        self.by_id.get(&record.id()).is_some_and(|versions| {
            versions.counts == *record || versions.others.get(&contents(record)) == Some(record)
        })
    }

    /// The versions of an id that lost and differ.
    pub fn lost(&self, id: Id) -> impl Iterator<Item = &Record> {
        self.by_id.get(&id).into_iter().flat_map(|versions| versions.others.values())
    }

    /// Every version of every record, those that count before those that lost.
    pub fn into_versions(self) -> impl Iterator<Item = Record> {
        self.by_id.into_values().flat_map(|versions| {
            std::iter::once(versions.counts).chain(versions.others.into_values())
        })
    }

    /// The number of ids.
    pub fn len(&self) -> usize {
        self.by_id.len()
    }

    /// Whether there is nothing.
    pub fn is_empty(&self) -> bool {
        self.by_id.is_empty()
    }
}

impl FromIterator<Record> for RecordSet {
    fn from_iter<T: IntoIterator<Item = Record>>(records: T) -> Self {
        let mut set = Self::new();
        for record in records {
            set.add(record);
        }
        set
    }
}
