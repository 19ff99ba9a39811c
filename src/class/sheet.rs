//! The spreadsheet files of a class: numbers, no names.

use super::table::rows;
use crate::history::{Class, ClassResult, Named};
use crate::measure::{Outcome, Trial};
use crate::share::csv::{Cell, Decimal, Sheet};

const PUPIL_COLUMNS: [&str; 13] = [
    "class",
    "date",
    "number",
    "standing_reach_mm",
    "reaches",
    "trials_counted",
    "fouls",
    "jump_height_mm_best",
    "jump_height_mm_usual",
    "tired",
    "unfinished",
    "other_role",
    "note",
];

const TRIAL_COLUMNS: [&str; 9] = [
    "class",
    "date",
    "number",
    "trial",
    "outcome",
    "foul_reason",
    "mark_mm",
    "jump_height_mm",
    "note",
];

/// One row per number and day, in the order of days and numbers. `note` stands in each row, so that
/// it is not lost when rows are copied.
pub fn class_csv(class: &Class, results: &[ClassResult], decimal: Decimal, note: &str) -> String {
    let mut sheet = Sheet::new(decimal, &PUPIL_COLUMNS);
    for day in super::test_days(results).into_iter().rev() {
        for row in rows(class, results, day) {
            let Some(result) = &row.result else { continue };
            let session = &result.session;
            sheet.row(&[
                Cell::Typed(class.setup.label.clone()),
                Cell::Plain(day.to_string()),
                Cell::Number(i64::from(row.number)),
                session.standing_reach().map(|reach| reach.0).into(),
                Cell::count(reaches(result)),
                Cell::count(row.counted),
                Cell::count(session.fouls().count()),
                row.best.map(|best| best.0).into(),
                row.usual.map(|usual| usual.0).into(),
                Cell::yes(row.is_tired),
                Cell::yes(row.is_unfinished && !row.helps),
                Cell::yes(row.helps),
                Cell::Plain(note.to_owned()),
            ]);
        }
    }
    sheet.text
}

fn reaches(result: &ClassResult) -> usize {
    match &result.session.reach {
        crate::measure::Reach::Measured(readings) => readings.len(),
        _ => 0,
    }
}

/// One row per trial, fouls included.
pub fn class_trials_csv(
    class: &Class,
    results: &[ClassResult],
    decimal: Decimal,
    note: &str,
) -> String {
    let mut sheet = Sheet::new(decimal, &TRIAL_COLUMNS);
    for day in super::test_days(results).into_iter().rev() {
        for row in rows(class, results, day) {
            let Some(result) = &row.result else { continue };
            let session = &result.session;
            let trials = session.trials.iter().zip(session.outcomes());
            for (number, (trial, outcome)) in (1i64..).zip(trials) {
                let mark = match trial {
                    Trial::FloorMark(reading) | Trial::MarkDistance(reading) => {
                        Some(reading.length())
                    }
                    Trial::FlightTime(_) | Trial::Foul(_) => None,
                };
                let (name, reason, height) = match outcome {
                    Outcome::Counted(height) => ("counted", "", Some(height.0)),
                    Outcome::Foul(reason) => ("foul", reason.name(), None),
                    Outcome::NoReach => ("no_reach", "", None),
                };
                sheet.row(&[
                    Cell::Typed(class.setup.label.clone()),
                    Cell::Plain(day.to_string()),
                    Cell::Number(i64::from(row.number)),
                    Cell::Number(number),
                    Cell::Plain(name.to_owned()),
                    Cell::Plain(reason.to_owned()),
                    mark.into(),
                    height.into(),
                    Cell::Plain(note.to_owned()),
                ]);
            }
        }
    }
    sheet.text
}
