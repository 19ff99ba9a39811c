use chrono::NaiveDate;

use super::record::Test;
use crate::quantity::days_between;

/// Maximal jumps on a day, fouls and every kind of test included.
pub fn hard_jumps_on(tests: &[Test], date: NaiveDate) -> usize {
    tests.iter().filter(|test| test.date == date).map(|test| test.session.trials.len()).sum()
}

/// The days with a test among the seven days that end with a date, oldest first, each once.
pub fn test_days_before(tests: &[Test], date: NaiveDate) -> Vec<NaiveDate> {
    let days = tests.iter().map(|test| test.date);
    let mut recent: Vec<NaiveDate> =
        days.filter(|day| (0..7).contains(&days_between(*day, date))).collect();
    recent.sort_unstable();
    recent.dedup();
    recent
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::history::{Id, LocalId};
    use crate::measure::{FoulReason, Hand, Session, TrendKey, Trial};
    use crate::quantity::{Division, Moment};

    fn day(day: u32) -> NaiveDate {
        NaiveDate::from_ymd_opt(2026, 6, day).unwrap()
    }

    fn test(date: NaiveDate, trials: usize) -> Test {
        let mut session = Session::new(TrendKey::USUAL, Hand::Right, Division::CmHalf);
        session.trials = vec![Trial::Foul(FoulReason::Step); trials];
        let at = Moment::from_civil(date, 600, 0);
        Test::new(Id::from_bytes([1; 16]), LocalId::parse("abcd").unwrap(), at, session)
    }

    #[test]
    fn fouls_and_every_test_of_the_day_count() {
        let tests = [test(day(14), 4), test(day(14), 3), test(day(13), 5)];
        assert_eq!(hard_jumps_on(&tests, day(14)), 7);
    }

    #[test]
    fn a_week_is_seven_days_with_today() {
        let tests = [test(day(7), 1), test(day(8), 1), test(day(14), 1), test(day(14), 1)];
        assert_eq!(test_days_before(&tests, day(14)), [day(8), day(14)]);
        assert_eq!(test_days_before(&tests, day(13)), [day(7), day(8)]);
    }
}
