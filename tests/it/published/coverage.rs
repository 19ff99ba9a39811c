//! What is said at every age from 5 to 70, for both sexes: the sources, and a worked position.

use super::*;
use expect_test::expect_file;
use std::fmt::Write;
use two_marks::norms::{Comparability, Grade, Layer, Listing, TestKind, coverage};
use two_marks::quantity::Sex::*;

/// The reference's coverage table by short name, plus what the lookup adds because every source that
/// applies is listed: the Canadian line for boys 13-14, the 15-16 bands at 16, our estimate at
/// 21-30, and the adult bands at 20-30 (last from 21 on).
fn expected(sex: Sex, years: u8) -> Vec<&'static str> {
    let (tkji, davis, beashel) = ("idn_tkji_2010", "gbr_davis_2000", "gbr_beashel_1997");
    let (hoffman, texas, patterson) = ("usa_hoffman_2006", "usa_texas_m2029", "usa_patterson_2004");
    let (line, hospital) = ("can_chms_youth_2016", "kor_hospital_40s");
    let (adults, estimate) = ("aus_arkinstall_2010", "estimate_from_flight");
    match (sex, years) {
        (_, 6..=9) => vec![line],
        (_, 10..=12) | (Female, 13 | 14) => vec![tkji, line],
        (Male, 13 | 14) => vec![tkji, hoffman, line],
        (_, 15) => vec![tkji, beashel, line],
        (_, 16) => vec![tkji, davis, beashel, line],
        (_, 17..=19) => vec![tkji, davis, line],
        (Female, 20) => vec![adults, estimate],
        (Male, 20) => vec![texas, adults, estimate],
        (Male, 21..=29) => vec![texas, patterson, estimate, adults],
        (Female, 21..=29) | (_, 30) => vec![patterson, estimate, adults],
        (_, 31..=39) => vec![estimate, adults],
        (_, 40..=49) => vec![estimate, hospital, adults],
        (_, 50..=64) => vec![estimate],
        _ => vec![],
    }
}

#[test]
fn every_cell_lists_the_sources_of_the_reference_in_order() {
    for sex in [Female, Male] {
        for years in 0..=130 {
            let listed = coverage(TestKind::Wall, sex, years);
            let ids: Vec<&str> = listed.iter().map(|listing| listing.source.id).collect();
            assert_eq!(ids, expected(sex, years), "{sex:?} {years}");
            let flight = coverage(TestKind::FlightTime, sex, years);
            assert_eq!(flight.len(), usize::from((13..=64).contains(&years)));
        }
    }
}

#[test]
fn the_table_in_the_docs_is_the_one_the_code_gives() {
    expect_file!["../../../docs/coverage.md"].assert_eq(&document());
}

#[test]
fn what_is_said_in_every_cell() {
    // Invented scores, the same at all ages: girls and women 33 cm, boys and men 46 cm, error 2 cm,
    // mean a centimetre lower.
    let estimate =
        |mm| Estimate { height: Length::from_mm(mm), standard_error: Length::from_mm(20) };
    let invented = |mm| Score { best: estimate(mm), mean: Some(estimate(mm - 10)) };
    let mut said = String::new();
    for (name, key) in [("wall", TrendKey::USUAL), ("flight", FLIGHT)] {
        for (sex, score) in [(Female, invented(330)), (Male, invented(460))] {
            for years in 5..=70 {
                write!(said, "{name} {sex:?} {years}:").unwrap();
                let all = standings(key, sex, aged(years), &score);
                if all.is_empty() {
                    said.push_str(" no table for this age");
                }
                for standing in all {
                    write!(said, " {} {};", standing.source.id, words(standing.position)).unwrap();
                }
                said.push('\n');
            }
        }
    }
    expect_file!["what_is_said.txt"].assert_eq(&said);
}

fn words(position: Position) -> String {
    match position {
        Position::Percentile(range) => {
            format!("{:?} to {:?}", range.low.shown(), range.high.shown())
        }
        Position::Band(range) => {
            format!("{}-{}-{} of {}", range.low, range.point, range.high, range.count)
        }
        Position::Average(range) => {
            format!("{:?}-{:?}-{:?}", range.low, range.point, range.high)
        }
    }
}

fn document() -> String {
    let mut text = String::from(
        "# Coverage: which table speaks at which age\n\n\
         Made by `tests/it/published/coverage.rs` from the code; run it with `UPDATE_EXPECT=1` after\n\
         a change. Best match first; sources are never blended. Each entry: source, the age group it\n\
         prints, what it supports, grade, comparability (1 same method ... 3 another device).\n\
         Citations: `docs/norms/README.md`.\n",
    );
    for (heading, kind) in [
        ("Marks on a wall, standing jump, arms free", TestKind::Wall),
        ("Time in the air, standing jump, arms free", TestKind::FlightTime),
    ] {
        write!(text, "\n## {heading}\n\n| ages | girls, women | boys, men |\n|---|---|---|\n")
            .unwrap();
        for (ages, girls, boys) in rows(kind) {
            writeln!(text, "| {ages} | {girls} | {boys} |").unwrap();
        }
    }
    text.push_str(
        "\nRun-ups, hands on hips, held squats, other ways of taking the reach, other ground than a\n\
         firm floor and a person's own way are in no table. Athletes and recruits are shown to adults\n\
         who ask: `usa_lockie_2024` (women, men), `usa_fry_1991`, `usa_basketball_combine`,\n\
         `usa_football_combine` (men).\n",
    );
    text
}

/// Ages 5 to 70 in runs that say the same.
fn rows(kind: TestKind) -> Vec<(String, String, String)> {
    let mut runs: Vec<(u8, u8, String, String)> = Vec::new();
    for years in 5..=70 {
        let said = |sex| describe(&coverage(kind, sex, years));
        let (girls, boys) = (said(Female), said(Male));
        match runs.last_mut() {
            Some(run) if run.2 == girls && run.3 == boys => run.1 = years,
            _ => runs.push((years, years, girls, boys)),
        }
    }
    let ages =
        |from: u8, to: u8| if from == to { from.to_string() } else { format!("{from}-{to}") };
    runs.into_iter().map(|run| (ages(run.0, run.1), run.2, run.3)).collect()
}

fn describe(listed: &[Listing]) -> String {
    if listed.is_empty() {
        return "no table for this age".to_owned();
    }
    let entries = listed.iter().map(|listing| {
        let ages = listing.cell.ages;
        let layer = match listing.source.layer {
            Layer::Percentiles => "percentiles",
            Layer::MeanAndSd => "mean and SD",
            Layer::Bands => "bands",
            Layer::AverageLine => "average",
            Layer::OwnEstimate => "our own estimate",
        };
        let grade = match listing.source.grade {
            Grade::ATable => "A-table",
            Grade::AAbstract => "A-abstract",
            Grade::AData => "A-data",
            Grade::B => "B",
        };
        let comparability = match listing.source.comparability {
            Comparability::Same => "1",
            Comparability::SameOrClose => "1-2",
            Comparability::Close => "2",
            Comparability::OtherDevice => "3",
        };
        let id = listing.source.id;
        format!("{id} {}-{} ({layer}, {grade}, {comparability})", ages.from, ages.to)
    });
    entries.collect::<Vec<_>>().join("; ")
}
