//! How likely a season is to tell a real gain.

use chrono::{Days, NaiveDate};

use super::growing::growing;
use super::season::SeasonStory;
use super::{PRACTICE_SESSIONS, age_band, age_on};
use crate::history::Person;
use crate::quantity::{Age, AgeGroup, Length, days_between};
use crate::reliability::{
    Experience, MarksKnown, ReachReadings, Reading, SessionConditions, session_error,
    typical_spread,
};
use crate::trend::model::{SeasonTest, Who};
use crate::trend::{Outlook, Planned};

/// Gains whose chance is told. Design choice; 3 cm is left out because most of it goes untold.
pub const PLANNED_GAINS: [Length; 4] =
    [Length::from_mm(40), Length::from_mm(50), Length::from_mm(60), Length::from_mm(80)];
/// The season that chances are told of: practice first, then a test every so many days. Design choice.
pub const SEASON_TEST_DAYS: u32 = 14;
/// How many weeks of tests. Design choice.
pub const SEASON_WEEKS: u32 = 16;
/// The weeks in which the gain comes, evenly. Design choice: a block of training.
pub const TRAINING_WEEKS: u32 = 8;
/// Days between tests of one block.
const BLOCK_DAYS: u32 = 3;
/// The most tests before and after that are asked of anybody. Design choice.
const EACH_SIDE_MAX: u32 = 10;
/// How sure to be that a gain will be told. Design choice.
const POWER: f64 = 0.8;
/// A height for the spreads of somebody without a test, cm; from 15 on and younger. Design choice, near
/// the middle of published groups.
const HEIGHT_CM: (f64, f64) = (40.0, 30.0);

/// What one gain can be promised.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Prospect {
    /// The real gain, beyond growing up.
    pub gain: Length,
    /// The chance that the season of [`SEASON_WEEKS`] tells it.
    pub chance: f64,
    /// Fewest tests before the training, and as many after, that tell it four times in five; `None`
    /// where ten on each side would not do.
    pub tests_each_side: Option<u32>,
}

/// What each of [`PLANNED_GAINS`] can be promised from a day on, for this person's spreads; a season of
/// two practice tests, unless they were done, and a test every two weeks while the training works.
///
/// Empty where no gain is ever claimed: under 8, and under 18 with an answer missing.
pub fn prospects(person: &Person, story: Option<&SeasonStory>, on: NaiveDate) -> Vec<Prospect> {
    let planner = Planner::new(person, story, on);
    let Some(season) = planner.outlook(planner.season()) else { return Vec::new() };
    let mut prospects = PLANNED_GAINS.map(|gain| {
        let chance = season.chance_of_telling(gain.as_cm());
        Prospect { gain, chance, tests_each_side: None }
    });
    for each_side in 2..=EACH_SIDE_MAX {
        let Some(blocks) = planner.outlook(planner.blocks(each_side)) else { break };
        for prospect in &mut prospects {
            let is_enough = blocks.chance_of_telling(prospect.gain.as_cm()) >= POWER;
            if is_enough && prospect.tests_each_side.is_none() {
                prospect.tests_each_side = Some(each_side);
            }
        }
        if prospects.iter().all(|prospect| prospect.tests_each_side.is_some()) {
            break;
        }
    }
    prospects.to_vec()
}

/// The gain of which is told how many more tests would show it. Design choice.
pub const NEEDED_GAIN: Length = Length::from_mm(50);
/// Past tests that a look ahead starts from; older ones add little to it. Design choice.
const LOOK_BACK_TESTS: usize = 6;
/// The most further tests that are asked of anybody.
const FURTHER_TESTS_MAX: u32 = 8;

/// How many more tests would tell a gain.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Needed {
    /// The real gain, beyond growing up, there from the next test on.
    pub gain: Length,
    /// How many more tests, one every [`SEASON_TEST_DAYS`], tell it four times in five.
    pub tests: u32,
    /// The day of the last of them.
    pub by: NaiveDate,
}

/// How many more tests from a day on would tell a gain of [`NEEDED_GAIN`] to this person.
///
/// # Errors
/// `None` where so many as are asked of anybody would not do, or where no gain is ever claimed.
pub fn needed(person: &Person, story: &SeasonStory, on: NaiveDate) -> Option<Needed> {
    let planner = Planner::new(person, Some(story), on);
    let past = story.rows.len().saturating_sub(LOOK_BACK_TESTS);
    let past = story.rows.get(past..)?.iter().map(|test| Some(Planned { test: *test, share: 0.0 }));
    let past: Vec<_> = past.collect();
    let (last, last_day) = (story.counted().next_back()?.date, story.rows.last()?.day);
    let waited = f64::from(u32::try_from(days_between(last, on)).unwrap_or(0));
    (1..=FURTHER_TESTS_MAX).find_map(|tests| {
        let mut plan = past.clone();
        plan.extend((0..tests).map(|place| {
            let day = last_day + waited + f64::from((place + 1) * SEASON_TEST_DAYS);
            planner.planned(day, place, 1.0)
        }));
        let chance = planner.outlook(plan)?.chance_of_telling(NEEDED_GAIN.as_cm());
        let by = on.checked_add_days(Days::new(u64::from(tests * SEASON_TEST_DAYS)))?;
        (chance >= POWER).then_some(Needed { gain: NEEDED_GAIN, tests, by })
    })
}

struct Planner<'a> {
    person: &'a Person,
    on: NaiveDate,
    age: Age,
    height_cm: f64,
    earlier: u32,
}

impl<'a> Planner<'a> {
    fn new(person: &'a Person, story: Option<&SeasonStory>, on: NaiveDate) -> Self {
        let age = age_on(person, on);
        let last = story.and_then(|story| story.rows.last());
        let young = match age {
            Age::Years { years, .. } => years < 15,
            Age::Group(group) => matches!(group, AgeGroup::Under12 | AgeGroup::From12To14),
            Age::Unknown => true,
        };
        let height_cm = if young { HEIGHT_CM.1 } else { HEIGHT_CM.0 };
        Self {
            person,
            on,
            age,
            height_cm: last.map_or(height_cm, |row| row.height_cm.max(0.0)),
            earlier: last.map_or(0, |row| row.earlier.saturating_add(1)),
        }
    }

    /// Two practice tests, unless they were done, then a test every two weeks.
    fn season(&self) -> Vec<Option<Planned>> {
        let practice = u32::try_from(PRACTICE_SESSIONS).unwrap_or(0).saturating_sub(self.earlier);
        let before = practice * BLOCK_DAYS;
        let count = practice + SEASON_WEEKS * 7 / SEASON_TEST_DAYS + 1;
        let days = (0..count).map(|place| match place.checked_sub(practice) {
            None => place * BLOCK_DAYS,
            Some(later) => before + later * SEASON_TEST_DAYS,
        });
        days.zip(0..)
            .map(|(day, place)| {
                let trained = f64::from(day.saturating_sub(before));
                let share = (trained / f64::from(TRAINING_WEEKS * 7)).min(1.0);
                self.planned(f64::from(day), place, share)
            })
            .collect()
    }

    /// So many tests, the training, and as many tests.
    fn blocks(&self, each_side: u32) -> Vec<Option<Planned>> {
        (0..2 * each_side)
            .map(|place| {
                let is_after = place >= each_side;
                let day = place * BLOCK_DAYS + if is_after { TRAINING_WEEKS * 7 } else { 0 };
                self.planned(f64::from(day), place, f64::from(u8::from(is_after)))
            })
            .collect()
    }

    /// An ordinary test at the wall: three reaches, three jumps, read to half a centimetre.
    fn planned(&self, day: f64, place: u32, share: f64) -> Option<Planned> {
        let earlier = self.earlier.saturating_add(place);
        let experience = Experience::of_earlier_sessions(usize::try_from(earlier).ok()?);
        let spread = typical_spread(age_band(self.age), experience, self.height_cm)?;
        let parts = session_error(&SessionConditions {
            height_cm: self.height_cm,
            trials: 3,
            marks: MarksKnown::Each,
            trial_sd_cm: spread.trial_sd_cm,
            day_sd_cm: spread.day_sd_cm,
            reach: Some(ReachReadings { count: 3, spread_cm: 0.5 }),
            reading: Reading::TwoHeights { step_cm: 0.5 },
            other_clock: false,
            still_recovering: false,
        })?;
        let rest_variance_cm2 = parts.with_day_factor(0.0).total_cm().powi(2);
        let day_sd_cm = parts.day_cm;
        let height_cm = self.height_cm;
        let test =
            SeasonTest { day, height_cm, rest_variance_cm2, day_sd_cm, earlier, growth_cm: 0.0 };
        Some(Planned { test, share })
    }

    fn outlook(&self, plan: Vec<Option<Planned>>) -> Option<Outlook> {
        let plan: Vec<Planned> = plan.into_iter().collect::<Option<_>>()?;
        let mut tests: Vec<SeasonTest> = plan.iter().map(|planned| planned.test).collect();
        let who: Who = growing(self.person, self.on).spread_over(&mut tests);
        Outlook::new(&plan, who)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::history::{Born, Id, LocalId};
    use crate::quantity::{BirthMonth, Compare, Sex};

    fn person(born: Option<Born>, compare: Option<Compare>) -> Person {
        let id = Id::from_bytes([7; 16]);
        let local = LocalId::shortest(id, |_| false);
        Person { born, compare, ..Person::new(id, local, "Kim".to_owned(), 0) }
    }

    fn of(year: u16, compare: Option<Compare>) -> Vec<Prospect> {
        let born = BirthMonth::new(year, 6).map(Born::Month);
        let on = NaiveDate::from_ymd_opt(2026, 7, 1).unwrap();
        prospects(&person(born, compare), None, on)
    }

    #[test]
    fn larger_gains_are_told_more_often_and_growing_hides_them() {
        let boy = Some(Compare::With(Sex::Male));
        let (adult, child) = (of(1990, None), of(2013, boy));
        assert_eq!(adult.iter().map(|one| one.gain).collect::<Vec<_>>(), PLANNED_GAINS);
        for pair in adult.windows(2) {
            assert!(pair[0].chance < pair[1].chance);
            assert!(pair[0].tests_each_side.unwrap() >= pair[1].tests_each_side.unwrap());
        }
        for (adult, child) in adult.iter().zip(&child) {
            assert!(child.chance < adult.chance, "{child:?}");
        }
        println!("{adult:?}\n{child:?}");
    }

    #[test]
    fn where_no_gain_is_claimed_nothing_is_promised() {
        assert!(of(2013, None).is_empty());
        assert!(of(2020, Some(Compare::With(Sex::Female))).is_empty());
        let on = NaiveDate::from_ymd_opt(2026, 7, 1).unwrap();
        assert!(prospects(&person(None, None), None, on).is_empty());
    }
}
