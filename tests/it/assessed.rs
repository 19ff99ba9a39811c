//! What must hold of all that is said of one test, whatever was measured: checked through `assess`,
//! the one path from a record to a claim.

use std::collections::BTreeSet;

use chrono::NaiveDate;
use proptest::prelude::*;
use two_marks::assess::{Assessment, assess};
use two_marks::history::{Born, Person, Test};
use two_marks::measure::{Device, FlightTime, FoulReason, Reach, Trial};
use two_marks::norms::{Percentile, Position, Standing, TestKind, coverage};
use two_marks::quantity::{BirthMonth, Compare, Division, Length, Reading, Sex};

use crate::samples::{local, person, wall_test};

const DAY: (i32, u32, u32) = (2026, 6, 14);

/// Somebody of so many completed years on the day of the test, who looks at both tables.
fn aged(years: u16) -> Person {
    let mut one = person(1, "Heron");
    one.born = BirthMonth::new(2026 - years, 1).map(Born::Month);
    one.compare = Some(Compare::Both);
    one
}

/// A test of three reaches and some marks over the floor, each so many `steps` of `step` counts.
fn test_of(division: Division, step: i32, reaches: &[i32], marks: &[i32]) -> Test {
    let read = |steps: &i32| Reading { count: steps * step, division };
    let mut test = wall_test(2, &local(1), &[]);
    test.date = NaiveDate::from_ymd_opt(DAY.0, DAY.1, DAY.2).unwrap();
    test.session.division = division;
    test.session.reach = Reach::Measured(reaches.iter().map(read).collect());
    test.session.trials = marks.iter().map(|mark| Trial::FloorMark(read(mark))).collect();
    test
}

fn standings(said: &Assessment) -> impl Iterator<Item = &Standing> {
    said.placements.by_sex.iter().flat_map(|placement| &placement.standings)
}

/// Lower end, point and upper end as numbers that grow with the place; what lies outside a printed
/// table lies outside every number.
fn ranks(position: Position) -> [f64; 3] {
    let percent = |place| match place {
        Percentile::Below(_) => f64::NEG_INFINITY,
        Percentile::At(percent) => percent,
        Percentile::Above(_) => f64::INFINITY,
    };
    match position {
        Position::Percentile(range) => [range.low, range.point, range.high].map(percent),
        Position::Band(range) => [range.low, range.point, range.high].map(f64::from),
        Position::Average(range) => {
            [range.low, range.point, range.high].map(|near| f64::from(near as u8))
        }
    }
}

/// Reaches around 2.2 m and jumps of 12 to 80 cm, in whole centimetres.
fn measured_cm() -> impl Strategy<Value = (Vec<i32>, Vec<i32>)> {
    let reaches = prop::collection::vec(219..=221, 3);
    (reaches, prop::collection::vec(232..=300, 1..=6))
}

/// The same in whole inches.
fn measured_in() -> impl Strategy<Value = (Vec<i32>, Vec<i32>)> {
    (prop::collection::vec(86..=87, 3), prop::collection::vec(92..=118, 1..=6))
}

/// From fine to coarse: lengths of whole centimetres or inches stand on each of these tapes.
fn never_narrower(fine: &Assessment, coarse: &Assessment) -> Result<(), TestCaseError> {
    prop_assert_eq!(fine.best, coarse.best);
    prop_assert_eq!(fine.usual, coarse.usual);
    prop_assert!(fine.standard_error <= coarse.standard_error);
    prop_assert_eq!(standings(fine).count(), standings(coarse).count());
    for (narrow, wide) in standings(fine).zip(standings(coarse)) {
        let ([a, point, b], [c, same, d]) = (ranks(narrow.position), ranks(wide.position));
        prop_assert!(c <= a && b <= d && point.total_cmp(&same).is_eq(), "{}", narrow.source.id);
    }
    Ok(())
}

proptest! {
    #[test]
    fn a_wider_step_of_the_tape_never_narrows_what_is_said(
        years in 5u16..80, (reaches, marks) in measured_cm(), in_inches in measured_in(),
    ) {
        let one = aged(years);
        let metric = [Division::CmTenth, Division::CmHalf, Division::Cm1]
            .map(|division| assess(&test_of(division, 10, &reaches, &marks), &one, &[]));
        let (reaches, marks) = in_inches;
        let inches = [Division::InEighth, Division::InQuarter, Division::InHalf, Division::In1]
            .map(|division| assess(&test_of(division, 8, &reaches, &marks), &one, &[]));
        for pair in metric.windows(2).chain(inches.windows(2)) {
            never_narrower(&pair[0], &pair[1])?;
        }
        prop_assert!(metric[0].standard_error < metric[2].standard_error);
        prop_assert!(inches[0].standard_error < inches[3].standard_error);
    }

    #[test]
    fn every_range_holds_its_point(years in 5u16..80, (reaches, marks) in measured_cm()) {
        let said = assess(&test_of(Division::CmHalf, 10, &reaches, &marks), &aged(years), &[]);
        let usual = said.usual.unwrap().height;
        let first_three: Vec<i32> = marks.iter().take(3).copied().collect();
        let reach = { let mut all = reaches.clone(); all.sort_unstable(); all[1] };
        let lowest = Length::from_mm(i64::from((first_three.iter().min().unwrap() - reach) * 10));
        let highest = Length::from_mm(i64::from((first_three.iter().max().unwrap() - reach) * 10));
        prop_assert!(lowest <= usual.0 && usual.0 <= highest);
        prop_assert!(said.standard_error.unwrap() > Length::ZERO);
        for standing in standings(&said) {
            let [low, point, high] = ranks(standing.position);
            prop_assert!(low <= point && point <= high, "{}", standing.source.id);
        }
    }

    /// 5 in is 127 mm, so both tapes hold these lengths. The step of a tape is part of how it was
    /// read, not a unit: it may change its own share of the ±, and that alone.
    #[test]
    fn the_unit_of_a_tape_changes_nothing_but_the_share_of_its_step(
        years in 5u16..80,
        reaches in prop::collection::vec(17i32..=18, 3),
        rises in prop::collection::vec(1i32..=6, 1..=6),
    ) {
        let marks: Vec<i32> = rises.iter().map(|rise| 18 + rise).collect();
        let one = aged(years);
        let said = [(Division::InEighth, 40), (Division::CmTenth, 127)]
            .map(|(division, step)| assess(&test_of(division, step, &reaches, &marks), &one, &[]));
        let [mut inches, mut metric] = said;
        for (a, b) in standings(&inches).zip(standings(&metric)) {
            prop_assert_eq!(ranks(a.position)[1].to_bits(), ranks(b.position)[1].to_bits());
            prop_assert_eq!(a.source.id, b.source.id);
        }
        // Taken out: the step's share, and what is worked out from it. What one test teaches of the
        // spread between days is next to nothing, and a millionth of that is the step's.
        let day_cm = inches.parts.unwrap().day_cm;
        prop_assert!((day_cm - metric.parts.unwrap().day_cm).abs() < 1e-4);
        for said in [&mut inches, &mut metric] {
            let parts = said.parts.as_mut().unwrap();
            (parts.reading_cm, parts.day_cm) = (0.0, day_cm);
            said.standard_error = None;
            said.placements.by_sex.clear();
        }
        prop_assert_eq!(inches, metric);
    }

    #[test]
    fn a_foul_changes_nothing_that_is_said(
        years in 5u16..80, (reaches, marks) in measured_cm(), at in 0usize..=6,
        reason in prop::sample::select(FoulReason::ALL.to_vec()),
    ) {
        let one = aged(years);
        let plain = test_of(Division::CmHalf, 10, &reaches, &marks);
        let mut fouled = plain.clone();
        fouled.session.trials.insert(at.min(marks.len()), Trial::Foul(reason));
        prop_assert_eq!(fouled.session.fouls().count(), 1);
        prop_assert_eq!(fouled.session.trials.len(), plain.session.trials.len() + 1);
        prop_assert_eq!(assess(&plain, &one, &[]), assess(&fouled, &one, &[]));
    }
}

/// The sources that speak, by sex, of tests of which each is higher than the one before.
fn places_rise(kind: TestKind, tests: &[Test]) -> BTreeSet<(&'static str, bool)> {
    let mut seen = BTreeSet::new();
    for years in 5..=66 {
        let one = aged(years);
        let mut before: Vec<([f64; 3], &str)> = Vec::new();
        for test in tests {
            let said = assess(test, &one, &[]);
            let now: Vec<_> = standings(&said).map(|s| (ranks(s.position), s.source.id)).collect();
            for ((low, id), (high, same)) in before.iter().zip(&now) {
                assert_eq!(id, same);
                for (low, high) in low.iter().zip(high) {
                    assert!(low <= high, "{kind:?} {years}: {id} falls at {:?}", said.best);
                }
            }
            for placement in &said.placements.by_sex {
                let ids = placement.standings.iter().map(|standing| standing.source.id);
                seen.extend(ids.map(|id| (id, placement.sex == Sex::Male)));
            }
            before = now;
        }
    }
    seen
}

fn listed(kind: TestKind) -> BTreeSet<(&'static str, bool)> {
    let cells = (5..=66).flat_map(|years| {
        [Sex::Female, Sex::Male].into_iter().flat_map(move |sex| {
            coverage(kind, sex, years).into_iter().map(move |l| (l.source.id, sex == Sex::Male))
        })
    });
    cells.collect()
}

#[test]
fn in_every_source_a_higher_jump_never_stands_lower() {
    // 5 to 110 cm, a centimetre at a time.
    let wall = (5..=110).map(|cm: i32| {
        let marks = [220 + cm, 220 + cm, 220 + cm];
        test_of(Division::CmHalf, 10, &[220, 220, 220], &marks)
    });
    assert_eq!(places_rise(TestKind::Wall, &wall.collect::<Vec<_>>()), listed(TestKind::Wall));

    // 0.24 to 1.08 s in the air, 8 ms apart.
    let timed = (5..=110).map(|at: u32| {
        let mut test = test_of(Division::CmTenth, 10, &[], &[]);
        let time = FlightTime::timed(200_000 + 8_000 * at);
        test.session.key.device = Device::TimingMat;
        test.session.trials = vec![Trial::FlightTime(time); 3];
        test
    });
    assert_eq!(
        places_rise(TestKind::FlightTime, &timed.collect::<Vec<_>>()),
        listed(TestKind::FlightTime)
    );
}
