//! What is drawn of a season.

use std::sync::Arc;

use expect_test::expect;
use two_marks::assess::{BandChoice, SeasonStory, Span, season_story};
use two_marks::chart::{Drawing, Frame, Item, MOST_POINTS, Paint};
use two_marks::measure::TrendKey;
use two_marks::quantity::Unit;
use two_marks::season::{Picture, View, picture};
use two_marks::text::{EnglishLocale, Words};

use super::family::{Child, boy_who_only_grows, day, girl_who_gains, season_of, test_of};
use crate::drawings::{FRAMES, labels, marks, nothing_leaves, painted, words_do_not_touch};

fn story(child: &Child) -> SeasonStory {
    season_story(&child.person, &season_of(child), TrendKey::USUAL, Span::All)
}

fn drawn(story: &SeasonStory, frame: Frame, asked: Picture) -> Drawing {
    let words = Words::english(Arc::new(EnglishLocale));
    picture(story, &words, Unit::Centimetre, frame, asked).drawing
}

/// Everything a person can ask for at once.
fn everything(story: &SeasonStory) -> Picture {
    let bands = story.bands.last().and_then(|age| age.standings.first()).map(BandChoice::of);
    Picture { bands, shows_reach: true, shows_touch: true, ..Picture::default() }
}

/// How many items of each paint, and every word.
fn summary(drawing: &Drawing) -> String {
    let mut paints: Vec<String> = Vec::new();
    for item in &drawing.items {
        paints.extend(item.paint().map(|paint| format!("{paint:?}")));
    }
    paints.sort();
    let mut counts: Vec<(String, usize)> = Vec::new();
    for paint in paints {
        match counts.last_mut() {
            Some((name, count)) if *name == paint => *count += 1,
            _ => counts.push((paint, 1)),
        }
    }
    let counts: Vec<String> =
        counts.iter().map(|(name, count)| format!("{name} {count}")).collect();
    let words: Vec<&str> = drawing
        .items
        .iter()
        .filter_map(|item| match item {
            Item::Text(label) => Some(label.content.as_str()),
            _ => None,
        })
        .collect();
    format!("{}\n{}\n", counts.join(", "), words.join(" | "))
}

#[test]
fn both_children_stay_on_their_walls() {
    for child in [boy_who_only_grows(), girl_who_gains()] {
        let story = story(&child);
        for frame in FRAMES {
            for asked in [Picture::default(), everything(&story)] {
                let drawing = drawn(&story, frame, asked);
                nothing_leaves(&drawing, &format!("{frame:?} {asked:?}"));
                words_do_not_touch(&drawing, &format!("{frame:?} {asked:?}"));
            }
        }
    }
}

#[test]
fn the_boys_picture() {
    let drawing =
        drawn(&story(&boy_who_only_grows()), Frame::whole(390, 420, 16), Picture::default());
    expect![[r#"
        Best 1, ChalkMark 2, ChalkMarkHollow 2, Cut 2, Dado 1, Dimension 1, DimensionDashed 2, ErrorBar 3, Flag 2, FlagCloth 2, Growth 2, Halo 3, Hatch 2, Learning 2, Measure 3, MeasureEdge 1, MeasureHook 1, Month 3, Slash 2, Stripe 1, Tick 2, TickFine 1, Trend 2, Wall 2
        +2.0 | cm | 30 | 32 | 34 | 36 | 0 | October | January | April | usual jump and its ± | practice | noted, not in the line | level, in its hatch 2 times in 3 | by growing alone | while learning the test
    "#]].assert_eq(&summary(&drawing));
}

#[test]
fn the_girls_picture_with_bands_and_tracks() {
    let story = story(&girl_who_gains());
    let drawing = drawn(&story, Frame::whole(390, 600, 16), everything(&story));
    expect![[r#"
        Band 2, BandEdge 2, Best 1, ChalkMark 2, ChalkMarkHollow 2, Cut 4, Dado 1, Dimension 1, DimensionDashed 2, ErrorBar 3, Flag 2, FlagCloth 2, Growth 2, Halo 7, Hatch 2, Learning 2, Measure 5, MeasureEdge 3, MeasureHook 1, Month 3, ReachMark 4, Slash 2, Stripe 1, Tick 5, TickFine 2, Track 1, TrackDashed 1, Trend 2, Wall 2
        23–30 | 31–38 | 39–49 | +8.5 | cm | 28 | 30 | 32 | 34 | 36 | 38 | 40 | 42 | 208 | 209 | 208.5 | 208.0 | Standing reach | 240 | 250 | 260 | 250.5 | 239.5 | Highest touch | 0 | October | January | April | usual jump and its ± | practice | noted, not in the line | level, in its hatch 2 times in 3 | by growing alone | while learning the test
    "#]].assert_eq(&summary(&drawing));
}

#[test]
fn practice_is_hollow_and_tired_tests_carry_a_flag() {
    let drawing =
        drawn(&story(&boy_who_only_grows()), Frame::whole(390, 420, 16), Picture::default());
    // One more of each is the sample in the legend.
    assert_eq!(marks(&drawing, Paint::ChalkMarkHollow).len(), 2 + 1);
    assert_eq!(marks(&drawing, Paint::ChalkMark).len(), 28 + 1);
    assert_eq!(painted(&drawing, Paint::Trend).len(), 1 + 1);
}

#[test]
fn there_is_no_line_before_two_counted_tests() {
    let boy = boy_who_only_grows();
    let few = season_story(&boy.person, &season_of(&boy)[..1], TrendKey::USUAL, Span::All);
    let drawing = drawn(&few, Frame::whole(390, 420, 16), Picture::default());
    assert!(painted(&drawing, Paint::Trend).is_empty());
    assert!(painted(&drawing, Paint::Dimension).is_empty());
    assert_eq!(marks(&drawing, Paint::ChalkMarkHollow).len(), 1 + 1, "and its sample");
}

#[test]
fn a_closer_view_shows_fewer_tests() {
    let story = story(&boy_who_only_grows());
    let (first, last) = story.days().unwrap();
    let view = Some(View::all(first, last).closer().closer());
    let asked = Picture { view, ..Picture::default() };
    let drawing = drawn(&story, Frame::whole(390, 420, 16), asked);
    let shown = marks(&drawing, Paint::ChalkMark).len();
    assert!((6..12).contains(&shown), "{shown}");
}

/// A season of 700 tests is thinned, and its highest test stays.
#[test]
fn a_very_long_season_is_thinned() {
    let boy = boy_who_only_grows();
    let tests: Vec<_> = (0..700_u64)
        .map(|n| {
            let off = i32::try_from(n * 37 % 23).unwrap();
            let mut test = test_of(&boy, n, day(n), 320 + off, boy.reach_mm);
            test.practice = n < 2;
            test
        })
        .collect();
    let story = season_story(&boy.person, &tests, TrendKey::USUAL, Span::All);
    assert_eq!(story.tests.len(), 700);
    let words = Words::english(Arc::new(EnglishLocale));
    let asked = Picture::default();
    let season = picture(&story, &words, Unit::Centimetre, Frame::whole(390, 420, 16), asked);
    assert!(season.drawn <= MOST_POINTS);
    assert!(!labels(&season.drawing).is_empty());
}
