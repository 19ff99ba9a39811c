use chrono::{Datelike, NaiveDate};

/// How long a date is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DateForm {
    /// Saturday 14 June.
    DayAndMonth,
    /// 14 June 2026.
    Full,
    /// 14 Jun.
    Short,
    /// June 2026.
    Month,
    /// Saturday.
    Weekday,
    /// June.
    MonthName,
}

/// Numbers, dates and plural categories of a language. The browser's own knowledge in the page,
/// [`EnglishLocale`] in native tests.
pub trait Locale: Send + Sync {
    /// A decimal number, given as a whole count of `10^-places`.
    fn decimal(&self, scaled: i64, places: u8) -> String;
    /// A calendar date.
    fn date(&self, date: NaiveDate, form: DateForm) -> String;
    /// A time of day, in minutes since midnight.
    fn time(&self, minute_of_day: u16) -> String;
    /// The plural category of a whole number, by its CLDR name.
    fn plural(&self, count: u32) -> &'static str;
}

/// British English without asking a browser.
#[derive(Clone, Copy, Debug, Default)]
pub struct EnglishLocale;

const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];
const WEEKDAYS: [&str; 7] =
    ["Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"];

impl Locale for EnglishLocale {
    fn decimal(&self, scaled: i64, places: u8) -> String {
        plain_decimal(scaled, places)
    }

    fn date(&self, date: NaiveDate, form: DateForm) -> String {
        let month = MONTHS.get(date.month0() as usize).copied().unwrap_or_default();
        let weekday = date.weekday().num_days_from_monday() as usize;
        let weekday = WEEKDAYS.get(weekday).copied().unwrap_or_default();
        let (day, year) = (date.day(), date.year());
        match form {
            DateForm::DayAndMonth => format!("{weekday} {day} {month}"),
            DateForm::Full => format!("{day} {month} {year}"),
            DateForm::Short => format!("{day} {}", month.get(..3).unwrap_or(month)),
            DateForm::Month => format!("{month} {year}"),
            DateForm::Weekday => weekday.to_owned(),
            DateForm::MonthName => month.to_owned(),
        }
    }

    fn time(&self, minute_of_day: u16) -> String {
        format!("{:02}:{:02}", minute_of_day / 60, minute_of_day % 60)
    }

    fn plural(&self, count: u32) -> &'static str {
        if count == 1 { "one" } else { "other" }
    }
}

/// A decimal number with a point and no grouping.
pub(super) fn plain_decimal(scaled: i64, places: u8) -> String {
    let unit = 10_u64.saturating_pow(u32::from(places));
    let (whole, part) = (scaled.unsigned_abs() / unit, scaled.unsigned_abs() % unit);
    let sign = if scaled < 0 { "−" } else { "" };
    if places == 0 {
        return format!("{sign}{whole}");
    }
    format!("{sign}{whole}.{part:0width$}", width = usize::from(places))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn decimals_keep_their_places_and_their_sign() {
        assert_eq!(plain_decimal(435, 1), "43.5");
        assert_eq!(plain_decimal(430, 1), "43.0");
        assert_eq!(plain_decimal(-5, 1), "−0.5");
        assert_eq!(plain_decimal(7, 0), "7");
    }

    #[test]
    fn dates_as_written_in_english() {
        let date = NaiveDate::from_ymd_opt(2026, 6, 14).unwrap();
        let written = |form| EnglishLocale.date(date, form);
        assert_eq!(written(DateForm::DayAndMonth), "Sunday 14 June");
        assert_eq!(written(DateForm::Full), "14 June 2026");
        assert_eq!(written(DateForm::Short), "14 Jun");
    }
}
