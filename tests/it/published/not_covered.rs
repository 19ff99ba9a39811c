//! What the page says no table covers, held against the tables.

use two_marks::norms::{Layer, TestKind, coverage};
use two_marks::quantity::Sex;

const ALL: [(TestKind, Sex); 4] = [
    (TestKind::Wall, Sex::Female),
    (TestKind::Wall, Sex::Male),
    (TestKind::FlightTime, Sex::Female),
    (TestKind::FlightTime, Sex::Male),
];

/// The ages at which a table of one of these layers is listed.
fn ages(kind: TestKind, sex: Sex, layers: &[Layer]) -> Vec<u8> {
    let has = |years: &u8| {
        let listed = coverage(kind, sex, *years);
        listed.iter().any(|listing| layers.contains(&listing.source.layer))
    };
    (0..=100).filter(has).collect()
}

const PLACES: [Layer; 2] = [Layer::Percentiles, Layer::MeanAndSd];

#[test]
fn places_in_100_on_a_wall_under_20_are_for_boys_of_13_and_14_alone() {
    let under_20 =
        |sex| ages(TestKind::Wall, sex, &PLACES).into_iter().filter(|years| *years < 20).collect();
    let (girls, boys): (Vec<u8>, Vec<u8>) = (under_20(Sex::Female), under_20(Sex::Male));
    assert!(girls.is_empty());
    assert_eq!(boys, [13, 14]);
}

#[test]
fn places_in_100_on_a_wall_end_at_30() {
    for sex in [Sex::Female, Sex::Male] {
        assert_eq!(ages(TestKind::Wall, sex, &PLACES).last(), Some(&30));
    }
}

#[test]
fn strips_are_for_10_to_49() {
    for sex in [Sex::Female, Sex::Male] {
        let strips = ages(TestKind::Wall, sex, &[Layer::Bands]);
        assert_eq!((strips.first(), strips.last()), (Some(&10), Some(&49)));
    }
}

#[test]
fn nothing_covers_the_very_young_and_the_old() {
    let any = [PLACES[0], PLACES[1], Layer::Bands, Layer::AverageLine, Layer::OwnEstimate];
    for (kind, sex) in ALL {
        let covered = ages(kind, sex, &any);
        let first = if kind == TestKind::Wall { 6 } else { 13 };
        assert_eq!((covered.first(), covered.last()), (Some(&first), Some(&64)), "{kind:?}");
    }
}
