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
mod questions;

use coverage::Coverage;
use questions::Questions;

static COVERAGES: LazyLock<Vec<Coverage>> = LazyLock::new(coverage::all);
static QUESTIONS: LazyLock<Vec<Questions>> = LazyLock::new(questions::all);

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
    let page = [coverage::page(&COVERAGES), questions::page(&QUESTIONS)].concat();
    expect_file!["../../docs/season-rates.md"].assert_eq(&page);
}
