//! A season as a picture to keep or to show.

use super::{Picture as Asked, picture};
use crate::assess::{BandChoice, SeasonStory};
use crate::chart::{CardWords, card, season_frame};
use crate::quantity::Unit;
use crate::text::{Picture, Words};

/// What the picture of a season tells beside the heights and the kind of jump. Nothing of it is
/// there unless it was asked for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct SeasonFields {
    /// The nickname.
    pub nickname: bool,
    /// The months.
    pub dates: bool,
    /// The answer, the change it is about, and under 18 what growing up alone brings: one is never
    /// shown without the others.
    pub answer: bool,
    /// A published table, which tells an age group and a sex.
    pub bands: Option<BandChoice>,
    /// The standing reach, which tells how tall somebody is.
    pub reach: bool,
}

/// The picture of a season.
pub fn season_card(
    story: &SeasonStory,
    words: &Words,
    unit: Unit,
    nickname: &str,
    fields: SeasonFields,
) -> Picture {
    let is_told = fields.answer && story.has_answer();
    let said = words.season_verdict(story, unit);
    let answer = if is_told { said.head.as_str() } else { "" };
    let growth = words.season_growing(story, unit).filter(|_| is_told).unwrap_or_default();
    let months = story.days().filter(|_| fields.dates);
    let months = months.map(|(first, last)| words.months(first, last)).unwrap_or_default();
    let source = fields.bands.and_then(|choice| words.season_tables(story, choice));
    let kind = words.test_kind(story.key);
    let source = match source {
        Some(source) => words.two_things(&kind, &source),
        None => kind,
    };
    let around = CardWords {
        name: if fields.nickname { nickname } else { "" },
        date: &months,
        answer,
        beside: &growth,
        source: &source,
    };
    let asked = Asked {
        bands: fields.bands,
        shows_reach: fields.reach,
        hides_change: !is_told,
        hides_months: !fields.dates,
        ..Asked::default()
    };
    let frame = season_frame(around.wall_frame(), usize::from(fields.reach));
    let drawn = picture(story, words, unit, frame, asked);
    let count = u32::try_from(story.tests.len()).unwrap_or(u32::MAX);
    let answered = if is_told { words.picture_season_answer(answer) } else { String::new() };
    let told = [answered, growth.clone()].into_iter().filter(|line| !line.is_empty());
    let description =
        told.fold(words.picture_season_told(count), |all, line| words.two_sentences(&all, &line));
    Picture {
        drawing: card(drawn.drawing, around),
        title: words.picture_season_title(),
        description,
    }
}
