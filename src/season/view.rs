use chrono::{Days, NaiveDate};

use crate::quantity::days_between;

/// No closer look than this. Design choice.
const DAYS_MIN: i64 = 28;

/// The days that are shown of a season, moved by buttons.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct View {
    whole: (NaiveDate, NaiveDate),
    shown: (NaiveDate, NaiveDate),
}

impl View {
    /// All days of a season.
    pub const fn all(first: NaiveDate, last: NaiveDate) -> Self {
        Self { whole: (first, last), shown: (first, last) }
    }

    /// The days shown.
    pub const fn days(self) -> (NaiveDate, NaiveDate) {
        self.shown
    }

    /// Half as many days, the latest of those shown.
    #[must_use]
    pub fn closer(self) -> Self {
        let days = self.length() / 2;
        if days < DAYS_MIN { self } else { self.ending(self.shown.1, days) }
    }

    /// Twice as many days, or all.
    #[must_use]
    pub fn wider(self) -> Self {
        // One more, since halving an odd number of days lost one.
        let days = (self.length().saturating_mul(2).saturating_add(1)).min(self.whole_length());
        let centre = self.shown.1.min(self.whole.1);
        let moved = self.ending(centre, days);
        if moved.shown.0 > self.whole.0 { moved } else { moved.starting(self.whole.0, days) }
    }

    /// Half a picture back.
    #[must_use]
    pub fn earlier(self) -> Self {
        let days = self.length();
        self.ending(back(self.shown.1, days / 2), days).starting_not_before(days)
    }

    /// Half a picture on.
    #[must_use]
    pub fn later(self) -> Self {
        let days = self.length();
        let end = forth(self.shown.1, days / 2).min(self.whole.1);
        self.ending(end, days)
    }

    /// Whether everything is shown.
    pub fn is_all(self) -> bool {
        self.whole == self.shown
    }

    fn length(self) -> i64 {
        days_between(self.shown.0, self.shown.1)
    }

    fn whole_length(self) -> i64 {
        days_between(self.whole.0, self.whole.1)
    }

    fn ending(self, last: NaiveDate, days: i64) -> Self {
        Self { shown: (back(last, days), last), ..self }
    }

    fn starting(self, first: NaiveDate, days: i64) -> Self {
        Self { shown: (first, forth(first, days)), ..self }
    }

    fn starting_not_before(self, days: i64) -> Self {
        if self.shown.0 < self.whole.0 { self.starting(self.whole.0, days) } else { self }
    }
}

fn back(date: NaiveDate, days: i64) -> NaiveDate {
    let days = Days::new(u64::try_from(days).unwrap_or(0));
    date.checked_sub_days(days).unwrap_or(date)
}

fn forth(date: NaiveDate, days: i64) -> NaiveDate {
    let days = Days::new(u64::try_from(days).unwrap_or(0));
    date.checked_add_days(days).unwrap_or(date)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn day(days: u64) -> NaiveDate {
        NaiveDate::from_ymd_opt(2026, 1, 1).unwrap() + Days::new(days)
    }

    #[test]
    fn closer_shows_the_latest_half_and_wider_takes_it_back() {
        let all = View::all(day(0), day(200));
        assert_eq!(all.closer().days(), (day(100), day(200)));
        assert_eq!(all.closer().earlier().days(), (day(50), day(150)));
        assert_eq!(all.closer().earlier().later().days(), (day(100), day(200)));
        assert_eq!(all.closer().wider(), all);
        assert!(all.wider().is_all() && all.earlier().is_all() && all.later().is_all());
    }

    #[test]
    fn a_short_season_is_never_cut() {
        let short = View::all(day(0), day(40));
        assert_eq!(short.closer(), short);
        let one = View::all(day(3), day(3));
        assert_eq!((one.closer(), one.wider(), one.later()), (one, one, one));
    }

    proptest! {
        #[test]
        fn no_button_leaves_the_season(length in 0u64..3_000, moves in prop::collection::vec(0u8..4, 0..40)) {
            let mut view = View::all(day(0), day(length));
            for button in moves {
                view = match button {
                    0 => view.closer(),
                    1 => view.wider(),
                    2 => view.earlier(),
                    _ => view.later(),
                };
                let (first, last) = view.days();
                prop_assert!(day(0) <= first && first <= last && last <= day(length));
                prop_assert!(days_between(first, last) >= i64::try_from(length).unwrap().min(DAYS_MIN));
            }
        }
    }
}
