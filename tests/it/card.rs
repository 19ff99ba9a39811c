//! Cards: one result as a link.

use std::collections::BTreeSet;
use std::sync::Arc;

use chrono::NaiveDate;
use proptest::prelude::*;

use crate::class::{codes, day};
use two_marks::assess::assess;
use two_marks::card::{Card, CardFields, NoRecord, read_card, write_card};
use two_marks::chart::qr_drawing;
use two_marks::class::{LinkProblem, code};
use two_marks::flow::TestForm;
use two_marks::history::{
    Born, HardDay, Id, LocalId, NICKNAME_MAX, Origin, Person, Tired, clean_line_in_bytes,
};
use two_marks::measure::{
    Device, Hand, Reach, ReachMethod, Session, Surface, TakeOff, TrendKey, Trial, Usual, Variant,
};
use two_marks::quantity::{
    AgeGroup, BirthMonth, Division, JumpHeight, Length, Moment, Reading, StandingReach,
};
use two_marks::text::{EnglishLocale, Words};

fn english() -> Words {
    Words::english(Arc::new(EnglishLocale))
}

fn mm(mm: i64) -> Length {
    Length::from_mm(mm)
}

/// Everything ticked.
const ALL: CardFields =
    CardFields { name: true, date: true, usual: true, reach: true, age: true, notes: true };

fn person() -> Person {
    let local = LocalId::parse("abcd").unwrap();
    let mut person = Person::new(Id::from_bytes([1; 16]), local, "Wren".to_owned(), 0);
    person.born = Some(Born::Month(BirthMonth::new(2012, 6).unwrap()));
    person
}

fn test() -> two_marks::history::Test {
    let read = |count| Reading { count, division: Division::CmHalf };
    let mut session = Session::new(TrendKey::USUAL, Hand::Right, Division::CmHalf);
    session.reach = Reach::Measured(vec![read(2_010), read(2_015), read(2_010)]);
    session.trials = [2_300, 2_335, 2_325].map(|mark| Trial::FloorMark(read(mark))).into();
    let at = Moment::from_civil(day(2), 600, 60);
    two_marks::history::Test::new(Id::from_bytes([2; 16]), person().local, at, session)
}

fn card_of(test: &two_marks::history::Test, fields: CardFields) -> Card {
    let person = person();
    let assessed = assess(test, &person, &[]);
    Card::of(test, &assessed, &person.nickname, fields).unwrap()
}

prop_compose! {
    fn any_key()(
        variant in prop_oneof![
            Just(Variant::Standing),
            Just(Variant::HandsOnHips),
            Just(Variant::HeldSquat),
            (1u8..=9, any::<bool>()).prop_map(|(steps, one)| Variant::Approach {
                steps,
                take_off: if one { TakeOff::OneFoot } else { TakeOff::TwoFeet },
            }),
        ],
        device in prop::sample::select(vec![
            Device::Wall, Device::Video, Device::TimingMat, Device::ForcePlate, Device::LightBarrier,
        ]),
        other in any::<bool>(),
        surface in prop::sample::select(vec![
            Surface::Firm, Surface::Grass, Surface::Sand, Surface::Mat, Surface::Slope,
        ]),
        own_way in any::<bool>(),
    ) -> TrendKey {
        let reach_method = if other { ReachMethod::Other } else { ReachMethod::OneHandHeelsDown };
        TrendKey { variant, device, reach_method, surface, own_way }
    }
}

prop_compose! {
    fn any_card()(
        key in any_key(),
        division in prop::sample::select(Division::ALL.to_vec()),
        best in 0i64..=1_560_000,
        usual in prop::option::of((0i64..=1_560_000, 0i64..=200_000, 1usize..=3)),
        reach in prop::option::of(600_000i64..=3_500_000),
        days in prop::option::of(0i64..109_938),
        age in prop::option::of(prop::sample::select(vec![
            AgeGroup::Under12, AgeGroup::From12To14, AgeGroup::From15To17, AgeGroup::Adult,
        ])),
        name in prop_oneof![Just(String::new()), "[A-Za-zäß<>&'\"👧 ]{1,30}", any::<String>()],
        notes in any::<(bool, bool)>(),
    ) -> Card {
        let length = Length::from_micrometres;
        let first = NaiveDate::from_ymd_opt(1900, 1, 1).unwrap();
        Card {
            key,
            division,
            best: JumpHeight(length(best)),
            usual: usual.map(|(height, error, trials)| {
                (Usual { height: JumpHeight(length(height)), trials }, length(error))
            }),
            reach: reach.map(|reach| StandingReach(length(reach))),
            date: days.map(|days| first + chrono::TimeDelta::days(days)),
            age,
            name: clean_line_in_bytes(&name, NICKNAME_MAX, 48),
            is_tired: notes.0,
            is_rough: notes.1,
        }
    }
}

proptest! {
    #[test]
    fn a_card_says_what_was_written(card in any_card()) {
        let code = write_card(&card).unwrap();
        prop_assert!(code.len() <= 128, "{}", code.len());
        prop_assert!(code.starts_with('R'));
        prop_assert_eq!(read_card(&code::grouped(&code)), Ok(card.clone()));
        prop_assert_eq!(read_card(&code.to_lowercase()), Ok(card));
    }

    #[test]
    fn any_text_is_read_or_refused(text in any::<String>(), signs in "R[2-9A-Y]{0,210}") {
        let _ = read_card(&text);
        let _ = read_card(&signs);
    }

    /// Codes whose checks fit but whose contents are anything at all: what is read can be written.
    #[test]
    fn right_checks_around_anything_are_read_or_refused(
        values in prop::collection::vec(0u32..23, 0..120)
    ) {
        let mut packed = code::Packed::default();
        for value in &values {
            packed.put(*value, 23);
        }
        if let Ok(card) = read_card(&code::write('R', &packed)) {
            prop_assert!(write_card(&card).is_some());
        }
    }
}

#[test]
fn every_single_wrong_sign_and_every_swap_of_neighbours_in_a_card_is_found() {
    let mut tried = 0;
    for card in codes::samples(20, any_card()) {
        let code = write_card(&card).unwrap();
        for wrong in codes::damaged(&code) {
            assert_eq!(read_card(&wrong), Err(LinkProblem::Damaged), "{code} as {wrong}");
            tried += 1;
        }
    }
    assert!(tried > 15_000, "{tried}");
}

#[test]
fn hostile_cards_are_refused_with_a_reason() {
    let code = write_card(&card_of(&test(), ALL)).unwrap();
    let check = |text: &str, reason| assert_eq!(read_card(text), Err(reason), "{text:.60}");
    check("", LinkProblem::Empty);
    check("  ", LinkProblem::Empty);
    check(&code.repeat(10), LinkProblem::TooLong);
    check(&"R".repeat(201), LinkProblem::TooLong);
    check(&"R".repeat(1_000_000), LinkProblem::TooLong);
    for length in 1..code.len() {
        check(&code[..length], LinkProblem::Damaged);
    }
    check(&format!("{code}2"), LinkProblem::Damaged);
    check("<script>alert(1)</script>", LinkProblem::Damaged);
    check("R%00../../etc", LinkProblem::Damaged);
    // Another first sign with right checks: a later version, or a slip of a class.
    let packed = code::read('R', &code).unwrap();
    for kind in ['T', 'J'] {
        check(&code::write(kind, &packed), LinkProblem::Newer);
    }
    // Right checks, and the sum inside is wrong.
    let mut packed = packed;
    packed.put(3, 256);
    check(&code::write('R', &packed), LinkProblem::Damaged);
}

#[test]
fn what_no_test_can_say_is_neither_written_nor_read() {
    let fits = card_of(&test(), ALL);
    let with = |change: &dyn Fn(&mut Card)| {
        let mut card = fits.clone();
        change(&mut card);
        write_card(&card)
    };
    assert!(with(&|_| {}).is_some());
    assert_eq!(with(&|card| card.best = JumpHeight(mm(1_561))), None);
    assert_eq!(with(&|card| card.best = JumpHeight(mm(-1))), None);
    assert_eq!(with(&|card| card.reach = Some(StandingReach(mm(599)))), None);
    assert_eq!(with(&|card| card.name = "Wren\u{202e}".to_owned()), None);
    assert_eq!(with(&|card| card.name = "n".repeat(49)), None);
    assert_eq!(with(&|card| card.date = NaiveDate::from_ymd_opt(1899, 12, 31)), None);
    assert_eq!(with(&|card| card.usual.as_mut().unwrap().0.trials = 4), None);
    // A whole code of a jump that nobody jumps: its parts by hand, as docs/records.md tells them.
    let mut fields = two_marks::class::fields::FieldWriter::default();
    for limit in [7, 21, 5, 2, 5, 2] {
        fields.byte(0, limit);
    }
    fields.wide(1_570_000, 54 << 16);
    for limit in [2, 2, 5, 2, 2, 2, 49] {
        fields.byte(0, limit);
    }
    assert_eq!(read_card(&fields.write('R')), Err(LinkProblem::OutOfRange));
}

#[test]
fn a_script_in_a_name_is_a_name() {
    // It is shown as text; the page has no other way to show it.
    let mut card = card_of(&test(), ALL);
    card.name = "<script>alert(1)</script>".to_owned();
    assert_eq!(read_card(&write_card(&card).unwrap()), Ok(card));
}

#[test]
fn nothing_is_on_a_card_that_was_not_ticked() {
    let mut test = test();
    test.tired = Tired { leg_work: Some((HardDay::Match, 5)), stretch: None };
    let bare = card_of(&test, CardFields::default());
    let untold = Card {
        key: TrendKey::USUAL,
        division: Division::CmHalf,
        best: JumpHeight(mm(325)),
        usual: None,
        reach: None,
        date: None,
        age: None,
        name: String::new(),
        is_tired: false,
        is_rough: false,
    };
    assert_eq!(bare, untold);
    let whole = card_of(&test, ALL);
    assert_eq!(whole.name, "Wren");
    assert_eq!(whole.date, Some(day(2)));
    // The trials are 29, 32.5 and 31.5 cm above the middle reach, 201 cm.
    assert_eq!(whole.usual.unwrap().0, Usual { height: JumpHeight(mm(310)), trials: 3 });
    assert_eq!(whole.reach, Some(StandingReach(mm(2_010))));
    // Thirteen in March 2026.
    assert_eq!(whole.age, Some(AgeGroup::From12To14));
    assert!(whole.is_tired && !whole.is_rough);
    // Each box alone adds what it says and nothing else.
    let none = CardFields::default();
    let words = english();
    let whats = |card: &Card| -> BTreeSet<String> {
        words.card_pairs(card).into_iter().map(|(what, _)| what).collect()
    };
    for (fields, what) in [
        (CardFields { name: true, ..none }, words.picture_nickname()),
        (CardFields { date: true, ..none }, words.result_when()),
        (CardFields { usual: true, ..none }, words.picture_usual()),
        (CardFields { reach: true, ..none }, words.result_reach()),
        (CardFields { age: true, ..none }, words.card_age()),
        (CardFields { notes: true, ..none }, words.form_notes()),
    ] {
        let read = read_card(&write_card(&card_of(&test, fields)).unwrap()).unwrap();
        let more: Vec<String> = whats(&read).difference(&whats(&bare)).cloned().collect();
        assert_eq!(more, [what]);
    }
}

#[test]
fn a_test_without_a_trial_that_counts_has_no_card() {
    let mut test = test();
    test.session.trials.clear();
    let person = person();
    assert_eq!(Card::of(&test, &assess(&test, &person, &[]), "Wren", ALL), None);
}

#[test]
fn a_kept_card_is_a_result_added_by_hand_with_only_its_best() {
    let text = |reading: Reading| english().entry_text(reading);
    let keep = |card: &Card| TestForm::of_card(card, &person(), text, "From a card.".to_owned());
    let now = Moment::from_civil(day(9), 700, 60);
    for (fields, reach, trial) in [
        (ALL, Reach::Measured(vec![reading(2_010)]), Trial::FloorMark(reading(2_335))),
        (
            CardFields { date: true, ..CardFields::default() },
            Reach::MarkOnly,
            Trial::MarkDistance(reading(325)),
        ),
    ] {
        let form = keep(&card_of(&test(), fields)).unwrap();
        // The form survives the way through the draft of its tab.
        let back = TestForm::add(&person(), day(9)).with_kept(&form.kept());
        for form in [form, back] {
            let kept = form.to_test(&person(), Id::from_bytes([3; 16]), now).unwrap();
            assert_eq!(kept.origin, Origin::ByHand);
            assert_eq!((kept.date, kept.minute_of_day), (day(2), None));
            assert_eq!(kept.note, "From a card.");
            assert!(kept.session.top_mark_only);
            assert_eq!((&kept.session.reach, &kept.session.trials), (&reach, &vec![trial]));
            let assessed = assess(&kept, &person(), &[]);
            assert_eq!(assessed.best, Some(JumpHeight(mm(325))));
            assert_eq!(assessed.usual, None);
        }
    }
}

fn reading(count: i32) -> Reading {
    Reading { count, division: Division::CmHalf }
}

#[test]
fn a_card_that_cannot_be_a_record_says_why() {
    let with = |change: &dyn Fn(&mut Card)| {
        let mut card = card_of(&test(), ALL);
        change(&mut card);
        let form = TestForm::of_card(&card, &person(), |_| String::new(), String::new());
        assert_eq!(form.is_none(), card.no_record().is_some());
        card.no_record()
    };
    assert_eq!(with(&|_| {}), None);
    assert_eq!(with(&|card| card.date = None), Some(NoRecord::NoDate));
    assert_eq!(with(&|card| card.key.device = Device::Video), Some(NoRecord::Clock));
    let other = |card: &mut Card| card.key.reach_method = ReachMethod::Other;
    assert_eq!(with(&other), Some(NoRecord::ReachMethod));
}

/// A height between the steps of its tape is kept to the nearest millimetre or eighth.
#[test]
fn a_height_between_the_steps_is_kept_on_the_finest_ones() {
    let mut card = card_of(&test(), CardFields { date: true, ..CardFields::default() });
    card.best = JumpHeight(mm(327));
    let text = |reading: Reading| english().entry_text(reading);
    let form = TestForm::of_card(&card, &person(), text, String::new()).unwrap();
    assert_eq!(form.division, Division::CmTenth);
    assert_eq!(form.height(0), Some(JumpHeight(mm(327))));
}

#[test]
fn cards_are_short() {
    let signs = |fields| write_card(&card_of(&test(), fields)).unwrap().len();
    let (bare, whole) = (signs(CardFields::default()), signs(ALL));
    assert!(bare <= 22, "{bare}");
    assert!(whole <= 52, "{whole}");
    // The longest name still makes a code that a phone reads: 57 modules is version 10.
    let mut card = card_of(&test(), ALL);
    card.name = "ö".repeat(24);
    let code = write_card(&card).unwrap();
    let qr = qr_drawing("https://school.example/two-marks/#/card/", &code).unwrap();
    assert!(qr.side <= 57 + 8, "{} for {} signs", qr.side, code.len());
}

/// Cards of this version say the same for ever. The file is never written anew.
#[test]
fn cards_of_version_1_say_what_they_said() {
    let lines: Vec<&str> = include_str!("card_v1/cards.txt").lines().collect();
    assert_eq!(lines.len(), 40);
    for pair in lines.chunks(2) {
        let card = read_card(pair[0]).unwrap();
        assert_eq!(format!("{card:?}"), pair[1]);
        assert_eq!(write_card(&card).unwrap(), pair[0]);
    }
}

#[test]
fn a_record_made_of_a_tired_card_says_so() {
    let mut card = card_of(&test(), ALL);
    assert_eq!(english().card_record_note(&card), "From a shared card.");
    card.is_tired = true;
    let said = "From a shared card. The legs were tired, so the number may be too low.";
    assert_eq!(english().card_record_note(&card), said);
}
