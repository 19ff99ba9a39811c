//! When to test again, and how often until a gain can be told from noise.

use chrono::{Datelike, NaiveDate, TimeDelta};

use crate::quantity::{Age, Length, Moment};
use crate::ready::{LegWork, LegWorkKind, PartOfDay, WeekLimit, after_leg_work, week_limit};
use crate::trend::{WORTHWHILE_CM, sessions_each_side};

/// A real difference needs this long to show, days. Design choice (four weeks).
const GAIN_DAYS: i64 = 28;
/// How far ahead a day is looked for.
const LOOK_AHEAD_DAYS: i64 = 21;
/// Five in the afternoon: jumps were highest between 13 and 19 h (Knaier 2022, docs/measurement.md §5).
const USUAL_MINUTE: u16 = 17 * 60;
/// How sure to be that a gain will be told. Design choice.
const POWER: f64 = 0.8;
/// Leg work this many days ago no longer matters (96 h after a match).
const LEG_DAYS_BACK: u64 = 4;

/// Gains whose number of tests is told. Design choice.
pub const PLANNED_GAINS: [Length; 3] =
    [Length::from_mm(20), Length::from_mm(30), Length::from_mm(50)];

/// What a plan is made from.
#[derive(Clone, Copy, Debug)]
pub struct PlanQuestion<'a> {
    /// Every day this person tested on, of any kind of test.
    pub test_days: &'a [NaiveDate],
    /// The last test that the next one will be compared with, and its minute of the day.
    pub last: Option<(NaiveDate, Option<u16>)>,
    /// Days of the week with hard leg work, Monday first.
    pub leg_days: [bool; 7],
    /// Age today.
    pub age: Age,
    /// Now.
    pub now: Moment,
}

/// Two days to choose from. Each is missing where the leg days leave no rest long enough.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Plan {
    /// The first sensible day from tomorrow on.
    pub soonest: Option<Moment>,
    /// The first sensible day on which a gain may show: four weeks after the last test.
    pub for_a_gain: Option<Moment>,
}

/// The next days to test on: rested, within the week's limit, at the same time of day.
///
/// Leg work is taken to end late that evening, so that a vague answer never shortens the rest.
pub fn plan(question: &PlanQuestion<'_>) -> Plan {
    let tomorrow = question.now.date() + TimeDelta::days(1);
    let late = question.last.map(|(date, _)| date + TimeDelta::days(GAIN_DAYS));
    Plan {
        soonest: first_day(question, tomorrow),
        for_a_gain: first_day(question, late.unwrap_or(tomorrow).max(tomorrow)),
    }
}

fn first_day(question: &PlanQuestion<'_>, from: NaiveDate) -> Option<Moment> {
    let minute = question.last.and_then(|(_, minute)| minute).unwrap_or(USUAL_MINUTE);
    (0..LOOK_AHEAD_DAYS)
        .map(|days| from + TimeDelta::days(days))
        .filter(|date| !question.test_days.contains(date))
        .filter(|date| matches!(week_limit(question.test_days, *date), WeekLimit::Free { .. }))
        .map(|date| Moment::from_civil(date, minute, question.now.offset_minutes))
        .find(|at| is_rested(question, *at))
}

/// Whether no leg day of the days before, or of the day itself, stands against a test.
fn is_rested(question: &PlanQuestion<'_>, at: Moment) -> bool {
    let trains = |date: NaiveDate| {
        let weekday = usize::try_from(date.weekday().num_days_from_monday()).unwrap_or(0);
        question.leg_days.get(weekday).copied().unwrap_or(false)
    };
    let mut back = (0..=LEG_DAYS_BACK).filter_map(|days| {
        let date = at.date().checked_sub_days(chrono::Days::new(days))?;
        let days_ago = u8::try_from(days).ok()?;
        trains(date).then(|| {
            LegWork::remembered(LegWorkKind::HardSession, days_ago, PartOfDay::Evening, at)
        })
    });
    back.all(|work| !after_leg_work(Some(work), question.age, at).is_tired())
}

/// Fewest tests before, and as many after, with which a real gain is called at least probable four
/// times in five, from the person's own standard error of one test.
///
/// # Errors
/// `None` where sixty on each side would not do, or a number is not positive.
pub fn sessions_needed(gain_cm: f64, typical_error_cm: f64) -> Option<u32> {
    sessions_each_side(gain_cm, typical_error_cm, WORTHWHILE_CM, POWER)
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
    fn the_count_of_sessions_follows_the_spread() {
        assert_eq!(sessions_needed(3.0, 1.5), Some(4));
        assert!(sessions_needed(3.0, 2.5) > sessions_needed(3.0, 1.5));
        assert_eq!(sessions_needed(1.0, 1.5), None);
    }
}
