//! How often a normal test is questioned by the checks of what is typed.
//!
//! Whole tests of invented people are typed reading by reading, all of them right: three reaches, then
//! jumps until the advice says enough. A test counts as questioned when any reading of it is. The
//! truth about statures, growth and spreads is written here anew.

use std::fmt::Write;

use chrono::{NaiveDate, TimeDelta};
use two_marks::assess::expected_trial_sd_cm;
use two_marks::measure::{
    Advice, Doubt, Hand, MarkContext, Reach, ReachContext, Session, TrendKey, Trial, Variant,
    doubts_about_mark, doubts_about_reach,
};
use two_marks::quantity::{Age, Division, JumpHeight, Length, Reading, StandingReach};

use super::draw::Draw;
use super::people::{ADULT, BOY_OF_13, CHILD, GIRL_OF_10, GIRL_OF_16, Kind};

const RUNS: u32 = 4_000;
const SEED: u64 = 20_260_901;

/// How the body of a kind of person varies: stature and its growth, cm and cm a year.
struct Body {
    stature_cm: f64,
    stature_sd_cm: f64,
    growth_cm: f64,
    growth_sd_cm: f64,
}

/// Reach over stature differs between people by this much around 1.28.
const RATIO: (f64, f64) = (1.28, 0.025);
/// A reach about the person's own, cm.
const REACH_SD_CM: f64 = 0.45;
const FLOOR_CM: f64 = 0.8;
const FIRST_FACTOR: f64 = 1.5;

/// How jumps are read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Way {
    FromFloor,
    BetweenMarks,
}

/// One row of the printed table.
pub(super) struct Questions {
    pub(super) name: String,
    pub(super) is_true: bool,
    /// Shares of tests with any question, and with one of each kind.
    pub(super) any: f64,
    far: f64,
    reach: f64,
    window: f64,
}

fn step_cm(division: Division) -> f64 {
    division.step().as_cm()
}

#[expect(clippy::cast_possible_truncation, reason = "a few thousand steps at most")]
fn read(true_cm: f64, division: Division) -> Reading {
    let steps = (true_cm / step_cm(division)).round();
    Reading { count: steps as i32 * division.counts(), division }
}

struct Setting {
    kind: Kind,
    body: Body,
    earlier: usize,
    way: Way,
    division: Division,
    /// All spreads over those that are true of the kind.
    factor: f64,
}

/// What was asked about in one test.
#[derive(Default)]
struct Asked {
    far: bool,
    reach: bool,
    window: bool,
}

impl Asked {
    fn add(&mut self, doubts: &[Doubt]) {
        for doubt in doubts {
            match doubt {
                Doubt::FarFromOthers(_) => self.far = true,
                Doubt::ReachFell(_) | Doubt::ReachRose(_) => self.reach = true,
                Doubt::Impossible(_) | Doubt::MarkBelowReach | Doubt::UnusualForAge(_) => {
                    self.window = true;
                }
            }
        }
    }
}

#[expect(clippy::cast_possible_truncation, reason = "under 165 days")]
fn one_test(setting: &Setting, draw: &mut Draw) -> Asked {
    let Setting { kind, body, earlier, way, division, factor } = setting;
    let today = NaiveDate::from_ymd_opt(2026, 6, 14).unwrap();
    let days = 14.0 + 150.0 * draw.even();
    let age = Age::Years { years: kind.age_years, maybe_one_more: false, months_to_birthday: 6 };
    let stature_cm = body.stature_cm + body.stature_sd_cm * draw.normal();
    let ratio = RATIO.0 + RATIO.1 * draw.normal();
    let growth_cm = (body.growth_cm + body.growth_sd_cm * draw.normal()).max(0.0);
    let reach_cm = stature_cm * ratio;
    let placed = |reach_cm: f64, draw: &mut Draw| {
        read(reach_cm + factor * REACH_SD_CM * draw.normal(), *division)
    };
    let mut asked = Asked::default();
    let mut session = Session::new(TrendKey::USUAL, Hand::Right, *division);

    let mut reaches = Vec::new();
    if *way == Way::FromFloor {
        let last_cm = reach_cm - ratio * growth_cm * days / 365.25;
        let mut last = [(); 3].map(|()| placed(last_cm, draw));
        last.sort_by_key(|reading| reading.length());
        let whole_days = TimeDelta::days(days as i64);
        let last = (*earlier > 0).then(|| (StandingReach(last[1].length()), today - whole_days));
        for _ in 0..3 {
            let reading = placed(reach_cm, draw);
            asked.add(&doubts_about_reach(reading, ReachContext { age, today, last }).0);
            reaches.push(reading);
        }
        session.reach = Reach::Measured(reaches);
    } else {
        session.reach = Reach::MarkOnly;
    }

    let usual_cm = (kind.usual_cm + kind.usual_sd_cm * draw.normal()).max(8.0);
    let (trial_percent, day_percent) =
        if *earlier < 3 { kind.learning_percent } else { kind.practised_percent };
    let sd = |percent: f64| (percent / 100.0 * usual_cm).max(FLOOR_CM) * factor;
    let first = if *earlier == 0 { FIRST_FACTOR } else { 1.0 };
    let own = (8.0 / draw.chi_square(8)).sqrt();
    let today_cm = usual_cm + sd(day_percent) * draw.normal();
    loop {
        let jump_cm = (today_cm + sd(trial_percent) * first * own * draw.normal()).max(1.0);
        let others: Vec<JumpHeight> = session.counted();
        let typical = others.first().map_or(Length::from_mm(400), |height| height.0);
        let reach = session.standing_reach();
        let (reading, trial) = match way {
            Way::FromFloor => {
                let reading = read(reach_cm + jump_cm, *division);
                (reading, Trial::FloorMark(reading))
            }
            Way::BetweenMarks => {
                let reading = read(jump_cm, *division);
                (reading, Trial::MarkDistance(reading))
            }
        };
        let context = MarkContext {
            age,
            variant: Variant::Standing,
            reach,
            others: &others,
            trial_sd_cm: expected_trial_sd_cm(age, *earlier, typical),
        };
        asked.add(&doubts_about_mark(reading, context).0);
        session.trials.push(trial);
        if matches!(session.advice(), Advice::Enough | Advice::Full) {
            return asked;
        }
    }
}

fn rates(name: String, setting: &Setting, seed: u64) -> Questions {
    let mut draw = Draw::new(seed);
    let [mut any, mut far, mut reach, mut window] = [0_u32; 4];
    for _ in 0..RUNS {
        let asked = one_test(setting, &mut draw);
        any += u32::from(asked.far || asked.reach || asked.window);
        far += u32::from(asked.far);
        reach += u32::from(asked.reach);
        window += u32::from(asked.window);
    }
    let share = |count: u32| f64::from(count) / f64::from(RUNS);
    Questions {
        name,
        is_true: (setting.factor - 1.0).abs() < 1e-9,
        any: share(any),
        far: share(far),
        reach: share(reach),
        window: share(window),
    }
}

/// Statures by the WHO growth reference of 2007 and its spreads, rounded; growth as children differ.
fn body(kind: Kind) -> Body {
    let (stature_cm, stature_sd_cm, growth_cm, growth_sd_cm) = match kind.age_years {
        8 => (127.0, 5.8, 5.3, 1.0),
        10 => (138.6, 6.4, 6.4, 1.2),
        13 => (156.0, 7.5, 7.1, 2.0),
        16 => (162.5, 6.6, 0.5, 0.5),
        _ => (171.0, 9.5, 0.0, 0.0),
    };
    Body { stature_cm, stature_sd_cm, growth_cm, growth_sd_cm }
}

pub(super) fn all() -> Vec<Questions> {
    let people = [
        ("child of 8", CHILD),
        ("girl of 10", GIRL_OF_10),
        ("boy of 13", BOY_OF_13),
        ("girl of 16", GIRL_OF_16),
        ("adult", ADULT),
    ];
    let ways = [
        ("from the floor", Way::FromFloor, Division::CmHalf),
        ("between the marks", Way::BetweenMarks, Division::CmHalf),
        ("from the floor, quarter inches", Way::FromFloor, Division::InQuarter),
    ];
    let mut all = Vec::new();
    let mut seed = SEED;
    for (factor, wrong) in [(1.0, ""), (2.0, ", all spreads twice the typical")] {
        for (who, kind) in people {
            for (how, way, division) in ways {
                for (earlier, which) in [(0, "first test"), (1, "second test"), (5, "sixth test")] {
                    seed += 1;
                    let body = body(kind);
                    let setting = Setting { kind, body, earlier, way, division, factor };
                    let name = format!("{who}, {which}, {how}{wrong}");
                    all.push(rates(name, &setting, seed));
                }
            }
        }
    }
    all
}

pub(super) fn page(questions: &[Questions]) -> String {
    let mut page = String::from(
        "\n## How often a normal test is questioned\n\n\
         Whole tests with nothing wrong, typed reading by reading: three reaches (from the floor),\n\
         then jumps until the page says enough. A test counts when any reading of it is asked about.\n",
    );
    write!(
        page,
        "{RUNS} tests per row, seed {SEED}. Bound in the test: at most 5 in 100 in each row.\n\
         With all spreads twice the typical, {:.0} in 100 on average are questioned.\n\n\
         | test | any question | far from the other trials | reach changed | unusual for the age |\n\
         |---|---|---|---|---|\n",
        mean_any(questions, false) * 100.0
    )
    .unwrap();
    for row in questions.iter().filter(|row| row.is_true) {
        let [any, far, reach, window] =
            [row.any, row.far, row.reach, row.window].map(|s| s * 100.0);
        writeln!(page, "| {} | {any:.1} | {far:.1} | {reach:.1} | {window:.1} |", row.name)
            .unwrap();
    }
    writeln!(
        page,
        "\nNumbers are tests in 100; the mean is {:.1}.",
        mean_any(questions, true) * 100.0
    )
    .unwrap();
    page
}

pub(super) fn mean_any(questions: &[Questions], is_true: bool) -> f64 {
    let rows: Vec<f64> =
        questions.iter().filter(|row| row.is_true == is_true).map(|row| row.any).collect();
    rows.iter().sum::<f64>() / rows.len() as f64
}
