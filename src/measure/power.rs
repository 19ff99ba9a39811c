//! Peak and average power estimated from a jump-and-reach height: adults only.
//!
//! Only equations fitted to heights measured by reach are here. Equations fitted to force-plate
//! heights would read 600 to 900 W too much from a wall, and adult equations mislead by 8 to 64 %
//! in children (Gomez-Bruton 2019, J Strength Cond Res 33:390). The constants are negative where
//! written so; listings with the sign turned are in circulation. Every result is an estimate,
//! good to 10 to 20 % at best. An equation may give a number below zero for a small jumper, which
//! means that it does not apply; then there is no result.

/// Peak power of a jump from a held squat, W: 60.7 h + 45.3 m - 2055.
///
/// Sayers 1999 (Med Sci Sports Exerc 31:572), 108 college men and women, height by jump and reach.
///
/// # Errors
/// `None` if a value is not finite or not positive, or if the estimate is not.
///
/// ```
/// let power_w = two_marks::measure::sayers_squat_jump_peak_w(45.0, 65.0).unwrap();
/// assert!((power_w - 3621.0).abs() < 1e-9);
/// ```
#[must_use]
pub fn sayers_squat_jump_peak_w(jump_height_cm: f64, body_mass_kg: f64) -> Option<f64> {
    applied([jump_height_cm, body_mass_kg], 60.7 * jump_height_cm + 45.3 * body_mass_kg - 2055.0)
}

/// Peak power of a countermovement jump, W: 51.9 h + 48.9 m - 2007.
///
/// Sayers 1999, same people.
///
/// # Errors
/// As [`sayers_squat_jump_peak_w`].
#[must_use]
pub fn sayers_countermovement_peak_w(jump_height_cm: f64, body_mass_kg: f64) -> Option<f64> {
    applied([jump_height_cm, body_mass_kg], 51.9 * jump_height_cm + 48.9 * body_mass_kg - 2007.0)
}

/// Peak power, W: 78.6 h + 60.3 m - 15.3 H - 1308, with H the body height.
///
/// Johnson & Bahamonde 1996 (J Strength Cond Res 10:161), 69 men and 49 women, college athletes,
/// jump and reach on a force plate.
///
/// # Errors
/// As [`sayers_squat_jump_peak_w`].
#[must_use]
pub fn johnson_bahamonde_peak_w(
    jump_height_cm: f64,
    body_mass_kg: f64,
    stature_cm: f64,
) -> Option<f64> {
    applied(
        [jump_height_cm, body_mass_kg, stature_cm],
        78.6 * jump_height_cm + 60.3 * body_mass_kg - 15.3 * stature_cm - 1308.0,
    )
}

/// Average power of the push, W: 43.8 h + 32.7 m - 16.8 H + 431.
///
/// Johnson & Bahamonde 1996, same people.
///
/// # Errors
/// As [`sayers_squat_jump_peak_w`].
#[must_use]
pub fn johnson_bahamonde_average_w(
    jump_height_cm: f64,
    body_mass_kg: f64,
    stature_cm: f64,
) -> Option<f64> {
    applied(
        [jump_height_cm, body_mass_kg, stature_cm],
        43.8 * jump_height_cm + 32.7 * body_mass_kg - 16.8 * stature_cm + 431.0,
    )
}

fn applied<const N: usize>(inputs: [f64; N], power_w: f64) -> Option<f64> {
    let positive = |value: f64| value > 0.0 && value.is_finite();
    (inputs.iter().all(|value| positive(*value)) && positive(power_w)).then_some(power_w)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_small_jumper_is_outside_the_equations() {
        assert_eq!(sayers_countermovement_peak_w(5.0, 30.0), None);
        assert_eq!(johnson_bahamonde_peak_w(5.0, 30.0, 150.0), None);
    }

    #[test]
    fn nothing_sensible_in_nothing_out() {
        assert_eq!(sayers_squat_jump_peak_w(f64::NAN, 60.0), None);
        assert_eq!(sayers_squat_jump_peak_w(40.0, -60.0), None);
        assert_eq!(johnson_bahamonde_average_w(40.0, 60.0, f64::INFINITY), None);
        assert_eq!(johnson_bahamonde_average_w(40.0, 60.0, 0.0), None);
    }
}
