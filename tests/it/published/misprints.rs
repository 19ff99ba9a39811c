//! Misprints and contradictions in the sources, kept from being tidied away.

use super::*;
use std::path::Path;
use two_marks::norms::tables::*;
use two_marks::quantity::Sex::*;

fn limits(source: &'static Source, sex: Sex, years: u8) -> [Option<u8>; 5] {
    let Norm::Bands { bands, .. } = cell(source, sex, years).norm else { panic!("bands") };
    let from: Vec<Option<u8>> = bands.iter().map(|band| band.from_cm).collect();
    from.try_into().expect("five bands")
}

#[test]
fn arkinstall_leaves_one_centimetre_unassigned() {
    // Printed: men <30 then 31-40, women <20 then 21-30. 30 and 20 are not *under* 30 and 20.
    for (sex, gap) in [(Male, 30.0), (Female, 20.0)] {
        let place = |cm| bands(wall(&AUS_ARKINSTALL_2010, sex, 35, &exact(cm))).point;
        assert_eq!(place(gap - 0.6), 1);
        assert_eq!(place(gap - 0.5), 2, "rounds up to the unassigned centimetre");
        assert_eq!(place(gap), 2);
        assert_eq!(place(gap + 1.0), 2);
    }
}

#[test]
fn a_limit_printed_with_a_sign_excludes_itself() {
    // gbr_davis_2000, boys: 50-65 and >65. 65 is in 50-65, 66 is above it.
    let place = |cm| bands(wall(&GBR_DAVIS_2000, Male, 18, &exact(cm))).point;
    assert_eq!((place(65.0), place(65.4), place(65.5), place(66.0)), (4, 4, 5, 5));
    // "<30": 29 is under it, 30 is not.
    assert_eq!((place(29.4), place(29.5), place(30.0)), (1, 2, 2));
}

#[test]
fn girls_16_to_19_keep_their_own_lower_limits() {
    // A second file repeats 30 and 21 of 13-15 here, where the norm table has 31 and 23.
    let of = |years| limits(&IDN_TKJI_2010, Female, years);
    assert_eq!(of(17), [None, Some(23), Some(31), Some(39), Some(50)]);
    assert_eq!(of(14), [None, Some(21), Some(30), Some(39), Some(50)]);
}

#[test]
fn a_younger_books_average_lies_above_an_older_books() {
    // Beashel calls 50-55 average at 15-16, Davis 40-49 at 16-19: never on one scale.
    let beashel = limits(&GBR_BEASHEL_1997, Male, 15)[2];
    let davis_above = limits(&GBR_DAVIS_2000, Male, 16)[3];
    assert_eq!(beashel, davis_above);
    // So one score has two places at 16, and both are shown, unblended.
    let all = standings(TrendKey::USUAL, Male, aged(16), &exact(52.0));
    let place = |source: &Source| {
        bands(all.iter().find(|standing| standing.source == source).unwrap().position).point
    };
    assert_eq!((place(&GBR_DAVIS_2000), place(&GBR_BEASHEL_1997)), (4, 3));
}

#[test]
fn the_texan_deciles_are_too_even_to_be_raw() {
    // Steps of 3.0 to 3.3 cm throughout, where a normal curve's would grow towards the ends.
    let Norm::Percentiles { scores, .. } = cell(&USA_TEXAS_M2029, Male, 25).norm else {
        panic!("percentiles")
    };
    assert!(scores.windows(2).all(|pair| {
        let step = (pair[1] - pair[0]).as_micrometres();
        (30_000..=33_000).contains(&step)
    }));
}

#[test]
fn a_rank_scale_of_equal_steps_is_no_percentile_table() {
    // usa_chu_1996_rank: every class is exactly 2 inches wide. It places nobody.
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("docs/norms/usa_chu_1996_worldclass.csv");
    let mut reader = csv::Reader::from_path(path).expect("a file of the tables");
    let rows: Vec<csv::StringRecord> = reader.records().map(|row| row.expect("a row")).collect();
    for sex in ["F", "M"] {
        let lower: Vec<f64> = rows
            .iter()
            .filter(|row| &row[0] == "usa_chu_1996_rank" && &row[2] == sex)
            .filter_map(|row| row[7].parse().ok())
            .collect();
        assert!(lower.len() >= 8, "{sex}: {lower:?}");
        for pair in lower.windows(2) {
            assert!((pair[0] - pair[1] - 5.08).abs() < 0.06, "{sex}: {pair:?}");
        }
    }
    let all = two_marks::norms::ALL_SOURCES;
    assert!(all.iter().all(|source| !source.id.starts_with("usa_chu")));
}

#[test]
fn grade_limits_are_no_percentiles_of_the_same_programme() {
    // Grade 1 is said to be the 70th percentile; against the survey it lies between the 46th and the
    // 82nd (by all 99 quantiles; the file has 13 of them), so the limits place nobody.
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("docs/norms/kor_nfa_grades.csv");
    let mut reader = csv::Reader::from_path(path).expect("a file of the tables");
    let (mut lowest, mut highest) = (100.0_f64, 0.0_f64);
    for row in reader.records().map(|row| row.expect("a row")) {
        if !row[6].starts_with("band:grade 1") {
            continue;
        }
        let sex = if &row[2] == "F" { Female } else { Male };
        let seconds: f64 = row[8].parse().expect("seconds");
        let height = Length::from_cm(9.80665 * seconds * seconds / 8.0 * 100.0);
        let best = Estimate { height, standard_error: Length::ZERO };
        let years = row[3].parse().expect("an age");
        let all = standings(FLIGHT, sex, aged(years), &Score { best, mean: None });
        let Percentile::At(percent) = percentiles(all[0].position).point else { panic!("inside") };
        lowest = lowest.min(percent);
        highest = highest.max(percent);
    }
    assert!((lowest - 46.0).abs() < 2.0 && (highest - 82.0).abs() < 1.0, "{lowest} {highest}");
}

#[test]
fn the_korean_groups_move_in_steps_of_the_timer() {
    // Many values sit on steps of about 12.4 ms: near 30 cm that is 1.3 to 1.9 cm in height, so a
    // place from one flight time is never fine.
    let cell = cell(&KOR_NFA_2024_2026, Female, 17);
    let time = |percent| (8.0 * at_percent(cell, percent) / 980.665).sqrt();
    // P75 0.481 s and P70 0.477 s share a step; P90 to P95 is 0.515 to 0.539, two steps.
    assert!((time(95) - time(90) - 2.0 * 0.0124).abs() < 0.001);
}
