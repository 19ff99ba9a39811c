//! All tests of one kind together: the ± of each, and what the season model learns from them.

use chrono::NaiveDate;

use super::growing::{Growing, growing};
use super::practice::is_practice;
use super::season::{LeftOutBecause, StoryTest};
use super::{age_on, age_on_day, conditions, own_heights_cm, rough, score_of, spread_from};
use crate::history::{Person, Test};
use crate::measure::{Reach, TrendKey};
use crate::quantity::{JumpHeight, Length, days_between};
use crate::reliability::{SessionError, TypicalSpread, session_error};
use crate::trend::model::{SeasonTest, Who, day_factor};

/// A test of the kind that has a ± and a place in the picture.
pub(super) struct Known<'a> {
    pub test: &'a Test,
    best: JumpHeight,
    usual: JumpHeight,
    spread: TypicalSpread,
    /// With the typical spread between days.
    parts: SessionError,
    /// How many tests of the kind came before.
    earlier: usize,
    is_practice: bool,
    has_old_reach: bool,
}

/// One kind of test of a person, oldest first.
pub(super) struct Kind<'a> {
    /// Every test, or why it cannot be shown.
    pub tests: Vec<Result<Known<'a>, (LeftOutBecause, &'a Test)>>,
    /// Those that count, for the model.
    pub rows: Vec<SeasonTest>,
    /// Growth from the first of them on.
    pub growing: Growing,
    /// Whose season it is.
    pub who: Who,
    /// How many times the typical spread this person's days have.
    pub day_factor: f64,
}

/// The order in which tests were done.
pub(super) fn at(test: &Test) -> (NaiveDate, Option<u16>, crate::history::Id) {
    (test.date, test.minute_of_day, test.id)
}

/// Reads tests of one kind, oldest first.
///
/// The own scatter behind each ± grows test by test, so that a long season is read in one pass.
pub(super) fn kind<'a>(person: &Person, same: &[&'a Test]) -> Kind<'a> {
    let mut own = Vec::with_capacity(same.len());
    let mut tests = Vec::with_capacity(same.len());
    for (earlier, test) in same.iter().enumerate() {
        own.extend(own_heights_cm(test));
        tests.push(known(person, test, earlier, &own).map_err(|because| (because, *test)));
    }
    let counted = || tests.iter().flatten().filter(|known| known.counts());
    let first = counted().next().map(|known| known.test.date);
    let mut rows: Vec<SeasonTest> =
        first.map(|first| counted().map(|known| known.row(first)).collect()).unwrap_or_default();
    let growing = first.map_or(Growing::Adult, |first| growing(person, first));
    let who = growing.spread_over(&mut rows);
    let day_factor = day_factor(&rows, who);
    Kind { tests, rows, growing, who, day_factor }
}

/// How many times the typical one a person's spread between days is, learnt from all tests of a kind;
/// they stand in any order.
pub fn learnt_day_factor(person: &Person, tests: &[Test], key: TrendKey) -> f64 {
    let mut same: Vec<&Test> = tests
        .iter()
        .filter(|test| test.person == person.local && test.session.key == key)
        .collect();
    same.sort_by_key(|test| at(test));
    kind(person, &same).day_factor
}

fn known<'a>(
    person: &Person,
    test: &'a Test,
    earlier: usize,
    own: &[Vec<f64>],
) -> Result<Known<'a>, LeftOutBecause> {
    let session = &test.session;
    if session.is_too_coarse_for_trend() {
        return Err(LeftOutBecause::FewFrames);
    }
    let best = session.best().ok_or(LeftOutBecause::NoTrial)?;
    let usual = session.usual().ok_or(LeftOutBecause::TopMarkOnly)?;
    let spread = spread_from(test, age_on_day(person, test), earlier, own);
    let spread = spread.ok_or(LeftOutBecause::NoTrial)?;
    let parts = conditions(test, spread).and_then(|known| session_error(&known));
    let parts = parts.ok_or(LeftOutBecause::NoTrial)?;
    Ok(Known {
        test,
        best,
        usual: usual.height,
        spread,
        parts,
        earlier,
        is_practice: is_practice(test, earlier),
        has_old_reach: has_old_reach(person, test),
    })
}

/// Under 18, or at an unknown age, the arm may have grown since an earlier day's reach, which makes the
/// height too large by as much.
fn has_old_reach(person: &Person, test: &Test) -> bool {
    let Reach::Reused { measured_on, .. } = &test.session.reach else { return false };
    !age_on(person, *measured_on).is_adult()
}

impl Known<'_> {
    /// Whether the line runs through it.
    pub fn counts(&self) -> bool {
        !self.test.tired.is_noted() && !self.has_old_reach
    }

    fn row(&self, first: NaiveDate) -> SeasonTest {
        let day_sd_cm = self.parts.day_cm;
        let total_cm = self.parts.total_cm();
        let rest = total_cm * total_cm - day_sd_cm * day_sd_cm;
        SeasonTest {
            day: i32::try_from(days_between(first, self.test.date)).map_or(f64::NAN, f64::from),
            height_cm: self.usual.0.as_cm(),
            rest_variance_cm2: rest.max(0.0),
            day_sd_cm,
            earlier: u32::try_from(self.earlier).unwrap_or(u32::MAX),
            growth_cm: 0.0,
        }
    }

    /// The test as it is shown, with the ± of this person's own days.
    pub fn story(&self, day_factor: f64) -> Option<StoryTest> {
        let parts = self.parts.with_day_factor(day_factor);
        let score = score_of(&self.test.session, Some(self.spread), Some(parts))?;
        Some(StoryTest {
            id: self.test.id,
            date: self.test.date,
            usual: self.usual.0,
            error: Length::from_cm(parts.total_cm()),
            score,
            best: self.best.0,
            reach: self.test.session.standing_reach().map(|reach| reach.0),
            is_practice: self.is_practice,
            is_tired: self.test.tired.is_noted(),
            has_old_reach: self.has_old_reach,
            is_rough: !rough(&self.test.session).is_empty(),
        })
    }
}
