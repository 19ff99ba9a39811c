//! The eighteen worked examples of the reference, computed there in Python; within 0.1 point.

use super::*;
use two_marks::measure::FlightTime;
use two_marks::norms::tables::*;
use two_marks::norms::{AdultsOnly, NoPosition, athlete_context};
use two_marks::quantity::Sex::{Female, Male};

fn flight(micros: u32, sex: Sex, years: u8) -> Position {
    let height = FlightTime::timed(micros).jump_height().0;
    let best = Estimate { height, standard_error: Length::ZERO };
    let all = standings(FLIGHT, sex, aged(years), &Score { best, mean: None });
    assert_eq!(all.len(), 1, "one table of flight times");
    assert_eq!(*all[0].source, KOR_NFA_2024_2026);
    all[0].position
}

fn among_athletes(source: &Source, sex: Sex, cm: f64) -> Position {
    let adult = AdultsOnly::check(aged(25)).unwrap();
    let all = athlete_context(adult, TrendKey::USUAL, sex, &exact(cm));
    all.iter().find(|standing| standing.source == source).unwrap().position
}

#[test]
fn example_1_texas_inside() {
    for (cm, percent) in [(50.0, 51.63), (45.0, 35.03), (60.0, 84.08)] {
        check_percent(wall(&USA_TEXAS_M2029, Male, 25, &exact(cm)), percent);
    }
}

#[test]
fn example_2_texas_edge_and_outside() {
    let point = |cm| percentiles(wall(&USA_TEXAS_M2029, Male, 20, &exact(cm))).point;
    assert_eq!(point(62.0), Percentile::At(90.0));
    assert_eq!(point(65.0), Percentile::Above(90));
    assert_eq!(point(35.0), Percentile::Below(10));
}

#[test]
fn example_3_hoffman() {
    for (cm, percent) in [(40.0, 37.39), (45.0, 57.20)] {
        check_percent(wall(&USA_HOFFMAN_2006, Male, 13, &exact(cm)), percent);
    }
}

#[test]
fn examples_4_to_6_patterson() {
    let cases = [
        (Female, 23, 40.0, 74.51),
        (Female, 28, 30.0, 18.09),
        (Male, 22, 60.0, 65.77),
        (Male, 30, 50.0, 25.10),
    ];
    for (sex, years, cm, percent) in cases {
        check_percent(wall(&USA_PATTERSON_2004, sex, years, &exact(cm)), percent);
    }
}

#[test]
fn example_7_lockie() {
    check_percent(among_athletes(&USA_LOCKIE_2024, Female, 45.0), 68.78);
    check_percent(among_athletes(&USA_LOCKIE_2024, Male, 50.0), 29.96);
}

#[test]
fn examples_8_to_11_bands() {
    let cases = [
        (&IDN_TKJI_2010, Female, 11, 30.0, 3),
        (&IDN_TKJI_2010, Female, 11, 33.5, 4),
        (&IDN_TKJI_2010, Male, 14, 52.4, 3),
        (&IDN_TKJI_2010, Male, 14, 52.5, 4),
        (&GBR_DAVIS_2000, Male, 17, 49.4, 3),
        (&GBR_DAVIS_2000, Male, 17, 49.5, 4),
        (&GBR_DAVIS_2000, Male, 17, 66.0, 5),
        (&AUS_ARKINSTALL_2010, Female, 35, 45.4, 3),
        (&AUS_ARKINSTALL_2010, Female, 35, 45.5, 4),
    ];
    for (source, sex, years, cm, expected) in cases {
        let range = bands(wall(source, sex, years, &exact(cm)));
        assert_eq!((range.point, range.count), (expected, 5), "{} {cm}", source.id);
    }
}

#[test]
fn example_12_average_lines() {
    let girl = average(wall(&CAN_CHMS_YOUTH_2016, Female, 12, &exact(42.0)));
    assert_eq!((girl.point, girl.average), (Nearness::Above, Length::from_mm(350)));
    let boy = average(wall(&CAN_CHMS_YOUTH_2016, Male, 8, &exact(28.0)));
    assert_eq!((boy.point, boy.average), (Nearness::Near, Length::from_mm(280)));
}

#[test]
fn examples_13_and_14_flight_times() {
    check_percent(flight(430_000, Female, 47), 66.42);
    check_percent(flight(500_000, Female, 14), 84.92);
    check_percent(flight(600_000, Male, 16), 69.39);
}

#[test]
fn examples_15_and_16_our_estimate() {
    let woman = average(wall(&ESTIMATE_FROM_FLIGHT, Female, 47, &exact(33.0)));
    assert_eq!((woman.point, woman.average), (Nearness::Near, Length::from_mm(310)));
    let man = average(wall(&ESTIMATE_FROM_FLIGHT, Male, 52, &exact(50.0)));
    assert_eq!((man.point, man.average), (Nearness::Above, Length::from_mm(420)));
}

#[test]
fn example_17_college_football() {
    check_percent(among_athletes(&USA_FRY_1991, Male, 75.0), 70.11);
}

#[test]
fn example_18_no_table_for_the_age() {
    let said = place(TrendKey::USUAL, Compare::With(Female), aged(67), &exact(20.0));
    assert!(said.by_sex[0].standings.is_empty());
    assert_eq!(said.by_sex[0].none_because, Some(NoPosition::NoTableForAge));
}
