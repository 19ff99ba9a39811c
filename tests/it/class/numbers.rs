use serde_json::Value;

use super::{class, day, result};
use two_marks::class::{Middle, change, rows, summary};
use two_marks::history::{Class, ClassResult};
use two_marks::measure::Trial;
use two_marks::quantity::{AgeGroup, Length};

fn list(value: &Value) -> Vec<f64> {
    value.as_array().unwrap().iter().map(|one| one.as_f64().unwrap()).collect()
}

#[track_caller]
fn near(got: f64, want: f64, tolerance: f64) {
    assert!((got - want).abs() <= tolerance, "{got} is not {want}");
}

fn class_of(heights: &[Vec<i32>]) -> (Class, Vec<ClassResult>) {
    let mut class = class();
    class.setup.trials = u8::try_from(heights[0].len()).unwrap();
    class.setup.numbers = u8::try_from(heights.len()).unwrap();
    let numbered = (1u8..).zip(heights);
    (class, numbered.map(|(number, heights)| result(number, day(1), heights)).collect())
}

#[test]
fn statsmodels_pingouin_and_numpy_agree_on_a_class() {
    let cases: Vec<Value> = serde_json::from_str(include_str!("class_oracle.json")).unwrap();
    assert_eq!(cases.len(), 4);
    for case in cases {
        let rows_of = case["heights_mm"].as_array().unwrap().iter().map(list);
        let heights: Vec<Vec<i32>> = rows_of
            .map(|row| row.into_iter().map(|mm| format!("{mm:.0}").parse().unwrap()).collect())
            .collect();
        let (class, results) = class_of(&heights);
        let summed = summary(&class, &rows(&class, &results, day(1)));
        assert_eq!((summed.counted, summed.flagged, summed.missing), (heights.len(), 0, 0));
        let trust = summed.trust.unwrap();
        near(trust.typical_error_cm, case["typical_error_cm"].as_f64().unwrap(), 1e-9);
        let ends = list(&case["typical_error_interval_cm"]);
        near(trust.typical_error_interval_cm.low, ends[0], 1e-9);
        near(trust.typical_error_interval_cm.high, ends[1], 1e-9);
        // A jump is off by its day, its reach and the tape too, and the trials are not all of it.
        let day_cm = 1.11 * 0.8;
        assert!(trust.one_jump_cm > libm::hypot(trust.typical_error_cm, day_cm));
        assert!(trust.one_jump_interval_cm.low < trust.one_jump_cm);
        assert!(trust.one_jump_cm < trust.one_jump_interval_cm.high);
        near(trust.icc, case["icc"].as_f64().unwrap(), 1e-9);
        let ends = list(&case["icc_interval"]);
        near(trust.icc_interval.low, ends[0], 1e-9);
        near(trust.icc_interval.high, ends[1], 1e-9);
        // Lengths are whole micrometres.
        let Middle { lower, median, upper } = summed.middle.unwrap();
        for (got, want) in [lower, median, upper].into_iter().zip(list(&case["quartiles_cm"])) {
            near(got.as_cm(), want, 1e-4);
        }
    }
}

#[test]
fn under_eight_there_is_no_middle_and_no_typical_error() {
    let heights = vec![vec![300, 310, 305]; 7];
    let (class, mut results) = class_of(&heights);
    let summed = |results: &[ClassResult]| summary(&class, &rows(&class, results, day(1)));
    assert_eq!((summed(&results).middle, summed(&results).trust), (None, None));
    results.push(result(8, day(1), &[320, 330, 340]));
    assert!(summed(&results).middle.is_some() && summed(&results).trust.is_some());
    // Seven full rows and an unfinished one: a middle of eight, and no typical error.
    results[0].session.trials.truncate(1);
    let now = summed(&results);
    assert_eq!((now.counted, now.flagged), (8, 1));
    assert!(now.middle.is_some() && now.trust.is_none());
}

#[test]
fn a_number_with_another_role_is_not_missing() {
    let (class, mut results) = class_of(&vec![vec![300, 310, 305]; 9]);
    results[0].session.trials.clear();
    results[1].session.trials.clear();
    results[1].helps = true;
    let summed = summary(&class, &rows(&class, &results, day(1)));
    assert_eq!((summed.counted, summed.missing), (7, 1));
}

/// Thirty numbers, the second day moved by so many millimetres each.
fn moved(by: impl Fn(u8) -> i32) -> (Class, Vec<ClassResult>) {
    let mut class = class();
    class.setup.age = Some(AgeGroup::From12To14);
    let heights = |number: u8, more: i32| {
        let base = 280 + 5 * i32::from(number % 11) + more;
        if number.is_multiple_of(2) {
            [base, base + 10, base + 5]
        } else {
            [base + 10, base, base + 5]
        }
    };
    let results = (1u8..=30).flat_map(|number| {
        let mut second = result(number, day(20), &heights(number, by(number)));
        second.id = two_marks::history::Id::from_bytes([100 + number; 16]);
        [result(number, day(1), &heights(number, 0)), second]
    });
    (class, results.collect())
}

#[test]
fn a_move_counts_when_it_is_larger_than_trial_and_day_noise() {
    let (class, results) = moved(|number| match number {
        1 => 60,
        2 => -60,
        3 => 20,
        _ => 0,
    });
    let change = change(&class, &results, day(1), day(20));
    assert_eq!(change.moved.len(), 30);
    assert_eq!((change.higher, change.lower), (1, 1));
    // 5 % of 30 numbers: one and a half.
    assert_eq!(change.luck_tenths, 15);
    assert_eq!(change.mean, Some(Length::from_cm(2.0 / 30.0)));
    // By hand for number 1: usual 29.0 and 35.0 cm, mean 32.0; day SD 4 % of it, 1.28 cm. Half of the
    // rows go +5, -5, 0 mm from their mean, half -5, +5, 0: squares 30 × 50 mm² over 58 degrees of
    // freedom, 0.258621 cm², a third of it in a mean of three. 1.96 sqrt(2 (1.6384 + 0.086207)).
    near(change.moved[0].noise.as_cm(), 1.96 * (2.0 * (1.6384 + 0.258_621 / 3.0f64)).sqrt(), 1e-4);
}

#[test]
fn by_luck_alone_one_in_twenty_moves_that_far() {
    // Invented pupils who do not change, with the scatter that the class assumes: 4.5 % from trial to
    // trial and 4 % from day to day of 33 cm. 400 pairs of days of 30 numbers.
    let mut state = 7u64;
    let mut uniform = || {
        state =
            state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        f64::from(u32::try_from(state >> 33).unwrap()) / f64::from(1u32 << 31)
    };
    let mut normal = || (0..12).map(|_| uniform()).sum::<f64>() - 6.0;
    let (mut beyond, mut all, mut said) = (0, 0, 0.0);
    for _ in 0..400 {
        let mut class = class();
        class.setup.age = Some(AgeGroup::From12To14);
        let mut results = Vec::new();
        for number in 1..=30u8 {
            for (on, id) in [(day(1), 0), (day(20), 100)] {
                let today = 330.0 + 0.04 * 330.0 * normal();
                let heights: Vec<i32> = (0..3)
                    .map(|_| format!("{:.0}", today + 0.045 * 330.0 * normal()).parse().unwrap())
                    .collect();
                let mut one = result(number, on, &heights);
                one.id = two_marks::history::Id::from_bytes([number + id; 16]);
                results.push(one);
            }
        }
        let change = change(&class, &results, day(1), day(20));
        beyond += change.higher + change.lower;
        all += change.moved.len();
        said += f64::from(u32::try_from(change.luck_tenths).unwrap()) / 10.0;
    }
    let share = f64::from(u32::try_from(beyond).unwrap()) / f64::from(u32::try_from(all).unwrap());
    // 12,000 moves: one standard error of the share is 0.2 points.
    assert!((0.044..=0.056).contains(&share), "{share}");
    near(said / 400.0, 1.5, 1e-9);
}

#[test]
fn numbers_of_one_day_only_are_left_out() {
    let (class, mut results) = moved(|_| 0);
    results.retain(|one| one.date == day(1) || one.number <= 5);
    let change = change(&class, &results, day(1), day(20));
    assert_eq!(change.moved.len(), 5);
    assert_eq!(
        (change.mean, change.mean_error),
        (None, None),
        "under eight nothing is said of all"
    );
    let fouls = results.iter_mut().find(|one| one.number == 1 && one.date == day(20)).unwrap();
    fouls.session.trials = vec![Trial::Foul(two_marks::measure::FoulReason::Step); 3];
    assert_eq!(two_marks::class::change(&class, &results, day(1), day(20)).moved.len(), 4);
}
