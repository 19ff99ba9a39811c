//! Keeping records for years: nothing doubled, nothing mixed, and gone when thrown away.

use two_marks::history::{
    Binned, ExampleWords, JOURNAL_KEPT_MS, JournalEntry, KeyValue, LocalId, Memory, Origin, Record,
    Store, Test, example, keys, read_backup, write_backup,
};
use two_marks::quantity::Moment;
use two_marks::share::csv::{
    Decimal, ImportPlan, names_in, plan_import, read_results, tests_table,
};

use crate::samples::{NOW, id, local, person, wall_test};

const AT: Moment = Moment { utc_ms: NOW, offset_minutes: 120 };

fn store_with_mia() -> (Memory, Store<Memory>) {
    let memory = Memory::new();
    let (store, _) = Store::open(memory.clone()).unwrap();
    store.save_person(&person(1, "Mia")).unwrap();
    (memory, store)
}

/// Plans an import for Mia and carries it out, as the page does.
fn import(store: &Store<Memory>, text: &str, first_id: u64) -> ImportPlan {
    let rows = read_results(text).unwrap().tests;
    let tests = store.tests_of(&local(1)).unwrap();
    let next = std::cell::Cell::new(first_id);
    let new_id = || Some(id(next.replace(next.get() + 1)));
    let is_stored = |id| store.test(id).unwrap().is_some();
    let plan = plan_import(&rows, &local(1), &tests, is_stored, AT, new_id).unwrap();
    for test in &plan.new {
        store.save_test(test).unwrap();
    }
    plan
}

fn counts(plan: &ImportPlan) -> (usize, usize, usize) {
    (plan.new.len(), plan.known, plan.later)
}

#[test]
fn importing_a_file_again_adds_nothing() {
    let (_, store) = store_with_mia();
    // Two equal rows are two tests of that day, and stay two.
    let file = "date,jump_height_cm,jump\n2026-05-03,41.5,standing\n2026-05-03,41.5,standing\n\
        2026-05-10,42,standing\n2026-05-10,42,hips\n";
    assert_eq!(counts(&import(&store, file, 100)), (4, 0, 0));
    assert_eq!(counts(&import(&store, file, 200)), (0, 4, 0));
    let more = format!("{file}2026-05-17,43,standing\n");
    assert_eq!(counts(&import(&store, &more, 300)), (1, 4, 0));
    let tests = store.tests_of(&local(1)).unwrap();
    assert_eq!(tests.len(), 5);
    assert!(tests.iter().all(|test| test.origin == Origin::Imported));
}

#[test]
fn a_file_written_here_finds_its_own_tests_and_those_of_other_people() {
    let (_, store) = store_with_mia();
    store.save_person(&person(2, "Tom")).unwrap();
    let (mine, his) = (wall_test(10, &local(1), &[2650]), wall_test(11, &local(2), &[2700]));
    for test in [&mine, &his] {
        store.save_test(test).unwrap();
    }
    let people = store.people().unwrap();
    for decimal in [Decimal::Point, Decimal::Comma] {
        let file = tests_table(&people, &[mine.clone(), his.clone()], decimal);
        assert_eq!(names_in(&read_results(&file).unwrap().tests), ["Mia", "Tom"]);
        assert_eq!(counts(&import(&store, &file, 100)), (0, 2, 0));
    }
}

#[test]
fn a_day_that_has_not_come_yet_is_left_out() {
    let (_, store) = store_with_mia();
    let file = "date,jump_height_cm\n2026-06-14,41\n2026-06-15,42\n2062-05-03,43\n";
    assert_eq!(counts(&import(&store, file, 100)), (1, 0, 2));
}

#[test]
fn a_test_brought_in_and_deleted_can_be_brought_in_again() {
    let (_, store) = store_with_mia();
    let file = "date,jump_height_cm\n2026-05-03,41.5\n";
    let plan = import(&store, file, 100);
    store.delete_test(plan.new[0].id, NOW).unwrap();
    assert_eq!(counts(&import(&store, file, 200)), (1, 0, 0));
}

fn note(text: &str, test: &Test) -> Test {
    Test { note: text.to_owned(), ..test.clone() }
}

/// Two devices edited the same test; what the second device has, as a backup.
fn edited_in_two_places() -> (Memory, Store<Memory>, String) {
    let (memory, store) = store_with_mia();
    let test = wall_test(10, &local(1), &[2650]);
    store.save_test(&test).unwrap();
    let (there, _) = Store::open(memory.detached()).unwrap();
    store.edit_test(&note("here", &test), NOW + 1).unwrap();
    there.edit_test(&note("there", &test), NOW + 2).unwrap();
    let file = write_backup(&there.record_texts().unwrap(), NOW);
    (memory, store, file)
}

#[test]
fn a_conflict_says_which_version_will_count() {
    let (_, store, file) = edited_in_two_places();
    let plan = store.plan_restore(&read_backup(&file).unwrap()).unwrap();
    let [conflict] = plan.conflicts.as_slice() else { panic!("{:?}", plan.conflicts) };
    let said = |record: &Record| match record {
        Record::Test(test) => test.note.clone(),
        _ => String::new(),
    };
    assert_eq!(
        (said(&conflict.here), said(&conflict.there)),
        ("here".to_owned(), "there".to_owned())
    );
    assert!(conflict.there_counts);
    store.carry_out(&plan).unwrap();
    // What was announced is what happened.
    assert_eq!(store.test(id(10)).unwrap().unwrap().note, "there");
    let bin = store.bin().unwrap();
    assert_eq!((bin.len(), bin[0].reason), (1, Binned::Replaced));
    assert_eq!(said(&bin[0].record), "here");
}

#[test]
fn a_replaced_version_that_was_thrown_away_does_not_come_back_from_the_journal() {
    let (_, store, file) = edited_in_two_places();
    let there = read_backup(&file).unwrap();
    // The store wins this time, so the file's version goes to the bin, and into the journal with it.
    let here = store.test(id(10)).unwrap().unwrap();
    store.edit_test(&here, NOW + 3).unwrap();
    let plan = store.plan_restore(&there).unwrap();
    let mut journal = plan.journal(NOW);
    store.carry_out(&plan).unwrap();
    assert_eq!(store.bin().unwrap().len(), 1);
    let (lines, done) = store.empty_bin(NOW + 4);
    assert_eq!(done, Ok(()));
    put(&mut journal, lines);
    store.reconcile(&journal, NOW + 5).unwrap();
    assert_eq!(store.bin().unwrap(), []);
    assert_eq!(store.test(id(10)).unwrap().unwrap().note, "here");
}

/// Lines over older ones of the same keys, as the journal does it.
fn put(journal: &mut Vec<JournalEntry>, lines: Vec<JournalEntry>) {
    for line in lines {
        journal.retain(|old| old.key != line.key);
        journal.push(line);
    }
}

#[test]
fn an_emptied_bin_stays_empty_and_leaves_the_rest_alone() {
    let (memory, store) = store_with_mia();
    store.save_person(&person(2, "Tom")).unwrap();
    for (number, of) in [(10, 1), (11, 1), (20, 2)] {
        store.save_test(&note("words", &wall_test(number, &local(of), &[2650]))).unwrap();
    }
    let mut journal = vec![store.delete_test(id(10), NOW + 1).unwrap()];
    journal.push(store.delete_person(&local(2), NOW + 1).unwrap());
    let (lines, done) = store.empty_bin(NOW + 2);
    assert_eq!(done, Ok(()));
    put(&mut journal, lines);
    assert_eq!(store.bin().unwrap(), []);
    let (again, _) = Store::open(memory.clone()).unwrap();
    again.reconcile(&journal, NOW + 3 + JOURNAL_KEPT_MS).unwrap();
    assert_eq!(again.bin().unwrap(), []);
    assert_eq!(again.people().unwrap().len(), 1);
    assert_eq!(again.tests_of(&local(1)).unwrap().len(), 1);
    let left = memory.values().into_values().filter(|text| text.contains("words")).count();
    assert_eq!(left, 1, "only the test that was never deleted still has its note");
}

#[test]
fn a_bin_that_cannot_be_emptied_says_so_and_can_be_emptied_later() {
    let (memory, store) = store_with_mia();
    for number in 10..14 {
        store.save_test(&wall_test(number, &local(1), &[2650])).unwrap();
        store.delete_test(id(number), NOW + 1).unwrap();
    }
    memory.stop_after(5);
    let (lines, done) = store.empty_bin(NOW + 2);
    assert!(done.is_err() && !lines.is_empty());
    memory.recover();
    let (store, _) = Store::open(memory).unwrap();
    assert_eq!(store.empty_bin(NOW + 3).1, Ok(()));
    assert_eq!(store.bin().unwrap(), []);
}

const WORDS: ExampleWords<'_> =
    ExampleWords { younger: "A", older: "B", practice_began: "c", after_break: "d" };

#[test]
fn the_example_fits_into_a_store_of_its_own_and_shares_no_key_with_another() {
    let (real, store) = store_with_mia();
    store.save_test(&wall_test(10, &local(1), &[2650])).unwrap();
    let before = real.values();
    let shelf = Memory::new();
    let (shown, _) = Store::open(shelf.clone()).unwrap();
    shown.keep_all(&example(WORDS, AT)).unwrap();
    let people = shown.people().unwrap();
    let tests = |person: &LocalId| shown.tests_of(person).unwrap().len();
    assert_eq!(people.iter().map(|person| tests(&person.local)).collect::<Vec<_>>(), [15, 15]);
    let (_, troubles) = Store::open(shelf.clone()).unwrap();
    assert_eq!(troubles, []);
    assert_eq!(real.values(), before);
    let records = shelf.keys_with_prefix(keys::RECORDS).unwrap();
    assert!(records.iter().all(|key| !before.contains_key(key)));
}
