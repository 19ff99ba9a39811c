//! The browser may be killed between any two writes. Each job is stopped after each of its writes, the
//! storage is opened again, and what it holds is the state before or the state after, never a third.

use two_marks::history::{
    BinEntry, JournalEntry, KeyValue, Memory, RecordSet, SaveError, Season, Store, Test,
    read_backup, write_backup,
};

use crate::samples::{NOW, id, local, person, wall_test};

/// What a person can see of a store.
#[derive(Clone, Debug, PartialEq)]
struct Seen {
    people: Vec<String>,
    tests: Vec<Vec<Test>>,
    by_season: Vec<Vec<Test>>,
    bin: Vec<BinEntry>,
}

fn seen(memory: &Memory) -> Seen {
    let (store, troubles) = Store::open(memory.clone()).unwrap();
    assert_eq!(troubles, []);
    let locals = [local(1), local(2)];
    let seasons = [2024, 2025, 2026].map(|first_year| Season { first_year });
    Seen {
        people: store.people().unwrap().into_iter().map(|person| person.nickname).collect(),
        tests: locals.iter().map(|local| store.tests_of(local).unwrap()).collect(),
        by_season: locals
            .iter()
            .flat_map(|local| seasons.map(|season| store.tests_in(local, season).unwrap()))
            .collect(),
        bin: store.bin().unwrap(),
    }
}

type Job = dyn Fn(&Store<Memory>) -> Result<(), SaveError>;

/// Runs the job whole once, then stopped after each of its writes, and compares what is seen.
fn check(before: &Memory, job: &Job) {
    let old = seen(before);
    let whole = before.detached();
    let (store, _) = Store::open(whole.clone()).unwrap();
    let start = whole.writes();
    job(&store).unwrap();
    let writes = whole.writes() - start;
    let new = seen(&whole);
    assert_ne!(old, new);
    assert!(writes > 0);
    for stop in 0..writes {
        let memory = before.detached();
        let (store, _) = Store::open(memory.clone()).unwrap();
        memory.stop_after(stop);
        let result = job(&store);
        memory.recover();
        let now = seen(&memory);
        assert!(now == old || now == new, "stopped after {stop} of {writes}: {now:#?}");
        // Failure after the record itself was written is not reported: it is saved.
        assert!(result.is_err() || now == new);
    }
}

fn some_records() -> Memory {
    let memory = Memory::new();
    let (store, _) = Store::open(memory.clone()).unwrap();
    for (number, nickname) in [(1, "Mia"), (2, "Tom")] {
        store.save_person(&person(number, nickname)).unwrap();
    }
    store.save_test(&wall_test(10, &local(1), &[2650, 2660, 2665])).unwrap();
    store.save_test(&wall_test(11, &local(1), &[2670])).unwrap();
    memory
}

fn in_another_season(test: &Test) -> Test {
    let date = test.date + chrono::TimeDelta::days(100);
    Test { date, ..test.clone() }
}

#[test]
fn saving_a_person_or_a_test() {
    let before = some_records();
    check(&before, &|store| store.save_person(&person(3, "Ada")).map(drop));
    check(&before, &|store| store.save_test(&wall_test(12, &local(2), &[2700])).map(drop));
}

#[test]
fn editing_and_moving_a_test() {
    let before = some_records();
    let test = wall_test(10, &local(1), &[2650, 2660, 2665]);
    let edits = [
        Test { note: "wet".to_owned(), ..test.clone() },
        in_another_season(&test),
        Test { person: local(2), ..test.clone() },
        in_another_season(&Test { person: local(2), ..test }),
    ];
    for edited in edits {
        check(&before, &move |store| store.edit_test(&edited, NOW + 1).map(drop));
    }
}

#[test]
fn deleting_and_bringing_back() {
    let before = some_records();
    check(&before, &|store| store.delete_test(id(10), NOW + 1).map(drop));
    check(&before, &|store| store.delete_person(&local(1), NOW + 1).map(drop));
    let (store, _) = Store::open(before.clone()).unwrap();
    store.delete_test(id(10), NOW + 1).unwrap();
    store.delete_person(&local(1), NOW + 2).unwrap();
    for entry in store.bin().unwrap() {
        check(&before, &move |store| store.bring_back(&entry.record, NOW + 3).map(drop));
    }
}

#[test]
fn throwing_away() {
    let before = some_records();
    let (store, _) = Store::open(before.clone()).unwrap();
    store.delete_test(id(10), NOW + 1).unwrap();
    let test = store.bin().unwrap().remove(0);
    check(&before, &move |store| store.purge(&test.record, NOW + 3).map(drop));
    store.delete_person(&local(1), NOW + 2).unwrap();
    let person = store.bin().unwrap().remove(0);
    check(&before, &move |store| store.purge(&person.record, NOW + 3).map(drop));
}

/// A file with a new person, a new test, a newer version and a deletion.
fn elsewhere() -> String {
    let memory = some_records();
    let (store, _) = Store::open(memory).unwrap();
    store.save_person(&person(3, "Ada")).unwrap();
    store.save_test(&wall_test(13, &local(2), &[2710])).unwrap();
    let test = wall_test(10, &local(1), &[2650, 2660, 2665]);
    store.edit_test(&Test { note: "edited".to_owned(), ..test }, NOW + 1).unwrap();
    store.delete_test(id(11), NOW + 2).unwrap();
    write_backup(&store.record_texts().unwrap(), NOW)
}

/// A restore is many writes: its lines go to the journal in one transaction first, and the next start
/// completes it from there.
#[test]
fn restoring_a_backup() {
    let backup = read_backup(&elsewhere()).unwrap();
    let before = some_records();
    let whole = before.detached();
    let (store, _) = Store::open(whole.clone()).unwrap();
    let restore = store.plan_restore(&backup).unwrap();
    let start = whole.writes();
    store.carry_out(&restore).unwrap();
    let writes = whole.writes() - start;
    assert!(writes > 5);
    let new = seen(&whole);
    for stop in 0..=writes {
        let memory = before.detached();
        let (store, _) = Store::open(memory.clone()).unwrap();
        let restore = store.plan_restore(&backup).unwrap();
        let journal = restore.journal(NOW + 5);
        memory.stop_after(stop);
        let done = store.carry_out(&restore);
        memory.recover();
        // The last write only tidies a list, so its failure is none.
        assert!(done.is_err() || seen(&memory) == new);
        let (store, _) = Store::open(memory.clone()).unwrap();
        store.reconcile(&journal, NOW + 6).unwrap();
        assert_eq!(seen(&memory), new, "stopped after {stop} of {writes}");
    }
}

/// The store loses its latest writes when the browser is killed; the journal does not.
#[test]
fn the_journal_brings_back_what_the_store_lost() {
    let before = some_records();
    let after = before.detached();
    let (store, _) = Store::open(after.clone()).unwrap();
    let mut journal: Vec<JournalEntry> = Vec::new();
    journal.push(store.save_person(&person(3, "Ada")).unwrap());
    journal.push(store.save_test(&wall_test(14, &local(3), &[2600])).unwrap());
    journal.push(store.delete_test(id(10), NOW + 1).unwrap());
    let test = wall_test(11, &local(1), &[2670]);
    journal.push(store.edit_test(&Test { practice: true, ..test }, NOW + 2).unwrap().1);
    journal.push(store.delete_person(&local(2), NOW + 3).unwrap());
    let (lost, _) = Store::open(before.clone()).unwrap();
    let done = lost.reconcile(&journal, NOW + 4).unwrap();
    assert_eq!((done.recovered, done.kept.len(), done.prune.len()), (5, 0, 0));
    let (back, kept) = (seen(&before), seen(&after));
    assert_eq!((back.people, back.tests), (kept.people, kept.tests));
    // The journal line replaced what was edited; the version before it is not lost either.
    assert!(kept.bin.iter().all(|entry| back.bin.contains(entry)));
    let again = lost.reconcile(&journal, NOW + 5).unwrap();
    assert_eq!((again.recovered, again.prune.len()), (0, 0));
    let next_day = lost.reconcile(&journal, NOW + 24 * 3_600_000).unwrap();
    assert_eq!(next_day.prune.len(), 5);
    assert_eq!(lost.reconcile(&journal, NOW - 1).unwrap().prune.len(), 0);
}

#[test]
fn a_full_storage_changes_nothing_and_says_so() {
    let before = some_records();
    let old = seen(&before);
    before.limit_to(before.units() + 50);
    let (store, _) = Store::open(before.clone()).unwrap();
    let full = store.save_test(&wall_test(12, &local(1), &[2700]));
    assert_eq!(full, Err(SaveError::Storage(two_marks::history::StoreError::Full)));
    assert!(store.delete_test(id(10), NOW).is_err());
    before.recover();
    assert_eq!(seen(&before), old);
}

#[test]
fn room_for_the_record_but_not_for_the_list_is_enough() {
    let before = some_records();
    let test = wall_test(12, &local(2), &[2700]);
    let text = two_marks::history::to_text(&two_marks::history::Record::Test(test.clone()));
    before.limit_to(before.units() + "two-marks/r/t/123456".len() + text.len());
    let (store, _) = Store::open(before.clone()).unwrap();
    store.save_test(&test).unwrap();
    assert_eq!(store.tests_of(&local(2)).unwrap(), std::slice::from_ref(&test));
    let (again, _) = Store::open(before.clone()).unwrap();
    assert_eq!(again.tests_of(&local(2)).unwrap(), [test]);
}

#[test]
fn nothing_is_written_by_opening_a_sound_store() {
    let memory = some_records();
    let writes = memory.writes();
    let _ = seen(&memory);
    assert_eq!(memory.writes(), writes);
    let all: RecordSet = Store::open(memory.clone()).unwrap().0.all().unwrap();
    assert_eq!(all.len(), 4);
    assert!(memory.get("two-marks/s").unwrap().is_none());
}
