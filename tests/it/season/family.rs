//! An invented season of two children: thirty tests each over nine months.

use chrono::{Days, NaiveDate};
use two_marks::history::{Born, HardDay, Id, Origin, Person, Test, Tired};
use two_marks::measure::{Reach, Session, TakeOff, TrendKey, Trial, Variant};
use two_marks::quantity::{BirthMonth, Compare, Division, Moment, Reading, Sex};

use crate::samples::{id, person};

/// Scatter of single trials and of days, mm: drawn once, written down, mean nearly zero.
const DAY_MM: [i32; 30] = [
    -6, 4, 9, -11, 3, -2, 14, -8, 6, -13, 10, 1, -5, 7, -9, 12, -3, 2, -7, 8, -12, 5, 11, -4, 0,
    -10, 6, 9, -6, 3,
];
const TRIAL_MM: [[i32; 3]; 3] = [[-12, 8, 3], [5, -9, 11], [10, -4, -6]];

pub fn day(after: u64) -> NaiveDate {
    NaiveDate::from_ymd_opt(2025, 9, 6).unwrap() + Days::new(after)
}

/// The day of a test: every nine days, now and then a day or two later.
pub fn day_of(test: u64) -> NaiveDate {
    day(test * 9 + test % 3)
}

/// One child: who, the first height and reach, and what a year brings both, mm.
pub struct Child {
    pub person: Person,
    pub first_mm: i32,
    pub a_year_mm: i32,
    pub reach_mm: i32,
    pub reach_a_year_mm: i32,
}

fn child(number: u64, name: &str, born: (u16, u8), sex: Sex) -> Person {
    Person {
        born: BirthMonth::new(born.0, born.1).map(Born::Month),
        compare: Some(Compare::With(sex)),
        ..person(number, name)
    }
}

/// A boy of 13 whose jump grows by 4 cm a year, as boys' jumps do, and by nothing else.
pub fn boy_who_only_grows() -> Child {
    Child {
        person: child(1, "Mio", (2012, 3), Sex::Male),
        first_mm: 330,
        a_year_mm: 40,
        reach_mm: 2005,
        reach_a_year_mm: 90,
    }
}

/// A girl of 16 whose jump gains far more than growing brings.
pub fn girl_who_gains() -> Child {
    Child {
        person: child(2, "Ada", (2009, 5), Sex::Female),
        first_mm: 315,
        a_year_mm: 130,
        reach_mm: 2080,
        reach_a_year_mm: 8,
    }
}

fn read(mm: i32) -> Reading {
    // Read to half a centimetre.
    Reading { count: (mm + 2).div_euclid(5) * 5, division: Division::CmHalf }
}

pub fn test_of(child: &Child, number: u64, date: NaiveDate, jump_mm: i32, reach_mm: i32) -> Test {
    let mut session =
        Session::new(TrendKey::USUAL, two_marks::measure::Hand::Right, Division::CmHalf);
    session.reach = Reach::Measured([0, 3, -2].map(|off| read(reach_mm + off)).to_vec());
    let set = usize::try_from(number % 3).unwrap();
    let trials = TRIAL_MM[set];
    session.trials =
        trials.iter().map(|off| Trial::FloorMark(read(reach_mm + jump_mm + off))).collect();
    let at = Moment::from_civil(date, 17 * 60, 120);
    Test::new(test_id(child, number), child.person.local.clone(), at, session)
}

pub fn test_id(child: &Child, number: u64) -> Id {
    let base = if child.person.nickname == "Mio" { 1_000 } else { 2_000 };
    id(base + number)
}

/// The thirty tests of a child, oldest first: the first two are practice, one is noted as tired.
pub fn season_of(child: &Child) -> Vec<Test> {
    (0..30_u64)
        .zip(DAY_MM)
        .map(|(number, off)| {
            let date = day_of(number);
            let days = i32::try_from(number * 9 + number % 3).unwrap();
            let jump = child.first_mm + child.a_year_mm * days / 365 + off;
            let reach = child.reach_mm + child.reach_a_year_mm * days / 365;
            let mut test = test_of(child, number, date, jump, reach);
            test.practice = number < 2;
            if number == 11 {
                test.tired = Tired { leg_work: Some((HardDay::LegSession, 30)), stretch: None };
            }
            test.origin = if number == 3 { Origin::ByHand } else { Origin::Measured };
            test
        })
        .collect()
}

/// A running jump of the same child.
pub fn approach_test(child: &Child, number: u64, date: NaiveDate) -> Test {
    let mut test = test_of(child, number, date, child.first_mm + 60, child.reach_mm);
    test.session.key.variant = Variant::Approach { steps: 3, take_off: TakeOff::TwoFeet };
    test
}

/// The file that the browser's tests restore: both children and one running jump.
#[test]
fn the_family_as_a_backup_file() {
    use two_marks::history::{Record, read_backup, to_text, write_backup};
    let (boy, girl) = (boy_who_only_grows(), girl_who_gains());
    let mut records = Vec::new();
    for child in [&boy, &girl] {
        records.push(Record::Person(child.person.clone()));
        records.extend(season_of(child).into_iter().map(Record::Test));
    }
    records.push(Record::Test(approach_test(&boy, 40, day(280))));
    let texts: Vec<String> = records.iter().map(to_text).collect();
    let file = write_backup(&texts, crate::samples::NOW);
    expect_test::expect_file!["../../browser/season-family.json"].assert_eq(&file);
    assert!(read_backup(&file).is_ok());
}
