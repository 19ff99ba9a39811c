//! Standard errors of a session and the smallest difference beyond noise.

use crate::statistics::best_of_n;

/// 95 % of a normal distribution lie within this many SDs, as the literature on MDC prints it.
const NORMAL_95: f64 = 1.96;

fn spreads_are_valid(trial_sd_cm: f64, day_sd_cm: f64) -> bool {
    trial_sd_cm >= 0.0 && trial_sd_cm.is_finite() && day_sd_cm >= 0.0 && day_sd_cm.is_finite()
}

/// Standard error of the mean of a session's `trials`, as a measure of the person's usual height:
/// sqrt(day² + trial²/n).
///
/// # Errors
/// `None` without a trial, or if a spread is negative or not finite.
///
/// ```
/// let se_cm = two_marks::reliability::session_se_of_mean_cm(1.6, 1.2, 3).unwrap();
/// assert!((se_cm - 1.514_376).abs() < 1e-6);
/// ```
#[must_use]
pub fn session_se_of_mean_cm(trial_sd_cm: f64, day_sd_cm: f64, trials: u32) -> Option<f64> {
    if trials == 0 || !spreads_are_valid(trial_sd_cm, day_sd_cm) {
        return None;
    }
    Some((day_sd_cm * day_sd_cm + trial_sd_cm * trial_sd_cm / f64::from(trials)).sqrt())
}

/// The same for the best of the session's `trials`, whose spread is that of the largest of n.
///
/// # Errors
/// As [`session_se_of_mean_cm`]; also `None` for more than 100 trials.
#[must_use]
pub fn session_se_of_best_cm(trial_sd_cm: f64, day_sd_cm: f64, trials: u32) -> Option<f64> {
    if !spreads_are_valid(trial_sd_cm, day_sd_cm) {
        return None;
    }
    let of_best = best_of_n(trials)?.spread_sd * trial_sd_cm;
    Some((day_sd_cm * day_sd_cm + of_best * of_best).sqrt())
}

/// The usual height behind a best of `trials`: the best minus what taking the best adds on average.
///
/// # Errors
/// `None` without a trial, for more than 100, or if a value is not finite or the spread negative.
#[must_use]
pub fn usual_from_best_cm(best_cm: f64, trial_sd_cm: f64, trials: u32) -> Option<f64> {
    if !(best_cm.is_finite() && spreads_are_valid(trial_sd_cm, 0.0)) {
        return None;
    }
    Some(best_cm - best_of_n(trials)?.bias_sd * trial_sd_cm)
}

/// Smallest difference between two means of sessions that noise alone exceeds one time in twenty:
/// 1.96 TE sqrt(1/k1 + 1/k2).
///
/// `typical_error_cm` is the standard error of one session's score. With one session on each side
/// this is the usual MDC95 = 1.96 sqrt(2) TE (Hopkins 2000, Sports Med 30:1).
///
/// # Errors
/// `None` unless both sides hold a session and the error is finite and not negative.
#[must_use]
pub fn mdc95_cm(typical_error_cm: f64, sessions_before: u32, sessions_after: u32) -> Option<f64> {
    let valid = typical_error_cm >= 0.0 && typical_error_cm.is_finite();
    if !valid || sessions_before == 0 || sessions_after == 0 {
        return None;
    }
    let per_session = 1.0 / f64::from(sessions_before) + 1.0 / f64::from(sessions_after);
    Some(NORMAL_95 * typical_error_cm * per_session.sqrt())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn more_trials_steady_the_trials_but_not_the_day() {
        assert_eq!(session_se_of_mean_cm(2.0, 0.0, 4), Some(1.0));
        assert_eq!(session_se_of_mean_cm(0.0, 1.2, 4), Some(1.2));
        assert!(session_se_of_mean_cm(1.6, 1.2, 100).unwrap() > 1.2);
    }

    #[test]
    fn the_mean_is_steadier_than_the_best() {
        for trials in 2..=6 {
            let mean = session_se_of_mean_cm(1.6, 1.2, trials).unwrap();
            assert!(session_se_of_best_cm(1.6, 1.2, trials).unwrap() > mean);
        }
        // One trial is its own best and its own mean.
        let (mean, best) = (
            session_se_of_mean_cm(1.6, 1.2, 1).unwrap(),
            session_se_of_best_cm(1.6, 1.2, 1).unwrap(),
        );
        assert!((mean - best).abs() < 1e-12);
    }

    #[test]
    fn the_usual_height_lies_below_the_best() {
        assert!(
            (usual_from_best_cm(42.0, 2.0, 3).unwrap() - (42.0 - 1.692_568_750_6)).abs() < 1e-9
        );
        assert!((usual_from_best_cm(42.0, 2.0, 1).unwrap() - 42.0).abs() < 1e-12);
    }

    #[test]
    fn a_season_best_drifts_up_by_itself() {
        // Ten unchanged sessions with a standard error of 1.5 cm: about 2.3 cm.
        assert!((42.0 - usual_from_best_cm(42.0, 1.5, 10).unwrap() - 2.308).abs() < 1e-3);
    }

    #[test]
    fn nothing_sensible_in_nothing_out() {
        assert_eq!(session_se_of_mean_cm(1.0, 1.0, 0), None);
        assert_eq!(session_se_of_mean_cm(-1.0, 1.0, 3), None);
        assert_eq!(session_se_of_best_cm(1.0, f64::NAN, 3), None);
        assert_eq!(session_se_of_best_cm(1.0, 1.0, 0), None);
        assert_eq!(usual_from_best_cm(f64::NAN, 1.0, 3), None);
        assert_eq!(mdc95_cm(1.0, 0, 1), None);
        assert_eq!(mdc95_cm(1.0, 1, 0), None);
        assert_eq!(mdc95_cm(-1.0, 1, 1), None);
    }
}
