//! Classes: links, slips, the queue, the picture, the store.

mod bands;
pub mod codes;
mod lesson;
mod numbers;
mod stored;

use chrono::NaiveDate;
use two_marks::class::{DEVICE_TAGS, Invitation, Slip, class_id, class_tag};
use two_marks::history::{Class, ClassResult, ClassSetup, Id, MarkMethod, Shown};
use two_marks::measure::{FoulReason, Hand, Reach, Session, TrendKey, Trial};
use two_marks::quantity::{AgeGroup, Division, Reading};

use proptest::prelude::*;

pub fn day(number: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 3, number).unwrap()
}

pub fn class() -> Class {
    let setup = ClassSetup::usual("Class 8B".to_owned(), Division::CmHalf);
    Class::new(class_id([7; 16]), setup, 1_000)
}

/// A result with one reach of 200 cm and marks at these heights above it, in millimetres.
pub fn result(number: u8, on: NaiveDate, heights_mm: &[i32]) -> ClassResult {
    let read = |count| Reading { count, division: Division::CmHalf };
    let mut session = Session::new(TrendKey::USUAL, Hand::Right, Division::CmHalf);
    session.reach = Reach::Measured(vec![read(2_000)]);
    session.trials =
        heights_mm.iter().map(|height| Trial::FloorMark(read(2_000 + height))).collect();
    let id = Id::from_bytes([number; 16]);
    let mut result = ClassResult::new(id, class().id, on, number, session);
    result.device_tag = 100 + u16::from(number);
    result
}

pub fn any_division() -> impl Strategy<Value = Division> {
    prop::sample::select(Division::ALL.to_vec())
}

prop_compose! {
    pub fn any_invitation()(
        random in any::<[u8; 16]>(),
        label in "[A-Za-z0-9äß<>&'\" ]{0,20}[a-z]",
        between in any::<bool>(),
        division in any_division(),
        three in any::<bool>(),
        trials in 1u8..=6,
        rest in 0u16..=60,
        checks in any::<(bool, bool, bool)>(),
        numbers in 1u8..=200,
        age in prop::option::of(prop::sample::select(vec![
            AgeGroup::Under12, AgeGroup::From12To14, AgeGroup::From15To17, AgeGroup::Adult,
        ])),
    ) -> Invitation {
        let mut setup = ClassSetup::usual(two_marks::history::class_label(&label), division);
        setup.marks = if between { MarkMethod::BetweenMarks } else { MarkMethod::FromFloor };
        setup.reaches = if three { 3 } else { 1 };
        setup.trials = trials;
        setup.rest_seconds = rest * 5;
        (setup.ready_check, setup.warm_up) = (checks.0, checks.1);
        setup.shown = if checks.2 { Shown::NumberAndSpread } else { Shown::Number };
        setup.numbers = numbers;
        setup.age = age;
        Invitation { class: class_id(random), setup }
    }
}

prop_compose! {
    /// A slip that fits: every reading a whole step of the division, heights from 0 to 1.25 m.
    pub fn any_slip()(
        class in any::<[u8; 16]>(),
        number in 1u8..=200,
        device_tag in 0..DEVICE_TAGS,
        back in 0i64..500,
        tired in any::<bool>(),
        division in any_division(),
        between in any::<bool>(),
        reach in 600i32..3_400,
        others in prop::collection::vec(-15i32..=15, 0..=2),
        trials in prop::collection::vec(prop::option::weighted(0.8, 0i32..1_240), 0..=6),
        reason in prop::sample::select(FoulReason::ALL.to_vec()),
    ) -> Slip {
        let counts = division.counts();
        // In millimetres, or in eighths of about the same length.
        let scaled = |mm: i32| {
            let count = if division.unit() == two_marks::quantity::Unit::Inch { mm * 10 / 32 } else { mm };
            Reading { count: count / counts * counts, division }
        };
        let mut session = Session::new(TrendKey::USUAL, Hand::Right, division);
        let first = scaled(reach);
        let more = others.iter().map(|by| Reading { count: first.count + scaled(*by).count, division });
        session.reach = if between {
            Reach::MarkOnly
        } else {
            Reach::Measured(std::iter::once(first).chain(more).collect())
        };
        let counted = session.standing_reach().map(|reach| Reading::nearest(reach.0, division).count);
        session.trials = trials.iter().map(|height| match height {
            None => Trial::Foul(reason),
            Some(mm) if between => Trial::MarkDistance(scaled(*mm)),
            Some(mm) => {
                let count = counted.unwrap() + scaled(*mm).count;
                Trial::FloorMark(Reading { count, division })
            }
        }).collect();
        let date = day(1) - chrono::TimeDelta::days(back);
        Slip { class_tag: class_tag(class_id(class)), number, device_tag, date, tired, session }
    }
}
