//! How much growing up alone adds, against tables that were not used to make the figures.

use super::*;
use two_marks::norms::tables::*;
use two_marks::norms::{
    GrowthKind, SPREAD_MIN_CM, YearlyGain, growth_by_year, growth_expectation,
    growth_expectation_for, reach_growth_expectation,
};
use two_marks::quantity::{AgeGroup, Sex::*};

#[track_caller]
fn grows(sex: Sex, years: u8) -> YearlyGain {
    growth_expectation(sex, years).expect("a table supports it")
}

#[test]
fn year_by_year_from_the_korean_medians() {
    // Medians, cm, as the file prints them (g 9.81), boys and girls 13 to 18.
    let boys = [31.40, 35.63, 38.18, 39.42, 40.54, 41.54];
    let girls = [23.63, 23.63, 23.85, 24.39, 24.61, 25.39];
    for (sex, medians) in [(Male, boys), (Female, girls)] {
        for (years, pair) in (13..).zip(medians.windows(2)) {
            let growth = grows(sex, years);
            let gain = pair[1] - pair[0];
            let mean = growth.mean_cm_per_year;
            assert!((mean - gain).abs() < 0.015, "{sex:?} {years}: {mean} for {gain}");
            assert_eq!(growth.kind, GrowthKind::NeighbouringMedians);
            assert_eq!(*growth.source, KOR_NFA_2024_2026);
        }
    }
}

#[test]
fn boys_gain_about_four_centimetres_between_13_and_14() {
    // A chord over nine years of Colombian medians, (38.0 - 24.0)/8.5 = 1.6, hides this.
    let gain = grows(Male, 13).mean_cm_per_year;
    assert!((3.5..4.5).contains(&gain), "{gain}");
    assert!(gain > 2.0 * (38.0 - 24.0) / 8.5);
}

#[test]
fn between_groups_it_is_a_line_and_says_so() {
    // can_chms_youth_2016: 28 -> 39 (boys), 28 -> 35 (girls) from 8.5 to 13.0 years.
    for years in 8..=12 {
        for (sex, gain) in [(Male, 11.0 / 4.5), (Female, 7.0 / 4.5)] {
            let growth = grows(sex, years);
            assert!((growth.mean_cm_per_year - gain).abs() < 1e-9);
            assert_eq!(growth.kind, GrowthKind::LineBetweenGroups);
            assert_eq!(*growth.source, CAN_CHMS_YOUTH_2016);
        }
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
fn the_line_agrees_with_the_national_percentiles_abstract() {
    // Hoffmann et al. 2019 (abstract): median height rises 25 % in girls from 8 to 13. Our line
    // starts from the mean of 6 to 10, 28 cm.
    let total: f64 = (8..13).map(|years| grows(Female, years).mean_cm_per_year).sum();
    let percent = total / 28.0 * 100.0;
    assert!((percent - 25.0).abs() < 4.0, "{percent}");
    // The same abstract: 69 % in boys from 8 to 20. Ours reaches 80 % by 18, and the Korean median
    // of 19 to 24 is 1 cm lower than that of 18: about ten points more. Two devices, not one
    // sample; the gain is not trimmed to fit.
    let total: f64 = (8..18).map(|years| grows(Male, years).mean_cm_per_year).sum();
    let percent = total / 28.0 * 100.0;
    assert!((76.0..84.0).contains(&percent), "{percent}");
}

#[test]
fn the_spread_covers_school_averages_of_1976_year_by_year() {
    // jpn_nat_1976 (wall test, national means): an older, faster-rising cohort, not used above.
    let boys = [34.4, 38.0, 44.0, 49.2, 55.8, 58.6, 61.1, 63.0];
    let girls = [32.1, 35.5, 38.7, 41.1, 43.3, 43.8, 44.0, 44.4];
    for (sex, means) in [(Male, boys), (Female, girls)] {
        for (years, pair) in (10..).zip(means.windows(2)) {
            let growth = grows(sex, years);
            let gain: f64 = pair[1] - pair[0];
            let off = (gain - growth.mean_cm_per_year).abs() / growth.sd_cm_per_year;
            assert!(off < 1.55, "{sex:?} {years}: {gain} is {off} spreads off");
        }
    }
}

#[test]
fn the_spread_is_the_widening_of_the_table_itself() {
    // kor_nfa_2024_2026, boys: if gains were unrelated to height, the variance would grow from 13
    // to 14 by the variance of the gains. Spread of a year from its 10th and 90th percentile.
    let variance = |years| {
        let cell = cell(&KOR_NFA_2024_2026, Male, years);
        ((at_percent(cell, 90) - at_percent(cell, 10)) / (2.0 * 1.281_551_565_5)).powi(2)
    };
    let widening = (variance(14) - variance(13)).sqrt();
    let spread = grows(Male, 13).sd_cm_per_year;
    assert!((spread - widening).abs() < 0.3, "{spread} for {widening}");
    for sex in [Female, Male] {
        assert!((8..18).all(|years| grows(sex, years).sd_cm_per_year >= SPREAD_MIN_CM));
    }
}

#[test]
fn without_a_sex_or_an_exact_age_the_larger_gain_is_allowed_for() {
    let boys = growth_expectation(Male, 14);
    assert_eq!(growth_expectation_for(Compare::With(Male), aged(14)), boys);
    assert_eq!(growth_expectation_for(Compare::Both, aged(14)), boys);
    assert_eq!(growth_expectation_for(Compare::None, aged(14)), boys);
    let spurt = growth_expectation(Male, 13);
    let group = Age::Group(AgeGroup::From12To14);
    assert_eq!(growth_expectation_for(Compare::None, group), spurt);
    assert_eq!(growth_expectation_for(Compare::None, Age::Unknown), spurt);
    let girls = growth_expectation_for(Compare::With(Female), Age::Group(AgeGroup::Under12));
    assert_eq!(girls, growth_expectation(Female, 8));
    assert_eq!(growth_expectation_for(Compare::Both, Age::Group(AgeGroup::Adult)), None);
    assert_eq!(growth_expectation_for(Compare::Both, aged(40)), None);
}

#[test]
fn the_list_of_years_has_no_gap() {
    for compare in [Compare::With(Female), Compare::With(Male), Compare::Both, Compare::None] {
        let years: Vec<u8> = growth_by_year(compare).map(|(years, _)| years).collect();
        assert_eq!(years, (8..18).collect::<Vec<u8>>());
    }
    let girls = growth_by_year(Compare::With(Female)).find(|(years, _)| *years == 16).unwrap().1;
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
