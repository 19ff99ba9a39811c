//! A person's own trial spread, steadied by the typical one while own tests are few.

use crate::statistics::{chi_square_quantile, sum_of_squares};

use super::Interval;

/// A standard deviation and the degrees of freedom it rests on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PooledSd {
    /// Standard deviation, in the unit of the trials.
    pub sd: f64,
    /// Trials minus sessions.
    pub degrees_of_freedom: usize,
}

/// Trials of one person, pooled session by session.
#[derive(Clone, Copy, Debug, Default)]
pub struct WithinSessions {
    squares: f64,
    degrees_of_freedom: usize,
}

impl WithinSessions {
    /// Takes a session in. One of a single trial says nothing about spread and adds nothing.
    pub fn add(&mut self, trials: &[f64]) {
        if !trials.is_empty() {
            self.squares += sum_of_squares(trials).unwrap_or(f64::NAN);
            self.degrees_of_freedom += trials.len() - 1;
        }
    }

    /// Trial-to-trial SD over all sessions so far: sqrt(sum SS / sum (n - 1)).
    ///
    /// # Errors
    /// `None` if no session has two trials, or if a value is not finite.
    #[must_use]
    pub fn sd(&self) -> Option<PooledSd> {
        let degrees_of_freedom = self.degrees_of_freedom;
        if degrees_of_freedom == 0 || self.squares.is_nan() {
            return None;
        }
        Some(PooledSd { sd: (self.squares / degrees_of_freedom as f64).sqrt(), degrees_of_freedom })
    }
}

/// Trial-to-trial SD of one person pooled over sessions, as [`WithinSessions::sd`].
///
/// ```
/// let pooled = two_marks::reliability::pooled_within_sd(&[vec![40.0, 42.0], vec![41.0]]).unwrap();
/// assert_eq!(pooled.degrees_of_freedom, 1);
/// assert!((pooled.sd - 2.0_f64.sqrt()).abs() < 1e-12);
/// ```
#[must_use]
pub fn pooled_within_sd<S: AsRef<[f64]>>(sessions: &[S]) -> Option<PooledSd> {
    let mut all = WithinSessions::default();
    sessions.iter().for_each(|trials| all.add(trials.as_ref()));
    all.sd()
}

/// A spread after typical and own values are put together.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ShrunkSd {
    /// Degrees of freedom of both together.
    pub degrees_of_freedom: f64,
    /// The standard deviation to show.
    pub sd: f64,
    /// Share of the person's own trials in it, 0 to 1.
    pub own_weight: f64,
    /// Mean of the variance given the data; only defined above two degrees of freedom.
    pub mean_variance: Option<f64>,
}

impl ShrunkSd {
    /// Root of the mean variance: what a normal approximation should be fed to stay honest.
    #[must_use]
    pub fn plug_in_sd(&self) -> Option<f64> {
        self.mean_variance.map(f64::sqrt)
    }

    /// The SD that the true one lies below with probability `p`.
    ///
    /// # Errors
    /// `None` unless 0 < p < 1.
    #[must_use]
    pub fn quantile(&self, p: f64) -> Option<f64> {
        let chi_square = chi_square_quantile(1.0 - p, self.degrees_of_freedom)?;
        Some(self.sd * (self.degrees_of_freedom / chi_square).sqrt())
    }

    /// The interval that holds the true SD with probability `level`, equal tails.
    ///
    /// # Errors
    /// `None` unless 0 < level < 1.
    #[must_use]
    pub fn interval(&self, level: f64) -> Option<Interval> {
        let tail = (1.0 - level) / 2.0;
        Some(Interval { low: self.quantile(tail)?, high: self.quantile(1.0 - tail)? })
    }
}

/// Puts a typical SD worth `prior_degrees_of_freedom` and a person's own SD together.
///
/// The variance has a scaled inverse chi-square distribution: nu_n = nu0 + nu and
/// s_n² = (nu0 s0² + nu s²)/nu_n (Gelman et al., Bayesian Data Analysis, section 2.6). `own` is
/// `None` while there is nothing of one's own.
///
/// # Errors
/// `None` unless the typical SD is finite and not negative and its degrees of freedom are positive,
/// or if the own SD is negative or not finite.
///
/// ```
/// use two_marks::reliability::{PooledSd, shrink_sd};
/// let own = PooledSd { sd: 1.2, degrees_of_freedom: 5 };
/// let both = shrink_sd(2.0, 8.0, Some(own)).unwrap();
/// assert!((both.sd - 1.736_486).abs() < 1e-6);
/// ```
#[must_use]
pub fn shrink_sd(
    prior_sd: f64,
    prior_degrees_of_freedom: f64,
    own: Option<PooledSd>,
) -> Option<ShrunkSd> {
    let (own_sd, own_degrees) = own.map_or((0.0, 0.0), |o| (o.sd, o.degrees_of_freedom as f64));
    let valid = |sd: f64| sd >= 0.0 && sd.is_finite();
    if !(valid(prior_sd)
        && valid(own_sd)
        && prior_degrees_of_freedom > 0.0
        && prior_degrees_of_freedom.is_finite())
    {
        return None;
    }
    let degrees_of_freedom = prior_degrees_of_freedom + own_degrees;
    let squares = prior_degrees_of_freedom * prior_sd * prior_sd + own_degrees * own_sd * own_sd;
    Some(ShrunkSd {
        degrees_of_freedom,
        sd: (squares / degrees_of_freedom).sqrt(),
        own_weight: own_degrees / degrees_of_freedom,
        mean_variance: (degrees_of_freedom > 2.0).then(|| squares / (degrees_of_freedom - 2.0)),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn without_own_trials_the_typical_spread_stands() {
        let both = shrink_sd(1.6, 8.0, None).unwrap();
        assert!((both.sd - 1.6).abs() < 1e-15);
        assert!(both.own_weight.abs() < 1e-15);
    }

    #[test]
    fn many_own_trials_outweigh_it() {
        let own = PooledSd { sd: 1.0, degrees_of_freedom: 8000 };
        let both = shrink_sd(3.0, 8.0, Some(own)).unwrap();
        assert!((both.sd - 1.0).abs() < 0.01 && both.own_weight > 0.99);
    }

    #[test]
    fn the_interval_holds_the_value_and_widens_with_its_level() {
        let both = shrink_sd(2.0, 8.0, Some(PooledSd { sd: 1.2, degrees_of_freedom: 5 })).unwrap();
        let (wide, narrow) = (both.interval(0.95).unwrap(), both.interval(0.5).unwrap());
        assert!(wide.low < narrow.low && narrow.low < both.sd);
        assert!(both.sd < narrow.high && narrow.high < wide.high);
        assert_eq!(both.interval(1.0), None);
    }

    #[test]
    fn two_degrees_of_freedom_have_no_mean_variance() {
        let thin = shrink_sd(2.0, 2.0, None).unwrap();
        assert_eq!((thin.mean_variance, thin.plug_in_sd()), (None, None));
    }

    #[test]
    fn sessions_of_one_trial_and_empty_ones_add_nothing() {
        let base = pooled_within_sd(&[vec![40.0, 41.0, 42.0]]).unwrap();
        let more = pooled_within_sd(&[vec![40.0, 41.0, 42.0], vec![50.0], vec![]]).unwrap();
        assert_eq!(base, more);
        assert_eq!(base, PooledSd { sd: 1.0, degrees_of_freedom: 2 });
        assert_eq!(pooled_within_sd::<Vec<f64>>(&[]), None);
        assert_eq!(pooled_within_sd(&[[40.0]]), None);
        assert_eq!(pooled_within_sd(&[[40.0, f64::NAN]]), None);
    }

    #[test]
    fn bad_spreads_give_nothing() {
        assert_eq!(shrink_sd(-1.0, 8.0, None), None);
        assert_eq!(shrink_sd(1.0, 0.0, None), None);
        let bad = PooledSd { sd: f64::NAN, degrees_of_freedom: 3 };
        assert_eq!(shrink_sd(1.0, 8.0, Some(bad)), None);
    }
}
