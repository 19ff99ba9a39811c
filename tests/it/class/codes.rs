use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};

use super::{any_invitation, any_slip, class, day, result};
use two_marks::class::code::{self, CodeProblem};
use two_marks::class::{
    Found, Invitation, LinkProblem, Slip, SlipFault, SlipProblem, find_slips, read_link, write_link,
};
use two_marks::history::{Class, ClassSetup, Id, Record, to_text};
use two_marks::measure::{FlightTime, Reach, Trial};
use two_marks::quantity::{Division, Reading};

const SIGNS: &str = "23456789ACEFHJKMPRTUWXY";

/// The same samples in every run.
pub fn samples<T: std::fmt::Debug>(count: usize, strategy: impl Strategy<Value = T>) -> Vec<T> {
    let rng = TestRng::from_seed(RngAlgorithm::ChaCha, &[42; 32]);
    let mut runner = TestRunner::new_with_rng(Config::default(), rng);
    (0..count).map(|_| strategy.new_tree(&mut runner).unwrap().current()).collect()
}

/// Every change of one sign, and every exchange of two neighbours that differ.
pub fn damaged(code: &str) -> Vec<String> {
    let signs: Vec<char> = code.chars().collect();
    let mut all = Vec::new();
    for at in 0..signs.len() {
        for other in SIGNS.chars().filter(|other| *other != signs[at]) {
            let mut wrong = signs.clone();
            wrong[at] = other;
            all.push(wrong.into_iter().collect());
        }
        if at + 1 < signs.len() && signs[at] != signs[at + 1] {
            let mut wrong = signs.clone();
            wrong.swap(at, at + 1);
            all.push(wrong.into_iter().collect());
        }
    }
    all
}

#[test]
fn every_single_wrong_sign_and_every_swap_of_neighbours_in_a_slip_is_found() {
    let mut tried = 0;
    for slip in samples(60, any_slip()) {
        let code = slip.write().unwrap();
        for wrong in damaged(&code) {
            let read = Slip::read(&wrong, day(1));
            assert_eq!(read, Err(SlipProblem::Code(CodeProblem::Check)), "{code} as {wrong}");
            tried += 1;
        }
    }
    assert!(tried > 25_000, "{tried}");
}

#[test]
fn every_single_wrong_sign_and_every_swap_of_neighbours_in_a_link_is_found() {
    let mut tried = 0;
    for invitation in samples(20, any_invitation()) {
        let code = write_link(&invitation).unwrap();
        for wrong in damaged(&code) {
            assert_eq!(read_link(&wrong), Err(LinkProblem::Damaged), "{code} as {wrong}");
            tried += 1;
        }
    }
    assert!(tried > 15_000, "{tried}");
}

#[test]
fn no_code_holds_signs_that_look_alike() {
    for slip in samples(60, any_slip()) {
        let code = slip.write().unwrap();
        assert!(code.chars().all(|sign| SIGNS.contains(sign)), "{code}");
        assert!(code.starts_with('J'));
    }
    for pair in ["0O", "0Q", "0D", "1I", "1L", "2Z", "5S", "6G", "8B", "UV", "MN"] {
        let used = pair.chars().filter(|sign| SIGNS.contains(*sign)).count();
        assert!(used <= 1, "{pair}");
    }
}

proptest! {
    #[test]
    fn a_slip_says_what_was_written(slip in any_slip()) {
        let code = slip.write().unwrap();
        prop_assert_eq!(Slip::read(&code::grouped(&code), day(1)), Ok(slip));
    }

    #[test]
    fn a_link_says_what_was_written(invitation in any_invitation()) {
        let code = write_link(&invitation).unwrap();
        prop_assert!(code.len() <= 128, "{}", code.len());
        prop_assert_eq!(read_link(&code), Ok(invitation));
    }

    #[test]
    fn any_text_is_read_or_refused(text in any::<String>(), signs in "[2-9A-Y]{0,200}") {
        for text in [text, signs] {
            let _ = read_link(&text);
            let _ = Slip::read(&text, day(1));
            let _ = find_slips(&text, day(1));
        }
    }

    /// Codes whose checks fit but whose contents are anything at all.
    #[test]
    fn right_checks_around_anything_are_read_or_refused(
        values in prop::collection::vec(0u32..23, 0..120)
    ) {
        for kind in ['J', 'C', 'K'] {
            let mut packed = code::Packed::default();
            for value in &values {
                packed.put(*value, 23);
            }
            let text = code::write(kind, &packed);
            if let Ok(invitation) = read_link(&text) {
                prop_assert!(invitation.setup.is_valid());
            }
            let _ = Slip::read(&text, day(1));
        }
    }
}

#[test]
fn an_ordinary_slip_is_short_enough_to_read_aloud() {
    let slip = Slip::of(&result(17, day(1), &[310, 325, 330]));
    let code = slip.write().unwrap();
    assert!(code.len() <= 22, "{} signs: {code}", code.len());
    let invitation = Invitation { class: class().id, setup: class().setup };
    let link = write_link(&invitation).unwrap();
    assert!(link.len() <= 45, "{} signs: {link}", link.len());
}

#[test]
fn the_longest_label_fits_a_link_of_two_hundred_characters() {
    let label = two_marks::history::class_label(&"ö".repeat(60));
    assert_eq!(label.len(), 48);
    let setup = ClassSetup::usual(label, Division::InEighth);
    let code = write_link(&Invitation { class: class().id, setup }).unwrap();
    // The address of the page may take the rest: 67 characters.
    assert!("#/c/".len() + code.len() <= 133, "{}", code.len());
}

#[test]
fn hostile_links_are_refused_with_a_reason() {
    let invitation = Invitation { class: class().id, setup: class().setup };
    let code = write_link(&invitation).unwrap();
    let check = |text: &str, reason| assert_eq!(read_link(text), Err(reason), "{text:.60}");
    check("", LinkProblem::Empty);
    check("   ", LinkProblem::Empty);
    check(&code.repeat(40), LinkProblem::TooLong);
    check(&"C".repeat(1_000_000), LinkProblem::TooLong);
    for length in 1..code.len() {
        check(&code[..length], LinkProblem::Damaged);
    }
    check(&format!("{code}2"), LinkProblem::Damaged);
    check("<script>alert(1)</script>", LinkProblem::Damaged);
    check("javascript:alert(1)", LinkProblem::Damaged);
    check("C%00../../etc", LinkProblem::Damaged);
    // Another first sign with right checks: a later version.
    let mut packed = code::read('C', &code).unwrap();
    check(&code::write('K', &packed), LinkProblem::Newer);
    // Right checks, and the sum inside is wrong.
    packed.put(3, 256);
    check(&code::write('C', &packed), LinkProblem::Damaged);
}

#[test]
fn a_script_in_a_label_is_a_label() {
    // It is shown as text; the page has no other way to show it.
    let setup = ClassSetup::usual("<script>alert(1)</script>".to_owned(), Division::Cm1);
    let invitation = Invitation { class: class().id, setup };
    assert_eq!(read_link(&write_link(&invitation).unwrap()), Ok(invitation));
    // Control characters and changes of direction have no place in one.
    let setup = ClassSetup::usual("8\u{202e}B".to_owned(), Division::Cm1);
    assert_eq!(write_link(&Invitation { class: class().id, setup }), None);
}

#[test]
fn what_a_slip_cannot_hold_is_not_written() {
    let fits = Slip::of(&result(1, day(1), &[300]));
    let with = |change: &dyn Fn(&mut Slip)| {
        let mut slip = fits.clone();
        change(&mut slip);
        slip.write()
    };
    let time = Trial::FlightTime(FlightTime::timed(500_000));
    let inch = Trial::FloorMark(Reading { count: 800, division: Division::In1 });
    let below = Trial::FloorMark(Reading { count: 1_990, division: Division::CmHalf });
    for trial in [time, inch, below] {
        assert_eq!(with(&|slip| slip.session.trials = vec![trial]), Err(SlipFault::Reading));
    }
    assert_eq!(with(&|slip| slip.number = 0), Err(SlipFault::OutOfRange));
    assert_eq!(with(&|slip| slip.device_tag = 529), Err(SlipFault::OutOfRange));
    let seven = vec![fits.session.trials[0]; 7];
    assert_eq!(with(&|slip| slip.session.trials = seven.clone()), Err(SlipFault::OutOfRange));
}

#[test]
fn reaches_too_far_apart_are_told_by_the_one_that_counts() {
    let mut slip = Slip::of(&result(1, day(1), &[300]));
    let read = |count| Reading { count, division: Division::CmHalf };
    slip.session.reach = Reach::Measured(vec![read(1_900), read(2_000), read(2_100)]);
    let back = Slip::read(&slip.write().unwrap(), day(1)).unwrap();
    assert_eq!(back.session.reach, Reach::Measured(vec![read(2_000)]));
}

#[test]
fn slips_are_found_in_a_chat() {
    let code =
        |number| code::grouped(&Slip::of(&result(number, day(1), &[300, 310])).write().unwrap());
    let [a, b, c] = [code(1), code(2), code(3)];
    let text = format!(
        "[10:02] Just jumped! My code is {a}. Java team, Joan: that went well I think\n\
         [10:03] https://school.example/jump/#/slip/{b}?x=1\n\
         [10:04] typed it: {} then gone home",
        c.to_lowercase().replace('-', " ")
    );
    let found = find_slips(&text, day(2));
    let numbers: Vec<u8> = found.iter().map(|one| one.slip.as_ref().unwrap().number).collect();
    assert_eq!(numbers, [1, 2, 3]);
}

#[test]
fn a_wrong_sign_in_a_text_is_told_and_words_are_passed_over() {
    let code = Slip::of(&result(1, day(1), &[300, 310])).write().unwrap();
    let wrong = code::grouped(&format!(
        "{}{}",
        &code[..code.len() - 1],
        if code.ends_with('2') { '3' } else { '2' }
    ));
    let [Found { text, slip }] = find_slips(&format!("mine: {wrong}."), day(1)).try_into().unwrap();
    assert_eq!((text, slip), (wrong, Err(SlipProblem::Code(CodeProblem::Check))));
    let words = "Jump just like that. Jane, John: joke jets. January 2026-03-04 12:45 JUMP";
    assert_eq!(find_slips(words, day(1)), []);
}

#[test]
fn a_slip_of_last_year_keeps_its_day() {
    let slip = Slip::of(&result(1, day(1), &[300]));
    let code = slip.write().unwrap();
    for days in [-1, 0, 1, 30, 365, 527] {
        let today = day(1) + chrono::TimeDelta::days(days);
        assert_eq!(Slip::read(&code, today).unwrap().date, day(1), "{days}");
    }
}

/// What a slip says, in the stored form of its result.
fn said_by_slip(code: &str) -> String {
    let slip = Slip::read(code, day(1)).unwrap();
    assert_eq!(slip.write().unwrap(), code.replace('-', ""));
    let stored = slip.to_result(Id::from_bytes([1; 16]), &class(), 1_000);
    format!("{} {}", slip.class_tag, to_text(&Record::ClassResult(stored)))
}

/// What a link says, in the stored form of its class.
fn said_by_link(code: &str) -> String {
    let invitation = read_link(code).unwrap();
    assert_eq!(write_link(&invitation).unwrap(), code);
    to_text(&Record::Class(Class::new(invitation.class, invitation.setup, 1_000)))
}

/// Codes of this version say the same for ever. The files are never written anew.
#[test]
fn codes_of_version_1_say_what_they_said() {
    let check = |file: &str, said: &dyn Fn(&str) -> String| {
        let lines: Vec<&str> = file.lines().collect();
        assert_eq!(lines.len(), 50);
        for pair in lines.chunks(2) {
            assert_eq!(said(pair[0]), pair[1], "{}", pair[0]);
        }
    };
    check(include_str!("../class_v1/slips.txt"), &said_by_slip);
    check(include_str!("../class_v1/links.txt"), &said_by_link);
}
