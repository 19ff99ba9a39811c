//! The way in without a browser: what `examples/evaluate.rs` prints of a backup, and what it does with
//! input that is none.

use std::io::Write;
use std::path::PathBuf;
use std::process::{Command, Output, Stdio};
use std::sync::LazyLock;

use expect_test::expect_file;
use proptest::prelude::*;
use serde_json::Value;
use two_marks::assess::assess;
use two_marks::history::{
    BACKUP_BYTES_MAX, BackupProblem, Memory, Person, Record, Store, Test, read_backup, to_text,
    write_backup,
};
use two_marks::quantity::{BirthMonth, Compare, Length};

use crate::samples::{any_record, local, person, wall_test};

#[path = "../../examples/evaluate/report.rs"]
mod report;

use report::{Refusal, evaluate};

const SAMPLE: &str = include_str!("evaluate/backup.json");

fn printed(bytes: &[u8]) -> String {
    format!("{:#}\n", evaluate(bytes).unwrap().json)
}

/// Every test in the output, with the id of its person.
fn tests(json: &Value) -> Vec<&Value> {
    let people = json["people"].as_array().unwrap();
    people.iter().flat_map(|person| person["tests"].as_array().unwrap()).collect()
}

#[test]
fn the_sample_says_what_it_said() {
    expect_file!["evaluate/evaluation.json"].assert_eq(&printed(SAMPLE.as_bytes()));
    assert!(evaluate(SAMPLE.as_bytes()).unwrap().warnings.is_empty());
}

/// The sample reaches every kind of answer, so the snapshot leaves none out.
#[test]
fn the_sample_has_every_kind_of_answer() {
    let json = evaluate(SAMPLE.as_bytes()).unwrap().json;
    let text = json.to_string();
    for kind in ["percentile", "band", "average", "below", "above", "near"] {
        assert!(text.contains(&format!("\"{kind}\"")), "{kind}");
    }
    for reason in ["not_asked", "approach_jump", "own_way", "other_surface", "no_table_for_age"] {
        assert!(text.contains(&format!("\"because\":\"{reason}\"")), "{reason}");
    }
    for rough in ["few_reaches", "coarse_division", "top_mark_only", "few_trials"] {
        assert!(text.contains(&format!("\"{rough}\"")), "{rough}");
    }
    for fit in ["today", "maybe_today", "whole_group", "part_of_group"] {
        assert!(text.contains(&format!("\"age_fit\":\"{fit}\"")), "{fit}");
    }
    assert!(text.contains("\"is_tired\":true") && text.contains("\"is_practice\":true"));
    assert!(json["people"].as_array().unwrap().len() >= 8);
}

/// No second path: the printed numbers are those of `assess` over the records of the file, and the
/// heights are those of plain sums over the readings.
#[test]
fn numbers_are_those_of_assess_and_of_plain_sums() {
    let json = evaluate(SAMPLE.as_bytes()).unwrap().json;
    let backup = read_backup(SAMPLE).unwrap();
    let people: Vec<&Person> = backup
        .records
        .counting()
        .filter_map(|record| match record {
            Record::Person(person) => Some(person),
            _ => None,
        })
        .collect();
    let records: Vec<Test> = backup
        .records
        .counting()
        .filter_map(|record| match record {
            Record::Test(test) => Some(test.clone()),
            _ => None,
        })
        .collect();
    let said = tests(&json);
    assert_eq!(said.len(), records.len());
    for said in said {
        let test = records.iter().find(|test| said["id"] == test.id.to_string()).unwrap();
        let person = people.iter().find(|person| person.local == test.person).unwrap();
        let assessed = assess(test, person, &records);
        let cm = |length: Option<Length>| length.map_or(Value::Null, |l| l.as_cm().into());
        assert_eq!(said["best_cm"], cm(assessed.best.map(|best| best.0)));
        assert_eq!(said["standard_error_cm"], cm(assessed.standard_error));
        let usual = assessed.usual.map(|usual| usual.height.0);
        assert_eq!(said["usual"]["height_cm"], cm(usual));

        let heights: Vec<f64> = said["trials"]
            .as_array()
            .unwrap()
            .iter()
            .filter_map(|trial| trial["jump_height_cm"].as_f64())
            .collect();
        let best = heights.iter().copied().fold(f64::MIN, f64::max);
        assert!((said["best_cm"].as_f64().unwrap() - best).abs() < 1e-9);
        if let Some(usual) = said["usual"]["height_cm"].as_f64() {
            let first: Vec<f64> = heights.iter().copied().take(3).collect();
            let mean = first.iter().sum::<f64>() / f64::from(u32::try_from(first.len()).unwrap());
            assert!((usual - mean).abs() < 1e-4, "{usual} {mean}");
            let error = said["standard_error_cm"].as_f64().unwrap();
            let ends = &said["usual"]["interval_cm"];
            let (low, high) = (ends[0].as_f64().unwrap(), ends[1].as_f64().unwrap());
            assert!(low < usual && usual < high && (high - low - 2.0 * error).abs() < 1e-9);
        }
        let parts = said["standard_error_parts_cm"].as_object().unwrap();
        let squares: f64 = parts.values().map(|part| part.as_f64().unwrap().powi(2)).sum();
        let total = said["standard_error_cm"].as_f64().unwrap();
        assert!((squares.sqrt() - total).abs() < 1e-3, "{squares} {total}");
    }
}

#[test]
fn each_wrong_input_has_its_own_sentence() {
    let refused = |bytes: &[u8]| evaluate(bytes).unwrap_err();
    let backup = Refusal::Backup;
    let cases: [(&[u8], Refusal, &str); 8] = [
        (b"\xff\xfe{", Refusal::NotText, "The input is not text in UTF-8."),
        (b"", backup(BackupProblem::NotJson), "The input is not JSON, or it was cut off."),
        (
            b"{\"kind\":",
            backup(BackupProblem::NotJson),
            "The input is not JSON, or it was cut off.",
        ),
        (b"[1]", backup(BackupProblem::NotABackup), "The input is JSON, but no backup."),
        (
            b"{\"kind\":\"another\",\"version\":1,\"records\":[]}",
            backup(BackupProblem::NotABackup),
            "The input is JSON, but no backup.",
        ),
        (
            b"{\"kind\":\"two-marks backup\",\"version\":7,\"records\":[]}",
            backup(BackupProblem::Newer { version: 7 }),
            "This backup is of the later version 7; 1 is read here.",
        ),
        (&[b'['; 40], backup(BackupProblem::TooDeep), "The input is nested too deep."),
        (
            &vec![b' '; BACKUP_BYTES_MAX + 1],
            backup(BackupProblem::TooLarge),
            "The input is over 5,000,000 bytes.",
        ),
    ];
    for (bytes, refusal, sentence) in cases {
        assert_eq!(refused(bytes), refusal);
        assert_eq!(refused(bytes).to_string(), sentence);
    }
}

#[test]
fn damage_is_warned_of_and_the_rest_is_evaluated() {
    // A changed reading leaves the sum wrong.
    let edited = SAMPLE.replacen("2285,2290", "2285,2291", 1);
    assert_ne!(edited, SAMPLE);
    let evaluation = evaluate(edited.as_bytes()).unwrap();
    assert_eq!(evaluation.json["backup"]["sum"], "wrong");
    assert_eq!(evaluation.warnings, ["the sum is wrong: the file was damaged or edited"]);

    // Written by hand: no sum, a later record, a text that is none, and a test of nobody.
    let file = format!(
        "{{\"kind\":\"two-marks backup\",\"version\":1,\"records\":[{},{{\"v\":9,\"k\":\"t\"}},7]}}",
        to_text(&Record::Test(wall_test(1, &local(1), &[2655])))
    );
    let evaluation = evaluate(file.as_bytes()).unwrap();
    assert_eq!(evaluation.warnings.len(), 4, "{:?}", evaluation.warnings);
    let about = &evaluation.json["backup"];
    assert_eq!((&about["sum"], &about["tests_of_nobody"]), (&"missing".into(), &1.into()));
    assert_eq!(about["records_newer"][0]["place"], 1);
    assert_eq!(about["records_unreadable"][0]["place"], 2);
}

#[test]
fn what_was_deleted_is_not_evaluated() {
    let (store, _) = Store::open(Memory::new()).unwrap();
    let mut mia = person(1, "Mia");
    mia.born = BirthMonth::new(2013, 6).map(two_marks::history::Born::Month);
    mia.compare = Some(Compare::Both);
    store.save_person(&mia).unwrap();
    let (kept, gone) = (wall_test(2, &mia.local, &[2655]), wall_test(3, &mia.local, &[2700]));
    store.save_test(&kept).unwrap();
    store.save_test(&gone).unwrap();
    store.delete_test(gone.id, 1).unwrap();
    let file = write_backup(&store.record_texts().unwrap(), 0);
    let json = evaluate(file.as_bytes()).unwrap().json;
    let ids: Vec<String> = tests(&json).iter().map(|test| test["id"].to_string()).collect();
    assert_eq!(ids, [format!("\"{}\"", kept.id)]);
}

/// The built example, compiled as this test was.
static PROGRAM: LazyLock<PathBuf> = LazyLock::new(|| {
    let status = Command::new(env!("CARGO"))
        .args(["build", "--quiet", "--offline", "--profile", "test", "--example", "evaluate"])
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .status()
        .unwrap();
    assert!(status.success());
    let test = std::env::current_exe().unwrap();
    let folder = test.ancestors().nth(2).unwrap();
    folder.join("examples").join(format!("evaluate{}", std::env::consts::EXE_SUFFIX))
});

fn run(arguments: &[&str], input: &[u8]) -> Output {
    let mut child = Command::new(&*PROGRAM)
        .args(arguments)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    // It may stop reading early, so a broken pipe is no failure of the test.
    let _ = child.stdin.take().unwrap().write_all(input);
    child.wait_with_output().unwrap()
}

#[test]
fn the_program_answers_with_its_exit_code_and_one_sentence() {
    let good = run(&[], SAMPLE.as_bytes());
    assert_eq!((good.status.code(), good.stderr.len()), (Some(0), 0));
    assert_eq!(String::from_utf8(good.stdout).unwrap(), printed(SAMPLE.as_bytes()));

    let edited = run(&[], SAMPLE.replacen("2285,2290", "2285,2291", 1).as_bytes());
    assert_eq!(edited.status.code(), Some(0));
    let said = String::from_utf8(edited.stderr).unwrap();
    assert_eq!(said, "warning: the sum is wrong: the file was damaged or edited\n");

    let too_large = vec![b' '; BACKUP_BYTES_MAX + 100_000];
    let wrong: [&[u8]; 4] = [b"\xff", b"{}", b"nonsense", &too_large];
    for input in wrong {
        let refused = run(&[], input);
        assert_eq!((refused.status.code(), refused.stdout.len()), (Some(1), 0));
        let said = String::from_utf8(refused.stderr).unwrap();
        assert_eq!(said.lines().count(), 1, "{said}");
        assert!(said.ends_with(".\n"), "{said}");
    }

    let argued = run(&["backup.json"], b"");
    assert_eq!((argued.status.code(), argued.stdout.len()), (Some(2), 0));
}

proptest! {
    #[test]
    fn any_bytes_are_evaluated_or_refused(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        if let Err(refusal) = evaluate(&bytes) {
            prop_assert!(refusal.to_string().ends_with('.'));
        }
    }

    #[test]
    fn any_records_are_evaluated(records in prop::collection::vec(any_record(), 0..12)) {
        let texts: Vec<String> = records.iter().map(to_text).collect();
        let evaluation = evaluate(write_backup(&texts, 0).as_bytes()).unwrap();
        prop_assert_eq!(&evaluation.json["backup"]["sum"], "right");
        // What was printed is JSON that holds no nulls in place of numbers that broke.
        for test in tests(&evaluation.json) {
            let counted = test["trials"].as_array().unwrap().iter();
            let counted = counted.filter(|trial| trial.get("jump_height_cm").is_some()).count();
            prop_assert_eq!(test["best_cm"].is_number(), counted > 0);
        }
    }

    /// The sample with a few bytes changed, left out, doubled or cut off.
    #[test]
    fn a_damaged_sample_is_evaluated_or_refused(
        changes in prop::collection::vec(
            (any::<prop::sample::Index>(), any::<u8>(), 0_u8..5), 1..6,
        ),
    ) {
        let mut bytes = SAMPLE.as_bytes().to_vec();
        for (at, byte, how) in changes {
            let at = at.index(bytes.len());
            match how {
                0 => bytes[at] = byte,
                1 => drop(bytes.remove(at)),
                2 => bytes.insert(at, byte),
                3 => bytes.insert(at, b"0123456789-.e\"{}[],:"[usize::from(byte % 20)]),
                _ => bytes.truncate(at.max(1)),
            }
        }
        if let Err(refusal) = evaluate(&bytes) {
            prop_assert!(refusal.to_string().ends_with('.'));
        }
    }
}
