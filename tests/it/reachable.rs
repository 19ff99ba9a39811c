//! What can I reach, power, the growth spurt and the tables of athletes, without a browser.

use std::fmt::Write as _;
use std::sync::Arc;

use crate::drawings::{
    FRAMES, cm, first, labels, middle, near, nothing_leaves, painted, words_do_not_touch,
};
use crate::samples::{local, person, wall_test};
use expect_test::expect;
use two_marks::assess::touch::{Chance, Fingertip, Need, Target, newest_of};
use two_marks::assess::{Assessment, among_athletes, assess};
use two_marks::chart::{Drawing, Frame, Paint, Scale, TouchWall, TouchWords, touch_wall};
use two_marks::history::{Born, Test};
use two_marks::measure::{Device, Reach, TakeOff, TrendKey, Variant};
use two_marks::norms::AdultsOnly;
use two_marks::quantity::{AgeGroup, BirthMonth, Length, Sex, Unit};
use two_marks::text::{EnglishLocale, Words};

fn words() -> Words {
    Words::english(Arc::new(EnglishLocale))
}

/// Reach 224.5 cm, jumps of 41, 42 and 43 cm, by somebody of 15 to 17.
fn tested() -> (Test, Assessment) {
    let mut who = person(1, "Me");
    who.born = Some(Born::Group(AgeGroup::From15To17));
    let test = wall_test(7, &local(1), &[2655, 2665, 2675]);
    let assessed = assess(&test, &who, &[]);
    (test, assessed)
}

fn wall(target: Target, frame: Frame) -> (Drawing, Fingertip) {
    let (test, assessed) = tested();
    let fingertip = Fingertip::of(&test, &assessed, true).unwrap();
    let reach = fingertip.standing_reach;
    let said = words();
    let title = said.touch_target(target, Unit::Centimetre);
    let drawing = touch_wall(&TouchWall {
        frame,
        unit: Unit::Centimetre,
        standing_reach: reach,
        usual: reach + fingertip.usual.0,
        spread: fingertip.single_go_sd(),
        best: reach + fingertip.best.0,
        target: target.height(),
        tick_label: &cm,
        words: TouchWords {
            target: &title,
            usual: "usual jump 266.5 cm",
            reach: "standing reach 224.5",
            missing: "38.5 cm more",
        },
    });
    (drawing, fingertip)
}

const CUSTOM: [i64; 9] = [600, 2_000, 2_200, 2_240, 2_250, 2_500, 2_665, 2_700, 4_800];

fn targets() -> Vec<Target> {
    let custom = CUSTOM.iter().map(|mm| Target::Custom(Length::from_mm(*mm)));
    Target::KNOWN.into_iter().chain(custom).collect()
}

#[test]
fn the_wall_of_a_height_to_reach_holds_all_it_draws() {
    for frame in FRAMES {
        for target in targets() {
            let (drawing, _) = wall(target, frame);
            let what = format!("{target:?} at {frame:?}");
            nothing_leaves(&drawing, &what);
            words_do_not_touch(&drawing, &what);
        }
    }
    let (drawing, _) = wall(Target::Ring, Frame::whole(390, 416, 16));
    let said: Vec<_> = labels(&drawing).iter().map(|label| label.content.clone()).collect();
    for text in ["usual jump 266.5 cm", "standing reach 224.5", "38.5 cm more"] {
        assert!(said.iter().any(|label| label == text), "{text} is missing in {said:?}");
    }
    assert!(said.iter().any(|label| label.starts_with("Basketball ring")), "{said:?}");
}

#[test]
fn hatch_target_and_best_lie_at_their_heights() {
    let frame = Frame::whole(390, 416, 16);
    let (drawing, fingertip) = wall(Target::Ring, frame);
    let reach = fingertip.standing_reach;
    // Two known heights give the scale; the others have to fit it.
    let stripe = middle(first(&drawing, Paint::Stripe));
    let target = first(&drawing, Paint::MarkLine).y;
    let scale = Scale::new(reach, Target::Ring.height(), target, stripe);
    let hatch = first(&drawing, Paint::Hatch);
    let (usual, spread) = (reach + fingertip.usual.0, fingertip.single_go_sd());
    near(hatch.y, scale.y(usual + spread), "the upper edge of the hatch");
    near(hatch.bottom(), scale.y(usual - spread), "the lower edge of the hatch");
    near(first(&drawing, Paint::Usual).y, scale.y(usual), "the usual jump");
    let dimension = first(&drawing, Paint::Dimension);
    near(dimension.y, target, "the end of what is missing");
    near(dimension.bottom(), scale.y(usual), "its beginning");
    // What is reached needs no more.
    let (drawing, _) = wall(Target::NetWomen, frame);
    assert!(painted(&drawing, Paint::Dimension).is_empty());
}

#[test]
fn what_a_ring_and_a_net_need_word_for_word() {
    let (test, assessed) = tested();
    let fingertip = Fingertip::of(&test, &assessed, true).unwrap();
    let said = words();
    let mut text = String::new();
    let custom = Target::Custom(Length::from_mm(2_660));
    for target in [Target::Ring, Target::NetWomen, Target::NetMen, custom] {
        writeln!(text, "{}", said.touch_target(target, Unit::Centimetre)).unwrap();
        for need in fingertip.needs(target) {
            let need = said.need(&need, Unit::Centimetre);
            writeln!(text, "  {}: {}", need.title, need.sentences.join(" ")).unwrap();
        }
        if let Some(source) = said.touch_source(target) {
            writeln!(text, "  {source}").unwrap();
        }
    }
    expect![[r#"
        Basketball ring: 3.05~m
          To touch it: Your fingertip has to go to 306.0~cm. That is 1.0~cm over the edge. Your usual jump is 39.5~cm short of that. In one jump: less than 1 in 20. At least once in three jumps: less than 1 in 20.
          To get the whole hand above it: Your fingertip has to go to 325.0~cm. That is 20.0~cm over the edge. Your usual jump is 58.5~cm short of that. In one jump: less than 1 in 20. At least once in three jumps: less than 1 in 20.
          Height from the rules: FIBA, Official Basketball Rules 2020, Basketball Equipment.
        Volleyball net, women: 2.24~m
          To get the whole hand above it: Your fingertip has to go to 244.0~cm. That is 20.0~cm over the edge. Your usual jump goes that high. In one jump: more than 19 in 20. At least once in three jumps: more than 19 in 20.
          Height from the rules: FIVB, Official Volleyball Rules, 2.1.1.
        Volleyball net, men: 2.43~m
          To get the whole hand above it: Your fingertip has to go to 263.0~cm. That is 20.0~cm over the edge. Your usual jump goes that high. In one jump: about 9 in 10. At least once in three jumps: more than 19 in 20.
          Height from the rules: FIVB, Official Volleyball Rules, 2.1.1.
        A height of your own
          To touch it: Your fingertip has to go to 267.0~cm. That is 1.0~cm over the edge. Your usual jump is 0.5~cm short of that. In one jump: about 4 in 10. At least once in three jumps: about 8 in 10.
          To close the fingers around it: Your fingertip has to go to 272.0~cm. That is 6.0~cm over the edge. Your usual jump is 5.5~cm short of that. In one jump: less than 1 in 20. At least once in three jumps: about 1 in 10.
          To get the whole hand above it: Your fingertip has to go to 286.0~cm. That is 20.0~cm over the edge. Your usual jump is 19.5~cm short of that. In one jump: less than 1 in 20. At least once in three jumps: less than 1 in 20.
    "#]].assert_eq(&text.replace('\u{a0}', "~"));
}

#[test]
fn a_board_is_not_shown_as_sourced() {
    assert_eq!(Target::BoardEdge.rule(), None);
    let said = words().touch_source(Target::BoardEdge).unwrap();
    assert!(said.contains("could not read a rule"), "{said}");
    // FIVB rule 2.1.1: 2.43 m for men, 2.24 m for women. FIBA, Basketball Equipment, ring: 3 050 mm.
    let heights = Target::KNOWN.map(|target| target.height().as_micrometres() / 1_000);
    assert_eq!(heights, [3_050, 2_900, 2_430, 2_240]);
}

#[test]
fn another_day_is_less_sure_than_the_day_itself() {
    let (test, assessed) = tested();
    let today = Fingertip::of(&test, &assessed, true).unwrap();
    let later = Fingertip::of(&test, &assessed, false).unwrap();
    assert!(later.single_go_sd() > today.single_go_sd());
    // total² less day² of the same day, plus day² of another, and one trial on top of each.
    let (parts, spread) = (assessed.parts.unwrap(), assessed.spread.unwrap());
    let sd = |sign: f64| {
        let (total, day) = (parts.total_cm(), parts.day_cm);
        (total * total + sign * day * day + spread.trial_sd_cm * spread.trial_sd_cm).sqrt()
    };
    assert!((today.single_go_sd().as_cm() - sd(-1.0)).abs() < 1e-3);
    assert!((later.single_go_sd().as_cm() - sd(1.0)).abs() < 1e-3);
    // The usual mark is at 266.5 cm: half of the goes end above it.
    let usual = Length::from_mm(2_665);
    assert!((today.probability(usual, 1) - 0.5).abs() < 1e-6);
    let chance = |need: &Need| need.one_go;
    let needs = later.needs(Target::Custom(Length::from_mm(2_655)));
    assert_eq!(needs.first().map(chance), Some(Chance::Tenths(5)));
}

#[test]
fn standing_running_and_timed_jumps_stay_apart() {
    let approach = Variant::Approach { steps: 3, take_off: TakeOff::TwoFeet };
    let with = |number, key| {
        let mut test = wall_test(number, &local(1), &[2655, 2665, 2675]);
        test.session.key = key;
        test
    };
    let timed = with(1, TrendKey { device: Device::Video, ..TrendKey::USUAL });
    let running = with(2, TrendKey { variant: approach, ..TrendKey::USUAL });
    let standing = with(3, TrendKey::USUAL);
    let tests = [timed.clone(), running.clone(), standing.clone()];
    assert_eq!(newest_of(&tests, false).map(|test| test.id), Some(standing.id));
    assert_eq!(newest_of(&tests, true).map(|test| test.id), Some(running.id));
    assert!(newest_of(&[timed], false).is_none());
}

#[test]
fn a_distance_between_marks_says_not_how_high_they_hang() {
    let (mut test, assessed) = tested();
    test.session.reach = Reach::MarkOnly;
    assert!(Fingertip::of(&test, &assessed, true).is_none());
}

#[test]
fn athletes_are_shown_to_adults_only() {
    let mut who = person(1, "Me");
    who.born = BirthMonth::new(1996, 1).map(Born::Month);
    let test = wall_test(7, &local(1), &[2655, 2665, 2675]);
    let assessed = assess(&test, &who, &[]);
    let adult = AdultsOnly::check(assessed.age).unwrap();
    for sex in [Sex::Female, Sex::Male] {
        let found = among_athletes(adult, &test.session, &assessed, sex);
        assert!(found.iter().all(|standing| standing.cell.sex == sex));
        assert!(!found.is_empty(), "{sex:?}");
    }
    assert_eq!(AdultsOnly::check(tested().1.age), None);
}
