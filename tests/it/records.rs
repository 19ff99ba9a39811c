//! Stored records open for ever, say what they said, and stay small.

use chrono::NaiveDate;
use proptest::prelude::*;
use two_marks::history::{
    Born, Deleted, DeletedKind, Draft, HardDay, Memory, Origin, Person, Read, Record, Settings,
    Store, StretchNote, Test, Why, read, to_text,
};
use two_marks::measure::{
    Device, FlightTime, FoulReason, Hand, Reach, ReachMethod, Surface, TakeOff, Trial, Variant,
};
use two_marks::quantity::{AgeGroup, BirthMonth, BodyMass, Compare, Division, Reading, Sex};

use crate::samples::{NOW, any_record, id, local, person, wall_test, with_unknown_field};

macro_rules! sample {
    ($name:literal) => {
        include_str!(concat!("records/v1/", $name, ".json"))
    };
}

const ALL_V1: [&str; 8] = [
    sample!("test_at_the_wall"),
    sample!("test_with_every_field"),
    sample!("test_by_distance"),
    sample!("test_by_time_in_the_air"),
    sample!("person_with_birth_month"),
    sample!("person_with_age_group"),
    sample!("deleted_test"),
    sample!("purged_person"),
];

fn test(text: &str) -> Test {
    match read(text) {
        Read::Good(record) => match *record {
            Record::Test(test) => test,
            other => panic!("{other:?}"),
        },
        other => panic!("{other:?}"),
    }
}

fn person_of(text: &str) -> Person {
    match read(text).good() {
        Some(Record::Person(person)) => person,
        other => panic!("{other:?}"),
    }
}

fn day(year: i32, month: u32, day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(year, month, day).unwrap()
}

#[test]
fn every_sample_of_version_1_is_listed_and_writes_itself_again() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/it/records/v1");
    assert_eq!(std::fs::read_dir(folder).unwrap().count(), ALL_V1.len());
    for text in ALL_V1 {
        let Read::Good(record) = read(text) else { panic!("{text}") };
        // A default that is spelled out reads the same and is left out when written.
        assert_eq!(to_text(&record), text.replace(r#""dev":"wall","#, ""));
    }
}

#[test]
fn the_examples_of_the_documentation_open_and_write_themselves_again() {
    let page = include_str!("../../docs/records.md");
    let examples: Vec<&str> = page.lines().filter(|line| line.starts_with("{\"v\":1,")).collect();
    assert_eq!(examples.len(), 7);
    for text in examples {
        let again = match read(text) {
            Read::Good(record) => to_text(&record),
            _ if text.contains("\"k\":\"d\"") => Draft::parse(text).unwrap().to_text(),
            _ => Settings::parse(text).unwrap().to_text(),
        };
        assert_eq!(again, text);
    }
    assert!(page.contains("That is 187 characters."));
    assert_eq!(sample!("test_at_the_wall").len(), 187);
}

#[test]
fn a_test_at_the_wall_says_what_it_said() {
    let test = test(sample!("test_at_the_wall"));
    assert_eq!((test.date, test.minute_of_day), (day(2026, 6, 14), Some(1170)));
    assert_eq!(test.moment().utc_ms, NOW);
    let read = |count| Reading { count, division: Division::CmHalf };
    assert_eq!(test.session.reach, Reach::Measured([2245, 2250, 2245].map(read).to_vec()));
    let mark = |count| Trial::FloorMark(read(count));
    let foul = Trial::Foul(FoulReason::Step);
    assert_eq!(test.session.trials, [mark(2655), mark(2665), foul, mark(2675)]);
    assert_eq!(test.session.key, two_marks::measure::TrendKey::USUAL);
    assert_eq!(test.session.hand, Hand::Right);
    assert_eq!((test.origin, test.practice), (Origin::Measured, false));
}

#[test]
fn a_test_with_every_field_says_what_it_said() {
    let test = test(sample!("test_with_every_field"));
    assert_eq!((test.stamp.rev, test.utc_offset_minutes), (3, -300));
    let key = test.session.key;
    assert_eq!(key.variant, Variant::Approach { steps: 3, take_off: TakeOff::TwoFeet });
    assert_eq!((key.device, key.reach_method), (Device::Wall, ReachMethod::Other));
    assert_eq!((key.surface, key.own_way), (Surface::Grass, true));
    assert_eq!(test.session.hand, Hand::Left);
    let quarter = |count| Reading { count, division: Division::InQuarter };
    let reused = Reach::Reused { reading: quarter(704), measured_on: day(2026, 1, 10) };
    assert_eq!(test.session.reach, reused);
    let other = Reading { count: 2150, division: Division::CmTenth };
    assert_eq!(test.session.trials.get(1), Some(&Trial::FloorMark(other)));
    assert!(test.session.top_mark_only && test.practice);
    assert_eq!(test.tired.leg_work, Some((HardDay::LegSession, 40)));
    assert_eq!(test.tired.stretch, Some(StretchNote { long: true, minutes_since: 3 }));
    assert_eq!((test.note.as_str(), test.tags.len()), ("new shoes\nwet", 2));
    assert_eq!(test.origin, Origin::ByHand);
    assert_eq!(test.body_height, Some(quarter(530)));
    assert_eq!(test.body_mass, Some(BodyMass { grams: 71_500 }));
}

#[test]
fn distances_and_times_say_what_they_said() {
    let by_distance = test(sample!("test_by_distance"));
    assert_eq!(by_distance.session.reach, Reach::MarkOnly);
    let eighth = Reading { count: 133, division: Division::InEighth };
    assert_eq!(by_distance.session.trials.first(), Some(&Trial::MarkDistance(eighth)));
    assert_eq!(by_distance.tired.leg_work, Some((HardDay::Match, 80)));
    assert_eq!(by_distance.minute_of_day, None);
    let by_time = test(sample!("test_by_time_in_the_air"));
    assert_eq!(by_time.session.key.variant, Variant::HandsOnHips);
    let time = Trial::FlightTime(FlightTime { micros: 512_300 });
    assert_eq!(by_time.session.trials.first(), Some(&time));
    assert_eq!(by_time.session.reach, Reach::Measured(Vec::new()));
}

#[test]
fn people_and_deletions_say_what_they_said() {
    let mia = person_of(sample!("person_with_birth_month"));
    assert_eq!((mia.nickname.as_str(), mia.local.as_str()), ("Mia", "uX0q"));
    assert_eq!(mia.born, BirthMonth::new(2013, 6).map(Born::Month));
    assert_eq!(mia.compare, Some(Compare::With(Sex::Female)));
    let grandad = person_of(sample!("person_with_age_group"));
    assert_eq!(grandad.born, Some(Born::Group(AgeGroup::Adult)));
    assert_eq!(grandad.body_mass, Some(BodyMass { grams: 80_200 }));
    assert!(grandad.own_way && grandad.archived);
    let deleted = |text| match read(text).good() {
        Some(Record::Deleted(Deleted { kind, purged, .. })) => (kind, purged),
        other => panic!("{other:?}"),
    };
    assert_eq!(deleted(sample!("deleted_test")), (DeletedKind::Test, false));
    assert_eq!(deleted(sample!("purged_person")), (DeletedKind::Person(mia.local), true));
}

#[test]
fn each_fault_names_its_field() {
    let good = sample!("test_at_the_wall");
    let why = |from: &str, to: &str| {
        assert!(good.contains(from));
        read(&good.replace(from, to))
    };
    let field = |name| Read::Unreadable { why: Why::Field(name) };
    assert_eq!(why("20260614", "20260231"), field("d"));
    assert_eq!(why("\"m\":1170", "\"m\":1440"), field("m"));
    assert_eq!(why("\"o\":120", "\"o\":1081"), field("o"));
    assert_eq!(why("\"r\":1", "\"r\":0"), field("r"));
    assert_eq!(why("cm/2", "cm/3"), field("u"));
    assert_eq!(why("2655", "99999"), field("trials"));
    assert_eq!(why("{\"foul\":\"step\"}", "{\"foul\":\"step\",\"dist\":3}"), field("trials"));
    assert_eq!(why("Hs-4yVdz0Ww6lbBqMyS2Fg", "Hs-4"), field("i"));
    assert_eq!(why("\"d\":", "\"D\":"), Read::Unreadable { why: Why::Shape });
    assert_eq!(why("\"v\":1", "\"v\":0"), field("v"));
    assert_eq!(why("\"v\":1", "\"v\":2"), Read::Newer { version: 2 });
    assert_eq!(why("\"k\":\"t\"", "\"k\":\"z\""), Read::Newer { version: 1 });
}

#[test]
fn hostile_names_are_cleaned_on_the_way_in() {
    let text = sample!("person_with_birth_month").replace("Mia", "M\\u202eia\\u0007");
    assert_eq!(person_of(&text).nickname, "Mia");
    let long = sample!("person_with_birth_month").replace("Mia", &"x".repeat(500));
    assert_eq!(person_of(&long).nickname.len(), 40);
}

proptest! {
    #[test]
    fn any_record_survives_being_written(record in any_record()) {
        prop_assert_eq!(read(&to_text(&record)).good(), Some(record));
    }

    #[test]
    fn an_unknown_field_survives_a_round_trip(
        record in any_record(),
        value in r#"([1-9][0-9]{0,8}|"[a-z]{0,5}"|\{"a":\[1,null,true\]\})"#,
    ) {
        let text = with_unknown_field(&record, &value);
        let known = read(&text).good().unwrap();
        prop_assert_eq!(to_text(&known), text);
    }
}

/// Ten thousand tests as the page makes them: 100 people with 100 tests over four seasons; mostly
/// four trials, some fouls, some left hands, some notes.
fn ten_thousand(store: &Store<Memory>) -> usize {
    let mut characters = 0;
    for who in 0..100u64 {
        let mut somebody = person(1_000_000 + who, &format!("Pupil {who}"));
        somebody.born = BirthMonth::new(2012, 6).map(Born::Month);
        somebody.compare = Some(Compare::With(Sex::Male));
        store.save_person(&somebody).unwrap();
        for number in 0..100u64 {
            let marks: Vec<i32> = (0..3 + (number % 3) as i32).map(|n| 2650 + 5 * n).collect();
            let mut one = wall_test(who * 100 + number, &somebody.local, &marks);
            one.date =
                day(2022, 9, 1) + chrono::TimeDelta::days(i64::try_from(number).unwrap() * 14);
            if number % 4 == 0 {
                one.session.trials.insert(1, Trial::Foul(FoulReason::MissedWall));
            }
            if number % 5 == 0 {
                one.session.hand = Hand::Left;
            }
            if number % 6 == 0 {
                one.tired.leg_work = Some((HardDay::LegSession, 30));
            }
            if number % 10 == 0 {
                one.note = "windy, wet ground".to_owned();
            }
            characters += to_text(&Record::Test(one.clone())).len();
            store.save_test(&one).unwrap();
        }
    }
    characters
}

#[test]
fn ten_thousand_tests_fit_in_two_point_three_million_units() {
    let memory = Memory::new();
    let (store, _) = Store::open(memory.clone()).unwrap();
    let characters = ten_thousand(&store);
    assert!((160..=210).contains(&(characters / 10_000)), "{characters}");
    assert!(memory.units() <= 2_300_000, "{}", memory.units());
    println!("{characters} characters of tests, {} units in all", memory.units());
    let (again, troubles) = Store::open(memory).unwrap();
    assert_eq!(troubles, []);
    assert_eq!(again.tests_of(&local(1_000_007)).unwrap().len(), 100);
    assert_eq!(again.people().unwrap().len(), 100);
    assert_eq!(again.test(id(4_217)).unwrap().map(|test| test.id), Some(id(4_217)));
}

#[test]
fn a_typical_test_takes_160_to_210_characters() {
    let typical = sample!("test_at_the_wall").len();
    assert!((160..=210).contains(&typical), "{typical}");
}
