use std::collections::BTreeMap;

use super::codec;
use super::format::v1;
use super::migrate::{RECORD_BYTES_MAX, Why, head, shape};
use super::record::{Extra, Tired};
use super::store::{JournalEntry, KeyValue, Store, StoreError};
use super::{Id, LocalId, keys};
use crate::measure::{Reach, Session};

/// How long a passed ready check stands. Design choice: a test rarely takes one hour, and a morning's
/// answer says little about the evening.
pub const READY_LASTS_MS: i64 = 6 * 60 * 60 * 1000;

/// A half-finished test. It remembers that the ready check was passed, and never an answer of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Draft {
    /// The id the test will have, so that saving it twice saves one test.
    pub id: Id,
    /// The step of the flow, by its short name.
    pub step: String,
    /// Whose test it is, once chosen.
    pub person: Option<LocalId>,
    /// The last change, UTC milliseconds.
    pub changed_utc_ms: i64,
    /// When the ready check was passed, UTC milliseconds.
    pub ready_passed_utc_ms: Option<i64>,
    /// What stands in each field, exactly as typed.
    pub typed: BTreeMap<String, String>,
    /// What is measured so far; it holds the trend key, the division and so the unit.
    pub session: Session,
    /// What may lower the score.
    pub tired: Tired,
    /// Fields of a later version.
    pub extra: Extra,
}

impl Draft {
    /// A draft in which nothing has been answered.
    pub fn new(id: Id, step: String, session: Session, now_utc_ms: i64) -> Self {
        Self {
            id,
            step,
            person: None,
            changed_utc_ms: now_utc_ms,
            ready_passed_utc_ms: None,
            typed: BTreeMap::new(),
            session,
            tired: Tired::default(),
            extra: Extra::default(),
        }
    }

    /// Whether the ready check still stands; a clock that went back makes it be asked again.
    pub fn is_ready(&self, now_utc_ms: i64) -> bool {
        self.ready_passed_utc_ms
            .is_some_and(|passed| (0..READY_LASTS_MS).contains(&now_utc_ms.saturating_sub(passed)))
    }

    /// What somebody kept: reaches and trials.
    pub fn kept_readings(&self) -> usize {
        let reaches = match &self.session.reach {
            Reach::Measured(readings) => readings.len(),
            Reach::Reused { .. } | Reach::MarkOnly => 0,
        };
        reaches + self.session.trials.len()
    }

    /// Whether this state of a test counts rather than another one of it. The one that keeps more
    /// does, whatever the clock says: a clock may go back, and to undo a reading again costs a tap,
    /// while a lost one costs a jump.
    fn beats(&self, other: &Self) -> bool {
        let rank = |draft: &Self| (draft.kept_readings(), draft.changed_utc_ms);
        rank(self) > rank(other)
    }

    /// Its line in the journal. Each test has its own, since two tabs may each be in one.
    pub fn journal_line(&self) -> JournalEntry {
        let written_utc_ms = self.changed_utc_ms;
        JournalEntry { key: keys::draft_line(self.id), text: self.to_text(), written_utc_ms }
    }

    /// What takes that line out of the journal: the test was saved, or thrown away.
    pub fn no_journal_line(id: Id, now_utc_ms: i64) -> JournalEntry {
        let (key, text) = (keys::draft_line(id), String::new());
        JournalEntry { key, text, written_utc_ms: now_utc_ms }
    }

    /// Whose line stands where earlier pages kept one line for all half-finished tests.
    pub fn of_one_line(journal: &[JournalEntry]) -> Option<Id> {
        let line = journal.iter().find(|line| line.key == keys::DRAFT)?;
        Self::parse(&line.text).ok().map(|draft| draft.id)
    }

    /// What takes that one line out of the journal.
    pub fn no_one_line(now_utc_ms: i64) -> JournalEntry {
        let (key, text) = (keys::DRAFT.to_owned(), String::new());
        JournalEntry { key, text, written_utc_ms: now_utc_ms }
    }

    /// As it is stored.
    pub fn to_text(&self) -> String {
        // Writing structs with text keys to a string has no way to fail.
        serde_json::to_string(&codec::draft_to_wire(self)).unwrap_or_default()
    }

    /// From stored text.
    ///
    /// # Errors
    /// Why it cannot be read; a later version counts as [`Why::Field`] of `v`.
    pub fn parse(text: &str) -> Result<Self, Why> {
        check_head(text, v1::DRAFT)?;
        codec::draft_from_wire(shape(text)?)
    }
}

/// What became of a half-finished test that was taken over.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum AbsorbedDraft {
    /// Its test is saved.
    Over,
    /// The store knew as much, or has another test with readings of its own.
    Held,
    /// The store has it again.
    Written,
}

/// Whether a text is of this version and kind, and not too long.
pub(super) fn check_head(text: &str, kind: &str) -> Result<(), Why> {
    if text.len() > RECORD_BYTES_MAX {
        return Err(Why::TooLong);
    }
    let head = head(text)?;
    if head.v != v1::VERSION {
        return Err(Why::Field("v"));
    }
    if head.k == kind { Ok(()) } else { Err(Why::Field("k")) }
}

impl<K: KeyValue> Store<K> {
    /// Takes the half-finished test over from the journal, where it was kept last, if the store knows
    /// less of it: a killed browser may have lost what the store was told. A test that was saved, or
    /// deleted, meanwhile needs no draft. Another half-finished test with kept readings is not written
    /// over: the line waits until that one is saved or thrown away.
    ///
    /// # Errors
    /// When the storage does not answer, or has no room.
    pub(super) fn absorb_draft(&self, draft: &Draft) -> Result<AbsorbedDraft, StoreError> {
        if self.test_place(draft.id)?.stored.is_some() {
            return Ok(AbsorbedDraft::Over);
        }
        if let Some(stored) = self.draft()? {
            let is_own = stored.id == draft.id;
            let is_over = !is_own && self.test_place(stored.id)?.stored.is_some();
            let is_in_use = !is_own && !is_over && stored.kept_readings() > 0;
            if is_in_use || (!is_over && !draft.beats(&stored)) {
                return Ok(AbsorbedDraft::Held);
            }
        }
        self.save_draft(draft)?;
        Ok(AbsorbedDraft::Written)
    }

    /// The half-finished test. One that cannot be read is put aside.
    ///
    /// # Errors
    /// When the storage does not answer.
    pub fn draft(&self) -> Result<Option<Draft>, StoreError> {
        let Some(text) = self.storage.get(keys::DRAFT)? else {
            return Ok(None);
        };
        if let Ok(draft) = Draft::parse(&text) {
            return Ok(Some(draft));
        }
        self.set_aside(keys::DRAFT, &text)?;
        Ok(None)
    }

    /// Keeps the half-finished test, in place of an earlier one; one that a later page wrote meanwhile
    /// is put aside.
    ///
    /// # Errors
    /// When it was not written.
    pub fn save_draft(&self, draft: &Draft) -> Result<(), StoreError> {
        self.draft()?;
        self.storage.set(keys::DRAFT, &draft.to_text())
    }

    /// Forgets the half-finished test of this id. That of another tab stays; one that a later page
    /// wrote meanwhile is put aside.
    ///
    /// # Errors
    /// When the storage does not answer.
    pub fn drop_draft(&self, id: Id) -> Result<(), StoreError> {
        match self.draft()? {
            Some(other) if other.id != id => Ok(()),
            _ => self.storage.remove(keys::DRAFT),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::{Hand, TrendKey};
    use crate::quantity::Division;

    fn draft() -> Draft {
        let session = Session::new(TrendKey::USUAL, Hand::Left, Division::InQuarter);
        let mut draft = Draft::new(Id::from_bytes([3; 16]), "reach".to_owned(), session, 5_000);
        draft.ready_passed_utc_ms = Some(1_000);
        draft.typed.insert("reach-1".to_owned(), "88 1/".to_owned());
        draft
    }

    #[test]
    fn a_draft_survives_with_half_a_number_in_it() {
        assert_eq!(Draft::parse(&draft().to_text()), Ok(draft()));
    }

    #[test]
    fn the_check_is_asked_again_after_six_hours_and_when_the_clock_went_back() {
        let hours = |h: i64| 1_000 + h * 3_600_000;
        assert!(draft().is_ready(hours(0)));
        assert!(draft().is_ready(hours(6) - 1));
        assert!(!draft().is_ready(hours(6)));
        assert!(!draft().is_ready(999));
        let unasked = Draft { ready_passed_utc_ms: None, ..draft() };
        assert!(!unasked.is_ready(hours(0)));
    }

    #[test]
    fn the_journal_gives_back_what_a_killed_browser_lost() {
        use crate::history::{JOURNAL_KEPT_MS, Record};
        let (store, _) = Store::open(crate::history::Memory::new()).unwrap();
        let kept = Draft { changed_utc_ms: 9_000, ..draft() };
        // The store was told of an earlier state, or of nothing.
        for known in [None, Some(draft())] {
            store.drop_draft(kept.id).unwrap();
            if let Some(known) = known {
                store.save_draft(&known).unwrap();
            }
            let done = store.reconcile(&[kept.journal_line()], 9_500).unwrap();
            assert!(done.draft && done.prune.is_empty() && done.kept.is_empty());
            assert_eq!(store.draft(), Ok(Some(kept.clone())));
        }
        // A line that says less than the store changes nothing. It stays: another tab may write its
        // own test over what the store knows.
        let line = draft().journal_line();
        let done = store.reconcile(std::slice::from_ref(&line), 9_500).unwrap();
        assert!(!done.draft && done.prune.is_empty());
        let done = store.reconcile(std::slice::from_ref(&line), 5_000 + JOURNAL_KEPT_MS).unwrap();
        assert_eq!((done.draft, done.prune), (false, Vec::<String>::new()));
        assert_eq!(store.draft(), Ok(Some(kept.clone())));
        // Once the test is saved, nothing brings its draft back, not even after it was deleted.
        store.drop_draft(kept.id).unwrap();
        let local = LocalId::parse("abcd").unwrap();
        let at = crate::quantity::Moment { utc_ms: 10_000, offset_minutes: 0 };
        let test = crate::history::Test::new(kept.id, local, at, kept.session.clone());
        store.save_test(&test).unwrap();
        for deleted in [false, true] {
            if deleted {
                store.delete_test(kept.id, 11_000).unwrap();
            }
            let lines =
                [kept.journal_line(), JournalEntry::of(&Record::Test(test.clone()), 10_000)];
            let done = store.reconcile(&lines, 9_500).unwrap();
            assert!(!done.draft && done.prune.contains(&keys::draft_line(kept.id)));
            assert_eq!(store.draft(), Ok(None));
        }
    }

    fn jumped(id: u8, jumps: usize, changed_utc_ms: i64) -> Draft {
        use crate::measure::{FoulReason, Trial};
        let mut draft = Draft { id: Id::from_bytes([id; 16]), changed_utc_ms, ..draft() };
        draft.session.trials = vec![Trial::Foul(FoulReason::Other); jumps];
        draft
    }

    #[test]
    fn a_tab_that_ends_its_test_leaves_the_test_of_another_tab() {
        let (store, _) = Store::open(crate::history::Memory::new()).unwrap();
        let [a, b] = [jumped(1, 3, 5_000), jumped(2, 2, 6_000)];
        let mut journal = vec![a.journal_line(), b.journal_line()];
        assert_ne!(journal[0].key, journal[1].key);
        // Tab B wrote last; tab A ends.
        store.save_draft(&a).unwrap();
        store.save_draft(&b).unwrap();
        store.drop_draft(a.id).unwrap();
        let gone = Draft::no_journal_line(a.id, 7_000);
        journal.retain(|line| line.key != gone.key);
        assert_eq!(store.draft(), Ok(Some(b.clone())));
        // Tab A wrote last, so that the store knew nothing of B: the journal gives it back.
        store.save_draft(&a).unwrap();
        store.drop_draft(a.id).unwrap();
        assert_eq!(store.draft(), Ok(None));
        assert!(store.reconcile(&journal, 7_000).unwrap().draft);
        assert_eq!(store.draft(), Ok(Some(b)));
    }

    #[test]
    fn a_line_writes_over_no_other_test_with_readings_and_waits() {
        use crate::history::JOURNAL_KEPT_MS;
        let (store, _) = Store::open(crate::history::Memory::new()).unwrap();
        let [a, b] = [jumped(1, 1, 5_000), jumped(2, 2, 6_000)];
        store.save_draft(&a).unwrap();
        let lines = [a.journal_line(), b.journal_line()];
        let done = store.reconcile(&lines, 6_000 + JOURNAL_KEPT_MS).unwrap();
        assert!(!done.draft && done.prune.is_empty() && done.kept.is_empty());
        assert_eq!(store.draft(), Ok(Some(a.clone())));
        // One in which nothing is kept gives way, and so does one whose test is saved.
        store.save_draft(&jumped(1, 0, 5_000)).unwrap();
        assert!(store.reconcile(&lines[1..], 7_000).unwrap().draft);
        store.save_draft(&a).unwrap();
        let at = crate::quantity::Moment { utc_ms: 7_000, offset_minutes: 0 };
        let local = LocalId::parse("abcd").unwrap();
        store.save_test(&crate::history::Test::new(a.id, local, at, a.session.clone())).unwrap();
        assert!(store.reconcile(&lines[1..], 7_000).unwrap().draft);
        assert_eq!(store.draft(), Ok(Some(b)));
    }

    #[test]
    fn after_the_clock_went_back_the_state_with_more_readings_counts() {
        let (store, _) = Store::open(crate::history::Memory::new()).unwrap();
        store.save_draft(&jumped(1, 2, 9_000)).unwrap();
        let more = jumped(1, 3, 4_000);
        assert!(store.reconcile(&[more.journal_line()], 9_500).unwrap().draft);
        assert_eq!(store.draft(), Ok(Some(more.clone())));
        let less = jumped(1, 2, 9_900);
        assert!(!store.reconcile(&[less.journal_line()], 9_950).unwrap().draft);
        assert_eq!(store.draft(), Ok(Some(more)));
    }

    #[test]
    fn the_one_line_of_earlier_pages_is_still_taken_over() {
        let (store, _) = Store::open(crate::history::Memory::new()).unwrap();
        let kept = jumped(1, 2, 5_000);
        let line = JournalEntry { key: keys::DRAFT.to_owned(), ..kept.journal_line() };
        assert_eq!(Draft::of_one_line(std::slice::from_ref(&line)), Some(kept.id));
        assert_eq!(Draft::of_one_line(&[kept.journal_line()]), None);
        assert_eq!(Draft::no_one_line(6_000).key, line.key);
        assert!(store.reconcile(&[line], 6_000).unwrap().draft);
        assert_eq!(store.draft(), Ok(Some(kept)));
    }

    #[test]
    fn a_later_draft_is_refused() {
        let later = draft().to_text().replace("\"v\":1", "\"v\":2");
        assert_eq!(Draft::parse(&later), Err(Why::Field("v")));
    }

    #[test]
    fn a_later_draft_is_put_aside_before_it_is_written_over_or_forgotten() {
        let memory = crate::history::Memory::new();
        let (store, _) = Store::open(memory.clone()).unwrap();
        store.save_draft(&draft()).unwrap();
        let [first, second] = [r#"{"v":7,"k":"d","n":1}"#, r#"{"v":7,"k":"d","n":2}"#];
        memory.set(keys::DRAFT, first).unwrap();
        store.save_draft(&draft()).unwrap();
        assert_eq!(store.draft(), Ok(Some(draft())));
        memory.set(keys::DRAFT, second).unwrap();
        store.drop_draft(draft().id).unwrap();
        assert_eq!(store.draft(), Ok(None));
        let aside = store.aside().unwrap();
        assert!([first, second].iter().all(|later| aside.values().any(|text| text == later)));
    }
}
