//! What an old or a shrunken standing reach does to a jump height (docs/measurement.md §7.1).

use chrono::NaiveDate;

use super::age_on;
use crate::history::{Person, Test};
use crate::measure::{Device, Doubt, Reach, ReachContext, doubts_about_reach};
use crate::norms::reach_growth_expectation;
use crate::quantity::{Age, AgeGroup, Compare, Length, Reading, Sex, StandingReach, days_between};
use crate::reliability::{REACH_PER_STATURE, stale_reach_bias_cm};

/// Why the reach of a test makes its height too large.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ReachDoubt {
    /// Under 18, the reach is from an earlier day, and the arm has grown since.
    Old {
        /// The day it was measured.
        measured_on: NaiveDate,
        /// What growing may have added to the height, at the pace of the fastest year that fits;
        /// `None` where no table covers the age.
        false_gain: Option<Length>,
    },
    /// It is lower than the reach before it, by this much.
    Fell(Length),
}

/// The reach that counted last before a day, measured from the floor that day in the same way, and when.
/// A test does not count as its own past.
pub fn reach_before<'a>(
    test: &Test,
    tests: impl IntoIterator<Item = &'a Test>,
) -> Option<(Reading, NaiveDate)> {
    let earlier = tests.into_iter().filter(|other| {
        other.person == test.person
            && other.id != test.id
            && (other.date, other.minute_of_day) < (test.date, test.minute_of_day)
            && other.session.key.device == Device::Wall
            && other.session.key.reach_method == test.session.key.reach_method
            && matches!(other.session.reach, Reach::Measured(_))
            && other.session.standing_reach().is_some()
    });
    let last = earlier.max_by_key(|other| (other.date, other.minute_of_day, other.id))?;
    let reach = last.session.standing_reach()?;
    Some((Reading::nearest(reach.0, last.session.division), last.date))
}

/// What there is to say of a test's reach.
pub(super) fn reach_doubt<'a>(
    test: &Test,
    person: &Person,
    tests: impl IntoIterator<Item = &'a Test>,
) -> Option<ReachDoubt> {
    match &test.session.reach {
        Reach::Reused { measured_on, .. } => {
            let days = days_between(*measured_on, test.date);
            let ages = (age_on(person, *measured_on), age_on(person, test.date));
            if ages.0.is_adult() {
                return None;
            }
            let pace_cm = stature_pace_cm(person.compare.unwrap_or(Compare::Both), ages);
            let days = f64::from(i32::try_from(days.max(0)).ok()?);
            let gain = |pace_cm| stale_reach_bias_cm(pace_cm, REACH_PER_STATURE, days);
            let false_gain = pace_cm.and_then(gain).map(Length::from_cm);
            let is_some = false_gain.is_none_or(|gain| gain > Length::ZERO);
            is_some.then_some(ReachDoubt::Old { measured_on: *measured_on, false_gain })
        }
        Reach::Measured(_) => {
            let reach = test.session.standing_reach()?;
            let (last, day) = reach_before(test, tests)?;
            let context = ReachContext {
                age: age_on(person, test.date),
                today: test.date,
                last: Some((StandingReach(last.length()), day)),
            };
            let reading = Reading::nearest(reach.0, test.session.division);
            let (doubts, _) = doubts_about_reach(reading, context);
            doubts.iter().find_map(|doubt| match doubt {
                Doubt::ReachFell(by) => Some(ReachDoubt::Fell(*by)),
                _ => None,
            })
        }
        Reach::MarkOnly => None,
    }
}

/// Stature gained in a year between two ages, cm: the fastest of the years and tables that may apply.
/// Unknown ages follow the rules for under 18; `None` where no table covers the ages.
fn stature_pace_cm(compare: Compare, (from, to): (Age, Age)) -> Option<f64> {
    let years = match from {
        Age::Years { years, maybe_one_more, .. } => {
            years..=to.youngest_years()?.max(years).saturating_add(u8::from(maybe_one_more))
        }
        Age::Group(AgeGroup::Under12) => 6..=11,
        Age::Group(AgeGroup::From12To14) => 12..=14,
        Age::Group(AgeGroup::From15To17) => 15..=17,
        Age::Group(AgeGroup::Adult) => return None,
        Age::Unknown => 6..=17,
    };
    let sexes: &[Sex] = match &compare {
        Compare::With(sex) => std::slice::from_ref(sex),
        Compare::Both | Compare::None => &[Sex::Female, Sex::Male],
    };
    let paces = years.flat_map(|years| {
        sexes.iter().filter_map(move |sex| reach_growth_expectation(*sex, years))
    });
    let fastest = paces.map(|growth| growth.stature_per_year).max()?;
    Some(fastest.as_cm())
}
