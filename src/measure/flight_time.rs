//! Mechanics of a jump timed in the air: plain `f64`, with the unit in each name.
//!
//! A height by flight time is the rise of the body from take-off to the top. A height from two
//! marks on a wall counts the rise from standing, about 10 to 15 cm more in adults by definition,
//! so take-off speed and impulse are never worked out from a wall score.

/// Standard acceleration of free fall, m/s² (CGPM 1901, exact by definition). Real gravity differs
/// by less than 0.3 % from equator to pole, 1 mm in 40 cm.
pub const STANDARD_GRAVITY_M_S2: f64 = 9.806_65;

/// Jump height from the time in the air, h = g T² / 8, cm.
///
/// The body rises for half of the time if it lands as tall as it took off.
///
/// # Errors
/// `None` unless the time is finite and not negative.
///
/// ```
/// let height_cm = two_marks::measure::height_cm_from_flight_time(0.5).unwrap();
/// assert!((height_cm - 30.6458).abs() < 1e-4);
/// ```
#[must_use]
pub fn height_cm_from_flight_time(flight_time_s: f64) -> Option<f64> {
    not_negative(flight_time_s).map(|time| 100.0 * STANDARD_GRAVITY_M_S2 * time * time / 8.0)
}

/// Time in the air of a jump of this height, T = sqrt(8 h / g), seconds.
///
/// # Errors
/// `None` unless the height is finite and not negative.
#[must_use]
pub fn flight_time_s_from_height(height_cm: f64) -> Option<f64> {
    not_negative(height_cm).map(|height| (8.0 * height / 100.0 / STANDARD_GRAVITY_M_S2).sqrt())
}

/// Upward speed at take-off, v = sqrt(2 g h), m/s.
///
/// # Errors
/// `None` unless the height is finite and not negative.
#[must_use]
pub fn takeoff_speed_m_s(height_cm: f64) -> Option<f64> {
    not_negative(height_cm).map(|height| (2.0 * STANDARD_GRAVITY_M_S2 * height / 100.0).sqrt())
}

/// Impulse of the push beyond body weight, J = m v, newton seconds.
///
/// # Errors
/// `None` unless both are finite and not negative.
#[must_use]
pub fn takeoff_impulse_n_s(height_cm: f64, body_mass_kg: f64) -> Option<f64> {
    Some(not_negative(body_mass_kg)? * takeoff_speed_m_s(height_cm)?)
}

/// What counting frames does to a flight-time height.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FrameError {
    /// Time in the air behind the height, seconds.
    pub flight_time_s: f64,
    /// How much height one second of error in the time makes, g T / 4, cm/s.
    pub slope_cm_per_s: f64,
    /// Largest possible error either way, cm: one whole frame.
    pub error_cm_max: f64,
    /// SD with both instants found by frame, cm: the error is triangular, D / sqrt(6).
    pub sd_cm: f64,
    /// SD with one instant found by frame, cm: the error is uniform, D / sqrt(12).
    pub sd_cm_one_instant: f64,
    /// What is added, cm, if the last frame with contact is taken for the first one without it.
    pub bias_cm_last_contact: f64,
}

/// Error of a height counted from the first frame without contact to the first frame with contact
/// at `frames_per_s`.
///
/// Each instant is late by anything up to one frame D; the difference of two such delays is
/// triangular on ±D. The height's error is that times dh/dT.
///
/// # Errors
/// `None` unless the height is finite and not negative and the rate finite and positive.
///
/// ```
/// let error = two_marks::measure::frame_rate_error(40.0, 30.0).unwrap();
/// assert!((error.error_cm_max - 4.668).abs() < 1e-3);
/// assert!((error.sd_cm - 1.906).abs() < 1e-3);
/// ```
#[must_use]
pub fn frame_rate_error(height_cm: f64, frames_per_s: f64) -> Option<FrameError> {
    let flight_time_s = flight_time_s_from_height(height_cm)?;
    let frame_s = frame_s(frames_per_s)?;
    let slope_cm_per_s = 100.0 * STANDARD_GRAVITY_M_S2 * flight_time_s / 4.0;
    let error_cm_max = slope_cm_per_s * frame_s;
    Some(FrameError {
        flight_time_s,
        slope_cm_per_s,
        error_cm_max,
        sd_cm: error_cm_max / 6.0_f64.sqrt(),
        sd_cm_one_instant: error_cm_max / 12.0_f64.sqrt(),
        bias_cm_last_contact: error_cm_max,
    })
}

/// A height counted in frames, with the hard bounds of the counting.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FrameHeight {
    /// Time in the air, seconds.
    pub flight_time_s: f64,
    /// Jump height, cm.
    pub height_cm: f64,
    /// Height if the time were one frame shorter, cm.
    pub height_cm_min: f64,
    /// Height if the time were one frame longer, cm.
    pub height_cm_max: f64,
    /// SD of the counting, cm.
    pub sd_cm: f64,
}

/// Height between the first frame without contact and the first frame with contact.
///
/// # Errors
/// `None` unless contact comes at least one frame later and the rate is finite and positive.
#[must_use]
pub fn height_from_frames(
    first_airborne: u32,
    first_contact: u32,
    frames_per_s: f64,
) -> Option<FrameHeight> {
    let frame_s = frame_s(frames_per_s)?;
    let frames = first_contact.checked_sub(first_airborne).filter(|frames| *frames > 0)?;
    let flight_time_s = f64::from(frames) / frames_per_s;
    let slope_cm_per_s = 100.0 * STANDARD_GRAVITY_M_S2 * flight_time_s / 4.0;
    Some(FrameHeight {
        flight_time_s,
        height_cm: height_cm_from_flight_time(flight_time_s)?,
        // One frame less than one frame may be a hair under zero.
        height_cm_min: height_cm_from_flight_time((flight_time_s - frame_s).max(0.0))?,
        height_cm_max: height_cm_from_flight_time(flight_time_s + frame_s)?,
        sd_cm: slope_cm_per_s * frame_s / 6.0_f64.sqrt(),
    })
}

/// The height flight time gives for a true rise of `height_cm` when the body's centre is
/// `lower_cm` lower at landing than at take-off: (h/4)(1 + sqrt(1 + lower/h))².
///
/// Landing with bent knees adds roughly half of what they are bent: 30 cm with 10 cm lower reads
/// 34.8 cm.
///
/// # Errors
/// `None` unless the height is finite and positive and `lower_cm` finite and not below -height.
#[must_use]
pub fn height_cm_read_with_low_landing(height_cm: f64, lower_cm: f64) -> Option<f64> {
    let height_cm = not_negative(height_cm).filter(|height| *height > 0.0)?;
    let ratio = not_negative(1.0 + lower_cm / height_cm)?;
    let sum = 1.0 + ratio.sqrt();
    Some(height_cm / 4.0 * sum * sum)
}

fn not_negative(value: f64) -> Option<f64> {
    (value >= 0.0 && value.is_finite()).then_some(value)
}

fn frame_s(frames_per_s: f64) -> Option<f64> {
    (frames_per_s > 0.0 && frames_per_s.is_finite()).then(|| 1.0 / frames_per_s)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn height_and_time_undo_each_other() {
        for height_cm in [0.0, 3.0, 40.0, 120.0] {
            let time_s = flight_time_s_from_height(height_cm).unwrap();
            assert!((height_cm_from_flight_time(time_s).unwrap() - height_cm).abs() < 1e-12);
            // v = g T / 2 as well.
            let speed = takeoff_speed_m_s(height_cm).unwrap();
            assert!((speed - STANDARD_GRAVITY_M_S2 * time_s / 2.0).abs() < 1e-12);
        }
    }

    #[test]
    fn landing_as_tall_as_at_take_off_reads_true() {
        assert_eq!(height_cm_read_with_low_landing(30.0, 0.0), Some(30.0));
        assert!(height_cm_read_with_low_landing(30.0, -5.0).unwrap() < 30.0);
        assert_eq!(height_cm_read_with_low_landing(0.0, 5.0), None);
        assert!(height_cm_read_with_low_landing(0.005, 0.0).is_some());
        assert_eq!(height_cm_read_with_low_landing(30.0, -31.0), None);
        assert_eq!(height_cm_read_with_low_landing(30.0, f64::NAN), None);
    }

    #[test]
    fn the_frame_bounds_hold_the_height() {
        let found = height_from_frames(100, 117, 30.0).unwrap();
        assert!(found.height_cm_min < found.height_cm && found.height_cm < found.height_cm_max);
        assert!(height_from_frames(5, 6, 60.0).unwrap().height_cm_min.abs() < 1e-12);
    }

    #[test]
    fn impossible_input_gives_nothing() {
        assert_eq!(height_cm_from_flight_time(-0.1), None);
        assert_eq!(flight_time_s_from_height(f64::NAN), None);
        assert_eq!(takeoff_speed_m_s(-1.0), None);
        assert_eq!(takeoff_impulse_n_s(40.0, -60.0), None);
        assert_eq!(frame_rate_error(40.0, 0.0), None);
        assert_eq!(frame_rate_error(-40.0, 30.0), None);
        assert_eq!(height_from_frames(100, 100, 30.0), None);
        assert_eq!(height_from_frames(100, 99, 30.0), None);
        assert_eq!(height_from_frames(100, 110, f64::NAN), None);
    }
}
