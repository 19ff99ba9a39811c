//! Spreadsheet files: what is written is a table any reader takes, and earlier results come in.

use chrono::NaiveDate;
use proptest::prelude::*;
use two_marks::history::{Origin, Test, to_text};
use two_marks::measure::{Reach, Session, TakeOff, Trial, Variant};
use two_marks::quantity::{Division, JumpHeight, Length, Moment};
use two_marks::share::csv::{
    Decimal, Import, ImportProblem, ProblemKind, TableProblem, read_results, read_table,
    tests_table, trials_table,
};

use crate::samples::{NOW, any_person, any_test, id, local, person, wall_test};

fn import(text: &str) -> Import {
    read_results(text).unwrap()
}

fn problems(text: &str) -> Vec<(usize, &'static str, ProblemKind)> {
    let problems = import(text).problems;
    problems.into_iter().map(|ImportProblem { line, column, kind }| (line, column, kind)).collect()
}

fn session(text: &str) -> Session {
    let import = import(text);
    assert_eq!(import.problems, []);
    import.tests.into_iter().next().unwrap().session
}

fn best_mm(session: &Session) -> Option<i64> {
    session.best().map(|JumpHeight(best)| best.as_micrometres() / 1_000)
}

#[test]
fn a_height_alone_is_a_best_without_a_mean() {
    let session = session("date,jump_height_cm\n2026-05-03,41.5");
    assert_eq!((best_mm(&session), session.usual()), (Some(415), None));
    assert_eq!((&session.reach, session.division), (&Reach::MarkOnly, Division::CmHalf));
}

#[test]
fn units_come_from_the_name_of_the_column() {
    assert_eq!(best_mm(&session("date;jump_height_mm\n2026-05-03;415")), Some(415));
    let inches = session("date;standing_reach_in;jump_mark_in\n2026-05-03;88,25;104,125");
    assert_eq!(inches.division, Division::InEighth);
    let best = Length::from_inch_eighths(833 - 706);
    assert_eq!(inches.best(), Some(JumpHeight(best)));
    // A tenth of an inch is on no tape: it is kept to the nearest millimetre.
    assert_eq!(best_mm(&session("date\tjump_height_in\n2026-05-03\t16.3")), Some(414));
}

#[test]
fn a_run_up_needs_its_steps() {
    let head = "date,jump,run_up_steps,take_off,jump_height_cm\n";
    let session = session(&format!("{head}2026-05-03,approach,3,two,50"));
    let variant = Variant::Approach { steps: 3, take_off: TakeOff::TwoFeet };
    assert_eq!(session.key.variant, variant);
    let missing = problems(&format!("{head}2026-05-03,approach,,two,50"));
    assert_eq!(missing, [(2, "run_up_steps", ProblemKind::Empty)]);
}

#[test]
fn problems_name_line_and_column() {
    let text = "Date,Standing_Reach_cm,Jump_Mark_cm,jump_height_cm,surface,time,coach\n\
        2026-05-03,224.5,267,,,,x\n\
        03.05.2026,224.5,267,,,,\n\
        2026-02-30,224.5,267,,,,\n\
        ,224.5,267,,,,\n\
        2026-05-03,224.5,,,,,\n\
        2026-05-03,224.5,tall,,,,\n\
        2026-05-03,224.5,200,,,,\n\
        2026-05-03,,,900,,,\n\
        2026-05-03,,,41,moon,,\n\
        2026-05-03,,,41,grass,25:00,\n\
        \n\
        2026-05-03,,,41,grass,17:05,\n";
    let read = import(text);
    assert_eq!(read.tests.len(), 2);
    assert_eq!(
        read.tests.last().map(|test| (test.line, test.minute_of_day)),
        Some((13, Some(1025)))
    );
    assert_eq!(read.unused_columns, ["coach"]);
    let expected = [
        (3, "date", ProblemKind::NotADate),
        (4, "date", ProblemKind::NotADate),
        (5, "date", ProblemKind::Empty),
        (6, "jump_height", ProblemKind::NoResult),
        (7, "jump_mark", ProblemKind::NotANumber),
        (8, "jump_mark", ProblemKind::Impossible),
        (9, "jump_height", ProblemKind::Impossible),
        (10, "surface", ProblemKind::UnknownName),
        (11, "time", ProblemKind::NotATime),
    ];
    assert_eq!(problems(text), expected);
}

#[test]
fn columns_are_checked_first() {
    let missing =
        [(1, "date", ProblemKind::MissingColumn), (1, "jump_height", ProblemKind::MissingColumn)];
    assert_eq!(problems(""), missing);
    assert_eq!(problems("a,b\n1,2"), missing);
    let double = problems("date,jump_height_cm,jump_height_mm\n2026-05-03,1,2");
    assert_eq!(double, [(1, "jump_height", ProblemKind::DoubleColumn)]);
    let open = read_results("date,\"x").map(drop);
    assert_eq!(open, Err(TableProblem::OpenQuote { row: 1 }));
}

#[test]
fn hostile_cells_are_cleaned() {
    let text = "date,person,jump_height_cm,note\n2026-05-03,\u{202e}aiM\u{7},41,\"'=cmd()\"\n";
    let test = import(text).tests.into_iter().next().unwrap();
    assert_eq!(test.nickname.as_deref(), Some("aiM"));
    assert_eq!(test.note, "=cmd()");
}

#[test]
fn an_imported_test_is_labelled() {
    let test = import("date,jump_height_cm\n2026-05-03,41").tests.into_iter().next().unwrap();
    let now = Moment { utc_ms: NOW, offset_minutes: 120 };
    let test = test.into_test(id(9), local(1), now);
    assert_eq!(
        (test.origin, test.date),
        (Origin::Imported, NaiveDate::from_ymd_opt(2026, 5, 3).unwrap())
    );
    assert_eq!((test.minute_of_day, test.stamp.edited_utc_ms), (None, NOW));
}

#[test]
fn one_row_per_test_and_one_per_trial() {
    let people = [person(1, "=Mia;\"x\"")];
    let tests = [wall_test(10, &local(1), &[2650, 2660]), wall_test(11, &local(1), &[2671])];
    let by_test = tests_table(&people, &tests, Decimal::Point);
    assert!(by_test.starts_with('\u{feff}') && by_test.ends_with("\r\n"));
    assert!(by_test.contains("\r\n\"'=Mia;\"\"x\"\"\","));
    let rows = read_table(&by_test).unwrap().rows;
    let column = |name: &str| rows[0].iter().position(|cell| cell == name).unwrap();
    assert_eq!(rows.len(), 3);
    assert_eq!(rows[1][column("jump_height_mm_best")], "415");
    assert_eq!(rows[1][column("jump_height_mm_usual")], "410");
    assert_eq!(rows[1][column("standing_reach_mm")], "2245");
    assert_eq!(rows[1][column("time")], "19:30");
    let by_trial = read_table(&trials_table(&people, &tests, Decimal::Comma)).unwrap().rows;
    assert_eq!(by_trial.len(), 4);
    assert_eq!(by_trial[2].last().map(String::as_str), Some("415"));
}

fn by_the_csv_crate(text: &str, separator: u8) -> Vec<Vec<String>> {
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .delimiter(separator)
        .from_reader(text.trim_start_matches('\u{feff}').as_bytes());
    reader.records().map(|row| row.unwrap().iter().map(str::to_owned).collect()).collect()
}

proptest! {
    /// The csv crate refuses rows of different lengths, so this checks the columns too.
    #[test]
    fn the_csv_crate_reads_what_is_written(
        people in prop::collection::vec(any_person(), 1..3),
        tests in prop::collection::vec(any_test(), 0..5),
        note in "[=+@a,;\"\n' -]{0,8}",
        comma in any::<bool>(),
    ) {
        let tests: Vec<Test> =
            tests.into_iter().map(|test| Test { note: note.clone(), ..test }).collect();
        let (decimal, separator) =
            if comma { (Decimal::Comma, b';') } else { (Decimal::Point, b',') };
        for text in [
            tests_table(&people, &tests, decimal),
            trials_table(&people, &tests, decimal),
        ] {
            let rows = by_the_csv_crate(&text, separator);
            prop_assert_eq!(&read_table(&text).unwrap().rows, &rows);
            let formula = |cell: &&String| cell.starts_with(['=', '+', '@']);
            prop_assert!(rows.iter().flatten().find(formula).is_none());
        }
        let trials: usize = tests.iter().map(|test| test.session.trials.len()).sum();
        let rows = by_the_csv_crate(&trials_table(&people, &tests, decimal), separator);
        prop_assert_eq!(rows.len(), 1 + trials);
    }

    /// Our own file of tests comes back as its best heights, to the millimetre.
    #[test]
    fn our_own_file_is_read(marks in prop::collection::vec(2_300i32..2_900, 1..5), comma in any::<bool>()) {
        let test = wall_test(10, &local(1), &marks);
        let decimal = if comma { Decimal::Comma } else { Decimal::Point };
        let text = tests_table(&[person(1, "Mia")], std::slice::from_ref(&test), decimal);
        let read = import(&text);
        prop_assert_eq!(&read.problems, &[]);
        let back = read.tests.into_iter().next().unwrap();
        prop_assert_eq!((back.id, back.date), (Some(test.id), test.date));
        prop_assert_eq!(back.nickname.as_deref(), Some("Mia"));
        prop_assert_eq!(back.session.best(), test.session.best());
        prop_assert!(matches!(back.session.trials.as_slice(), [Trial::MarkDistance(_)]));
    }

    #[test]
    fn any_text_is_read_or_refused(text in any::<String>(), cells in "[0-9.,;\"\na-z_-]{0,60}") {
        let _ = read_results(&text);
        let table = format!("date,jump_height_cm,standing_reach_in,jump_mark_mm,time\n{cells}");
        for test in read_results(&table).map(|import| import.tests).unwrap_or_default() {
            let now = Moment { utc_ms: NOW, offset_minutes: 0 };
            let test = test.into_test(id(9), local(1), now);
            let text = to_text(&two_marks::history::Record::Test(test));
            prop_assert!(two_marks::history::read(&text).good().is_some());
        }
    }
}
