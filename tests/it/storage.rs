//! The store, merging and backups: nothing is lost, doubled or mixed up.

use proptest::prelude::*;
use two_marks::history::{
    Binned, DeletedKind, INDEX_BYTES_MAX, KeyValue, LocalId, Memory, Record, RecordSet, SaveError,
    Season, Store, SumCheck, Test, Trouble, keys, read_backup, to_text, write_backup,
};

use crate::samples::{NOW, any_record, id, local, person, wall_test};

fn open(memory: &Memory) -> Store<Memory> {
    Store::open(memory.clone()).unwrap().0
}

fn with_mia() -> (Memory, Store<Memory>) {
    let memory = Memory::new();
    let store = open(&memory);
    store.save_person(&person(1, "Mia")).unwrap();
    (memory, store)
}

fn key_of(test: &Test) -> String {
    format!("{}{}", keys::TESTS, test.id.to_string().split_at(6).0)
}

#[test]
fn a_saved_test_is_there_after_reopening() {
    let (memory, store) = with_mia();
    let test = wall_test(10, &local(1), &[2650, 2660, 2665]);
    store.save_test(&test).unwrap();
    let again = open(&memory);
    assert_eq!(again.tests_of(&local(1)).unwrap(), std::slice::from_ref(&test));
    let season = Season::of(test.date);
    assert_eq!(again.tests_in(&local(1), season).unwrap(), std::slice::from_ref(&test));
    assert_eq!(again.tests_in(&local(1), Season { first_year: 2020 }).unwrap(), []);
    // A second tap saves nothing twice.
    again.save_test(&test).unwrap();
    assert_eq!(again.tests_of(&local(1)).unwrap().len(), 1);
}

#[test]
fn every_record_lies_under_the_prefix_that_the_emergency_script_saves() {
    let (memory, store) = with_mia();
    store.save_test(&wall_test(10, &local(1), &[2650])).unwrap();
    store.delete_test(id(10), NOW).unwrap();
    let values = memory.values();
    let keys: Vec<&String> =
        values.iter().filter(|(_, text)| text.starts_with("{\"v\"")).map(|(key, _)| key).collect();
    assert_eq!(keys.len(), 3);
    assert!(keys.iter().all(|key| key.starts_with("two-marks/r/")));
}

#[test]
fn the_slower_of_two_tabs_is_refused() {
    let (memory, one) = with_mia();
    let other = open(&memory);
    let test = wall_test(10, &local(1), &[2650]);
    one.save_test(&test).unwrap();
    let (edited, _) =
        one.edit_test(&Test { note: "one".to_owned(), ..test.clone() }, NOW + 1).unwrap();
    let late = other.edit_test(&Test { note: "other".to_owned(), ..test.clone() }, NOW + 2);
    assert_eq!(late.map(drop), Err(SaveError::Stale { stored_rev: 2 }));
    assert_eq!(other.test(test.id).unwrap(), Some(edited.clone()));
    let again = other.edit_test(&Test { note: "other".to_owned(), ..edited }, NOW + 3).unwrap();
    assert_eq!(again.0.stamp.rev, 3);
    // Deleted meanwhile is stale too.
    one.delete_test(test.id, NOW + 4).unwrap();
    assert_eq!(
        other.edit_test(&again.0, NOW + 5).map(drop),
        Err(SaveError::Stale { stored_rev: 4 })
    );
}

#[test]
fn a_list_is_rebuilt_when_missing_or_wrong() {
    let (memory, store) = with_mia();
    let tests = [10, 11, 12].map(|number| wall_test(number, &local(1), &[2650]));
    for test in &tests {
        store.save_test(test).unwrap();
    }
    let list = memory.keys_with_prefix(keys::INDEX).unwrap().remove(0);
    for broken in [None, Some(""), Some("\u{fffd}{}"), Some("ABCDEF ABCDEFG")] {
        match broken {
            None => memory.remove(&list).unwrap(),
            Some(text) => memory.set(&list, text).unwrap(),
        }
        assert_eq!(open(&memory).tests_of(&local(1)).unwrap().len(), 3);
        assert!(!memory.get(&list).unwrap().unwrap().contains("ABCDEF"));
    }
}

#[test]
fn no_list_outgrows_its_key() {
    let (memory, store) = with_mia();
    for number in 0..6_000 {
        store.save_test(&wall_test(number, &local(1), &[2650])).unwrap();
    }
    let lists = memory.keys_with_prefix(keys::INDEX).unwrap();
    assert_eq!(lists.len(), 3);
    for key in lists {
        assert!(memory.get(&key).unwrap().unwrap().len() <= INDEX_BYTES_MAX);
    }
    assert_eq!(open(&memory).tests_of(&local(1)).unwrap().len(), 6_000);
}

#[test]
fn a_corrupted_value_is_put_aside_and_never_overwritten() {
    let (memory, store) = with_mia();
    let test = wall_test(10, &local(1), &[2650]);
    store.save_test(&test).unwrap();
    memory.set(&key_of(&test), "{\"v\":1,\"k\":\"t\",").unwrap();
    let list = memory.keys_with_prefix(keys::INDEX).unwrap().remove(0);
    memory.remove(&list).unwrap();
    let (store, troubles) = Store::open(memory.clone()).unwrap();
    assert!(matches!(troubles.as_slice(), [Trouble::SetAside { .. }]));
    assert_eq!(store.tests_of(&local(1)).unwrap(), []);
    let aside = store.aside().unwrap();
    assert_eq!(aside.values().collect::<Vec<_>>(), ["{\"v\":1,\"k\":\"t\","]);
    // A second damage of the same key does not write over the first.
    memory.set(&key_of(&test), "again").unwrap();
    let (store, _) = Store::open(memory).unwrap();
    assert_eq!(store.aside().unwrap().len(), 2);
}

#[test]
fn a_damaged_listed_test_is_not_written_over_by_saving_it_again() {
    let (memory, store) = with_mia();
    let test = wall_test(10, &local(1), &[2650]);
    store.save_test(&test).unwrap();
    memory.set(&key_of(&test), "damaged").unwrap();
    let store = open(&memory);
    store.save_test(&test).unwrap();
    assert_eq!(store.tests_of(&local(1)).unwrap(), std::slice::from_ref(&test));
    let kept = memory.values().into_values().filter(|text| text == "damaged").count();
    assert_eq!(kept, 1);
}

#[test]
fn data_of_a_later_version_stays_where_it_is() {
    let (memory, store) = with_mia();
    let later = r#"{"v":7,"k":"t","new":true}"#;
    let test = wall_test(10, &local(1), &[2650]);
    memory.set(&key_of(&test), later).unwrap();
    memory.set("two-marks/r/p/zzzz", later).unwrap();
    let (again, troubles) = Store::open(memory.clone()).unwrap();
    assert_eq!(troubles.len(), 2);
    assert!(troubles.iter().all(|trouble| matches!(trouble, Trouble::Newer { version: 7, .. })));
    store.save_test(&test).unwrap();
    assert_eq!(memory.get(&key_of(&test)).unwrap().as_deref(), Some(later));
    assert_eq!(again.tests_of(&local(1)).unwrap(), [test]);
    let taken =
        two_marks::history::Person { local: LocalId::parse("zzzz").unwrap(), ..person(3, "Ada") };
    assert_eq!(store.save_person(&taken), Err(SaveError::Newer));
    // A backup takes it along as it is.
    let file = write_backup(&again.record_texts().unwrap(), NOW);
    assert_eq!(read_backup(&file).unwrap().newer.len(), 2);
}

#[test]
fn deleting_a_person_hides_their_tests_and_one_write_brings_all_back() {
    let (memory, store) = with_mia();
    store.save_test(&wall_test(10, &local(1), &[2650])).unwrap();
    store.delete_person(&local(1), NOW + 1).unwrap();
    assert_eq!(open(&memory).people().unwrap(), []);
    let bin = store.bin().unwrap();
    assert_eq!((bin.len(), bin[0].reason, bin[0].since_utc_ms), (1, Binned::Deleted, NOW + 1));
    assert!(!bin[0].purge_is_offered(NOW + 1 + 30 * 86_400_000 - 1));
    assert!(bin[0].purge_is_offered(NOW + 1 + 30 * 86_400_000));
    store.bring_back(&bin[0].record, NOW + 2).unwrap();
    assert_eq!(store.people().unwrap()[0].nickname, "Mia");
    assert_eq!(store.tests_of(&local(1)).unwrap().len(), 1);
    assert_eq!(store.bin().unwrap(), []);
    assert_eq!(memory.keys_with_prefix(keys::BIN).unwrap().len(), 0);
}

#[test]
fn a_purge_leaves_id_revision_and_time_alone() {
    let (memory, store) = with_mia();
    let secret = |note: &str, number| Test {
        note: note.to_owned(),
        ..wall_test(number, &local(1), &[2650])
    };
    store.save_test(&secret("private one", 10)).unwrap();
    store.save_test(&secret("private two", 11)).unwrap();
    store.delete_test(id(11), NOW + 1).unwrap();
    store.delete_person(&local(1), NOW + 2).unwrap();
    let old = write_backup(&store.record_texts().unwrap(), NOW);
    let person = store.bin().unwrap().into_iter().find(|e| e.record.id() == id(1)).unwrap();
    let lines = store.purge(&person.record, NOW + 3).unwrap();
    let left: Vec<String> = memory.values().into_values().collect();
    assert!(!left.iter().any(|text| text.contains("private") || text.contains("Mia")));
    assert!(!lines.iter().any(|line| line.text.contains("private") || line.text.contains("Mia")));
    for number in [1, 10, 11] {
        assert!(lines.iter().any(|line| line.key == id(number).to_string()));
    }
    // An old copy does not bring any of it back.
    let backup = read_backup(&old).unwrap();
    let restore = store.plan_restore(&backup).unwrap();
    store.carry_out(&restore).unwrap();
    assert!(!memory.values().into_values().any(|text| text.contains("private")));
    assert_eq!((store.people().unwrap().len(), store.bin().unwrap().len()), (0, 0));
}

#[test]
fn a_lost_version_goes_to_the_bin_and_can_change_places() {
    let (memory, store) = with_mia();
    let test = wall_test(10, &local(1), &[2650]);
    store.save_test(&test).unwrap();
    let elsewhere = open(&memory.detached());
    store.edit_test(&Test { note: "here".to_owned(), ..test.clone() }, NOW + 1).unwrap();
    elsewhere.edit_test(&Test { note: "there".to_owned(), ..test }, NOW + 2).unwrap();
    let file = write_backup(&elsewhere.record_texts().unwrap(), NOW);
    let restore = store.plan_restore(&read_backup(&file).unwrap()).unwrap();
    assert_eq!(restore.preview.conflicts, [id(10)]);
    assert_eq!(restore.preview.same, [id(1)]);
    store.carry_out(&restore).unwrap();
    let note = || store.test(id(10)).unwrap().unwrap().note;
    assert_eq!(note(), "there");
    let bin = store.bin().unwrap();
    assert_eq!((bin.len(), bin[0].reason), (1, Binned::Replaced));
    store.bring_back(&bin[0].record, NOW + 3).unwrap();
    assert_eq!(note(), "here");
    assert_eq!(store.bin().unwrap().len(), 1);
}

#[test]
fn a_preview_says_what_a_restore_will_do() {
    let (memory, store) = with_mia();
    for number in 10..15 {
        store.save_test(&wall_test(number, &local(1), &[2650])).unwrap();
    }
    let there = open(&memory.detached());
    let edit = |store: &Store<Memory>, number| {
        let test = store.test(id(number)).unwrap().unwrap();
        store.edit_test(&Test { practice: true, ..test }, NOW + 1).unwrap();
    };
    edit(&store, 10);
    edit(&there, 11);
    store.delete_test(id(12), NOW + 1).unwrap();
    there.delete_test(id(13), NOW + 1).unwrap();
    there.save_test(&wall_test(15, &local(1), &[2700])).unwrap();
    let file = write_backup(&there.record_texts().unwrap(), NOW);
    let restore = store.plan_restore(&read_backup(&file).unwrap()).unwrap();
    let preview = &restore.preview;
    assert_eq!((&preview.added, &preview.newer), (&vec![id(15)], &vec![id(11)]));
    assert_eq!((&preview.older, &preview.conflicts), (&vec![id(10)], &vec![]));
    assert_eq!((&preview.deleted_here, &preview.deleted_there), (&vec![id(12)], &vec![id(13)]));
    assert_eq!(preview.same.len(), 2);
    store.carry_out(&restore).unwrap();
    assert!(store.test(id(12)).unwrap().is_none());
    assert!(store.plan_restore(&read_backup(&file).unwrap()).unwrap().changes_nothing());
}

#[test]
fn somebody_else_with_the_same_short_key_gets_another_one() {
    let (_, store) = with_mia();
    store.save_test(&wall_test(10, &local(1), &[2650])).unwrap();
    let there = open(&Memory::new());
    let tom = two_marks::history::Person { local: local(1), ..person(2, "Tom") };
    there.save_person(&tom).unwrap();
    there.save_test(&wall_test(20, &local(1), &[2700])).unwrap();
    let file = write_backup(&there.record_texts().unwrap(), NOW);
    let restore = store.plan_restore(&read_backup(&file).unwrap()).unwrap();
    store.carry_out(&restore).unwrap();
    assert_eq!(store.tests_of(&local(1)).unwrap()[0].id, id(10));
    let people = store.people().unwrap();
    let tom = people.iter().find(|person| person.nickname == "Tom").unwrap();
    assert_ne!(tom.local, local(1));
    assert_eq!(store.tests_of(&tom.local).unwrap()[0].id, id(20));
}

#[test]
fn the_emergency_script_s_file_is_read() {
    let (memory, store) = with_mia();
    store.save_test(&wall_test(10, &local(1), &[2650])).unwrap();
    // What a plain script can do without the page: join every value under the prefix.
    let values: Vec<String> = memory
        .values()
        .into_iter()
        .filter(|(key, _)| key.starts_with(keys::RECORDS))
        .map(|(_, text)| text)
        .collect();
    let file =
        format!(r#"{{"kind":"two-marks backup","version":1,"records":[{}]}}"#, values.join(","));
    let backup = read_backup(&file).unwrap();
    assert_eq!((backup.sum, backup.records.len()), (SumCheck::Missing, 2));
    assert_eq!(backup.records, store.all().unwrap());
}

fn any_records() -> impl Strategy<Value = Vec<Record>> {
    prop::collection::vec(any_record(), 0..24)
}

/// As a file from somewhere else brings them: whoever has a short key there has it for good.
fn stored(records: &[Record]) -> (Memory, Store<Memory>) {
    let memory = Memory::new();
    let store = open(&memory);
    let texts: Vec<String> = records.iter().map(to_text).collect();
    let backup = read_backup(&write_backup(&texts, NOW)).unwrap();
    let restore = store.plan_restore(&backup).unwrap();
    store.carry_out(&restore).unwrap();
    (memory, store)
}

fn is_purge(record: &Record) -> bool {
    matches!(record, Record::Deleted(deleted) if deleted.purged)
}

proptest! {
    #[test]
    fn merging_is_commutative_associative_and_idempotent(
        a in any_records(),
        b in any_records(),
        c in any_records(),
    ) {
        let set = |records: &[Record]| records.iter().cloned().collect::<RecordSet>();
        let (a, b, c) = (set(&a), set(&b), set(&c));
        let (ab, ba) = (a.clone().merge(b.clone()), b.clone().merge(a.clone()));
        prop_assert_eq!(&ab, &ba);
        prop_assert_eq!(ab.clone().merge(c.clone()), a.clone().merge(b.clone().merge(c)));
        prop_assert_eq!(a.clone().merge(a.clone()), a.clone());
        prop_assert_eq!(ab.clone().merge(b), ab);
        prop_assert_eq!(a.clone().into_versions().collect::<RecordSet>(), a);
    }

    #[test]
    fn no_version_that_says_something_of_its_own_is_lost(records in any_records()) {
        let set: RecordSet = records.iter().cloned().collect();
        for record in records.iter().filter(|record| !record.is_deleted()) {
            let counts = set.get(record.id()).unwrap();
            let kept = std::iter::once(counts).chain(set.lost(record.id()));
            let says_it = |other: &Record| two_marks::history::same_contents(other, record);
            prop_assert!(kept.into_iter().any(says_it));
        }
    }

    #[test]
    fn restoring_a_backup_is_the_identity(records in any_records()) {
        let (memory, store) = stored(&records);
        let file = write_backup(&store.record_texts().unwrap(), NOW);
        let backup = read_backup(&file).unwrap();
        prop_assert_eq!(backup.sum, SumCheck::Right);
        prop_assert!(backup.newer.is_empty() && backup.unreadable.is_empty());
        let empty = Memory::new();
        let again = open(&empty);
        let restore = again.plan_restore(&backup).unwrap();
        again.carry_out(&restore).unwrap();
        prop_assert_eq!(again.all().unwrap(), store.all().unwrap());
        prop_assert_eq!(again.bin().unwrap(), store.bin().unwrap());
        let before = memory.values();
        let restore = store.plan_restore(&backup).unwrap();
        prop_assert!(restore.changes_nothing());
        store.carry_out(&restore).unwrap();
        prop_assert_eq!(memory.values(), before);
    }

    #[test]
    fn the_store_holds_the_merge_of_all_it_was_given(
        a in any_records(),
        b in any_records(),
    ) {
        let kept = |records: Vec<Record>| -> Vec<Record> {
            records.into_iter().filter(|record| !is_purge(record)).collect()
        };
        let (a, b) = (kept(a), kept(b));
        let (_, store) = stored(&a);
        let ours = store.all().unwrap();
        let texts: Vec<String> = b.iter().map(to_text).collect();
        let backup = read_backup(&write_backup(&texts, NOW)).unwrap();
        let restore = store.plan_restore(&backup).unwrap();
        store.carry_out(&restore).unwrap();
        prop_assert_eq!(store.all().unwrap(), ours.merge(backup.records));
    }

    #[test]
    fn lists_and_records_agree_after_any_restore(records in any_records()) {
        let (memory, store) = stored(&records);
        let all = store.all().unwrap();
        for number in 1..4 {
            let counted = all.counting().filter(|record| {
                matches!(record, Record::Test(test) if test.person == local(number))
            });
            prop_assert_eq!(store.tests_of(&local(number)).unwrap().len(), counted.count());
        }
        let writes = memory.writes();
        let (_, troubles) = Store::open(memory.clone()).unwrap();
        prop_assert!(troubles.is_empty());
        prop_assert_eq!(memory.writes(), writes);
    }
}

#[test]
fn a_person_and_a_test_are_deleted_as_what_they_are() {
    let (_, store) = with_mia();
    store.save_test(&wall_test(10, &local(1), &[2650])).unwrap();
    store.delete_test(id(10), NOW).unwrap();
    store.delete_person(&local(1), NOW).unwrap();
    let kinds: Vec<DeletedKind> = store
        .all()
        .unwrap()
        .counting()
        .filter_map(|record| match record {
            Record::Deleted(deleted) => Some(deleted.kind.clone()),
            _ => None,
        })
        .collect();
    assert!(kinds.contains(&DeletedKind::Test));
    assert!(kinds.contains(&DeletedKind::Person(local(1))));
}
