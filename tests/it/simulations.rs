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

mod claims;
mod coverage;
mod draw;
mod judged;
mod lived;
mod people;
mod planned;
mod questions;
mod stated;
mod told;
mod truth;

use claims::{Bound, Claims};
use coverage::Coverage;
use planned::Planned;
use questions::Questions;
use stated::{Hatch, Stated};
use told::Told;

static COVERAGES: LazyLock<Vec<Coverage>> = LazyLock::new(coverage::all);
static QUESTIONS: LazyLock<Vec<Questions>> = LazyLock::new(questions::all);
static CLAIMS: LazyLock<Vec<Claims>> = LazyLock::new(claims::all);
static TOLD: LazyLock<Vec<Told>> = LazyLock::new(told::all);
static STATED: LazyLock<Vec<Stated>> = LazyLock::new(stated::all_stated);
static HATCHES: LazyLock<Vec<Hatch>> = LazyLock::new(stated::all_hatches);
static PLANNED: LazyLock<Vec<Planned>> = LazyLock::new(planned::all);

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
fn a_season_seldom_claims_what_is_not_so() {
    let mut bounded = 0;
    for row in CLAIMS.iter() {
        let Bound::Most(gain, loss) = row.bound else { continue };
        bounded += 1;
        assert!(row.gain <= gain, "{}: gain {}", row.name, row.gain);
        assert!(row.loss <= loss, "{}: loss {}", row.name, row.loss);
    }
    assert_eq!(bounded, 20);
}

#[test]
fn a_wrong_truth_leaves_the_bounds_of_false_claims() {
    let wrong: Vec<_> = CLAIMS.iter().filter(|row| row.bound == Bound::Wrong).collect();
    assert_eq!(wrong.len(), 3);
    for row in wrong {
        assert!(row.gain > 15.0, "{}: {}", row.name, row.gain);
    }
}

#[test]
fn a_real_change_is_told_in_time() {
    assert_eq!(TOLD.iter().map(|row| row.least.len()).sum::<usize>(), 19);
    for row in TOLD.iter() {
        for (week, least) in &row.least {
            assert!(row.by(*week) >= *least, "{} by {week}: {}", row.name, row.by(*week));
        }
    }
}

#[test]
fn a_small_gain_is_told_too_seldom_for_the_bounds() {
    let wrong = TOLD.iter().find(|row| row.is_wrong).unwrap();
    for (week, least) in &TOLD[0].least {
        assert!(wrong.by(*week) < *least, "{}", wrong.by(*week));
    }
}

#[test]
fn a_stated_chance_is_about_the_true_one() {
    for row in STATED.iter() {
        let worst = row.worst();
        match row.most {
            Some(most) => assert!(worst <= most, "{}: {worst}", row.name),
            None => assert!(worst > 17.0, "{}: {worst}", row.name),
        }
    }
}

#[test]
fn the_level_lies_in_the_hatch_of_a_season_about_two_times_in_three() {
    for row in HATCHES.iter() {
        for (week, [first, last]) in &row.held {
            let is_held =
                (55.0..=83.0).contains(first) && (row.least_at_last..=83.0).contains(last);
            // After a sudden fall it lags: that this is seen shows that the bounds can fail.
            assert_eq!(is_held, row.is_bounded, "{}, week {week}: {first} {last}", row.name);
        }
    }
}

#[test]
fn the_plan_keeps_its_promise() {
    for row in PLANNED.iter() {
        let off = (row.promised - row.told).abs();
        assert!(off <= row.most, "{}: {} {}", row.name, row.promised, row.told);
        // A truth of another size must not fit.
        let other = (row.promised - row.told_of_less).abs();
        assert!(other > row.most, "{}: {} {}", row.name, row.promised, row.told_of_less);
        if let Some((tests, told)) = row.each_side {
            assert!(told >= 72.0, "{}: {tests} tests each side: {told}", row.name);
        }
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
    let page = [
        coverage::page(&COVERAGES),
        claims::page(&CLAIMS),
        told::page(&TOLD),
        stated::page(&STATED, &HATCHES),
        planned::page(&PLANNED),
        questions::page(&QUESTIONS),
    ]
    .concat();
    expect_file!["../../docs/season-rates.md"].assert_eq(&page);
}
