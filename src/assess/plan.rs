//! When to test again. How often until a gain can be told stands in [`prospect`](super::prospect).

use chrono::{Datelike, NaiveDate, TimeDelta};

use super::PRACTICE_SESSIONS;
use crate::quantity::{Age, Moment};
use crate::ready::{LegWork, LegWorkKind, PartOfDay, WeekLimit, after_leg_work, week_limit};

/// A real difference needs this long to show, days. Design choice (four weeks).
const GAIN_DAYS: i64 = 28;
/// Practice tests lie at least so many days apart. Design choice: legs are rested, and what was learnt
/// is not forgotten.
const PRACTICE_DAYS_APART: i64 = 3;
/// How far ahead a day is looked for.
const LOOK_AHEAD_DAYS: i64 = 21;
/// Five in the afternoon: jumps were highest between 13 and 19 h (Knaier 2022, docs/measurement.md §5).
const USUAL_MINUTE: u16 = 17 * 60;
/// Leg work this many days ago no longer matters (96 h after a match).
const LEG_DAYS_BACK: u64 = 4;

/// What a plan is made from.
#[derive(Clone, Copy, Debug)]
pub struct PlanQuestion<'a> {
    /// Every day this person tested on, of any kind of test.
    pub test_days: &'a [NaiveDate],
    /// The last test that the next one will be compared with, and its minute of the day.
    pub last: Option<(NaiveDate, Option<u16>)>,
    /// How many tests of that kind were done.
    pub earlier: usize,
    /// Days of the week with hard leg work, Monday first.
    pub leg_days: [bool; 7],
    /// Age today.
    pub age: Age,
    /// Now.
    pub now: Moment,
}

/// Days to choose from. Each is missing where the leg days leave no rest long enough.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Plan {
    /// The first sensible day from tomorrow on.
    pub soonest: Option<Moment>,
    /// The first sensible day on which a gain may show: four weeks after the last test.
    pub for_a_gain: Option<Moment>,
    /// The practice tests still to do before training starts, so that learning the test is not taken
    /// for a gain; the first is `soonest`. Empty after two tests, and where no day is free.
    pub practice: Vec<Moment>,
    /// When no day is free: which hard leg days to leave out, and the test that makes possible.
    pub skip: Option<Skip>,
}

/// Hard leg days to leave out for a test.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Skip {
    /// These days, oldest first; as few as can be.
    pub days: Vec<NaiveDate>,
    /// The test.
    pub test: Moment,
}

/// The next days to test on: rested, within the week's limit, at the same time of day.
///
/// Leg work is taken to end late that evening, so that a vague answer never shortens the rest.
pub fn plan(question: &PlanQuestion<'_>) -> Plan {
    let tomorrow = question.now.date() + TimeDelta::days(1);
    let late = question.last.map(|(date, _)| date + TimeDelta::days(GAIN_DAYS));
    let soonest = first_day(question, tomorrow);
    Plan {
        soonest,
        for_a_gain: first_day(question, late.unwrap_or(tomorrow).max(tomorrow)),
        practice: practice_days(question, soonest),
        skip: if soonest.is_none() { skip(question, tomorrow) } else { None },
    }
}

/// The first sensible days for the practice tests still missing, so many days apart.
fn practice_days(question: &PlanQuestion<'_>, soonest: Option<Moment>) -> Vec<Moment> {
    let missing = PRACTICE_SESSIONS.saturating_sub(question.earlier);
    let mut test_days = question.test_days.to_vec();
    let mut days: Vec<Moment> = Vec::new();
    let mut next = soonest.filter(|_| missing > 0);
    while let Some(day) = next {
        days.push(day);
        test_days.push(day.date());
        if days.len() >= missing {
            break;
        }
        let with_planned = PlanQuestion { test_days: &test_days, ..*question };
        next = first_day(&with_planned, day.date() + TimeDelta::days(PRACTICE_DAYS_APART));
    }
    days
}

/// The day that needs the fewest hard leg days left out; the earliest of several.
fn skip(question: &PlanQuestion<'_>, from: NaiveDate) -> Option<Skip> {
    let all = free_days(question, from).map(|test| {
        let mut days = standing_against(question, test);
        days.reverse();
        Skip { days, test }
    });
    all.min_by_key(|skip| skip.days.len())
}

fn first_day(question: &PlanQuestion<'_>, from: NaiveDate) -> Option<Moment> {
    free_days(question, from).find(|at| standing_against(question, *at).is_empty())
}

/// The days within reach that are no test day yet and inside the week's limit.
fn free_days(question: &PlanQuestion<'_>, from: NaiveDate) -> impl Iterator<Item = Moment> {
    let minute = question.last.and_then(|(_, minute)| minute).unwrap_or(USUAL_MINUTE);
    (0..LOOK_AHEAD_DAYS)
        .map(move |days| from + TimeDelta::days(days))
        .filter(|date| !question.test_days.contains(date))
        .filter(|date| matches!(week_limit(question.test_days, *date), WeekLimit::Free { .. }))
        .map(move |date| Moment::from_civil(date, minute, question.now.offset_minutes))
}

/// The leg days of the days before, and of the day itself, that stand against a test, newest first.
fn standing_against(question: &PlanQuestion<'_>, at: Moment) -> Vec<NaiveDate> {
    let trains = |date: NaiveDate| {
        let weekday = usize::try_from(date.weekday().num_days_from_monday()).unwrap_or(0);
        question.leg_days.get(weekday).copied().unwrap_or(false)
    };
    let against = (0..=LEG_DAYS_BACK).filter_map(|days| {
        let date = at.date().checked_sub_days(chrono::Days::new(days))?;
        let days_ago = u8::try_from(days).ok()?;
        let work = LegWork::remembered(LegWorkKind::HardSession, days_ago, PartOfDay::Evening, at);
        let tires = trains(date) && after_leg_work(Some(work), question.age, at).is_tired();
        tires.then_some(date)
    });
    against.collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 15 June 2026 is a Monday.
    fn day(day: u32) -> NaiveDate {
        NaiveDate::from_ymd_opt(2026, 6, day).unwrap()
    }

    fn asked(test_days: &[NaiveDate]) -> PlanQuestion<'_> {
        PlanQuestion {
            test_days,
            last: test_days.last().map(|date| (*date, None)),
            earlier: test_days.len(),
            leg_days: [false; 7],
            age: Age::Unknown,
            now: Moment::from_civil(day(15), 12 * 60, 120),
        }
    }

    fn planned(question: &PlanQuestion<'_>) -> (Option<NaiveDate>, Option<NaiveDate>) {
        let plan = plan(question);
        (plan.soonest.map(Moment::date), plan.for_a_gain.map(Moment::date))
    }

    #[test]
    fn without_leg_days_tomorrow_and_in_four_weeks() {
        let days = [day(10)];
        let in_july = NaiveDate::from_ymd_opt(2026, 7, 8);
        assert_eq!(planned(&asked(&days)), (Some(day(16)), in_july));
        assert_eq!(planned(&asked(&[])), (Some(day(16)), Some(day(16))));
        let at = plan(&asked(&days)).soonest.unwrap();
        assert_eq!(at.minute_of_day(), 17 * 60);
        let morning = PlanQuestion { last: Some((day(10), Some(9 * 60 + 30))), ..asked(&days) };
        assert_eq!(plan(&morning).soonest.unwrap().minute_of_day(), 9 * 60 + 30);
    }

    #[test]
    fn two_test_days_a_week_are_enough() {
        let days = [day(12), day(14)];
        // The first of the two falls out of the seven days on the 19th.
        assert_eq!(planned(&asked(&days)).0, Some(day(19)));
    }

    #[test]
    fn leg_days_are_given_72_hours() {
        // Hard legs on Monday end at 22:00 at the latest: 72 h are over on Thursday at 22:00.
        let monday = PlanQuestion {
            leg_days: [true, false, false, false, false, false, false],
            ..asked(&[])
        };
        assert_eq!(planned(&monday).0, Some(day(19)));
        // Under 12, 48 h.
        let child = PlanQuestion { age: Age::Group(crate::quantity::AgeGroup::Under12), ..monday };
        assert_eq!(planned(&child).0, Some(day(18)));
        // Monday and Thursday leave no four days of rest.
        let both = PlanQuestion {
            leg_days: [true, false, false, true, false, false, false],
            ..asked(&[])
        };
        assert_eq!(planned(&both), (None, None));
    }

    /// Every planned day, for every pattern of leg days, is one the ready check would let pass.
    #[test]
    fn a_planned_day_is_never_a_tired_one() {
        for pattern in 0_u8..128 {
            let mut leg_days = [false; 7];
            for (bit, trains) in leg_days.iter_mut().enumerate() {
                *trains = pattern & (1 << bit) != 0;
            }
            let days = [day(3), day(13)];
            let question = PlanQuestion { leg_days, ..asked(&days) };
            for at in [plan(&question).soonest, plan(&question).for_a_gain].into_iter().flatten() {
                assert!(at.date() > day(15));
                for back in 0..=4_i64 {
                    let date = at.date() - TimeDelta::days(back);
                    let weekday = usize::try_from(date.weekday().num_days_from_monday()).unwrap();
                    let ended = Moment::from_civil(date, 22 * 60, 120);
                    let hours = at.minutes_since(ended) / 60;
                    assert!(!leg_days[weekday] || hours >= 72, "{pattern:b} {at:?}");
                }
            }
        }
    }

    #[test]
    fn two_practice_tests_come_before_training() {
        let dates = |question: &PlanQuestion<'_>| -> Vec<NaiveDate> {
            plan(question).practice.into_iter().map(Moment::date).collect()
        };
        assert_eq!(dates(&asked(&[])), [day(16), day(19)]);
        let days = [day(14)];
        assert_eq!(dates(&PlanQuestion { earlier: 1, ..asked(&days) }), [day(16)]);
        let done = [day(10), day(14)];
        assert_eq!(dates(&PlanQuestion { earlier: 2, ..asked(&done) }), []);
        // Hard legs on Monday: only from Thursday evening to Sunday is there enough rest.
        let monday = PlanQuestion {
            leg_days: [true, false, false, false, false, false, false],
            ..asked(&[])
        };
        assert_eq!(dates(&monday), [day(19), day(26)]);
    }

    /// Monday and Thursday leave no day; without the Thursday before it, the Friday does.
    #[test]
    fn without_a_free_day_the_days_to_leave_out_are_named() {
        let both = PlanQuestion {
            leg_days: [true, false, false, true, false, false, false],
            ..asked(&[])
        };
        let skip = plan(&both).skip.unwrap();
        assert_eq!((skip.days, skip.test.date()), (vec![day(15)], day(16)));
        assert_eq!(plan(&asked(&[])).skip, None);
        let every = PlanQuestion { leg_days: [true; 7], ..asked(&[]) };
        let skip = plan(&every).skip.unwrap();
        assert_eq!(skip.test.date(), day(16));
        assert_eq!(skip.days, [day(13), day(14), day(15), day(16)]);
    }
}
