//! What the product makes of a session's readings, in the way the pages put its functions together.

use two_marks::reliability::{
    AgeBand, Experience, MarksKnown, PooledSd, ReachReadings, Reading, SessionConditions,
    pooled_within_sd, session_error, typical_spread,
};
use two_marks::statistics::{mean, median};

use super::people::Readings;

/// The usual height of a session, its standard error, and its trials.
pub(super) struct Judged {
    pub(super) height_cm: f64,
    pub(super) se_cm: f64,
    /// The typical spread of days in it, cm.
    pub(super) day_cm: f64,
}

/// Judges sessions one after the other and remembers the trials.
pub(super) struct Judge {
    age: AgeBand,
    trials_cm: Vec<Vec<f64>>,
}

impl Judge {
    pub(super) fn new(age_years: u8) -> Self {
        Self { age: AgeBand::of_completed_years(Some(age_years)), trials_cm: Vec::new() }
    }

    pub(super) fn judge(&mut self, readings: &Readings) -> Judged {
        let reach_cm = median(&readings.reaches_cm).unwrap();
        let trials_cm: Vec<f64> =
            readings.marks_cm.iter().map(|mark_cm| mark_cm - reach_cm).collect();
        let height_cm = mean(&trials_cm).unwrap();
        let experience = Experience::of_earlier_sessions(self.trials_cm.len());
        let trials = u32::try_from(trials_cm.len()).unwrap();
        self.trials_cm.push(trials_cm);
        let own: Option<PooledSd> = pooled_within_sd(&self.trials_cm);
        let spread = typical_spread(self.age, experience, height_cm.max(0.0))
            .unwrap()
            .with_own_trials(own)
            .unwrap();
        let sorted = |pick: fn(f64, f64) -> f64| readings.reaches_cm.into_iter().reduce(pick);
        let spread_cm = sorted(f64::max).unwrap() - sorted(f64::min).unwrap();
        let error = session_error(&SessionConditions {
            height_cm: height_cm.max(0.0),
            trials,
            marks: MarksKnown::Each,
            trial_sd_cm: spread.trial_sd_cm,
            day_sd_cm: spread.day_sd_cm,
            reach: Some(ReachReadings { count: 3, spread_cm }),
            reading: Reading::TwoHeights { step_cm: readings.step_cm },
            other_clock: false,
            still_recovering: false,
        });
        let error = error.unwrap();
        Judged { height_cm, se_cm: error.total_cm(), day_cm: error.day_cm }
    }
}
