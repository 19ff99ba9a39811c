//! What the planner promises beside what happens.

use std::fmt::Write;

use chrono::NaiveDate;
use two_marks::assess::prospects;
use two_marks::history::{Born, Id, LocalId, Person};
use two_marks::quantity::Sex::{self, Female, Male};
use two_marks::quantity::{BirthMonth, Compare};
use two_marks::trend::model::Verdict;

use super::draw::Draw;
use super::lived::{Dates, Lived, Scenario};
use super::people::{ADULT, BOY_OF_13, BOY_OF_16, GIRL_OF_14, Kind};
use super::truth::{Course, Growth};

const RUNS: u32 = 2_000;
const SEED: u64 = 20_261_501;
const GROWTH_SD: f64 = 2.0;

/// One gain of one kind of person, in 100.
pub(super) struct Planned {
    pub(super) name: String,
    /// Chance of a season of 16 weeks, as the page says it, and as it happens.
    pub(super) promised: f64,
    pub(super) told: f64,
    /// The same season with 2 cm less of a true gain.
    pub(super) told_of_less: f64,
    /// How far apart promise and truth may be.
    pub(super) most: f64,
    /// How many tests before and after are said to do 4 times in 5, and how often they do.
    pub(super) each_side: Option<(u32, f64)>,
}

fn share_told(scenario: &Scenario, seed: u64) -> f64 {
    let mut draw = Draw::new(seed);
    let is_told = |lived: &Lived| matches!(lived.look(lived.tests.len()).1, Verdict::Higher { .. });
    let told = (0..RUNS).filter(|_| is_told(&Lived::draw(scenario, &mut draw))).count();
    100.0 * told as f64 / f64::from(RUNS)
}

fn person(kind: Kind, sex: Option<Sex>) -> Person {
    let id = Id::from_bytes([7; 16]);
    let local = LocalId::shortest(id, |_| false);
    // Half a year after the birthday.
    let born = BirthMonth::new(2026 - u16::from(kind.age_years), 1).map(Born::Month);
    let compare = sex.map(Compare::With);
    Person { born, compare, ..Person::new(id, local, "Kim".to_owned(), 0) }
}

pub(super) fn all() -> Vec<Planned> {
    // How far the planner's short cut may be off, in points: the largest difference its own doc admits.
    let people = [
        ("adult", ADULT, 40.0, None, 7.0),
        ("boy of 16", BOY_OF_16, 40.0, Some(Male), 7.0),
        ("girl of 14", GIRL_OF_14, 30.0, Some(Female), 7.0),
        ("boy of 13", BOY_OF_13, 30.0, Some(Male), 7.0),
    ];
    let on = NaiveDate::from_ymd_opt(2026, 7, 31).unwrap();
    let mut all = Vec::new();
    for (place, (name, kind, usual_cm, sex, most)) in people.into_iter().enumerate() {
        // Everybody jumps as high as the planner takes somebody without a test to jump.
        let kind = Kind { usual_cm, usual_sd_cm: 0.0, ..kind };
        let growth = sex.map_or(Growth::None, |sex| Growth::WallSeries { sex, sd: GROWTH_SD });
        let seed = SEED + 10 * place as u64;
        for prospect in prospects(&person(kind, sex), None, on) {
            let cm = prospect.gain.as_cm();
            let season = |cm| Scenario {
                course: Course::Rise { cm, days: 56.0 },
                dates: Dates::PracticeThenEvery { gap_days: 14, until_day: 112 },
                ..Scenario::new(kind, growth)
            };
            let blocks = |each_side| Scenario { dates: Dates::Blocks { each_side }, ..season(cm) };
            let each_side =
                prospect.tests_each_side.map(|tests| (tests, share_told(&blocks(tests), seed)));
            all.push(Planned {
                name: format!("{name}, + {cm} cm"),
                promised: 100.0 * prospect.chance,
                told: share_told(&season(cm), seed + 1),
                told_of_less: share_told(&season(cm - 2.0), seed + 1),
                most,
                each_side,
            });
        }
    }
    all
}

pub(super) fn page(planned: &[Planned]) -> String {
    let mut page = format!(
        "\n## What the planner promises\n\n\
         {RUNS} seasons per cell, seed {SEED}. Two practice tests, then a test every two weeks for \
         16 weeks, the gain in the first eight:\nhow often the last look says \"higher\", beside \
         the chance that the page states. Then so many tests three days apart,\neight weeks of \
         training, and as many tests: the number that the page says will do 4 times in 5, and how \
         often it does.\nThe old plan said \"4 times in 5\" where it happened in 0–53 of 100 (found \
         on 1 December 2026).\n\n\
         | truth | stated | told | most apart | tests before + after | told |\n\
         |---|---|---|---|---|---|\n"
    );
    for row in planned {
        let blocks = row.each_side.map_or("over 10 + 10 | ".to_owned(), |(tests, told)| {
            format!("{tests} + {tests} | {told:.0}")
        });
        let Planned { name, promised, told, most, .. } = row;
        writeln!(page, "| {name} | {promised:.0} | {told:.0} | {most} | {blocks} |").unwrap();
    }
    page.push_str("\nNumbers are seasons in 100.\n");
    page
}
