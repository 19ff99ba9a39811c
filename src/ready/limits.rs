use chrono::{NaiveDate, TimeDelta};

use crate::measure::{Variant, jump_window};
use crate::quantity::{Age, JumpHeight, Length, StandingReach, days_between};

/// Maximal jumps in one day, fouls and every test of the day included. Design choice
/// (docs/measurement.md §7.5).
pub const HARD_JUMPS_A_DAY: usize = 10;
/// Test days in any seven days. Design choice (docs/measurement.md §7.5).
pub const TEST_DAYS_A_WEEK: usize = 2;
/// Room above the highest touch, for the hand that swings on. Design choice.
const ROOM_ABOVE: Length = Length::from_mm(100);
/// How much a best may be beaten by on a good day. Design choice.
const GOOD_DAY: Length = Length::from_mm(150);

/// Hard jumps that are left today.
pub const fn hard_jumps_left(jumps_today: usize) -> usize {
    HARD_JUMPS_A_DAY.saturating_sub(jumps_today)
}

/// Where a person stands in the week.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WeekLimit {
    /// Today may be a test day; so many more in the seven days that follow the first of them.
    Free {
        /// Test days left, today included.
        days_left: usize,
    },
    /// Enough for this week: the next free day.
    Reached {
        /// The first day that may be a test day again.
        free_on: NaiveDate,
    },
}

/// The weekly limit, from the days tested on (any order, doubles allowed). A second test on a day
/// that is a test day already is not another day.
pub fn week_limit(test_days: &[NaiveDate], today: NaiveDate) -> WeekLimit {
    let mut recent: Vec<NaiveDate> = test_days
        .iter()
        .copied()
        .filter(|day| (1..7).contains(&days_between(*day, today)))
        .collect();
    recent.sort_unstable();
    recent.dedup();
    let over = recent.len().checked_sub(TEST_DAYS_A_WEEK);
    match over.and_then(|over| recent.get(over)) {
        Some(oldest) if !test_days.contains(&today) => {
            WeekLimit::Reached { free_on: *oldest + TimeDelta::days(7) }
        }
        _ => WeekLimit::Free { days_left: TEST_DAYS_A_WEEK.saturating_sub(recent.len()) },
    }
}

/// Height that must be free above the floor: the reach, the jump a person may make, and a hand's
/// breadth, rounded up to ten centimetres. Our own reckoning.
pub fn clear_height(
    reach: StandingReach,
    best: Option<JumpHeight>,
    age: Age,
    variant: Variant,
) -> Length {
    let jump = best.map_or(jump_window(age, variant).max, |best| best.0 + GOOD_DAY);
    let needed = reach.0 + jump + ROOM_ABOVE;
    let step = Length::from_mm(100);
    (needed + Length::from_mm(50) - Length::from_micrometres(1)).rounded_to(step)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn day(day: u32) -> NaiveDate {
        NaiveDate::from_ymd_opt(2026, 6, day).unwrap()
    }

    #[test]
    fn ten_hard_jumps_a_day() {
        assert_eq!(hard_jumps_left(0), 10);
        assert_eq!(hard_jumps_left(7), 3);
        assert_eq!(hard_jumps_left(12), 0);
    }

    #[test]
    fn two_test_days_a_week() {
        assert_eq!(week_limit(&[], day(14)), WeekLimit::Free { days_left: 2 });
        assert_eq!(week_limit(&[day(12), day(12)], day(14)), WeekLimit::Free { days_left: 1 });
        let reached = WeekLimit::Reached { free_on: day(16) };
        assert_eq!(week_limit(&[day(9), day(12)], day(14)), reached);
        assert_eq!(week_limit(&[day(7), day(12)], day(14)), WeekLimit::Free { days_left: 1 });
    }

    #[test]
    fn a_day_already_tested_on_is_not_another_day() {
        let days = [day(9), day(14)];
        assert_eq!(week_limit(&days, day(14)), WeekLimit::Free { days_left: 1 });
    }

    #[test]
    fn the_free_day_is_free() {
        let days = [day(9), day(12)];
        let WeekLimit::Reached { free_on } = week_limit(&days, day(14)) else {
            panic!("two days are enough");
        };
        assert!(matches!(week_limit(&days, free_on), WeekLimit::Free { .. }));
    }

    #[test]
    fn clear_height_is_above_every_likely_touch() {
        let reach = StandingReach(Length::from_mm(2_245));
        let best = JumpHeight(Length::from_mm(435));
        let clear = clear_height(reach, Some(best), Age::Unknown, Variant::Standing);
        assert_eq!(clear, Length::from_mm(3_000));
        assert!(clear > reach.0 + best.0 + GOOD_DAY);
    }
}
