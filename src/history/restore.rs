//! From a backup file into the store: first a plan that can be shown, then the merge.

use std::collections::{BTreeMap, BTreeSet};

use super::backup::Backup;
use super::merge::{RecordSet, beats, same_contents};
use super::reconcile::{self, Absorbed};
use super::record::{DeletedKind, Record};
use super::store::{JournalEntry, KeyValue, SaveError, Store, StoreError};
use super::unpurge::{self, Purged};
use super::{Id, LocalId};

/// What restoring a backup would do, by id.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Preview {
    /// Not in the store yet.
    pub added: Vec<Id>,
    /// Edited more often in the file: it replaces the stored version, which goes to the bin.
    pub newer: Vec<Id>,
    /// Edited more often in the store: the file's version goes to the bin.
    pub older: Vec<Id>,
    /// The same in both.
    pub same: Vec<Id>,
    /// Edited equally often in both, differently: the later edit counts, the other goes to the bin.
    pub conflicts: Vec<Id>,
    /// Deleted in the store and not in the file: ask before bringing it back from the bin.
    pub deleted_here: Vec<Id>,
    /// Thrown away for good in the store and not in the file: it stays so unless it is chosen.
    pub purged_here: Vec<Purged>,
    /// Thrown away for good in the store with a person or a class that the file does not hold: it
    /// cannot come back by itself.
    pub stays_purged: Vec<Id>,
    /// Deleted in the file and not in the store: it will be in the bin here too.
    pub deleted_there: Vec<Id>,
    /// Thrown away for good in the file and not in the store: its contents will be gone here too,
    /// and those of a person's tests.
    pub purged_there: Vec<Id>,
}

/// A record that was edited equally often in both places, differently.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Conflict {
    /// The version in the store.
    pub here: Record,
    /// The version in the file.
    pub there: Record,
    /// The file's version will count, and the stored one go to the bin; otherwise the other way
    /// round.
    pub there_counts: bool,
}

/// A restore that is ready to be carried out.
#[derive(Clone, Debug)]
pub struct Restore {
    /// What it will do.
    pub preview: Preview,
    /// The conflicts of the preview with both versions, in its order.
    pub conflicts: Vec<Conflict>,
    versions: Vec<Record>,
    counting: RecordSet,
}

impl Restore {
    /// The lines to commit to the durable journal, in one transaction, before carrying it out; if it
    /// is interrupted, reconciling at the next start completes it.
    pub fn journal(&self, now_utc_ms: i64) -> Vec<JournalEntry> {
        let counting = |record: &Record| self.counting.get(record.id()) == Some(record);
        reconcile::lines(&self.versions, counting, now_utc_ms)
    }

    /// Whether anything would be written.
    pub fn changes_nothing(&self) -> bool {
        self.versions.is_empty()
    }
}

impl<K: KeyValue> Store<K> {
    /// Plans a restore. People whose short key is taken here by somebody else get another one, and
    /// their tests with them.
    ///
    /// # Errors
    /// When the storage does not answer.
    pub fn plan_restore(&self, backup: &Backup) -> Result<Restore, StoreError> {
        self.plan_bringing_back(backup, &BTreeSet::new(), 0)
    }

    /// Plans a restore that also brings back what was thrown away here: of
    /// [`Preview::purged_here`] those whose id is chosen, with all that comes with them. They become
    /// edits of that time, after the mark here and the version in the file, so a merge treats them
    /// like any other edit.
    ///
    /// # Errors
    /// When the storage does not answer.
    pub fn plan_bringing_back(
        &self,
        backup: &Backup,
        chosen: &BTreeSet<Id>,
        now_utc_ms: i64,
    ) -> Result<Restore, StoreError> {
        let ours = self.all()?;
        let mut theirs = with_local_ids_of(&ours, &backup.records);
        let (preview, conflicts) = compared(&ours, &theirs);
        let raised = unpurge::raised(&ours, &theirs, &preview.purged_here, chosen, now_utc_ms);
        for record in raised {
            theirs.add(record);
        }
        let merged = ours.clone().merge(theirs.clone());
        let is_new = |record: &Record| !ours.holds(record);
        let kept = |record: &Record| {
            let counts = merged.get(record.id());
            counts == Some(record)
                || (!counts.is_some_and(Record::is_purged) && merged.holds(record))
        };
        let mut versions: Vec<Record> = theirs
            .clone()
            .into_versions()
            .filter(|record| is_new(record) && kept(record))
            .collect();
        versions.sort_by_key(|record| reconcile::order(Some(record)));
        Ok(Restore { preview, conflicts, versions, counting: merged })
    }

    /// Carries a restore out and says how many versions were written. It can be repeated, or
    /// completed after an interruption, without doubling anything.
    ///
    /// # Errors
    /// When a version could not be written; those before it are in the store.
    pub fn carry_out(&self, restore: &Restore) -> Result<usize, SaveError> {
        let mut written = 0;
        for record in &restore.versions {
            if self.absorb(record)? == Absorbed::Written {
                written += 1;
            }
        }
        self.finish_purges()?;
        Ok(written)
    }
}

/// What the file would change, and what was edited in both places.
fn compared(ours: &RecordSet, theirs: &RecordSet) -> (Preview, Vec<Conflict>) {
    let purged = unpurge::purged_here(ours, theirs);
    let mut preview =
        Preview { purged_here: purged.offers, stays_purged: purged.stays, ..Preview::default() };
    let mut conflicts = Vec::new();
    for record in theirs.counting() {
        let list = match ours.get(record.id()) {
            None => &mut preview.added,
            Some(stored) if same_contents(stored, record) => &mut preview.same,
            Some(_) if unpurge::winning_mark(ours, record).is_some() => continue,
            Some(stored) => match (stored.is_deleted(), record.is_deleted()) {
                (true, false) if beats(stored, record) => &mut preview.deleted_here,
                (false, true) if beats(record, stored) && record.is_purged() => {
                    &mut preview.purged_there
                }
                (false, true) if beats(record, stored) => &mut preview.deleted_there,
                _ if stored.stamp().rev == record.stamp().rev => {
                    let (here, there) = (stored.clone(), record.clone());
                    let there_counts = beats(record, stored);
                    conflicts.push(Conflict { here, there, there_counts });
                    &mut preview.conflicts
                }
                _ if beats(record, stored) => &mut preview.newer,
                _ => &mut preview.older,
            },
        };
        list.push(record.id());
    }
    (preview, conflicts)
}

/// The short keys of the people of a set.
fn local_ids(records: &RecordSet) -> BTreeMap<Id, LocalId> {
    let locals = records.counting().filter_map(|record| match record {
        Record::Person(person) => Some((person.id, person.local.clone())),
        Record::Deleted(deleted) => match &deleted.kind {
            DeletedKind::Person(local) => Some((deleted.id, local.clone())),
            DeletedKind::Test | DeletedKind::Class | DeletedKind::ClassResult => None,
        },
        Record::Test(_) | Record::Class(_) | Record::ClassResult(_) => None,
    });
    locals.collect()
}

/// The same records with the short keys that the people have here: their own where known, a free one
/// where somebody else has theirs.
fn with_local_ids_of(ours: &RecordSet, theirs: &RecordSet) -> RecordSet {
    let (here, there) = (local_ids(ours), local_ids(theirs));
    let mut renamed: BTreeMap<LocalId, LocalId> = BTreeMap::new();
    let mut by_id: BTreeMap<Id, LocalId> = BTreeMap::new();
    for (id, local) in &there {
        let is_taken = |wanted: &LocalId| {
            here.iter().chain(&by_id).any(|(other, taken)| other != id && taken == wanted)
        };
        let now = match here.get(id) {
            Some(known) => known.clone(),
            None if is_taken(local) => LocalId::shortest(*id, is_taken),
            None => local.clone(),
        };
        by_id.insert(*id, now.clone());
        renamed.entry(local.clone()).or_insert(now);
    }
    let rename = |mut record: Record| {
        match &mut record {
            Record::Person(person) => {
                if let Some(now) = by_id.get(&person.id) {
                    person.local = now.clone();
                }
            }
            Record::Class(_) | Record::ClassResult(_) => {}
            Record::Test(test) => {
                if let Some(now) = renamed.get(&test.person) {
                    test.person = now.clone();
                }
            }
            Record::Deleted(deleted) => {
                if let (DeletedKind::Person(local), Some(now)) =
                    (&mut deleted.kind, by_id.get(&deleted.id))
                {
                    *local = now.clone();
                }
            }
        }
        record
    };
    theirs.clone().into_versions().map(rename).collect()
}
