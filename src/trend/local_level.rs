//! A smooth line through sessions at irregular dates: local-level filter and smoother.

use crate::statistics::normal_cdf;

/// How far a person's usual height wanders of itself, cm² per day; a design choice.
///
/// 0.02 is a drift of 0.77 cm in 30 days. Nine sessions cannot tell which value is right, so it is
/// fixed and told. A livelier 0.05 was tried for growing people and given up: some look in a season
/// of thirty tests then called noise a change in one season in five (`docs/season-rates.md`).
pub const DRIFT_CM2_PER_DAY: f64 = 0.02;
/// Variance of the level before the first session, cm²: wide enough to say nothing. A design choice.
pub const START_VARIANCE_CM2: f64 = 100.0;

/// One session's height.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Observation {
    /// Day on which it was measured, counted from any fixed day.
    pub day: f64,
    /// Usual height of the session, cm.
    pub height_cm: f64,
    /// Square of its standard error, cm².
    pub variance_cm2: f64,
}

/// What is assumed before the first session.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LocalLevel {
    /// Growth of the level's variance per day, cm².
    pub drift_cm2_per_day: f64,
    /// Level before the first session, cm.
    pub start_cm: f64,
    /// Its variance, cm².
    pub start_variance_cm2: f64,
}

/// Everything about the level on one session's day.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Step {
    /// Level expected from earlier sessions, cm.
    pub predicted_cm: f64,
    /// Its variance, cm².
    pub predicted_variance_cm2: f64,
    /// Share of the surprise that moves the level, 0 to 1.
    pub gain: f64,
    /// Level from this and earlier sessions, cm.
    pub filtered_cm: f64,
    /// Its variance, cm².
    pub filtered_variance_cm2: f64,
    /// Level from all sessions, cm: the line.
    pub smoothed_cm: f64,
    /// Its variance, cm²: the ribbon.
    pub smoothed_variance_cm2: f64,
    /// Share of what is learnt about the next session's level that reaches back to this one; 1 for
    /// the last session, which has no next.
    pub reach_back: f64,
}

/// The smoothed line.
#[derive(Clone, Debug, PartialEq)]
pub struct Smoothed {
    /// One step per session, in order.
    pub steps: Vec<Step>,
    /// Logarithm of the likelihood of the heights.
    pub log_likelihood: f64,
}

/// Change of the level between two sessions, given all sessions.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LevelChange {
    /// Later minus earlier, cm.
    pub change_cm: f64,
    /// Its SD, cm.
    pub sd_cm: f64,
    /// Covariance of the two levels, cm².
    pub covariance_cm2: f64,
}

impl LevelChange {
    /// Probability that the true change exceeds `threshold_cm`.
    #[must_use]
    pub fn chance_above(&self, threshold_cm: f64) -> f64 {
        normal_cdf((self.change_cm - threshold_cm) / self.sd_cm)
    }
}

/// Filters forwards and smooths backwards.
///
/// Model: x(t + dt) = x(t) + N(0, drift dt) and height = x + N(0, variance); the first session is
/// predicted as N(start, start variance). Kalman 1960 and Rauch, Tung & Striebel 1965, for one
/// state. Several sessions on one day are legal.
///
/// # Errors
/// `None` without a session, if days go backwards, if a variance is not positive, if the drift is
/// negative, or if a value is not finite.
#[must_use]
pub fn smooth(observations: &[Observation], model: &LocalLevel) -> Option<Smoothed> {
    if observations.is_empty() || !is_valid(observations, model) {
        return None;
    }
    let mut steps = Vec::with_capacity(observations.len());
    let mut log_likelihood = 0.0;
    let (mut level, mut variance) = (model.start_cm, model.start_variance_cm2);
    let mut day_before = observations.first()?.day;
    for observation in observations {
        let predicted_variance =
            variance + model.drift_cm2_per_day * (observation.day - day_before);
        let spread = predicted_variance + observation.variance_cm2;
        let surprise = observation.height_cm - level;
        let gain = predicted_variance / spread;
        let filtered = level + gain * surprise;
        let filtered_variance = (1.0 - gain) * predicted_variance;
        log_likelihood -=
            0.5 * (libm::log(2.0 * core::f64::consts::PI * spread) + surprise * surprise / spread);
        steps.push(Step {
            predicted_cm: level,
            predicted_variance_cm2: predicted_variance,
            gain,
            filtered_cm: filtered,
            filtered_variance_cm2: filtered_variance,
            smoothed_cm: filtered,
            smoothed_variance_cm2: filtered_variance,
            reach_back: 1.0,
        });
        (level, variance, day_before) = (filtered, filtered_variance, observation.day);
    }
    smooth_backwards(&mut steps);
    Some(Smoothed { steps, log_likelihood })
}

fn is_valid(observations: &[Observation], model: &LocalLevel) -> bool {
    let numbers = observations.iter().all(|o| {
        o.day.is_finite()
            && o.height_cm.is_finite()
            && o.variance_cm2 > 0.0
            && o.variance_cm2.is_finite()
    });
    let in_order =
        observations.iter().zip(observations.iter().skip(1)).all(|(a, b)| a.day <= b.day);
    let drift = model.drift_cm2_per_day >= 0.0 && model.drift_cm2_per_day.is_finite();
    let start = model.start_cm.is_finite()
        && model.start_variance_cm2 > 0.0
        && model.start_variance_cm2.is_finite();
    numbers && in_order && drift && start
}

fn smooth_backwards(steps: &mut [Step]) {
    let mut next: Option<Step> = None;
    for step in steps.iter_mut().rev() {
        if let Some(next) = next {
            let reach_back = step.filtered_variance_cm2 / next.predicted_variance_cm2;
            step.reach_back = reach_back;
            step.smoothed_cm += reach_back * (next.smoothed_cm - next.predicted_cm);
            step.smoothed_variance_cm2 += reach_back
                * reach_back
                * (next.smoothed_variance_cm2 - next.predicted_variance_cm2);
        }
        next = Some(*step);
    }
}

impl Smoothed {
    /// Change of the level from session `earlier` to session `later` (zero-based).
    ///
    /// Cov(x_i, x_j | all) is the product of the shares reaching back from j to i, times the
    /// smoothed variance at j.
    ///
    /// # Errors
    /// `None` unless `earlier` < `later` and both exist.
    #[must_use]
    pub fn change(&self, earlier: usize, later: usize) -> Option<LevelChange> {
        let between = self.steps.get(earlier..=later).filter(|_| earlier < later)?;
        let (first, last) = (between.first()?, between.last()?);
        let reach_back: f64 =
            between.iter().take(later - earlier).map(|step| step.reach_back).product();
        let covariance_cm2 = reach_back * last.smoothed_variance_cm2;
        let variance =
            last.smoothed_variance_cm2 + first.smoothed_variance_cm2 - 2.0 * covariance_cm2;
        Some(LevelChange {
            change_cm: last.smoothed_cm - first.smoothed_cm,
            sd_cm: variance.max(0.0).sqrt(),
            covariance_cm2,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const MODEL: LocalLevel =
        LocalLevel { drift_cm2_per_day: 0.02, start_cm: 40.0, start_variance_cm2: 100.0 };

    fn at(day: f64, height_cm: f64) -> Observation {
        Observation { day, height_cm, variance_cm2: 2.0 }
    }

    #[test]
    fn one_session_is_pulled_a_little_to_the_start() {
        let line = smooth(&[at(0.0, 51.0)], &MODEL).unwrap();
        assert!((line.steps[0].smoothed_cm - (40.0 + 11.0 * 100.0 / 102.0)).abs() < 1e-12);
        assert_eq!(line.change(0, 0), None);
    }

    #[test]
    fn without_drift_it_is_the_weighted_mean() {
        let still = LocalLevel { drift_cm2_per_day: 0.0, start_variance_cm2: 1e9, ..MODEL };
        let observations = [
            Observation { day: 0.0, height_cm: 40.0, variance_cm2: 1.0 },
            Observation { day: 9.0, height_cm: 43.0, variance_cm2: 2.0 },
            Observation { day: 50.0, height_cm: 46.0, variance_cm2: 2.0 },
        ];
        let line = smooth(&observations, &still).unwrap();
        for step in &line.steps {
            assert!((step.smoothed_cm - 42.25).abs() < 1e-6);
            assert!((step.smoothed_variance_cm2 - 0.5).abs() < 1e-6);
        }
        assert!(line.change(0, 2).unwrap().change_cm.abs() < 1e-6);
    }

    #[test]
    fn changes_add_up() {
        let line = smooth(&[at(0.0, 40.0), at(9.0, 43.0), at(30.0, 42.0)], &MODEL).unwrap();
        let part = |i, j| line.change(i, j).unwrap().change_cm;
        assert!((part(0, 1) + part(1, 2) - part(0, 2)).abs() < 1e-12);
        assert!((line.change(0, 2).unwrap().chance_above(part(0, 2)) - 0.5).abs() < 1e-12);
    }

    #[test]
    fn more_time_or_less_noise_lets_the_line_move_further() {
        let change = |days, variance_cm2| {
            let second = Observation { day: days, height_cm: 44.0, variance_cm2 };
            smooth(&[at(0.0, 40.0), second], &MODEL).unwrap().change(0, 1).unwrap().change_cm
        };
        assert!(change(60.0, 2.0) > change(7.0, 2.0));
        assert!(change(7.0, 0.5) > change(7.0, 2.0));
    }

    #[test]
    fn what_cannot_be_smoothed_gives_nothing() {
        assert_eq!(smooth(&[], &MODEL), None);
        assert_eq!(smooth(&[at(1.0, 40.0), at(0.0, 40.0)], &MODEL), None);
        assert_eq!(smooth(&[at(f64::NAN, 40.0)], &MODEL), None);
        assert_eq!(smooth(&[at(0.0, f64::INFINITY)], &MODEL), None);
        let exact = Observation { variance_cm2: 0.0, ..at(0.0, 40.0) };
        assert_eq!(smooth(&[exact], &MODEL), None);
        for model in [
            LocalLevel { drift_cm2_per_day: -0.1, ..MODEL },
            LocalLevel { start_cm: f64::NAN, ..MODEL },
            LocalLevel { start_variance_cm2: 0.0, ..MODEL },
        ] {
            assert_eq!(smooth(&[at(0.0, 40.0)], &model), None);
        }
        let line = smooth(&[at(0.0, 40.0), at(9.0, 43.0)], &MODEL).unwrap();
        assert_eq!((line.change(1, 0), line.change(0, 2)), (None, None));
    }
}
