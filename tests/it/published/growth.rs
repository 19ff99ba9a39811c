//! How much growing up alone adds, against the series it is taken from.

use super::*;
use two_marks::norms::{
    GrowthKind, YearlyGain, growth_by_year, growth_expectation, growth_expectation_of_group,
    reach_growth_expectation,
};
use two_marks::quantity::{AgeGroup, Sex::*};

#[track_caller]
fn grows(sex: Sex, years: u8) -> YearlyGain {
    growth_expectation(sex, years).expect("a table supports it")
}

/// The three series of docs/norms/jpn_school_sports_test_1976_1977.csv, girls and boys, at one age each.
fn series() -> Vec<(String, Sex, u8, f64)> {
    let file = include_str!("../../../docs/norms/jpn_school_sports_test_1976_1977.csv");
    let rows = file.lines().skip(1).map(|line| {
        let (id, rest) = line.split_once(',').unwrap();
        let cells: Vec<&str> = rest.rsplit_once('"').unwrap().1.split(',').skip(1).collect();
        let sex = if cells[0] == "M" { Male } else { Female };
        (id.to_owned(), sex, cells[1].parse().unwrap(), cells[5].parse().unwrap())
    });
    rows.collect()
}

#[test]
fn from_10_to_16_it_is_the_mean_rise_of_the_wall_series() {
    let series = series();
    for sex in [Female, Male] {
        for years in 10..17 {
            let of = |age: u8| -> Vec<(&String, f64)> {
                let rows = series.iter().filter(|row| row.1 == sex && row.2 == age);
                rows.map(|row| (&row.0, row.3)).collect()
            };
            let (now, next) = (of(years), of(years + 1));
            assert_eq!((now.len(), next.len()), (3, 3));
            let rises = now
                .iter()
                .map(|(id, height)| next.iter().find(|(other, _)| other == id).unwrap().1 - height);
            let mean = rises.sum::<f64>() / 3.0;
            let growth = grows(sex, years);
            assert_eq!(growth.kind, GrowthKind::WallSeries);
            let said = growth.mean_cm_per_year;
            assert!((said - mean).abs() < 0.06, "{sex:?} {years}: {said} for {mean}");
        }
    }
}

#[test]
fn what_is_chosen_beside_the_series_goes_on_from_it() {
    for sex in [Female, Male] {
        for years in [8, 9, 17] {
            assert_eq!(grows(sex, years).kind, GrowthKind::Chosen);
        }
        let of = |years| grows(sex, years).mean_cm_per_year;
        assert!(of(8) < of(9) && of(9) < of(10) && of(17) < of(16));
        // The series itself rises by this from 17 to the end of school: nothing is read from it.
        assert!(of(17) > 0.0);
    }
}

#[test]
fn where_no_table_supports_it_nothing_is_said() {
    for sex in [Female, Male] {
        for years in (0..8).chain(18..=70) {
            assert_eq!(growth_expectation(sex, years), None, "{years}");
        }
    }
}

#[test]
fn of_an_age_group_the_largest_gain_is_allowed_for() {
    let of = growth_expectation_of_group;
    assert_eq!(of(Male, AgeGroup::Under12), growth_expectation(Male, 11));
    assert_eq!(of(Male, AgeGroup::From12To14), growth_expectation(Male, 13));
    assert_eq!(of(Female, AgeGroup::Under12), growth_expectation(Female, 10));
    assert_eq!(of(Female, AgeGroup::From15To17), growth_expectation(Female, 15));
    assert_eq!(of(Female, AgeGroup::Adult), None);
}

#[test]
fn the_list_of_years_has_no_gap() {
    for sex in [Female, Male] {
        let years: Vec<u8> = growth_by_year(sex).map(|(years, _)| years).collect();
        assert_eq!(years, (8..18).collect::<Vec<u8>>());
    }
    let girls = growth_by_year(Female).find(|(years, _)| *years == 16).unwrap().1;
    assert_eq!(Some(girls), growth_expectation(Female, 16));
}

#[test]
fn reach_grows_by_stature_times_1_28() {
    // WHO 2007 medians, cm in the year from that age; printed again here on purpose.
    let boys = [5.78, 5.53, 5.30, 5.21, 5.33, 5.97, 6.96, 7.14, 5.78, 3.94, 2.26, 0.98];
    let girls = [5.69, 5.75, 5.94, 6.14, 6.36, 6.24, 5.14, 3.41, 1.88, 0.85, 0.34, 0.21];
    for (sex, gains) in [(Male, boys), (Female, girls)] {
        for (years, gain) in (6..).zip(gains) {
            let growth = reach_growth_expectation(sex, years).unwrap();
            assert!((growth.stature_per_year.as_cm() - gain).abs() < 1e-9, "{sex:?} {years}");
            assert!((growth.reach_per_year.as_cm() - 1.28 * gain).abs() < 1e-4);
        }
        assert_eq!(reach_growth_expectation(sex, 5), None);
        assert_eq!(reach_growth_expectation(sex, 18), None);
    }
}
