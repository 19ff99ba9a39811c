//! Taking records over from elsewhere: from the browser's durable journal at start, and from a
//! backup. Both go through the same merge, so doing it twice, or in pieces, changes nothing more.

use super::bin::bin_name;
use super::draft::{AbsorbedDraft, Draft};
use super::keys;
use super::merge::{beats, same_contents};
use super::migrate::{Read, read};
use super::record::Record;
use super::store::{JournalEntry, KeyValue, SaveError, Store, StoreError};

/// A line of the journal is kept at least this long. Design choice: after a reload the store may
/// show what the browser has not yet written to disk (seen: a write still lost after 30 s), so
/// "the store holds it" alone is not enough.
pub const JOURNAL_KEPT_MS: i64 = 60 * 60 * 1000;

/// What reconciling came to.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Reconciled {
    /// Records that the store had lost and has again.
    pub recovered: usize,
    /// The half-finished test is among what the store had lost.
    pub draft: bool,
    /// Keys of lines that the journal may drop.
    pub prune: Vec<String>,
    /// Keys of lines that could not be taken over; they stay in the journal.
    pub kept: Vec<String>,
}

impl<K: KeyValue> Store<K> {
    /// Brings the store up to the journal, at start.
    ///
    /// # Errors
    /// When the storage does not answer. Single lines that cannot be written are in
    /// [`Reconciled::kept`].
    pub fn reconcile(
        &self,
        journal: &[JournalEntry],
        now_utc_ms: i64,
    ) -> Result<Reconciled, StoreError> {
        let mut done = Reconciled::default();
        let mut lines: Vec<(&JournalEntry, Option<Record>)> = journal
            .iter()
            .map(|line| match read(&line.text) {
                Read::Good(record) => (line, Some(*record)),
                Read::Newer { .. } | Read::Unreadable { .. } => (line, None),
            })
            .collect();
        lines.sort_by_key(|(line, record)| (order(record.as_ref()), line.key.clone()));
        for (line, record) in lines {
            if keys::is_draft_line(&line.key) {
                self.reconcile_draft(line, &mut done)?;
                continue;
            }
            let Some(record) = record else {
                done.kept.push(line.key.clone());
                continue;
            };
            match self.absorb(&record) {
                Ok(Absorbed::Held) => {
                    let age = now_utc_ms.saturating_sub(line.written_utc_ms);
                    if age >= JOURNAL_KEPT_MS {
                        done.prune.push(line.key.clone());
                    }
                }
                Ok(Absorbed::Written) => done.recovered += 1,
                Err(SaveError::Storage(StoreError::Blocked)) => return Err(StoreError::Blocked),
                Err(_) => done.kept.push(line.key.clone()),
            }
        }
        self.finish_purges()?;
        Ok(done)
    }

    /// A line stays until its test is saved or thrown away: the store has room for one half-finished
    /// test, and another tab may write its own over it at any time.
    fn reconcile_draft(
        &self,
        line: &JournalEntry,
        done: &mut Reconciled,
    ) -> Result<(), StoreError> {
        let absorbed = match Draft::parse(&line.text) {
            Ok(draft) => self.absorb_draft(&draft),
            Err(_) => Err(StoreError::Other),
        };
        match absorbed {
            Ok(AbsorbedDraft::Over) => done.prune.push(line.key.clone()),
            Ok(AbsorbedDraft::Held) => {}
            Ok(AbsorbedDraft::Written) => done.draft = true,
            Err(StoreError::Blocked) => return Err(StoreError::Blocked),
            Err(_) => done.kept.push(line.key.clone()),
        }
        Ok(())
    }

    /// Takes over one version: it counts from now on if it beats the stored one, otherwise it goes to
    /// the bin if it says something else.
    pub(super) fn absorb(&self, record: &Record) -> Result<Absorbed, SaveError> {
        let place = self.place_of(record)?;
        let Some(stored) = &place.stored else {
            self.put(&place, record)?;
            return Ok(Absorbed::Written);
        };
        if stored == record {
            return Ok(Absorbed::Held);
        }
        if beats(record, stored) {
            let contents_go = record.is_purged() || stored.is_deleted();
            if !contents_go && !same_contents(stored, record) {
                self.put_in_bin(stored)?;
            }
            self.put(&place, record)?;
            return Ok(Absorbed::Written);
        }
        if record.is_deleted() || stored.is_purged() || same_contents(stored, record) {
            return Ok(Absorbed::Held);
        }
        let held = self.is_in_bin(record)?;
        self.put_in_bin(record)?;
        Ok(if held { Absorbed::Held } else { Absorbed::Written })
    }
}

/// What became of a version that was taken over.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Absorbed {
    /// The store held it, or had no use for it.
    Held,
    /// It was written.
    Written,
}

/// People and classes before their tests, so that a stop in between leaves no test on its own.
pub(super) const fn order(record: Option<&Record>) -> u8 {
    match record {
        Some(Record::Person(_) | Record::Class(_)) => 0,
        Some(Record::Test(_) | Record::ClassResult(_) | Record::Deleted(_)) => 1,
        None => 2,
    }
}

/// The lines that make a set of versions durable before they are written to the store.
pub(super) fn lines(
    versions: &[Record],
    counting: impl Fn(&Record) -> bool,
    now: i64,
) -> Vec<JournalEntry> {
    let line = |record: &Record| {
        let line = JournalEntry::of(record, now);
        if counting(record) { line } else { JournalEntry { key: bin_name(record), ..line } }
    };
    versions.iter().map(line).collect()
}
