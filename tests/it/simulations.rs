//! Simulated people with a known truth, and what the product says of them.
//!
//! `draw` and `people` make the truth and its readings with code and numbers of their own; they use
//! nothing of the estimators. `judged` does what the pages do with a session. Every seed, number of
//! runs and bound stands in these files, and one wrong truth in each part must fall outside.
//!
//! The rates are printed in `docs/season-rates.md`. To write that file anew:
//! `UPDATE_EXPECT=1 cargo test --test it simulations`

use std::sync::LazyLock;

use expect_test::expect_file;

mod coverage;
mod draw;
mod judged;
mod people;
mod planned;
mod questions;
mod seasons;

use coverage::Coverage;
use questions::Questions;
use seasons::{Rates, Scenario};

static COVERAGES: LazyLock<Vec<Coverage>> = LazyLock::new(coverage::all);
static QUESTIONS: LazyLock<Vec<Questions>> = LazyLock::new(questions::all);
static SEASONS: LazyLock<Vec<(Scenario, Rates)>> = LazyLock::new(seasons::all);

fn rates(name: &str) -> &'static Rates {
    let found = SEASONS.iter().find(|(scenario, _)| scenario.name == name);
    &found.unwrap_or_else(|| panic!("no scenario {name}")).1
}

#[test]
fn the_usual_jump_lies_in_the_hatch_about_two_times_in_three() {
    for coverage in COVERAGES.iter().filter(|coverage| coverage.is_prior_true()) {
        let (exact, shown) = (coverage.exact, coverage.shown);
        assert!((0.60..=0.75).contains(&exact), "{}: {exact}", coverage.name);
        assert!((0.60..=0.80).contains(&shown), "{}: {shown} as shown", coverage.name);
    }
}

#[test]
fn a_wrong_spread_leaves_the_bounds_of_coverage() {
    for coverage in COVERAGES.iter().filter(|coverage| !coverage.is_prior_true()) {
        assert!(!(0.60..=0.75).contains(&coverage.exact), "{}", coverage.name);
    }
}

#[test]
fn noise_and_growth_seldom_pass_for_a_gain() {
    let promised: Vec<_> = SEASONS.iter().filter(|(scenario, _)| scenario.is_promised).collect();
    assert!(promised.len() >= 8);
    for (scenario, rates) in promised {
        assert!(rates.gain_at_any_look <= 0.10, "{}: {rates:?}", scenario.name);
        if scenario.is_unchanged() {
            assert!(rates.claim_at_any_look <= 0.10, "{}: {rates:?}", scenario.name);
        }
    }
}

#[test]
fn without_the_second_probability_growth_would_pass_for_a_gain() {
    let boy = rates("boy of 13 who only grows");
    assert!(boy.plain_at_any_look > 0.30, "{boy:?}");
}

#[test]
fn a_wrong_truth_leaves_the_bounds_of_false_alarm() {
    for name in [
        "boy of 13 who grows three times as fast as the table",
        "adult, all spreads twice the typical",
    ] {
        assert!(rates(name).claim_at_any_look > 0.10, "{name}: {:?}", rates(name));
    }
}

#[test]
fn a_livelier_drift_would_raise_false_alarms_beyond_the_promise() {
    let livelier = seasons::claims_with_drift(0.05);
    let chosen = seasons::claims_with_drift(two_marks::trend::DRIFT_CM2_PER_DAY);
    assert!(livelier > 0.10 && chosen <= 0.10, "{livelier} {chosen}");
}

#[test]
fn a_large_gain_is_seen_and_a_larger_one_more_often() {
    // The spread of growth between boys leaves less to see.
    for (who, least) in [("adult", 0.90), ("boy of 13", 0.50)] {
        let of = |gain: u32| rates(&format!("{who}, {gain} cm more")).gain_at_the_end;
        assert!(of(2) < of(3) && of(3) < of(4) && of(4) < of(6), "{who}");
        assert!(of(6) > least, "{who}: {}", of(6));
    }
}

#[test]
fn the_plan_keeps_its_promise() {
    for (gain_cm, se_cm, power) in [(3.0, 1.5, 0.8), (5.0, 1.8, 0.8), (2.5, 1.2, 0.5)] {
        let (promised, simulated) = planned::promised_and_simulated(gain_cm, se_cm, power);
        assert!((promised - simulated).abs() < 0.015, "{gain_cm}: {promised} {simulated}");
        // A truth of another size must not fit.
        let (_, other) = planned::promised_and_simulated_for(gain_cm, gain_cm - 0.8, se_cm, power);
        assert!((promised - other).abs() > 0.015, "{gain_cm}: {promised} {other}");
    }
}

#[test]
fn at_most_one_normal_test_in_twenty_is_questioned() {
    for row in QUESTIONS.iter().filter(|row| row.is_true) {
        assert!(row.any <= 0.05, "{}: {}", row.name, row.any);
    }
    // Questions that are never asked would pass too.
    assert!(questions::mean_any(&QUESTIONS, true) > 0.01);
}

#[test]
fn people_who_scatter_twice_as_much_are_questioned_more_often() {
    for row in QUESTIONS.iter().filter(|row| !row.is_true) {
        assert!(row.any > 0.05, "{}: {}", row.name, row.any);
    }
}

#[test]
fn the_printed_rates_are_these() {
    let page =
        [coverage::page(&COVERAGES), seasons::page(&SEASONS), questions::page(&QUESTIONS)].concat();
    expect_file!["../../docs/season-rates.md"].assert_eq(&page);
}
