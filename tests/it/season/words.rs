//! What is said of a season, word for word.

use std::fmt::Write as _;
use std::sync::Arc;

use expect_test::{Expect, expect};
use two_marks::assess::{BandChoice, SeasonStory, Span, compare_tests, season_story};
use two_marks::history::{Born, Person, Test};
use two_marks::measure::TrendKey;
use two_marks::quantity::{AgeGroup, Unit};
use two_marks::text::{EnglishLocale, Words};

use super::family::{
    Child, approach_test, boy_who_only_grows, day, girl_who_gains, season_of, test_id, test_of,
};

fn words() -> Words {
    Words::english(Arc::new(EnglishLocale))
}

fn story(person: &Person, tests: &[Test]) -> SeasonStory {
    season_story(person, tests, TrendKey::USUAL, Span::All)
}

fn said(story: &SeasonStory, unit: Unit) -> String {
    let words = words();
    let verdict = words.season_verdict(story, unit);
    let mut text = format!("[{}]\n", verdict.head);
    for line in verdict.lines.iter().chain(&words.season_facts(story, unit)) {
        writeln!(text, "{line}").unwrap();
    }
    for group in &story.left_out {
        writeln!(text, "out: {}", words.season_left_out(group)).unwrap();
    }
    for (date, doubt) in &story.reach_doubts {
        writeln!(text, "{date}: {}", words.reach_doubt(*doubt, unit)).unwrap();
    }
    text
}

fn check(actual: &str, expected: Expect) {
    expected.assert_eq(&actual.replace('\u{a0}', "~"));
}

#[test]
fn the_boy_who_only_grows() {
    let boy = boy_who_only_grows();
    check(
        &said(&story(&boy.person, &season_of(&boy)), Unit::Centimetre),
        expect![[r#"
            [Cannot tell yet]
            Change: +2.0~cm. About 2 times in 3 it is really +1.0~cm to +3.5~cm.
            The reach grew 6.5~cm: that is the arm, measured anew each time.
            Jumps of this age also rise about 4.0~cm in this time. That is taken off apart.
            Chance of jumping more than 1.5~cm higher, beyond what this age brings: 10 in 100.
            The line went from 34.0~cm to 36.0~cm.
            A straight line through the tests goes +0.3~cm a month. It could be +0.2~cm to +0.5~cm.
            All these numbers are our own reckoning.
            out: 1 tired test, 16 December 2025
        "#]],
    );
}

#[test]
fn the_girl_who_gains() {
    let girl = girl_who_gains();
    let mut tests = season_of(&girl);
    tests.push(approach_test(&girl, 40, day(280)));
    check(
        &said(&story(&girl.person, &tests), Unit::Centimetre),
        expect![[r#"
            [Higher than in September. Chance seldom does that]
            Change: +8.5~cm. About 2 times in 3 it is really +7.5~cm to +10.0~cm.
            Jumps of this age also rise about 0.5~cm in this time. That is taken off apart.
            Chance of jumping more than 1.5~cm higher, beyond what this age brings: 99 in 100.
            Go on testing the same way.
            The line went from 32.5~cm to 41.0~cm.
            A straight line through the tests goes +1.1~cm a month. It could be +0.9~cm to +1.2~cm.
            All these numbers are our own reckoning.
            out: 1 tired test, 16 December 2025
            out: 1 test of another jump: Running jump, 3 steps, off both feet, 13 June 2026
        "#]],
    );
}

#[test]
fn the_same_season_of_a_grown_up_in_inches() {
    let girl = girl_who_gains();
    let mut person = girl.person.clone();
    person.born = Some(Born::Group(AgeGroup::Adult));
    check(
        &said(&story(&person, &season_of(&girl)), Unit::Inch),
        expect![[r#"
            [Higher than in September. Chance seldom does that]
            Change: +3~½~in. About 2 times in 3 it is really +3~in to +4~in.
            Chance of jumping more than ⅝~in higher: 99 in 100.
            Go on testing the same way.
            The line went from 12~¾~in to 16~in.
            A straight line through the tests goes +⅜~in a month. It could be +⅜~in to +½~in.
            All these numbers are our own reckoning.
            out: 1 tired test, 16 December 2025
        "#]],
    );
}

/// A fall in the growing years, in calm words and with no blame.
#[test]
fn a_fall_is_told_calmly() {
    let boy = Child { a_year_mm: -90, ..boy_who_only_grows() };
    check(
        &said(&story(&boy.person, &season_of(&boy)), Unit::Centimetre),
        expect![[r#"
            [Lower than in September. Chance seldom does that]
            Change: −6.5~cm. About 2 times in 3 it is really −8.0~cm to −5.5~cm.
            The reach grew 6.5~cm: that is the arm, measured anew each time.
            Jumps of this age also rise about 4.0~cm in this time. That is taken off apart.
            Chance of jumping more than 1.5~cm lower: 99 in 100.
            First think of rest, illness and growing. It is no reason to train harder.
            The line went from 33.5~cm to 27.0~cm.
            A straight line through the tests goes −0.7~cm a month. It could be −0.9~cm to −0.6~cm.
            All these numbers are our own reckoning.
            out: 1 tired test, 16 December 2025
        "#]],
    );
}

#[test]
fn nothing_shown_is_never_called_no_change() {
    let girl = Child { a_year_mm: 0, ..girl_who_gains() };
    let read = story(&girl.person, &season_of(&girl));
    let text = said(&read, Unit::Centimetre);
    assert!(!text.to_lowercase().contains("no change.") && text.contains("Cannot tell yet"));
    check(
        &text,
        expect![[r#"
            [Cannot tell yet]
            Change: −0.5~cm. About 2 times in 3 it is really −1.5~cm to +1.0~cm.
            Jumps of this age also rise about 0.5~cm in this time. That is taken off apart.
            Chance of jumping more than 1.5~cm lower: 25 in 100.
            The line went from 32.0~cm to 31.5~cm.
            A straight line through the tests goes 0.0~cm a month. It could be −0.2~cm to +0.1~cm.
            All these numbers are our own reckoning.
            out: 1 tired test, 16 December 2025
        "#]],
    );
}

#[test]
fn few_tests_say_how_many_are_missing() {
    let boy = boy_who_only_grows();
    check(
        &said(&story(&boy.person, &season_of(&boy)[..1]), Unit::Centimetre),
        expect![[r#"
            [One test cannot tell a change yet]
            Two tests tell at the earliest.
            Do two practice tests before training starts. In the first tests you learn the test, and that looks like a gain.
            All these numbers are our own reckoning.
        "#]],
    );
}

#[test]
fn readers_hear_the_conclusion() {
    let boy = boy_who_only_grows();
    let read = story(&boy.person, &season_of(&boy));
    let text = words().season_description(&read, "Mio", Unit::Centimetre);
    check(
        &text,
        expect![
            "Season of Mio, 30 tests. Cannot tell yet. Change: +2.0~cm. About 2 times in 3 it is really +1.0~cm to +3.5~cm. The reach grew 6.5~cm: that is the arm, measured anew each time. Jumps of this age also rise about 4.0~cm in this time. That is taken off apart. Chance of jumping more than 1.5~cm higher, beyond what this age brings: 10 in 100."
        ],
    );
}

#[test]
fn two_chosen_tests() {
    let boy = boy_who_only_grows();
    let read = story(&boy.person, &season_of(&boy));
    let pair = compare_tests(&read, test_id(&boy, 3), test_id(&boy, 27)).unwrap();
    let verdict = words().pair_verdict(&pair, Unit::Centimetre);
    check(
        &format!("[{}]\n{}\n", verdict.head, verdict.lines.join("\n")),
        expect![[r#"
            [Cannot tell yet]
            Change: +2.0~cm. About 2 times in 3 it is really +1.5~cm to +3.0~cm.
            Jumps of this age also rise about 3.5~cm in this time. That is taken off apart.
            Chance of jumping more than 1.5~cm higher, beyond what this age brings: 8 in 100.
        "#]],
    );
}

#[test]
fn the_place_at_each_age() {
    let boy = boy_who_only_grows();
    let read = story(&boy.person, &season_of(&boy));
    let choice = BandChoice::of(&read.bands[0].standings[0]);
    let words = words();
    let mut text = String::new();
    for (date, standing) in read.places(choice) {
        let said = words.standing(&standing, Unit::Centimetre);
        writeln!(text, "{date}: {} ({})", said.tag, said.title).unwrap();
    }
    check(
        &text,
        expect![[r#"
            2025-09-06: Strip 2 of~5 (Boys 13–15, Indonesia)
            2026-03-24: Strip 2 of~5 (Boys 13–15, Indonesia)
            2026-04-03: Strip 2 of~5 (Boys 13–15, Indonesia)
            2026-05-27: Strip 2 of~5 (Boys 13–15, Indonesia)
        "#]],
    );
}

#[test]
fn notes_on_reaches() {
    let girl = girl_who_gains();
    let mut tests = season_of(&girl);
    tests[10] = test_of(&girl, 10, super::family::day_of(10), 340, girl.reach_mm - 30);
    let read = story(&girl.person, &tests);
    let text = words().reach_doubt(read.reach_doubts[0].1, Unit::Centimetre);
    check(
        &text,
        expect![
            "The reach is 3.0~cm lower than the time before. So this height may be up to 3.0~cm too high."
        ],
    );
}
