//! What must hold for every score, age and error.

use super::*;
use proptest::prelude::*;
use two_marks::norms::{AdultsOnly, Standing, athlete_context};
use two_marks::quantity::{Division, Reading};

fn sexes() -> impl Strategy<Value = Sex> {
    prop_oneof![Just(Sex::Female), Just(Sex::Male)]
}

fn keys() -> impl Strategy<Value = TrendKey> {
    prop_oneof![Just(TrendKey::USUAL), Just(FLIGHT)]
}

fn everything(key: TrendKey, sex: Sex, years: u8, score: &Score) -> Vec<Standing> {
    let mut all = standings(key, sex, aged(years), score);
    if let Some(adult) = AdultsOnly::check(aged(years)) {
        all.extend(athlete_context(adult, key, sex, score));
    }
    all
}

/// A place as a number that grows with the place; the ends lie outside everything printed.
fn rank(percentile: Percentile) -> f64 {
    match percentile {
        Percentile::Below(_) => f64::NEG_INFINITY,
        Percentile::At(percent) => percent,
        Percentile::Above(_) => f64::INFINITY,
    }
}

fn ranks(position: Position) -> [f64; 3] {
    match position {
        Position::Percentile(range) => [range.low, range.point, range.high].map(rank),
        Position::Band(range) => [range.low, range.point, range.high].map(f64::from),
        Position::Average(range) => {
            [range.low, range.point, range.high].map(|near| f64::from(near as u8))
        }
    }
}

fn score(best_um: i64, mean_um: i64, error_um: i64) -> Score {
    let estimate = |um| Estimate {
        height: Length::from_micrometres(um),
        standard_error: Length::from_micrometres(error_um),
    };
    Score { best: estimate(best_um), mean: Some(estimate(mean_um)) }
}

proptest! {
    #[test]
    fn a_range_contains_its_point_and_a_percentile_lies_inside_the_table(
        key in keys(), sex in sexes(), years in 0_u8..=100,
        best in 0_i64..1_560_000, drop in 0_i64..100_000, error in 0_i64..80_000,
    ) {
        for standing in everything(key, sex, years, &score(best, best - drop, error)) {
            let [low, point, high] = ranks(standing.position);
            prop_assert!(low <= point && point <= high, "{}", standing.source.id);
            if let Position::Percentile(range) = standing.position
                && let Percentile::At(percent) = range.point
            {
                prop_assert!((1.0..=99.0).contains(&percent));
            }
        }
    }

    #[test]
    fn a_place_never_falls_when_the_score_rises(
        key in keys(), sex in sexes(), years in 0_u8..=100,
        best in 0_i64..1_000_000, more in 0_i64..200_000, error in 0_i64..60_000,
    ) {
        let under = everything(key, sex, years, &score(best, best, error));
        let over = everything(key, sex, years, &score(best + more, best + more, error));
        prop_assert_eq!(under.len(), over.len());
        for (under, over) in under.iter().zip(&over) {
            for (a, b) in ranks(under.position).into_iter().zip(ranks(over.position)) {
                prop_assert!(a <= b, "{}: {a} then {b}", under.source.id);
            }
        }
    }

    #[test]
    fn a_larger_error_never_narrows_the_range(
        key in keys(), sex in sexes(), years in 0_u8..=100,
        best in 0_i64..1_000_000, error in 0_i64..60_000, more in 0_i64..60_000,
    ) {
        let narrow = everything(key, sex, years, &score(best, best, error));
        let wide = everything(key, sex, years, &score(best, best, error + more));
        for (narrow, wide) in narrow.iter().zip(&wide) {
            let ([a, point, b], [c, same, d]) = (ranks(narrow.position), ranks(wide.position));
            prop_assert!(c <= a && b <= d);
            prop_assert!(point.total_cmp(&same).is_eq());
        }
    }

    #[test]
    fn the_unit_a_tape_is_read_in_changes_nothing(
        sex in sexes(), years in 0_u8..=100, count in 0_i32..8,
    ) {
        // 5 in is 127 mm: lengths that both tapes hold exactly.
        let in_eighths = Reading { count: count * 40, division: Division::InEighth }.length();
        let in_mm = Reading { count: count * 127, division: Division::CmTenth }.length();
        prop_assert_eq!(in_eighths, in_mm);
        let a = score(in_eighths.as_micrometres(), in_eighths.as_micrometres(), 12_700);
        let b = score(in_mm.as_micrometres(), in_mm.as_micrometres(), 12_700);
        prop_assert_eq!(
            everything(TrendKey::USUAL, sex, years, &a),
            everything(TrendKey::USUAL, sex, years, &b)
        );
    }
}
