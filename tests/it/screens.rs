//! What the pages say, word for word, without a browser.

mod sources;

use std::fmt::Write as _;
use std::sync::Arc;

use expect_test::{Expect, expect};
use two_marks::chart::{
    self, Drawing, Dropped, Frame, Item, Reference, ResultWall, ResultWords, result_wall,
};
use two_marks::measure::{Device, TrendKey, Variant};
use two_marks::norms::{Estimate, NoPosition, NotComparable, Score, Standing, place};
use two_marks::quantity::{Age, AgeGroup, Compare, Length, Sex, Unit};
use two_marks::text::{EnglishLocale, Words};

fn words() -> Words {
    Words::english(Arc::new(EnglishLocale))
}

fn aged(years: u8) -> Age {
    Age::Years { years, maybe_one_more: false, months_to_birthday: 6 }
}

fn score(best_mm: i64, error_mm: i64) -> Score {
    let standard_error = Length::from_mm(error_mm);
    let best = Estimate { height: Length::from_mm(best_mm), standard_error };
    let mean = Estimate { height: Length::from_mm(best_mm - 15), standard_error };
    Score { best, mean: Some(mean) }
}

fn standings(key: TrendKey, sex: Sex, age: Age, score: &Score) -> Vec<Standing> {
    let placements = place(key, Compare::With(sex), age, score);
    placements.by_sex.into_iter().flat_map(|placement| placement.standings).collect()
}

const FLIGHT: TrendKey = TrendKey { device: Device::Video, ..TrendKey::USUAL };

/// Everything said of every table that fits, one block per table.
fn said(key: TrendKey, sex: Sex, age: Age, score: &Score, unit: Unit) -> String {
    let words = words();
    let mut text = String::new();
    for standing in standings(key, sex, age, score) {
        let said = words.standing(&standing, unit);
        writeln!(text, "[{} / {}]", said.tag, said.second).unwrap();
        writeln!(text, "{}", said.sentence).unwrap();
        let more = [Some(said.comparability), said.method, said.age_fit, said.statistic];
        let more = more.into_iter().flatten().chain([said.how_to_read]).chain(said.cautions);
        for line in more {
            writeln!(text, "  {line}").unwrap();
        }
        let tape = words.tape(&standing, unit);
        writeln!(text, "  tape: {} / {}", tape.title, tape.counts).unwrap();
        let strips = tape.strips();
        let labels: Vec<String> = match tape.reference(&strips) {
            Reference::Strips(strips) => {
                strips.iter().map(|strip| format!("{} ({})", strip.label, strip.place)).collect()
            }
            Reference::Tenths { lowest, highest, .. } => vec![lowest.into(), highest.into()],
            Reference::Average { label, word, .. } => vec![label.into(), word.into()],
            Reference::None => vec!["no tape".into()],
        };
        writeln!(text, "  {}", labels.join(" | ")).unwrap();
    }
    text
}

fn check(actual: &str, expected: Expect) {
    expected.assert_eq(&actual.replace('\u{a0}', "~"));
}

#[test]
fn a_girl_of_eleven_between_two_strips() {
    let actual = said(TrendKey::USUAL, Sex::Female, aged(11), &score(335, 15), Unit::Centimetre);
    check(
        &actual,
        expect![[r#"
            [Strip 3 to~4 of~5 / 28–41]
            Girls 10–12, Indonesia: strip 3 to 4 of 5, 28–41~cm. With the ± it could be any of these.
              The same kind of test: marks on a wall.
              Strip 1 is the lowest. A score counts in whole centimetres, halves up.
              It is not known who stands behind these limits.
              The strips are the limits of a test. They do not say how many people are in each.
              tape: Girls 10–12, Indonesia / strips, in cm
              up to 20 (1 of 5) | 21–27 (2 of 5) | 28–33 (3 of 5) | 34–41 (4 of 5) | from 42 (5 of 5)
            [Near average / average 35~cm]
            Girls 11–14, Canada: near the average of 35~cm.
              Not the same test: read it with care.
              A plate on the floor that feels the push, and a formula.
              Near means within 5~cm (our own reckoning).
              It was measured with other gear, which can read higher or lower.
              tape: Girls 11–14, Canada / average, in cm
              35 | average
        "#]],
    );
}

#[test]
fn the_same_girl_in_inches() {
    let actual = said(TrendKey::USUAL, Sex::Female, aged(11), &score(335, 15), Unit::Inch);
    check(
        &actual,
        expect![[r#"
            [Strip 3 to~4 of~5 / 10~¾–16~¼]
            Girls 10–12, Indonesia: strip 3 to 4 of 5, 10~¾–16~¼~in. With the ± it could be any of these.
              The same kind of test: marks on a wall.
              Strip 1 is the lowest. A score counts in whole centimetres, halves up.
              It is not known who stands behind these limits.
              The strips are the limits of a test. They do not say how many people are in each.
              tape: Girls 10–12, Indonesia / strips, in in
              up to 8 (1 of 5) | 8–10~¾ (2 of 5) | 10~¾–13~¼ (3 of 5) | 13~¼–16~¼ (4 of 5) | from 16~¼ (5 of 5)
            [Near average / average 13~¾~in]
            Girls 11–14, Canada: near the average of 13~¾~in.
              Not the same test: read it with care.
              A plate on the floor that feels the push, and a formula.
              Near means within 2~in (our own reckoning).
              It was measured with other gear, which can read higher or lower.
              tape: Girls 11–14, Canada / average, in in
              13~¾ | average
        "#]],
    );
}

#[test]
fn a_boy_of_thirteen_school_strips_first_then_places_in_100() {
    let actual = said(TrendKey::USUAL, Sex::Male, aged(13), &score(470, 20), Unit::Centimetre);
    check(
        &actual,
        expect![[r#"
            [Strip 3 of~5 / 42–52]
            Boys 13–15, Indonesia: strip 3 of 5, 42–52~cm.
              The same kind of test: marks on a wall.
              Strip 1 is the lowest. A score counts in whole centimetres, halves up.
              It is not known who stands behind these limits.
              The strips are the limits of a test. They do not say how many people are in each.
              tape: Boys 13–15, Indonesia / strips, in cm
              up to 30 (1 of 5) | 31–41 (2 of 5) | 42–52 (3 of 5) | 53–65 (4 of 5) | from 66 (5 of 5)
            [57 to 73 in 100 / jump lower]
            Boys 13–14, USA: 57 to 73 in 100 jump lower.
              The same test or one like it. The page leaves it open.
              It is a range, since no single test is exact. It runs from your score less its ± to your score plus its ±.
              It is not known how the test was done, or who was tested.
              tape: Boys 13–14, USA / tenths, in cm
              1 in 10 lower | 9 in 10 lower
            [Above average / average 39~cm]
            Boys 11–14, Canada: above the average of 39~cm.
              Not the same test: read it with care.
              A plate on the floor that feels the push, and a formula.
              Near means within 5~cm (our own reckoning).
              It was measured with other gear, which can read higher or lower.
              tape: Boys 11–14, Canada / average, in cm
              39 | average
        "#]],
    );
}

#[test]
fn a_man_of_twenty_five() {
    let actual = said(TrendKey::USUAL, Sex::Male, aged(25), &score(500, 20), Unit::Centimetre);
    check(
        &actual,
        expect![[r#"
            [45 to 58 in 100 / jump lower]
            Men 20–29, USA: 45 to 58 in 100 jump lower.
              The same kind of test: marks on a wall.
              It is a range, since no single test is exact. It runs from your score less its ± to your score plus its ±.
              It is not known who stands behind these limits.
              The printed figures look smoothed.
              tape: Men 20–29, USA / tenths, in cm
              1 in 10 lower | 9 in 10 lower
            [17 to 31 in 100 / jump lower]
            Men 21–25, active students, USA: 17 to 31 in 100 jump lower.
              Close to your test, but not the same.
              Slats swept aside by the hand, less the standing reach.
              It is a range, since no single test is exact. It runs from your score less its ± to your score plus its ±.
              These people were more active than most.
              Some groups are small.
              tape: Men 21–25, active students, USA / tenths, in cm
              1 in 10 lower | 9 in 10 lower
            [Near average / our estimate 49~cm]
            Men 25–29, our own estimate: near the average of 49~cm.
              Not the same test: read it with care.
              Time in the air. How it was timed was not read.
              Near means within 5~cm (our own reckoning).
              This is our own estimate. It can be 5 cm off. Past 50 nothing tests it.
              It comes from time in the air, which reads lower than a wall. We added 10 cm.
              These people chose to be tested.
              tape: Men 25–29, our own estimate / average, in cm
              49 | our estimate
            [Strip 3 of~5 / 41–55]
            Men 20–49, Australia: strip 3 of 5, 41–55~cm.
              The same kind of test: marks on a wall.
              Pages differ: some take the best jump, some the mean. The range covers both.
              Strip 1 is the lowest. A score counts in whole centimetres, halves up.
              It is not known who stands behind these limits.
              One table for all adults, young or old.
              The strips are the limits of a test. They do not say how many people are in each.
              tape: Men 20–49, Australia / strips, in cm
              up to 29 (1 of 5) | 30–40 (2 of 5) | 41–55 (3 of 5) | 56–70 (4 of 5) | from 71 (5 of 5)
        "#]],
    );
}

#[test]
fn a_woman_of_forty_seven() {
    let actual = said(TrendKey::USUAL, Sex::Female, aged(47), &score(330, 20), Unit::Centimetre);
    check(
        &actual,
        expect![[r#"
            [Near average / our estimate 31~cm]
            Women 45–49, our own estimate: near the average of 31~cm.
              Not the same test: read it with care.
              Time in the air. How it was timed was not read.
              Near means within 5~cm (our own reckoning).
              This is our own estimate. It can be 5 cm off. Past 50 nothing tests it.
              It comes from time in the air, which reads lower than a wall. We added 10 cm.
              These people chose to be tested.
              tape: Women 45–49, our own estimate / average, in cm
              31 | our estimate
            [Near average / average 30~cm]
            Women 40–49, hospital, South Korea: near the average of 30~cm.
              Not the same test: read it with care.
              Near means within 5~cm (our own reckoning).
              How it was measured is not stated.
              It is not known who stands behind these limits.
              tape: Women 40–49, hospital, South Korea / average, in cm
              30 | average
            [Strip 2 to~3 of~5 / 20–45]
            Women 20–49, Australia: strip 2 to 3 of 5, 20–45~cm. With the ± it could be any of these.
              The same kind of test: marks on a wall.
              Pages differ: some take the best jump, some the mean. The range covers both.
              Strip 1 is the lowest. A score counts in whole centimetres, halves up.
              It is not known who stands behind these limits.
              One table for all adults, young or old.
              The strips are the limits of a test. They do not say how many people are in each.
              tape: Women 20–49, Australia / strips, in cm
              up to 19 (1 of 5) | 20–30 (2 of 5) | 31–45 (3 of 5) | 46–60 (4 of 5) | from 61 (5 of 5)
        "#]],
    );
}

#[test]
fn a_boy_of_sixteen_timed_in_the_air() {
    let actual = said(FLIGHT, Sex::Male, aged(16), &score(440, 20), Unit::Centimetre);
    check(
        &actual,
        expect![[r#"
            [60 to 75 in 100 / jump lower]
            Boys 16, South Korea: 60 to 75 in 100 jump lower.
              Timed in the air like yours. How it was timed is not known: read it with care.
              It is a range, since no single test is exact. It runs from your score less its ± to your score plus its ±.
              Time in the air reads lower than a wall, by how it is defined. It is about 10 cm from table to table (our own reckoning).
              These people chose to be tested.
              tape: Boys 16, South Korea / tenths, in cm
              1 in 10 lower | 9 in 10 lower
        "#]],
    );
}

#[test]
fn ages_that_only_nearly_fit() {
    let ages = [
        Age::Years { years: 12, maybe_one_more: true, months_to_birthday: 0 },
        Age::Years { years: 12, maybe_one_more: false, months_to_birthday: 1 },
        Age::Group(AgeGroup::From12To14),
    ];
    let words = words();
    let mut text = String::new();
    for age in ages {
        for standing in standings(TrendKey::USUAL, Sex::Female, age, &score(300, 15)) {
            let said = words.standing(&standing, Unit::Centimetre);
            let fit = said.age_fit.unwrap_or_else(|| "(fits)".to_owned());
            writeln!(text, "{}: {fit}", said.title).unwrap();
        }
    }
    check(
        &text,
        expect![[r#"
        Girls 10–12, Indonesia: (fits)
        Girls 13–15, Indonesia: It counts for you if your birthday this month is over.
        Girls 11–14, Canada: (fits)
        Girls 10–12, Indonesia: (fits)
        Girls 13–15, Indonesia: It counts for you from your next birthday, next month.
        Girls 11–14, Canada: (fits)
        Girls 10–12, Indonesia: It covers part of your age group: 10–12.
        Girls 13–15, Indonesia: It covers part of your age group: 13–15.
        Girls 11–14, Canada: It covers all of your age group.
    "#]],
    );
}

/// Every wording of a place in 100, from far below a table to far above it.
#[test]
fn places_in_100_from_below_a_table_to_above_it() {
    let words = words();
    let mut text = String::new();
    for (best_mm, error_mm) in
        [(200, 15), (365, 20), (480, 20), (495, 0), (615, 20), (700, 15), (500, 200)]
    {
        let all = standings(TrendKey::USUAL, Sex::Male, aged(20), &score(best_mm, error_mm));
        let said = words.standing(&all[0], Unit::Centimetre);
        writeln!(text, "{best_mm} ± {error_mm}: [{}] {}", said.tag, said.sentence).unwrap();
    }
    check(
        &text,
        expect![[r#"
        200 ± 15: [below 10 in 100] Men 20–29, USA: fewer than 10 in 100 jump lower.
        365 ± 20: [up to 14 in 100] Men 20–29, USA: 14 in 100 or fewer jump lower.
        480 ± 20: [38 to 52 in 100] Men 20–29, USA: 38 to 52 in 100 jump lower.
        495 ± 0: [about 50 in 100] Men 20–29, USA: about 50 in 100 jump lower.
        615 ± 20: [82 or more in 100] Men 20–29, USA: 82 in 100 or more jump lower.
        700 ± 15: [above 90 in 100] Men 20–29, USA: more than 90 in 100 jump lower.
        500 ± 200: [below 10 to above 90 in 100] Men 20–29, USA: from fewer than 10 to more than 90 in 100 jump lower.
    "#]],
    );
}

#[test]
fn every_place_beside_an_average() {
    let words = words();
    let mut text = String::new();
    for (best_mm, error_mm) in [(180, 10), (220, 20), (280, 10), (330, 20), (400, 10), (280, 80)] {
        let all = standings(TrendKey::USUAL, Sex::Male, aged(8), &score(best_mm, error_mm));
        let said = words.standing(&all[0], Unit::Centimetre);
        writeln!(text, "{best_mm} ± {error_mm}: [{}] {}", said.tag, said.sentence).unwrap();
    }
    check(
        &text,
        expect![[r#"
        180 ± 10: [Below average] Boys 6–10, Canada: below the average of 28~cm.
        220 ± 20: [Near or below average] Boys 6–10, Canada: near or below the average of 28~cm.
        280 ± 10: [Near average] Boys 6–10, Canada: near the average of 28~cm.
        330 ± 20: [Near or above average] Boys 6–10, Canada: near or above the average of 28~cm.
        400 ± 10: [Above average] Boys 6–10, Canada: above the average of 28~cm.
        280 ± 80: [Below to above average] Boys 6–10, Canada: with the ± it could be below, near or above the average of 28~cm.
    "#]],
    );
}

fn written(drawing: &Drawing) -> Vec<&str> {
    let texts = drawing.items.iter().filter_map(|item| match item {
        Item::Text(label) => Some(label.content.as_str()),
        _ => None,
    });
    texts.collect()
}

/// On a phone 390 px wide every tag finds room, and a range it names is not written again beside it.
#[test]
fn tags_fit_the_wall_and_name_their_strip_once() {
    let words = words();
    let tick = |length| words.tick_number(length, Unit::Centimetre);
    for (sex, years, best_mm) in
        [(Sex::Male, 13, 470), (Sex::Female, 11, 335), (Sex::Male, 25, 500), (Sex::Female, 47, 330)]
    {
        let score = score(best_mm, 15);
        for standing in standings(TrendKey::USUAL, sex, aged(years), &score) {
            let said = words.standing(&standing, Unit::Centimetre);
            let tape = words.tape(&standing, Unit::Centimetre);
            let strips = tape.strips();
            let made = result_wall(&ResultWall {
                frame: Frame::whole(390, 624, 16),
                unit: Unit::Centimetre,
                standing_reach: None,
                best: score.best.height,
                usual: None,
                reference: tape.reference(&strips),
                standing: Some(chart::Standing {
                    at: score.best.height,
                    first: &said.tag,
                    second: &said.second,
                }),
                tick_label: &tick,
                words: ResultWords {
                    number: "",
                    unit: "",
                    usual: "",
                    jump_mark: "",
                    jump_mark_number: "",
                    reach_number: "",
                    reach: "",
                    reference: &tape.title,
                    reference_unit: &tape.counts,
                    note: &[],
                },
            });
            assert!(!made.dropped.contains(&Dropped::Tag), "{}: {}", said.title, said.tag);
            let times = written(&made.drawing).iter().filter(|text| **text == said.second).count();
            assert!(times <= 1, "{}: {} stands {times} times", said.title, said.second);
        }
    }
}

#[test]
fn why_there_is_no_place() {
    let reasons = [
        NoPosition::NotAsked,
        NoPosition::NoTrial,
        NoPosition::NotComparable(NotComparable::Approach),
        NoPosition::NotComparable(NotComparable::OtherJump),
        NoPosition::NotComparable(NotComparable::OwnWay),
        NoPosition::NotComparable(NotComparable::OtherReachMethod),
        NoPosition::NotComparable(NotComparable::OtherSurface),
        NoPosition::AgeUnknown,
        NoPosition::NoTableForAge,
        NoPosition::AgeGroupTooWide,
    ];
    let lines: Vec<String> = reasons.map(|reason| words().no_position(reason)).into();
    check(
        &(lines.join("\n") + "\n"),
        expect![[r#"
            You chose to see no tables.
            No trial counts, so there is no score to place.
            Running jumps have no table here. They are never placed among standing jumps.
            The tables are for jumps with a dip and free arms. This one is different.
            You test in your own way, so no table fits. Your own tests are the best thing to compare with.
            The tables take the reach with one hand and heels down. This one is different.
            The tables are for a hard floor. Your own tests are the best thing to compare with.
            Tables need an age. Give your birth month and year to see them.
            No table for this age. Your own tests are the best thing to compare with.
            The tables are split finer than your age group. Give your birth month and year.
        "#]],
    );
    // A held squat gets the reason that fits it, through the same path as on the page.
    let squat = TrendKey { variant: Variant::HeldSquat, ..TrendKey::USUAL };
    let said = place(squat, Compare::Both, aged(30), &score(300, 10)).none_because.unwrap();
    assert_eq!(words().no_position(said), words().norm_none_other_jump());
}

#[test]
fn the_best_of_three_is_named_only_when_a_later_jump_was_higher() {
    let (best, third) = (Length::from_mm(450), Length::from_mm(430));
    assert_eq!(words().first_three_note(best, best, Unit::Centimetre), None);
    let said = words().first_three_note(best, third, Unit::Centimetre).unwrap();
    assert!(said.ends_with("43.0\u{a0}cm."), "{said}");
}
