//! Two tests that a person chose to compare.

use super::growing;
use super::season::{SeasonStory, StoryTest};
use crate::history::{Id, Person};
use crate::quantity::days_between;
use crate::trend::{
    Change, ChangeQuestion, Growth, Measured, SeasonVerdict, WORTHWHILE_CM, change,
    expected_growth, verdict_beside_growth,
};

/// Days in a mean year.
const DAYS_PER_YEAR: f64 = 365.25;

/// What two tests say about the time between them.
#[derive(Clone, Debug, PartialEq)]
pub struct Pair {
    /// The earlier test.
    pub earlier: StoryTest,
    /// The later test.
    pub later: StoryTest,
    /// Their difference and its probabilities.
    pub change: Change,
    /// Whether no growth is to be expected.
    pub is_adult: bool,
    /// Under 18: what growing up brings between the two, where known.
    pub growth: Option<Growth>,
    /// Under 18 with known growth: the difference beyond it.
    pub beyond: Option<Change>,
    /// The answer.
    pub verdict: SeasonVerdict,
}

/// Compares two tests of a story; the earlier one comes first whatever the order asked in.
///
/// Made for two tests planned beforehand: who compares many pairs finds luck.
///
/// # Errors
/// `None` if one of them is not in the story, stays out of the trend, or is the other one.
pub fn compare_tests(story: &SeasonStory, person: &Person, one: Id, other: Id) -> Option<Pair> {
    let place = |id: Id| story.tests.iter().position(|test| test.id == id && test.counts());
    let (a, b) = (place(one)?, place(other)?);
    if a == b {
        return None;
    }
    let (earlier, later) = (*story.tests.get(a.min(b))?, *story.tests.get(a.max(b))?);
    let measured =
        |test: StoryTest| Measured { height_cm: test.usual.as_cm(), se_cm: test.error.as_cm() };
    let question = ChangeQuestion {
        earlier: measured(earlier),
        later: measured(later),
        worthwhile_cm: WORTHWHILE_CM,
        prior: None,
        degrees_of_freedom: None,
    };
    let plain = change(&question)?;
    let growing = growing(person, earlier.date);
    let growth = growing.as_ref().and_then(|growing| {
        let age = growing.age_years?;
        let days = i32::try_from(days_between(earlier.date, later.date)).ok()?;
        expected_growth(&growing.table, age, age + f64::from(days) / DAYS_PER_YEAR)
    });
    let beyond = growth.and_then(|growth| change(&question.beyond(growth)));
    let p_beyond = beyond.map(|beyond| beyond.p_gain);
    let is_adult = growing.is_none();
    let verdict = verdict_beside_growth(is_adult, plain.p_gain, plain.p_loss, p_beyond);
    Some(Pair { earlier, later, change: plain, is_adult, growth, beyond, verdict })
}
