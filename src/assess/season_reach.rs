//! Reaches that may have made a height too high: old ones, and ones that shrank.

use chrono::NaiveDate;

use super::age_on_day;
use crate::history::{Person, Test};
use crate::measure::{Doubt, Reach, ReachContext, doubts_about_reach};
use crate::norms::reach_growth_expectation;
use crate::quantity::{Age, Compare, Length, Reading, Sex, StandingReach, days_between};
use crate::reliability::{REACH_PER_STATURE, stale_reach_bias_cm};

/// What is wrong with a reach.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ReachTrouble {
    /// It was measured earlier, while the person grew (docs/measurement.md §7.1).
    Stale {
        /// The day it was measured.
        measured_on: NaiveDate,
        /// How much of the jump height may be growth of the arm, at the median growth of the age;
        /// `None` where no table covers the age.
        may_add: Option<Length>,
    },
    /// It is lower than the one before by this much, which adds as much to every jump (7.2).
    Shrunken {
        /// How much.
        by: Length,
    },
}

/// A note on one test.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ReachNote {
    /// The day of the test.
    pub date: NaiveDate,
    /// What is wrong.
    pub trouble: ReachTrouble,
}

/// Notes on the reaches of tests of one kind, oldest first.
pub(super) fn reach_notes(person: &Person, tests: &[&Test]) -> Vec<ReachNote> {
    let mut notes = Vec::new();
    let mut last: Option<(StandingReach, NaiveDate)> = None;
    for test in tests {
        let age = age_on_day(person, test);
        let trouble = match &test.session.reach {
            Reach::MarkOnly => None,
            Reach::Reused { measured_on, .. } => {
                (!age.is_adult()).then(|| stale(person, test.date, *measured_on, age))
            }
            Reach::Measured(readings) => {
                let middle = test.session.standing_reach();
                let reading = readings.iter().find(|r| Some(StandingReach(r.length())) == middle);
                reading.and_then(|reading| shrunken(*reading, age, test.date, last))
            }
        };
        notes.extend(trouble.map(|trouble| ReachNote { date: test.date, trouble }));
        if matches!(test.session.reach, Reach::Measured(_)) {
            last = test.session.standing_reach().map(|reach| (reach, test.date)).or(last);
        }
    }
    notes
}

fn shrunken(
    reading: Reading,
    age: Age,
    today: NaiveDate,
    last: Option<(StandingReach, NaiveDate)>,
) -> Option<ReachTrouble> {
    let (doubts, _) = doubts_about_reach(reading, ReachContext { age, today, last });
    doubts.into_iter().find_map(|doubt| match doubt {
        Doubt::ReachFell(by) => Some(ReachTrouble::Shrunken { by }),
        _ => None,
    })
}

fn stale(person: &Person, today: NaiveDate, measured_on: NaiveDate, age: Age) -> ReachTrouble {
    let sexes: &[Sex] = match &person.compare {
        Some(Compare::With(sex)) => std::slice::from_ref(sex),
        _ => &[Sex::Female, Sex::Male],
    };
    let a_year = age.youngest_years().and_then(|years| {
        let growths = sexes.iter().filter_map(|sex| reach_growth_expectation(*sex, years));
        growths.map(|growth| growth.stature_per_year).max()
    });
    let may_add = a_year.and_then(|a_year| {
        let days = i32::try_from(days_between(measured_on, today)).ok()?;
        stale_reach_bias_cm(a_year.as_cm(), REACH_PER_STATURE, f64::from(days))
    });
    ReachTrouble::Stale { measured_on, may_add: may_add.map(Length::from_cm) }
}
