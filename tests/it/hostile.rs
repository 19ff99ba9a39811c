//! Whatever stands in a file or a key, every reader answers and none of them falls over.

use proptest::prelude::*;
use two_marks::history::KeyValue;
use two_marks::history::{
    Draft, Memory, Read, Settings, Store, keys, read, read_backup, to_text, write_backup,
};

use crate::samples::any_record;

/// Texts that are nearly records: JSON with our keys and values of any kind.
fn nearly_a_record() -> impl Strategy<Value = String> {
    let key = prop::sample::select(vec![
        "v", "k", "i", "p", "l", "r", "e", "d", "m", "o", "u", "reach", "ron", "trials", "jump",
        "steps", "off", "name", "born", "age", "tall", "mass", "tags", "leg", "held", "x\\u0000",
    ]);
    let value = prop_oneof![
        any::<i64>().prop_map(|n| n.to_string()),
        Just("1".to_owned()),
        Just("1e999".to_owned()),
        Just("-0.5".to_owned()),
        Just("null".to_owned()),
        Just("\"t\"".to_owned()),
        Just("\"p\"".to_owned()),
        Just("\"cm/2\"".to_owned()),
        Just("\"AAAAAAAAAAAAAAAAAAAAAA\"".to_owned()),
        Just("[2245,{\"mark\":1}]".to_owned()),
        Just("[{\"dist\":-2147483648},{\"foul\":\"\\ud83d\\ude00\"}]".to_owned()),
        Just("[[[[{}]]]]".to_owned()),
    ];
    prop::collection::vec((key, value), 0..14).prop_map(|fields| {
        let fields: Vec<String> =
            fields.into_iter().map(|(key, value)| format!("\"{key}\":{value}")).collect();
        format!("{{\"v\":1,\"k\":\"t\",{}}}", fields.join(","))
    })
}

/// A true record with one byte changed, left out or put in.
fn damaged_record() -> impl Strategy<Value = String> {
    (any_record(), any::<prop::sample::Index>(), any::<u8>(), 0u8..3).prop_map(
        |(record, at, byte, how)| {
            let mut bytes = to_text(&record).into_bytes();
            let at = at.index(bytes.len());
            match how {
                0 => bytes[at] = byte,
                1 => drop(bytes.remove(at)),
                _ => bytes.insert(at, byte),
            }
            String::from_utf8_lossy(&bytes).into_owned()
        },
    )
}

fn any_hostile_text() -> impl Strategy<Value = String> {
    prop_oneof![any::<String>(), nearly_a_record(), damaged_record()]
}

proptest! {
    #[test]
    fn every_text_is_read_or_refused_and_what_is_read_is_stable(text in any_hostile_text()) {
        if let Read::Good(record) = read(&text) {
            prop_assert_eq!(read(&to_text(&record)), Read::Good(record));
        }
        let _ = (Draft::parse(&text), Settings::parse(&text));
        let _ = read_backup(&text);
    }

    #[test]
    fn a_store_full_of_anything_opens_and_loses_nothing(
        values in prop::collection::vec(("[a-zA-Z0-9/~]{0,8}", any_hostile_text()), 0..12),
        place in prop::sample::select(vec![
            keys::PEOPLE, keys::TESTS, keys::BIN, keys::RECORDS, keys::ASIDE,
        ]),
    ) {
        let memory = Memory::new();
        for (name, text) in &values {
            memory.set(&format!("{place}{name}"), text).unwrap();
        }
        let mut before: Vec<String> = memory.values().into_values().collect();
        let (store, _) = Store::open(memory.clone()).unwrap();
        let _ = (store.people().unwrap(), store.bin().unwrap(), store.all().unwrap());
        let _ = store.reconcile(&[], 0).unwrap();
        let texts = store.record_texts().unwrap();
        let _ = read_backup(&write_backup(&texts, 0)).unwrap();
        let mut after: Vec<String> = memory
            .values()
            .into_iter()
            .filter(|(key, _)| !key.starts_with(keys::INDEX))
            .map(|(_, text)| text)
            .collect();
        before.sort();
        before.dedup();
        after.sort();
        after.dedup();
        // Purged contents may be tidied away; every other text is still there.
        for text in before.iter().filter(|text| read(text).good().is_none()) {
            prop_assert!(after.contains(text));
        }
    }

    #[test]
    fn a_damaged_backup_is_read_in_part_or_refused(
        records in prop::collection::vec(any_record(), 0..6),
        at in any::<prop::sample::Index>(),
        byte in any::<u8>(),
    ) {
        let texts: Vec<String> = records.iter().map(to_text).collect();
        let mut bytes = write_backup(&texts, 0).into_bytes();
        let at = at.index(bytes.len());
        bytes[at] = byte;
        let _ = read_backup(&String::from_utf8_lossy(&bytes));
    }
}
