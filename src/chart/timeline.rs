use super::{Px, estimated_width};
use crate::quantity::days_between;
use chrono::{Datelike, Months, NaiveDate};

/// True time: a linear map from calendar days to the drawing, and back to the day.
///
/// ```
/// use chrono::NaiveDate;
/// use two_marks::chart::{Px, Timeline};
/// let day = |day| NaiveDate::from_ymd_opt(2026, 3, day).unwrap();
/// let line = Timeline::new(day(1), day(31), Px::ZERO, Px::whole(300));
/// assert_eq!(line.x(day(16)), Px::whole(150));
/// assert_eq!(line.date_at(Px::whole(150)), day(16));
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Timeline {
    first: NaiveDate,
    days: i64,
    left: Px,
    right: Px,
}

impl Timeline {
    /// The days from `first` to `last` on the drawing from `left` to `right`. A single day lies in
    /// the middle.
    pub fn new(first: NaiveDate, last: NaiveDate, left: Px, right: Px) -> Self {
        Self { first, days: days_between(first, last).max(0), left, right: right.max(left) }
    }

    /// Where a day lies; days beyond the ends lie outside.
    pub fn x(self, date: NaiveDate) -> Px {
        let width = self.right - self.left;
        if self.days == 0 {
            return self.left + width.half();
        }
        self.left + width.part(days_between(self.first, date), self.days)
    }

    /// The nearest day to an x.
    pub fn date_at(self, x: Px) -> NaiveDate {
        let width = (self.right - self.left).as_hundredths().max(1);
        let days = Px::hundredths(self.days).part((x - self.left).as_hundredths(), width);
        let days = days.as_hundredths().clamp(0, self.days);
        u64::try_from(days)
            .ok()
            .and_then(|days| self.first.checked_add_days(chrono::Days::new(days)))
            .unwrap_or(self.first)
    }

    /// The last day of the line.
    pub fn last(self) -> NaiveDate {
        self.date_at(self.right)
    }

    /// Where the line begins.
    pub const fn left(self) -> Px {
        self.left
    }

    /// Where the line ends.
    pub const fn right(self) -> Px {
        self.right
    }
}

/// The first day of a month and its name.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Month {
    pub(super) x: Px,
    pub(super) name: String,
}

/// The months of a line, thinned to every second, third, sixth or twelfth until names of this size
/// stand apart. A line without the first of a month has its first day instead.
pub(super) fn months(line: Timeline, size: Px, name: &dyn Fn(NaiveDate) -> String) -> Vec<Month> {
    for step in [1, 2, 3, 6, 12, 24, 60] {
        let all = every(line, step, name);
        let fits = all.windows(2).all(|pair| match pair {
            [a, b] => {
                let wide = estimated_width(&a.name, size).max(estimated_width(&b.name, size));
                b.x - a.x >= wide + size.half()
            }
            _ => true,
        });
        if fits {
            if all.is_empty() {
                return vec![Month { x: line.x(line.first), name: name(line.first) }];
            }
            return all;
        }
    }
    Vec::new()
}

fn every(line: Timeline, step: i32, name: &dyn Fn(NaiveDate) -> String) -> Vec<Month> {
    let mut found = Vec::new();
    let mut first = line.first.with_day(1);
    while let Some(day) = first.filter(|day| *day <= line.last()) {
        let index = day.year().saturating_mul(12).saturating_add(month_index(day));
        if day >= line.first && index.rem_euclid(step) == 0 {
            found.push(Month { x: line.x(day), name: name(day) });
        }
        first = day.checked_add_months(Months::new(1));
    }
    found
}

fn month_index(day: NaiveDate) -> i32 {
    i32::try_from(day.month0()).unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn day(year: i32, month: u32, day: u32) -> NaiveDate {
        NaiveDate::from_ymd_opt(year, month, day).unwrap()
    }

    fn names(line: Timeline) -> Vec<String> {
        let name = |date: NaiveDate| format!("{:04}-{:02}", date.year(), date.month());
        months(line, Px::whole(15), &name).into_iter().map(|month| month.name).collect()
    }

    #[test]
    fn months_are_thinned_until_their_names_fit() {
        let season = |width| {
            names(Timeline::new(day(2025, 9, 20), day(2026, 5, 3), Px::ZERO, Px::whole(width)))
        };
        assert_eq!(season(900).len(), 8);
        assert_eq!(season(400), ["2025-11", "2026-01", "2026-03", "2026-05"]);
        assert_eq!(season(150), ["2026-01"]);
    }

    #[test]
    fn a_line_within_a_month_names_its_first_day() {
        let line = Timeline::new(day(2026, 3, 4), day(2026, 3, 20), Px::ZERO, Px::whole(200));
        assert_eq!(names(line), ["2026-03"]);
    }

    #[test]
    fn one_day_lies_in_the_middle() {
        let line = Timeline::new(day(2026, 3, 4), day(2026, 3, 4), Px::ZERO, Px::whole(200));
        assert_eq!(line.x(day(2026, 3, 4)), Px::whole(100));
        assert_eq!(line.date_at(Px::whole(100)), day(2026, 3, 4));
    }

    proptest! {
        #[test]
        fn days_go_both_ways(days in 1u64..1_000, at in 0u64..1_000, width in 10i64..4_000) {
            let first = day(2024, 2, 27);
            let plus = |days| first.checked_add_days(chrono::Days::new(days)).unwrap();
            let line = Timeline::new(first, plus(days), Px::whole(3), Px::whole(3 + width));
            let date = plus(at.min(days));
            prop_assert_eq!(line.date_at(line.x(date)), date);
        }
    }
}
