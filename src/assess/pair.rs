//! Two tests that a person chose to compare.

use super::season::{SeasonStory, StoryTest};
use crate::history::Id;
use crate::quantity::Length;
use crate::trend::model::{Change, Verdict, Who, pair};

/// What the season's model says of the time between two of its tests.
#[derive(Clone, Debug, PartialEq)]
pub struct Pair {
    /// The earlier test.
    pub earlier: StoryTest,
    /// The later test.
    pub later: StoryTest,
    /// The change between them, given all tests of the season.
    pub change: Change,
    /// Under 18: what growing up brings between the two, where known.
    pub growth: Option<Length>,
    /// The answer.
    pub verdict: Verdict,
}

/// Compares two tests of a story; the earlier one comes first whatever the order asked in. The first
/// and the last one that count give the season's own answer.
///
/// Made for two tests planned beforehand: who compares many pairs finds luck.
///
/// # Errors
/// `None` if one of them is not in the story, stays out of the trend, or is the other one.
pub fn compare_tests(story: &SeasonStory, one: Id, other: Id) -> Option<Pair> {
    let place = |id: Id| story.counted().position(|test| test.id == id);
    let (a, b) = (place(one)?, place(other)?);
    let (earlier, later) = (a.min(b), a.max(b));
    let rows = &story.rows;
    let (from, to) = (earlier + story.shown_from, later + story.shown_from);
    let change = pair(rows, (from, to), story.who)?;
    let growth_cm = rows.get(to)?.growth_cm - rows.get(from)?.growth_cm;
    let is_known = matches!(story.who, Who::Growing { .. });
    Some(Pair {
        earlier: *story.counted().nth(earlier)?,
        later: *story.counted().nth(later)?,
        change,
        growth: is_known.then(|| Length::from_cm(growth_cm)),
        verdict: change.verdict(story.who),
    })
}
