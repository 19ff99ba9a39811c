//! Errors that follow from geometry, gravity and the divisions of a tape measure.

pub use crate::measure::REACH_PER_STATURE;
use crate::measure::STANDARD_GRAVITY_M_S2;

/// Days in a mean year.
const DAYS_PER_YEAR: f64 = 365.25;

/// What reading to a division adds to a score, as standard deviations in cm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RoundingSd {
    /// Of one reading: step / sqrt(12).
    pub one_reading_cm: f64,
    /// Of a height, which is the difference of two readings: step / sqrt(6).
    pub height_cm: f64,
}

/// Spread added by reading to the nearest `step_cm`.
///
/// A rounded reading is off by anything up to half a step, equally likely.
///
/// # Errors
/// `None` unless the step is finite and not negative.
///
/// ```
/// let sd = two_marks::reliability::rounding_sd_cm(1.0).unwrap();
/// assert!((sd.height_cm - 0.408_248).abs() < 1e-6);
/// ```
#[must_use]
pub fn rounding_sd_cm(step_cm: f64) -> Option<RoundingSd> {
    if !(step_cm >= 0.0 && step_cm.is_finite()) {
        return None;
    }
    Some(RoundingSd {
        one_reading_cm: step_cm / 12.0_f64.sqrt(),
        height_cm: step_cm / 6.0_f64.sqrt(),
    })
}

/// Height lost when the hand meets the wall `sideways_cm` beside the line of the shoulder, with
/// `arm_cm` from shoulder to fingertip: arm - sqrt(arm² - sideways²).
///
/// # Errors
/// `None` unless both are finite and |sideways| <= arm.
#[must_use]
pub fn lateral_reach_loss_cm(arm_cm: f64, sideways_cm: f64) -> Option<f64> {
    if !(arm_cm.is_finite() && sideways_cm.abs() <= arm_cm) {
        return None;
    }
    Some(arm_cm - (arm_cm * arm_cm - sideways_cm * sideways_cm).sqrt())
}

/// Height missed by touching the wall `off_s` seconds before or after the top of the flight:
/// g t² / 2.
///
/// # Errors
/// `None` unless the time is finite.
#[must_use]
pub fn touch_timing_loss_cm(off_s: f64) -> Option<f64> {
    let loss_cm = 100.0 * STANDARD_GRAVITY_M_S2 * off_s * off_s / 2.0;
    loss_cm.is_finite().then_some(loss_cm)
}

/// False gain of a jump height when an old standing reach is reused while the child grows.
///
/// growth in cm of body height per year, times reach over body height
/// (see [`REACH_PER_STATURE`]), times the age of the reach. 5.5 cm a year make 1.7 cm in 90 days.
///
/// # Errors
/// `None` if a value is not finite or the ratio or the days are negative.
#[must_use]
pub fn stale_reach_bias_cm(
    growth_cm_per_year: f64,
    reach_per_stature: f64,
    reach_age_days: f64,
) -> Option<f64> {
    if !(reach_per_stature >= 0.0 && reach_age_days >= 0.0) {
        return None;
    }
    let bias_cm = growth_cm_per_year * reach_per_stature * reach_age_days / DAYS_PER_YEAR;
    bias_cm.is_finite().then_some(bias_cm)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_three_four_five_triangle_loses_one() {
        assert_eq!(lateral_reach_loss_cm(5.0, 3.0), Some(1.0));
        assert_eq!(lateral_reach_loss_cm(5.0, -4.0), Some(2.0));
        assert_eq!(lateral_reach_loss_cm(5.0, 5.1), None);
        assert_eq!(lateral_reach_loss_cm(f64::NAN, 1.0), None);
        assert_eq!(lateral_reach_loss_cm(5.0, f64::NAN), None);
    }

    #[test]
    fn two_readings_are_worse_than_one_by_root_two() {
        let sd = rounding_sd_cm(2.54).unwrap();
        assert!((sd.height_cm / sd.one_reading_cm - 2.0_f64.sqrt()).abs() < 1e-15);
        assert_eq!(rounding_sd_cm(-1.0), None);
        assert_eq!(rounding_sd_cm(f64::INFINITY), None);
    }

    #[test]
    fn early_and_late_touches_lose_alike() {
        assert_eq!(touch_timing_loss_cm(0.05), touch_timing_loss_cm(-0.05));
        assert_eq!(touch_timing_loss_cm(f64::NAN), None);
    }

    #[test]
    fn a_reach_of_today_is_not_stale() {
        assert_eq!(stale_reach_bias_cm(7.0, REACH_PER_STATURE, 0.0), Some(0.0));
        assert_eq!(stale_reach_bias_cm(7.0, REACH_PER_STATURE, -1.0), None);
        assert_eq!(stale_reach_bias_cm(7.0, -0.1, 1.0), None);
        assert_eq!(stale_reach_bias_cm(7.0, 0.0, 0.0), Some(0.0));
        assert_eq!(stale_reach_bias_cm(f64::NAN, 1.28, 10.0), None);
    }
}
