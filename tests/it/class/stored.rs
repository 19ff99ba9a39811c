use super::{class, day, result};
use two_marks::history::{
    Class, ClassResult, Deleted, DeletedKind, Id, LocalId, Memory, Person, Read, Record, Store,
    read, read_backup, to_text, write_backup,
};

const NOW: i64 = 1_781_458_200_000;

fn filled() -> (Memory, Store<Memory>) {
    let memory = Memory::new();
    let (store, _) = Store::open(memory.clone()).unwrap();
    store.save_of_class(Record::Class(class())).unwrap();
    for number in 1..=3 {
        store.save_of_class(Record::ClassResult(result(number, day(1), &[300, 310, 305]))).unwrap();
    }
    let id = Id::from_bytes([9; 16]);
    let person = Person::new(id, LocalId::parse("CQkJ").unwrap(), "Mia".to_owned(), NOW);
    store.save_person(&person).unwrap();
    (memory, store)
}

fn keys(memory: &Memory, start: &str) -> usize {
    memory.values().keys().filter(|key| key.starts_with(start)).count()
}

#[test]
fn a_class_and_its_results_read_back_and_keep_what_they_do_not_know() {
    let mut class = class();
    class.roster = vec![1, 2, 7];
    class.archived = true;
    let with_more = |text: String| text.replacen('{', r#"{"later":{"a":[1]},"#, 1);
    for record in [Record::Class(class), Record::ClassResult(result(5, day(2), &[300]))] {
        let text = to_text(&record);
        assert_eq!(read(&text), Read::Good(Box::new(record)));
        let kept = read(&with_more(text)).good().unwrap();
        assert!(to_text(&kept).contains(r#""later":{"a":[1]}"#));
    }
}

/// Records of this version, for ever.
#[test]
fn records_of_version_1_open() {
    let class_text = r#"{"v":1,"k":"c","i":"BwcHBwcHAAAAAAAAAAAAAA","r":2,"e":1781458200000,"name":"Class 8B","u":"cm/2","reaches":1,"trials":3,"rest":30,"ready":true,"warm":true,"numbers":30,"age":"12-14","roster":[1,2,5]}"#;
    let result_text = r#"{"v":1,"k":"n","i":"BQUFBQUFBQUFBQUFBQUFBQ","c":"BwcHBwcHAAAAAAAAAAAAAA","r":1,"e":1781458200000,"d":20260302,"no":5,"dev_tag":105,"u":"cm/2","reach":[2000],"trials":[2300,{"foul":"step"},2310],"tired":true}"#;
    let gone = r#"{"v":1,"k":"x","i":"BwcHBwcHAAAAAAAAAAAAAA","of":"c","r":3,"e":1781458300000,"purged":true}"#;
    for text in [class_text, result_text, gone] {
        assert_eq!(to_text(&read(text).good().unwrap()), text);
    }
    let Some(Record::ClassResult(ClassResult { number: 5, device_tag: 105, tired: true, .. })) =
        read(result_text).good()
    else {
        panic!("another result");
    };
    let Some(Record::Deleted(Deleted { kind: DeletedKind::Class, purged: true, .. })) =
        read(gone).good()
    else {
        panic!("another deletion");
    };
}

#[test]
fn what_is_out_of_range_is_no_class() {
    let text = to_text(&Record::Class(class()));
    for (from, to) in [
        (r#""trials":3"#, r#""trials":7"#),
        (r#""reaches":1"#, r#""reaches":2"#),
        (r#""rest":30"#, r#""rest":31"#),
        (r#""numbers":30"#, r#""numbers":201"#),
        (r#""name":"Class 8B""#, r#""name":"""#),
        (r#""numbers":30"#, r#""numbers":30,"roster":[3,2]"#),
    ] {
        assert!(text.contains(from));
        assert!(read(&text.replace(from, to)).good().is_none(), "{to}");
    }
    let text = to_text(&Record::ClassResult(result(5, day(1), &[300])));
    assert!(read(&text.replace(r#""no":5"#, r#""no":0"#)).good().is_none());
}

#[test]
fn throwing_a_class_away_touches_nobody_and_leaves_no_readings() {
    let (memory, store) = filled();
    let person = memory.values().into_iter().find(|(key, _)| key.contains("/r/p/")).unwrap();
    let entries = store.purge_class(class().id, NOW).unwrap();
    assert_eq!(entries.len(), 4, "the class and three results");
    assert_eq!(memory.values().get(&person.0), Some(&person.1));
    assert_eq!(store.classes().unwrap(), []);
    assert_eq!(store.class_results(class().id).unwrap(), []);
    for (key, text) in memory.values() {
        assert!(!text.contains("Class 8B") && !text.contains("2300"), "{key}: {text}");
    }
    for entry in &entries {
        assert!(entry.text.contains(r#""purged":true"#), "{}", entry.text);
    }
    // An old file brings nothing back.
    let (_, other) = filled();
    let backup = read_backup(&write_backup(&other.record_texts().unwrap(), NOW)).unwrap();
    let plan = store.plan_restore(&backup).unwrap();
    store.carry_out(&plan).unwrap();
    assert_eq!(store.classes().unwrap(), []);
    assert_eq!(store.class_results(class().id).unwrap(), []);
}

#[test]
fn throwing_a_person_away_touches_no_class() {
    let (_, store) = filled();
    let local = LocalId::parse("CQkJ").unwrap();
    store.delete_person(&local, NOW).unwrap();
    let binned = store.bin().unwrap();
    store.purge(&binned[0].record, NOW).unwrap();
    assert_eq!(store.classes().unwrap(), [class()]);
    assert_eq!(store.class_results(class().id).unwrap().len(), 3);
}

#[test]
fn two_stations_merge_by_file_and_twice_is_once() {
    let (_, here) = filled();
    let there_memory = Memory::new();
    let (there, _) = Store::open(there_memory).unwrap();
    there.save_of_class(Record::Class(class())).unwrap();
    there.save_of_class(Record::ClassResult(result(4, day(1), &[280, 290, 300]))).unwrap();
    let file = write_backup(&there.class_texts(class().id).unwrap(), NOW);
    for _ in 0..2 {
        let plan = here.plan_restore(&read_backup(&file).unwrap()).unwrap();
        here.carry_out(&plan).unwrap();
        let numbers: Vec<u8> =
            here.class_results(class().id).unwrap().iter().map(|one| one.number).collect();
        assert_eq!(numbers, [1, 2, 3, 4]);
    }
}

#[test]
fn a_lost_write_comes_back_from_the_journal() {
    let (_, store) = filled();
    let fresh = Memory::new();
    let (mut edited, entry) = {
        let mut one = store.class_results(class().id).unwrap().remove(0);
        one.tired = true;
        store.edit_class_result(&one, NOW).unwrap()
    };
    let (empty, _) = Store::open(fresh).unwrap();
    assert_eq!(empty.reconcile(&[entry], NOW).unwrap().recovered, 1);
    let back = empty.class_results(class().id).unwrap().remove(0);
    edited.stamp = back.stamp;
    assert_eq!(back, edited);
}

#[test]
fn an_interrupted_purge_is_finished_at_the_next_start() {
    for writes in 0..5 {
        let (memory, store) = filled();
        memory.stop_after(writes);
        let done = store.purge_class(class().id, NOW);
        memory.recover();
        let (again, _) = Store::open(memory.clone()).unwrap();
        let left = again.class_results(class().id).unwrap().len();
        if writes == 0 {
            assert!(done.is_err());
            assert_eq!((left, again.classes().unwrap().len()), (3, 1), "nothing happened");
        } else {
            assert_eq!((left, again.classes().unwrap().len()), (0, 0), "{writes}");
        }
    }
}

#[test]
fn what_cannot_be_read_is_put_aside() {
    let (memory, _) = filled();
    let class: Class = class();
    two_marks::history::KeyValue::set(&memory, &format!("two-marks/r/c/{}", class.id), "oops")
        .unwrap();
    let (store, troubles) = Store::open(memory.clone()).unwrap();
    assert_eq!(troubles.len(), 1);
    assert_eq!(keys(&memory, "two-marks/aside/"), 1);
    assert_eq!(store.classes().unwrap(), []);
}

#[test]
fn a_class_thrown_away_for_good_comes_back_from_its_file_when_chosen() {
    let (memory, store) = filled();
    let file = read_backup(&write_backup(&store.class_texts(class().id).unwrap(), NOW)).unwrap();
    store.purge_class(class().id, NOW + 1).unwrap();
    let ordinary = store.plan_restore(&file).unwrap();
    assert!(ordinary.changes_nothing());
    assert_eq!(ordinary.preview.purged_here.len(), 1);
    assert_eq!(ordinary.preview.purged_here[0].with_it.len(), 3);
    let chosen = [class().id].into();
    let plan = store.plan_bringing_back(&file, &chosen, NOW + 2).unwrap();
    store.carry_out(&plan).unwrap();
    let (again, troubles) = Store::open(memory).unwrap();
    assert!(troubles.is_empty());
    assert_eq!(again.classes().unwrap()[0].setup, class().setup);
    assert_eq!(again.class_results(class().id).unwrap().len(), 3);
}
