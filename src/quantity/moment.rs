use chrono::{DateTime, FixedOffset, NaiveDate, TimeDelta};

/// A point in time as a person saw it: an instant and the offset of their clock.
///
/// The civil date belongs to the offset, so a test at 23:30 stays on its own day wherever it is
/// read later.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Moment {
    /// Milliseconds since 1970-01-01 UTC.
    pub utc_ms: i64,
    /// Minutes that the local clock runs ahead of UTC.
    pub offset_minutes: i16,
}

impl Moment {
    /// The local clock as chrono sees it; an offset or instant beyond chrono's range gives the
    /// epoch, so that nothing typed or stored can panic.
    pub fn local(self) -> DateTime<FixedOffset> {
        let offset = FixedOffset::east_opt(i32::from(self.offset_minutes) * 60);
        let utc = DateTime::from_timestamp_millis(self.utc_ms).unwrap_or_default();
        match offset {
            Some(offset) => utc.with_timezone(&offset),
            None => utc.fixed_offset(),
        }
    }

    /// The calendar date on the person's wall.
    pub fn date(self) -> NaiveDate {
        self.local().date_naive()
    }

    /// Minutes since local midnight, 0 to 1439.
    pub fn minute_of_day(self) -> u16 {
        use chrono::Timelike;
        let time = self.local().time();
        u16::try_from(time.hour() * 60 + time.minute()).unwrap_or(0)
    }

    /// The same clock, `minutes` later.
    pub const fn plus_minutes(self, minutes: i64) -> Self {
        let utc_ms = self.utc_ms.saturating_add(minutes.saturating_mul(60_000));
        Self { utc_ms, offset_minutes: self.offset_minutes }
    }

    /// Whole minutes from `earlier` to this moment; negative when the clock went back.
    pub const fn minutes_since(self, earlier: Self) -> i64 {
        self.utc_ms.saturating_sub(earlier.utc_ms) / 60_000
    }

    /// The moment when a civil date and minute of day fall under an offset.
    pub fn from_civil(date: NaiveDate, minute_of_day: u16, offset_minutes: i16) -> Self {
        let midnight = date.and_hms_opt(0, 0, 0).unwrap_or_default();
        let local = midnight + TimeDelta::minutes(i64::from(minute_of_day));
        let utc = local.and_utc().timestamp_millis();
        let utc_ms = utc.saturating_sub(i64::from(offset_minutes) * 60_000);
        Self { utc_ms, offset_minutes }
    }
}

/// Whole days from `earlier` to `later`, by calendar, whatever the clocks did.
pub fn days_between(earlier: NaiveDate, later: NaiveDate) -> i64 {
    later.signed_duration_since(earlier).num_days()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn late_evening_stays_on_its_own_day() {
        let date = NaiveDate::from_ymd_opt(2026, 6, 14).unwrap();
        let moment = Moment::from_civil(date, 23 * 60 + 30, 120);
        assert_eq!(moment.date(), date);
        assert_eq!(moment.minute_of_day(), 23 * 60 + 30);
        let utc = date.and_hms_opt(21, 30, 0).unwrap().and_utc();
        assert_eq!(moment.utc_ms, utc.timestamp_millis());
    }

    #[test]
    fn nonsense_does_not_panic() {
        let moment = Moment { utc_ms: i64::MAX, offset_minutes: i16::MAX };
        let _ = (moment.date(), moment.minute_of_day(), moment.plus_minutes(i64::MAX));
    }

    proptest! {
        #[test]
        fn civil_time_survives(days in 0i64..40_000, minute in 0u16..1440, offset in -720i16..840) {
            let date = NaiveDate::default() + TimeDelta::days(days);
            let moment = Moment::from_civil(date, minute, offset);
            prop_assert_eq!((moment.date(), moment.minute_of_day()), (date, minute));
        }
    }
}
