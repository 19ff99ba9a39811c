//! Invented records for the checks of storage, and strategies that make more of them.

use chrono::{NaiveDate, TimeDelta};
use proptest::prelude::*;
use two_marks::history::{
    Born, HardDay, Id, LocalId, MarkMethod, Origin, Person, Record, Stamp, StretchNote, Test,
    Tired, read, to_text,
};
use two_marks::measure::{
    Device, FlightTime, FoulReason, Hand, Reach, ReachMethod, Session, Surface, TakeOff, TrendKey,
    Trial, Variant,
};
use two_marks::quantity::{
    AgeGroup, BirthMonth, BodyMass, Compare, Division, Moment, Reading, Sex,
};

/// 17:30 on 14 June 2026 in UTC.
pub const NOW: i64 = 1_781_458_200_000;

pub fn id(number: u64) -> Id {
    // Spreads small numbers over all bytes, as random ids are (SplitMix64 constants).
    let mut bytes = [0; 16];
    for (half, chunk) in (1u64..).zip(bytes.chunks_mut(8)) {
        let mut z = number.wrapping_mul(2).wrapping_add(half).wrapping_mul(0x9e37_79b9_7f4a_7c15);
        z = (z ^ z >> 30).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ z >> 27).wrapping_mul(0x94d0_49bb_1331_11eb);
        chunk.copy_from_slice(&(z ^ z >> 31).to_be_bytes());
    }
    Id::from_bytes(bytes)
}

pub fn local(number: u64) -> LocalId {
    LocalId::shortest(id(number), |_| false)
}

pub fn person(number: u64, nickname: &str) -> Person {
    Person::new(id(number), local(number), nickname.to_owned(), NOW)
}

/// A wall test in half centimetres: three reaches and the marks given, in millimetres.
pub fn wall_test(number: u64, of: &LocalId, marks_mm: &[i32]) -> Test {
    let read = |count| Reading { count, division: Division::CmHalf };
    let mut session = Session::new(TrendKey::USUAL, Hand::Right, Division::CmHalf);
    session.reach = Reach::Measured([2245, 2250, 2245].map(read).to_vec());
    session.trials = marks_mm.iter().map(|mark| Trial::FloorMark(read(*mark))).collect();
    let at = Moment { utc_ms: NOW, offset_minutes: 120 };
    Test::new(id(number), of.clone(), at, session)
}

pub fn any_division() -> impl Strategy<Value = Division> {
    prop::sample::select(Division::ALL.to_vec())
}

fn any_reading() -> impl Strategy<Value = Reading> {
    (0i32..4_000, any_division()).prop_map(|(count, division)| Reading { count, division })
}

fn any_date() -> impl Strategy<Value = NaiveDate> {
    let first = NaiveDate::from_ymd_opt(1999, 12, 1).unwrap();
    (0i64..20_000).prop_map(move |days| first + TimeDelta::days(days))
}

fn any_key() -> impl Strategy<Value = TrendKey> {
    let variants = prop_oneof![
        4 => Just(Variant::Standing),
        1 => (1u8..=9, any::<bool>()).prop_map(|(steps, two)| Variant::Approach {
            steps,
            take_off: if two { TakeOff::TwoFeet } else { TakeOff::OneFoot },
        }),
        1 => Just(Variant::HandsOnHips),
        1 => Just(Variant::HeldSquat),
    ];
    let devices = prop::sample::select(vec![Device::Wall, Device::Video, Device::TimingMat]);
    let methods = prop::sample::select(vec![ReachMethod::OneHandHeelsDown, ReachMethod::Other]);
    let surfaces = prop::sample::select(vec![
        Surface::Firm,
        Surface::Grass,
        Surface::Sand,
        Surface::Mat,
        Surface::Slope,
    ]);
    (variants, devices, methods, surfaces, any::<bool>()).prop_map(
        |(variant, device, reach_method, surface, own_way)| TrendKey {
            variant,
            device,
            reach_method,
            surface,
            own_way,
        },
    )
}

fn any_trial() -> impl Strategy<Value = Trial> {
    prop_oneof![
        any_reading().prop_map(Trial::FloorMark),
        any_reading().prop_map(Trial::MarkDistance),
        (0u32..1_000_000).prop_map(|micros| Trial::FlightTime(FlightTime { micros })),
        prop::sample::select(FoulReason::ALL.to_vec()).prop_map(Trial::Foul),
    ]
}

pub fn any_session() -> impl Strategy<Value = Session> {
    let reach = prop_oneof![
        prop::collection::vec(any_reading(), 0..4).prop_map(Reach::Measured),
        (any_reading(), any_date())
            .prop_map(|(reading, measured_on)| Reach::Reused { reading, measured_on }),
        Just(Reach::MarkOnly),
    ];
    let trials = prop::collection::vec(any_trial(), 0..8);
    (any_key(), any::<bool>(), any_division(), reach, trials, any::<bool>()).prop_map(
        |(key, left, division, reach, trials, top_mark_only)| Session {
            key,
            hand: if left { Hand::Left } else { Hand::Right },
            division,
            reach,
            trials,
            top_mark_only,
        },
    )
}

fn any_tired() -> impl Strategy<Value = Tired> {
    let kind = prop::sample::select(vec![HardDay::LegSession, HardDay::Match]);
    let leg_work = prop::option::of((kind, 0u16..200));
    let stretch = prop::option::of((any::<bool>(), 0u16..100))
        .prop_map(|note| note.map(|(long, minutes_since)| StretchNote { long, minutes_since }));
    (leg_work, stretch).prop_map(|(leg_work, stretch)| Tired { leg_work, stretch })
}

fn any_mass() -> impl Strategy<Value = Option<BodyMass>> {
    prop::option::of((30_000u32..200_000).prop_map(|grams| BodyMass { grams }))
}

fn any_stamp() -> impl Strategy<Value = Stamp> {
    (1u32..5, 0i64..4).prop_map(|(rev, edited_utc_ms)| Stamp { rev, edited_utc_ms })
}

/// A test with one of a few ids and people, so that sets of them overlap.
pub fn any_test() -> impl Strategy<Value = Test> {
    let origin = prop::sample::select(vec![Origin::Measured, Origin::ByHand, Origin::Imported]);
    let when = (any_date(), prop::option::of(0u16..1440), -720i16..=840);
    let words = ("[a-zé ]{0,8}", prop::collection::vec("[a-z]{1,5}", 0..3));
    let body = (prop::option::of(any_reading()), any_mass());
    let head = (10u64..16, 1u64..3, any_stamp());
    (head, when, any_session(), any_tired(), any::<bool>(), words, origin, body).prop_map(
        |(head, when, session, tired, practice, words, origin, body)| Test {
            stamp: head.2,
            date: when.0,
            minute_of_day: when.1,
            utc_offset_minutes: when.2,
            tired,
            practice,
            note: words.0.trim().to_owned(),
            tags: words.1,
            origin,
            body_height: body.0,
            body_mass: body.1,
            ..Test::new(id(head.0), local(head.1), Moment { utc_ms: 0, offset_minutes: 0 }, session)
        },
    )
}

pub fn any_person() -> impl Strategy<Value = Person> {
    let groups = prop::sample::select(vec![
        AgeGroup::Under12,
        AgeGroup::From12To14,
        AgeGroup::From15To17,
        AgeGroup::Adult,
    ]);
    let born = prop_oneof![
        Just(None),
        (1920u16..2020, 1u8..=12).prop_map(|(y, m)| BirthMonth::new(y, m).map(Born::Month)),
        groups.prop_map(|group| Some(Born::Group(group))),
    ];
    let compare = prop::option::of(prop::sample::select(vec![
        Compare::With(Sex::Female),
        Compare::With(Sex::Male),
        Compare::Both,
        Compare::None,
    ]));
    let flags = (any::<bool>(), any::<bool>(), any::<bool>(), any::<bool>());
    (1u64..4, any_stamp(), "[A-Za-zü]{1,8}", born, compare, any_division(), any_mass(), flags)
        .prop_map(|(number, stamp, nickname, born, compare, division, body_mass, flags)| Person {
            stamp,
            nickname,
            born,
            compare,
            division,
            body_mass,
            hand: if flags.0 { Hand::Left } else { Hand::Right },
            mark_method: if flags.1 { MarkMethod::BetweenMarks } else { MarkMethod::FromFloor },
            own_way: flags.2,
            archived: flags.3,
            ..person(number, "")
        })
}

/// A deletion of one of the same few records.
fn any_deleted() -> impl Strategy<Value = Record> {
    (1u64..16, any_stamp(), any::<bool>()).prop_map(|(number, stamp, purged)| {
        let key = if number < 10 {
            format!(r#""l":"{}","#, local(number).as_str())
        } else {
            String::new()
        };
        let purged = if purged { r#","purged":true"# } else { "" };
        let text = format!(
            r#"{{"v":1,"k":"x","i":"{}",{key}"r":{},"e":{}{purged}}}"#,
            id(number),
            stamp.rev,
            stamp.edited_utc_ms
        );
        read(&text).good().unwrap()
    })
}

/// One of a few classes, one of their results, or that one of these was deleted.
fn any_of_class() -> impl Strategy<Value = Record> {
    let numbers = (20u64..22, 30u64..34, 1u8..=40, any_stamp());
    (0u8..4, numbers, any::<[bool; 3]>()).prop_map(
        |(kind, (class, result, number, stamp), [one, two, purged])| {
            let (rev, edited) = (stamp.rev, stamp.edited_utc_ms);
            let away = if one { r#","away":true"# } else { "" };
            let tired = if two { r#","tired":true"# } else { "" };
            let gone = if purged { r#","purged":true"# } else { "" };
            let (class, result) = (id(class), id(result));
            let text = match kind {
                0 => format!(
                    r#"{{"v":1,"k":"c","i":"{class}","r":{rev},"e":{edited},"name":"8B","u":"cm/2","reaches":1,"trials":3,"rest":30,"numbers":{number}{away}}}"#
                ),
                1 => format!(
                    r#"{{"v":1,"k":"n","i":"{result}","c":"{class}","r":{rev},"e":{edited},"d":20260302,"no":{number},"u":"cm/2","reach":[2000],"trials":[2300]{tired}}}"#
                ),
                // A class that is thrown away takes its results with it, which has its own tests.
                2 => format!(r#"{{"v":1,"k":"x","i":"{class}","of":"c","r":{rev},"e":{edited}}}"#),
                _ => format!(
                    r#"{{"v":1,"k":"x","i":"{result}","of":"n","r":{rev},"e":{edited}{gone}}}"#
                ),
            };
            read(&text).good().unwrap()
        },
    )
}

pub fn any_record() -> impl Strategy<Value = Record> {
    prop_oneof![
        3 => any_test().prop_map(Record::Test),
        1 => any_person().prop_map(Record::Person),
        1 => any_deleted(),
        2 => any_of_class(),
    ]
}

/// The same record with a field that this version does not know.
pub fn with_unknown_field(record: &Record, value: &str) -> String {
    let text = to_text(record);
    format!("{},\"zz\":{value}}}", text.strip_suffix('}').unwrap())
}
