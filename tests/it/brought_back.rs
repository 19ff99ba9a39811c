//! What was thrown away for good comes back from a saved file when somebody chooses it, and only then.

use std::collections::BTreeSet;

use two_marks::history::{Backup, Id, Memory, Record, RecordSet, Store, read_backup, write_backup};

use crate::samples::{NOW, id, local, person, wall_test};

fn open(memory: &Memory) -> Store<Memory> {
    Store::open(memory.clone()).unwrap().0
}

fn file_of(store: &Store<Memory>) -> Backup {
    read_backup(&write_backup(&store.record_texts().unwrap(), NOW)).unwrap()
}

/// Mia with two tests, saved to a file, then thrown away; and the file.
fn thrown_away() -> (Memory, Store<Memory>, Backup) {
    let memory = Memory::new();
    let store = open(&memory);
    store.save_person(&person(1, "Mia")).unwrap();
    store.save_test(&wall_test(10, &local(1), &[2650])).unwrap();
    store.save_test(&wall_test(11, &local(1), &[2660])).unwrap();
    let file = file_of(&store);
    store.delete_person(&local(1), NOW + 1).unwrap();
    store.purge(&Record::Person(person(1, "Mia")), NOW + 2).unwrap();
    (memory, store, file)
}

fn chosen(ids: &[Id]) -> BTreeSet<Id> {
    ids.iter().copied().collect()
}

#[test]
fn an_ordinary_restore_tells_what_was_thrown_away_and_leaves_it_away() {
    let (_, store, file) = thrown_away();
    let plan = store.plan_restore(&file).unwrap();
    let [offer] = plan.preview.purged_here.as_slice() else { panic!("{:?}", plan.preview) };
    assert_eq!((offer.record.id(), offer.purged_utc_ms), (id(1), NOW + 2));
    assert_eq!(chosen(&offer.with_it), chosen(&[id(10), id(11)]));
    assert!(plan.preview.deleted_here.is_empty(), "nothing of it is in the bin");
    store.carry_out(&plan).unwrap();
    assert!(store.people().unwrap().is_empty());
}

#[test]
fn a_person_comes_back_with_all_their_tests_and_stays() {
    let (memory, store, file) = thrown_away();
    let plan = store.plan_bringing_back(&file, &chosen(&[id(1)]), NOW + 3).unwrap();
    store.carry_out(&plan).unwrap();
    let again = open(&memory);
    assert_eq!(again.people().unwrap()[0].nickname, "Mia");
    let tests = again.tests_of(&local(1)).unwrap();
    assert_eq!(tests.iter().map(|test| test.id).collect::<Vec<_>>(), [id(10), id(11)]);
    assert!(tests.iter().all(|test| test.stamp.edited_utc_ms == NOW + 3));
    assert!(again.bin().unwrap().is_empty());
    assert!(again.plan_restore(&file).unwrap().preview.purged_here.is_empty());
}

#[test]
fn the_journal_alone_completes_it() {
    let (memory, store, file) = thrown_away();
    let plan = store.plan_bringing_back(&file, &chosen(&[id(1)]), NOW + 3).unwrap();
    let lines = plan.journal(NOW + 3);
    memory.stop_after(2);
    assert!(store.carry_out(&plan).is_err());
    memory.recover();
    let again = open(&memory);
    again.reconcile(&lines, NOW + 4).unwrap();
    assert_eq!(again.tests_of(&local(1)).unwrap().len(), 2);
}

#[test]
fn merging_what_came_back_gives_the_same_in_any_order() {
    let (_, store, file) = thrown_away();
    let marks = store.all().unwrap();
    let plan = store.plan_bringing_back(&file, &chosen(&[id(1)]), NOW + 3).unwrap();
    store.carry_out(&plan).unwrap();
    let back = store.all().unwrap();
    let sets = [marks, file.records, back.clone()];
    for order in [[0, 1, 2], [0, 2, 1], [1, 0, 2], [1, 2, 0], [2, 0, 1], [2, 1, 0]] {
        let merged = order.iter().fold(RecordSet::new(), |all, &at| all.merge(sets[at].clone()));
        for back in back.counting() {
            assert_eq!(merged.get(back.id()), Some(back), "{order:?}");
        }
    }
}

#[test]
fn a_test_thrown_away_alone_comes_back_alone() {
    let memory = Memory::new();
    let store = open(&memory);
    store.save_person(&person(1, "Mia")).unwrap();
    let test = wall_test(10, &local(1), &[2650]);
    store.save_test(&test).unwrap();
    let file = file_of(&store);
    store.delete_test(id(10), NOW + 1).unwrap();
    store.purge(&Record::Test(test.clone()), NOW + 2).unwrap();
    let plan = store.plan_bringing_back(&file, &chosen(&[id(10)]), NOW + 3).unwrap();
    store.carry_out(&plan).unwrap();
    let back = store.test(id(10)).unwrap().unwrap();
    assert_eq!(back.session, test.session);
    assert_eq!(back.stamp.rev, 4, "after the mark of revision 3");
}

#[test]
fn a_test_whose_person_is_not_in_the_file_stays_away() {
    let (_, store, file) = thrown_away();
    let texts: Vec<String> = file
        .records
        .counting()
        .filter(|record| matches!(record, Record::Test(_)))
        .map(two_marks::history::to_text)
        .collect();
    let tests_only = read_backup(&write_backup(&texts, NOW)).unwrap();
    let all = chosen(&[id(10), id(11)]);
    let plan = store.plan_bringing_back(&tests_only, &all, NOW + 3).unwrap();
    assert!(plan.preview.purged_here.is_empty() && plan.changes_nothing());
    assert_eq!(chosen(&plan.preview.stays_purged), all);
}
