//! A straight line beside the season's own.

use super::model::SeasonTest;
use crate::statistics::{TheilSen, theil_sen};

/// Fewest tests for a straight line; a design choice.
pub const LINE_TESTS_MIN: usize = 6;
/// Fewest days such a line must span; a design choice.
pub const LINE_DAYS_MIN: f64 = 42.0;
/// Level of its interval.
const LINE_LEVEL: f64 = 0.95;

/// The straight line through the tests (Theil 1950, Sen 1968, J. Am. Stat. Assoc. 63:1379), cm a day,
/// growth and learning not taken off.
///
/// # Errors
/// `None` with fewer than [`LINE_TESTS_MIN`] tests or [`LINE_DAYS_MIN`] days.
#[must_use]
pub fn straight_line(tests: &[SeasonTest]) -> Option<TheilSen> {
    let days = tests.last()?.day - tests.first()?.day;
    if tests.len() < LINE_TESTS_MIN || days < LINE_DAYS_MIN {
        return None;
    }
    let points: Vec<(f64, f64)> = tests.iter().map(|test| (test.day, test.height_cm)).collect();
    theil_sen(&points, LINE_LEVEL)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn weekly(count: u32, days: f64) -> Option<f64> {
        let test = |place| SeasonTest {
            day: days * f64::from(place),
            height_cm: 40.0 + 0.5 * f64::from(place),
            rest_variance_cm2: 1.0,
            day_sd_cm: 1.0,
            earlier: place,
            growth_cm: 0.0,
        };
        let tests: Vec<SeasonTest> = (0..count).map(test).collect();
        straight_line(&tests).map(|line| line.slope)
    }

    #[test]
    fn it_needs_six_tests_over_six_weeks() {
        assert!((weekly(6, 8.4).unwrap() - 0.5 / 8.4).abs() < 1e-12);
        assert_eq!(weekly(6, 8.3), None);
        assert_eq!(weekly(5, 30.0), None);
        assert_eq!(weekly(0, 30.0), None);
    }
}
