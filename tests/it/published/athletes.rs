//! Athletes and recruits: for adults who ask, and for nobody else.

use super::*;
use two_marks::norms::tables::*;
use two_marks::norms::{ALL_SOURCES, AdultsOnly, Caution, athlete_context};
use two_marks::quantity::{AgeGroup, Sex::*};

#[test]
fn no_child_and_nobody_of_unknown_age_gets_the_key() {
    for years in 0..18 {
        assert_eq!(AdultsOnly::check(aged(years)), None, "{years}");
    }
    // 17 and in the birth month: perhaps 18, so not surely.
    let perhaps = Age::Years { years: 17, maybe_one_more: true, months_to_birthday: 0 };
    assert_eq!(AdultsOnly::check(perhaps), None);
    for group in [AgeGroup::Under12, AgeGroup::From12To14, AgeGroup::From15To17] {
        assert_eq!(AdultsOnly::check(Age::Group(group)), None);
    }
    assert_eq!(AdultsOnly::check(Age::Unknown), None);
    assert!(AdultsOnly::check(aged(18)).is_some());
    assert!(AdultsOnly::check(Age::Group(AgeGroup::Adult)).is_some());
}

#[test]
fn tables_of_athletes_never_come_up_unasked() {
    for years in 0..=100 {
        for sex in [Female, Male] {
            for key in [TrendKey::USUAL, FLIGHT] {
                for standing in standings(key, sex, aged(years), &exact(50.0)) {
                    assert!(!standing.source.cautions.contains(&Caution::Athletes));
                }
            }
        }
    }
}

#[test]
fn each_sex_sees_its_own_tables_and_flight_times_none() {
    let adult = AdultsOnly::check(aged(30)).unwrap();
    let ids = |key, sex| -> Vec<&str> {
        let all = athlete_context(adult, key, sex, &exact(60.0));
        all.iter().map(|standing| standing.source.id).collect()
    };
    assert_eq!(ids(TrendKey::USUAL, Female), ["usa_lockie_2024"]);
    let men = ["usa_lockie_2024", "usa_fry_1991", "usa_basketball_combine", "usa_football_combine"];
    assert_eq!(ids(TrendKey::USUAL, Male), men);
    assert!(ids(FLIGHT, Male).is_empty());
    for id in men {
        let source = ALL_SOURCES.iter().find(|source| source.id == id).unwrap();
        assert!(source.cautions.contains(&Caution::Athletes));
    }
}

#[test]
fn printed_percentiles_come_back() {
    // usa_football_combine: P25 30.0 in, P50 33.0 in; usa_basketball_combine: P50 29.0 in.
    let adult = AdultsOnly::check(aged(22)).unwrap();
    let place = |source: &Source, inches: f64| {
        let all = athlete_context(adult, TrendKey::USUAL, Male, &exact(inches * 2.54));
        let found = all.iter().find(|standing| standing.source == source).unwrap();
        percentiles(found.position).point
    };
    assert_eq!(place(&USA_FOOTBALL_COMBINE, 30.0), Percentile::At(25.0));
    assert_eq!(place(&USA_FOOTBALL_COMBINE, 33.0), Percentile::At(50.0));
    assert_eq!(place(&USA_BASKETBALL_COMBINE, 29.0), Percentile::At(50.0));
    assert_eq!(place(&USA_BASKETBALL_COMBINE, 35.0), Percentile::Above(95));
    assert_eq!(place(&USA_BASKETBALL_COMBINE, 23.0), Percentile::Below(5));
}
