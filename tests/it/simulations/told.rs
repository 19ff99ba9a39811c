//! How often a real change is told, and when.

use std::fmt::Write;

use two_marks::quantity::Sex::{Female, Male};
use two_marks::trend::model::Verdict;

use super::draw::Draw;
use super::lived::{Dates, Lived, Scenario};
use super::people::{ADULT, BOY_OF_13, BOY_OF_16, GIRL_OF_14, Kind};
use super::truth::{Course, Growth};

pub(super) const RUNS: u32 = 2_000;
const SEED: u64 = 20_261_301;
const GROWTH_SD: f64 = 2.0;
/// Weeks at which it is counted who was told.
pub(super) const WEEKS: [u32; 5] = [6, 8, 10, 16, 26];

/// Seasons in 100 told by each of [`WEEKS`].
pub(super) struct Told {
    pub(super) name: String,
    pub(super) told: [f64; 5],
    /// At least so many by a week; empty for a truth that must fall short.
    pub(super) least: Vec<(u32, f64)>,
    /// Truths that must fall short of the least of the first row.
    pub(super) is_wrong: bool,
}

impl Told {
    pub(super) fn by(&self, week: u32) -> f64 {
        self.told[WEEKS.iter().position(|at| *at == week).unwrap()]
    }
}

fn who(kind: Kind) -> Scenario {
    let growth = |sex| Growth::WallSeries { sex, sd: GROWTH_SD };
    let growth = match kind.age_years {
        13 | 16 => growth(Male),
        14 => growth(Female),
        _ => Growth::None,
    };
    Scenario::new(kind, growth)
}

fn told(name: &str, scenario: &Scenario, least: &[(u32, f64)], seed: u64) -> Told {
    let mut draw = Draw::new(seed);
    let mut counts = [0_u32; 5];
    let is_loss = matches!(scenario.course, Course::Sudden { cm, .. } if cm < 0.0);
    for _ in 0..RUNS {
        let lived = Lived::draw(scenario, &mut draw);
        let found = (2..=lived.tests.len()).find(|tests| match lived.look(*tests).1 {
            // Before training starts, or before the loss, nothing is there to be told.
            _ if lived.tests[tests - 1].day <= lived.life.counted_from_day() => false,
            Verdict::Higher { .. } => !is_loss,
            Verdict::Lower { .. } => is_loss,
            _ => false,
        });
        let Some(tests) = found else { continue };
        for (count, week) in counts.iter_mut().zip(WEEKS) {
            let day = lived.tests[tests - 1].day - lived.life.counted_from_day();
            *count += u32::from(day <= f64::from(7 * week));
        }
    }
    let told = counts.map(|count| 100.0 * f64::from(count) / f64::from(RUNS));
    Told { name: name.to_owned(), told, least: least.to_vec(), is_wrong: false }
}

pub(super) fn all() -> Vec<Told> {
    let rise = |cm| Course::Rise { cm, days: 56.0 };
    let after_practice = |gap_days| Dates::PracticeThenEvery { gap_days, until_day: 182 };
    let rows: [(&str, Kind, [f64; 2], [f64; 2]); 4] = [
        ("adult", ADULT, [60.0, 80.0], [35.0, 67.0]),
        ("boy of 16", BOY_OF_16, [50.0, 74.0], [23.0, 61.0]),
        ("girl of 14", GIRL_OF_14, [50.0, 74.0], [23.0, 61.0]),
        ("boy of 13", BOY_OF_13, [40.0, 63.0], [16.0, 50.0]),
    ];
    let mut all = Vec::new();
    let mut seed = SEED;
    let mut add = |name: &str, scenario: Scenario, least: &[(u32, f64)]| {
        seed += 1;
        all.push(told(name, &scenario, least, seed));
    };
    for (name, kind, two, four) in rows {
        for (gap, weeks, least) in [(14, 2, two), (28, 4, four)] {
            let scenario = Scenario { course: rise(5.0), dates: after_practice(gap), ..who(kind) };
            let name = format!("{name}, + 5 cm, every {weeks} weeks");
            add(&name, scenario, &[(10, least[0]), (16, least[1])]);
        }
    }
    for (gap_days, weeks, least) in [(14, 2, 45.0), (28, 4, 31.0)] {
        let dates = Dates::Every { gap_days, until_day: 182 };
        let scenario = Scenario { course: rise(5.0), dates, ..who(ADULT) };
        let name = format!("adult, + 5 cm, training from the first test on, every {weeks} weeks");
        add(&name, scenario, &[(26, least)]);
    }
    for (name, kind, day, least) in [
        ("adult, 5 cm lost after week 4", ADULT, 28.0, &[(6, 80.0)][..]),
        ("girl of 14, 5 cm lost after week 4", GIRL_OF_14, 28.0, &[]),
        ("boy of 13, 5 cm lost after week 4", BOY_OF_13, 28.0, &[]),
        ("adult, 5 cm lost after week 0", ADULT, 0.0, &[]),
    ] {
        let course = Course::Sudden { cm: -5.0, day };
        let scenario = Scenario { course, dates: after_practice(14), ..who(kind) };
        add(&format!("{name}, every 2 weeks"), scenario, least);
    }
    let little = Scenario { course: rise(2.0), dates: after_practice(14), ..who(ADULT) };
    add("adult, + 2 cm, every 2 weeks", little, &[]);
    all.last_mut().unwrap().is_wrong = true;
    all
}

/// The old rule's figures by week 10, 16 and 26, copied once on 1 December 2026.
const OLD: [(&str, &str); 9] = [
    ("adult, + 5 cm, every 2 weeks", "20, 56, 80"),
    ("adult, + 5 cm, every 4 weeks", "2, 25, 45"),
    ("boy of 16, + 5 cm, every 2 weeks", "14, 49, 74"),
    ("boy of 16, + 5 cm, every 4 weeks", "1, 21, 40"),
    ("girl of 14, + 5 cm, every 2 weeks", "8, 40, 70"),
    ("girl of 14, + 5 cm, every 4 weeks", "1, 18, 41"),
    ("boy of 13, + 5 cm, every 2 weeks", "1, 12, 33"),
    ("boy of 13, + 5 cm, every 4 weeks", "0, 4, 13"),
    ("adult, + 5 cm, training from the first test on, every 2 weeks", "0, 2, 8"),
];

pub(super) fn page(told: &[Told]) -> String {
    let mut page = format!(
        "\n## How often a real change is told\n\n\
         {RUNS} seasons per row, seed {SEED}. The gain comes evenly over weeks 0 to 8, on top of \
         growing up.\nTwo practice tests come before, ten and five days early, unless the row says \
         otherwise. A loss comes all at once right after the test of its week,\nand its \
         weeks are counted from there; right after the first three tests it is noticed late.\n\
         \"Least\" is the bound in the \
         test; + 2 cm must miss the adult's.\n\n\
         | truth | least | week 6 | week 8 | week 10 | week 16 | week 26 | old rule, week 10, 16, 26 |\n\
         |---|---|---|---|---|---|---|---|\n"
    );
    for row in told {
        let least: Vec<String> =
            row.least.iter().map(|(week, least)| format!("{least} by {week}")).collect();
        let least = if least.is_empty() { "none".to_owned() } else { least.join(", ") };
        let cells: Vec<String> = row.told.iter().map(|told| format!("{told:.0}")).collect();
        let old = OLD.iter().find(|old| old.0 == row.name).map_or("", |old| old.1);
        writeln!(page, "| {} | {least} | {} | {old} |", row.name, cells.join(" | ")).unwrap();
    }
    page.push_str("\nNumbers are seasons in 100.\n");
    page
}
