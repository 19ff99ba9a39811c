//! The picture of a season that leaves the page.

use std::sync::Arc;

use two_marks::assess::{BandChoice, SeasonStory, Span, season_story};
use two_marks::chart::{CARD, Item, Paint};
use two_marks::history::Born;
use two_marks::measure::TrendKey;
use two_marks::quantity::{AgeGroup, Unit};
use two_marks::season::{SeasonFields, season_card};
use two_marks::text::{EnglishLocale, Picture, Words};

use super::family::{Child, boy_who_only_grows, girl_who_gains, season_of};
use crate::drawings::{labels, nothing_leaves, painted, words_do_not_touch};

fn story(child: &Child) -> SeasonStory {
    season_story(&child.person, &season_of(child), TrendKey::USUAL, Span::All)
}

fn choice(story: &SeasonStory) -> Option<BandChoice> {
    story.bands.last().and_then(|age| age.standings.first()).map(BandChoice::of)
}

fn fields(story: &SeasonStory, bits: u8) -> SeasonFields {
    let on = |bit: u8| bits & (1 << bit) != 0;
    SeasonFields {
        nickname: on(0),
        dates: on(1),
        answer: on(2),
        bands: choice(story).filter(|_| on(3)),
        reach: on(4),
    }
}

fn made(story: &SeasonStory, name: &str, fields: SeasonFields) -> Picture {
    let words = Words::english(Arc::new(EnglishLocale));
    season_card(story, &words, Unit::Centimetre, name, fields)
}

#[test]
fn every_picture_of_a_season_holds_its_words_and_has_its_size() {
    for child in [boy_who_only_grows(), girl_who_gains()] {
        let story = story(&child);
        assert!(choice(&story).is_some());
        for bits in 0..32 {
            let fields = fields(&story, bits);
            let picture = made(&story, "A nickname of 20 let", fields);
            let what = format!("{} {fields:?}", child.person.nickname);
            nothing_leaves(&picture.drawing, &what);
            words_do_not_touch(&picture.drawing, &what);
            assert_eq!((picture.drawing.width, picture.drawing.height), (CARD.width, CARD.height));
            // The wall ends where the source begins, however many lines stand above it.
            let source = labels(&picture.drawing).into_iter().next_back().map(|label| label.area());
            let dado = picture.drawing.items.iter().find(|item| item.paint() == Some(Paint::Dado));
            let (source, dado) = source.zip(dado.map(Item::area)).unwrap();
            assert!(dado.bottom() <= source.y, "{what}: {dado:?} {source:?}");
            let svg = picture.svg();
            assert!(svg.starts_with(
                "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"1080\" height=\"1350\""
            ));
            for banned in ["class=", "style=", "var(", "href", "<script"] {
                assert!(!svg.contains(banned), "{what}: {banned}");
            }
        }
    }
}

/// What each box brings, and that no other thing of a person comes with it. Words that only drawings
/// know, such as the growth of a reach, are in the file too.
#[test]
fn a_picture_of_a_season_tells_nothing_that_was_not_ticked() {
    let boy = story(&boy_who_only_grows());
    let told = ["Mio", "2025", "October", "Cannot tell yet", "Jumps of this age", "+2.0"];
    let told = [&told[..], &["Boys", "years", "Standing reach", "200"]].concat();
    let holds: [&[&str]; 6] = [
        &[],
        &["Mio"],
        &["2025", "October"],
        &["Cannot tell yet", "Jumps of this age", "+2.0"],
        &["Boys"],
        &["Standing reach", "200"],
    ];
    for (at, wanted) in holds.iter().enumerate() {
        let bits = if at == 0 { 0 } else { 1 << (at - 1) };
        let svg = made(&boy, "Mio", fields(&boy, bits)).svg();
        // The words, and not the numbers of places.
        let words: Vec<&str> =
            svg.split('<').filter_map(|part| part.split_once('>')).map(|(_, text)| text).collect();
        for word in &told {
            let is_there = words.iter().any(|text| text.contains(word));
            assert_eq!(is_there, wanted.contains(word), "box {at}: {word}\n{words:?}");
        }
    }
}

/// Under 18 a change never goes out without the answer and what growing up alone brings.
#[test]
fn a_change_is_never_shown_without_its_answer() {
    for child in [boy_who_only_grows(), girl_who_gains()] {
        let story = story(&child);
        for bits in 0..32 {
            let fields = fields(&story, bits);
            let picture = made(&story, "Mio", fields);
            let has = |paint| !painted(&picture.drawing, paint).is_empty();
            assert_eq!(has(Paint::Dimension), fields.answer);
            let all = labels(&picture.drawing);
            let grows = all.iter().any(|label| label.content.starts_with("Jumps of this age"));
            assert_eq!(grows, fields.answer);
            assert!(picture.description.contains("30 tests"));
            assert_eq!(picture.description.contains("Jumps of this age"), fields.answer);
        }
    }
    let mut adult = Child { a_year_mm: 85, ..boy_who_only_grows() };
    adult.person.born = Some(Born::Group(AgeGroup::Adult));
    let adult = story(&adult);
    let picture = made(&adult, "Mio", fields(&adult, 4));
    assert!(labels(&picture.drawing).iter().any(|label| label.content.contains("Higher than in")));
    assert!(!picture.svg().contains("Jumps of this age"));
}

#[test]
fn one_test_makes_a_picture_without_an_answer() {
    let boy = boy_who_only_grows();
    let tests = season_of(&boy);
    let one = season_story(&boy.person, &tests[..1], TrendKey::USUAL, Span::All);
    let picture = made(&one, "Mio", SeasonFields { answer: true, ..SeasonFields::default() });
    nothing_leaves(&picture.drawing, "one test");
    assert!(picture.description.contains("1 test of"));
    assert!(labels(&picture.drawing).iter().all(|label| !label.content.contains("answer")));
}

/// The answer stands over the wall and the source under it.
#[test]
fn the_answer_is_above_and_the_source_below() {
    let girl = story(&girl_who_gains());
    let drawing = made(&girl, "Ada", fields(&girl, 31)).drawing;
    let top = |text: &str| {
        let label = labels(&drawing).into_iter().find(|label| label.content.starts_with(text));
        label.unwrap_or_else(|| panic!("no {text}")).area()
    };
    let chalk = drawing.items.iter().find(|item| item.paint() == Some(Paint::ChalkMark));
    let chalk = chalk.map(Item::area).unwrap();
    assert!(top("Ada").bottom() < top("Higher than in").y);
    assert!(top("Higher than in").bottom() < top("Jumps of this age").y);
    assert!(top("Jumps of this age").bottom() < chalk.y && chalk.bottom() < top("Standing jump").y);
}
