//! What was thrown away here and stands in a file: a person may bring it back, each thing on purpose.

use std::collections::{BTreeMap, BTreeSet};

use super::merge::{RecordSet, beats};
use super::record::{Deleted, DeletedKind, Record, Stamp};
use super::{Id, LocalId};

/// Something thrown away for good here whose contents stand in the file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Purged {
    /// The file's version: a person or a class, or a test or a result that was thrown away alone.
    pub record: Record,
    /// When it was thrown away, UTC milliseconds by the clock of the device that did.
    pub purged_utc_ms: i64,
    /// The tests of the person, or the results of the class, that come back with it.
    pub with_it: Vec<Id>,
}

/// The file's live records over which a purge mark of the store wins, sorted by what they belong to.
#[derive(Default)]
pub(super) struct PurgedHere {
    /// What can be asked about, in the order of the file's ids.
    pub(super) offers: Vec<Purged>,
    /// What stays away: its person or class is thrown away, and is not in the file.
    pub(super) stays: Vec<Id>,
}

/// The mark of the store that wins over a live record of the file.
pub(super) fn winning_mark<'a>(ours: &'a RecordSet, record: &Record) -> Option<&'a Deleted> {
    match ours.get(record.id()) {
        Some(stored @ Record::Deleted(mark))
            if mark.purged && !record.is_deleted() && beats(stored, record) =>
        {
            Some(mark)
        }
        _ => None,
    }
}

/// Sorts what was thrown away here by what would come back together.
pub(super) fn purged_here(ours: &RecordSet, theirs: &RecordSet) -> PurgedHere {
    let mut parents: BTreeMap<Id, Purged> = BTreeMap::new();
    let mut parts = Vec::new();
    for record in theirs.counting() {
        let Some(mark) = winning_mark(ours, record) else { continue };
        let purged_utc_ms = mark.stamp.edited_utc_ms;
        let offer = Purged { record: record.clone(), purged_utc_ms, with_it: Vec::new() };
        match record {
            Record::Person(_) | Record::Class(_) => {
                parents.insert(record.id(), offer);
            }
            Record::Test(_) | Record::ClassResult(_) | Record::Deleted(_) => parts.push(offer),
        }
    }
    let gone_people = purged_people(ours);
    let mut found = PurgedHere::default();
    let mut alone = Vec::new();
    for part in parts {
        let gone = match &part.record {
            Record::Test(test) => gone_people.get(&test.person).copied(),
            Record::ClassResult(result) => {
                ours.get(result.class).filter(|class| class.is_purged()).map(Record::id)
            }
            Record::Person(_) | Record::Class(_) | Record::Deleted(_) => None,
        };
        match gone.map(|parent| (parents.get_mut(&parent), theirs.get(parent))) {
            Some((Some(parent), _)) => parent.with_it.push(part.record.id()),
            // The file's version of the person or class wins over the mark by itself.
            Some((None, Some(parent))) if !parent.is_deleted() => alone.push(part),
            Some((None, _)) => found.stays.push(part.record.id()),
            None => alone.push(part),
        }
    }
    found.offers = parents.into_values().chain(alone).collect();
    found
}

fn purged_people(ours: &RecordSet) -> BTreeMap<LocalId, Id> {
    let gone = ours.counting().filter_map(|record| match record {
        Record::Deleted(Deleted { id, kind: DeletedKind::Person(local), purged: true, .. }) => {
            Some((local.clone(), *id))
        }
        _ => None,
    });
    gone.collect()
}

/// The file's versions of what was chosen, each with everything that comes back with it, as edits
/// that come after the marks and after the file.
pub(super) fn raised(
    ours: &RecordSet,
    theirs: &RecordSet,
    offers: &[Purged],
    chosen: &BTreeSet<Id>,
    now_utc_ms: i64,
) -> Vec<Record> {
    let ids = offers
        .iter()
        .filter(|offer| chosen.contains(&offer.record.id()))
        .flat_map(|offer| std::iter::once(offer.record.id()).chain(offer.with_it.iter().copied()));
    let raise = |id: Id| {
        let record = theirs.get(id)?;
        let rev = winning_mark(ours, record)?.stamp.rev.max(record.stamp().rev).saturating_add(1);
        Some(record.clone().with_stamp(Stamp { rev, edited_utc_ms: now_utc_ms }))
    };
    ids.filter_map(raise).collect()
}
