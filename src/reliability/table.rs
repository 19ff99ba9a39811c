//! Reliability of a test from a table of people by trials.

use crate::statistics::{chi_square_quantile, f_quantile, mean, sample_sd};

/// Share of the spread between people that counts as the smallest change worth naming
/// (0.2 SD, the convention of Hopkins 2000, Sports Med 30:1).
const WORTHWHILE_SHARE: f64 = 0.2;

/// Both ends of an interval.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Interval {
    /// Lower end.
    pub low: f64,
    /// Upper end.
    pub high: f64,
}

/// Two-way analysis of variance of people by trials: each person has one row, each trial (or day)
/// one column.
#[derive(Clone, Debug, PartialEq)]
pub struct TwoWayTable {
    /// Rows.
    pub people: usize,
    /// Columns.
    pub trials: usize,
    /// Mean of all values.
    pub mean: f64,
    /// Mean of each column, which shows a learning effect.
    pub trial_means: Vec<f64>,
    /// Mean square between people.
    pub ms_people: f64,
    /// Mean square between trials.
    pub ms_trials: f64,
    /// Mean square of what is left over.
    pub ms_error: f64,
    /// SD between people in the first trial alone, noise included.
    pub sd_first_trial: f64,
    /// Mean square of the rest of the logarithms, when every value is positive.
    ms_error_of_logs: Option<f64>,
}

struct MeanSquares {
    mean: f64,
    trial_means: Vec<f64>,
    people: f64,
    trials: f64,
    error: f64,
}

fn mean_squares(rows: &[Vec<f64>], trials: usize) -> Option<MeanSquares> {
    let people = rows.len();
    let row_means = rows.iter().map(|row| mean(row)).collect::<Option<Vec<_>>>()?;
    let column = |k: usize| rows.iter().map(|row| row.get(k).copied()).collect::<Option<Vec<_>>>();
    let trial_means = (0..trials).map(|k| mean(&column(k)?)).collect::<Option<Vec<_>>>()?;
    let grand = mean(&row_means)?;
    let squares = |means: &[f64]| means.iter().map(|m| (m - grand) * (m - grand)).sum::<f64>();
    let mut rest = 0.0;
    for (row, row_mean) in rows.iter().zip(&row_means) {
        for (value, trial_mean) in row.iter().zip(&trial_means) {
            let residual = value - row_mean - trial_mean + grand;
            rest += residual * residual;
        }
    }
    let (n, k) = (people as f64, trials as f64);
    Some(MeanSquares {
        mean: grand,
        people: k * squares(&row_means) / (n - 1.0),
        trials: n * squares(&trial_means) / (k - 1.0),
        error: rest / ((n - 1.0) * (k - 1.0)),
        trial_means,
    })
}

impl TwoWayTable {
    /// Analyses a table with one row per person.
    ///
    /// # Errors
    /// `None` unless there are at least two rows of the same length of at least two, all finite.
    ///
    /// ```
    /// use two_marks::reliability::TwoWayTable;
    /// let table = TwoWayTable::new(&[[38.0, 39.5], [45.0, 44.0], [31.5, 33.0]]).unwrap();
    /// assert!((table.typical_error() - 1.020_621).abs() < 1e-6);
    /// ```
    #[must_use]
    pub fn new<R: AsRef<[f64]>>(rows: &[R]) -> Option<Self> {
        let rows: Vec<Vec<f64>> = rows.iter().map(|row| row.as_ref().to_vec()).collect();
        let trials = rows.first()?.len();
        if rows.len() < 2 || trials < 2 || rows.iter().any(|row| row.len() != trials) {
            return None;
        }
        let plain = mean_squares(&rows, trials)?;
        let logs: Vec<Vec<f64>> =
            rows.iter().map(|row| row.iter().map(|value| libm::log(*value)).collect()).collect();
        let first: Vec<f64> = rows.iter().filter_map(|row| row.first().copied()).collect();
        Some(Self {
            people: rows.len(),
            trials,
            mean: plain.mean,
            trial_means: plain.trial_means,
            ms_people: plain.people,
            ms_trials: plain.trials,
            ms_error: plain.error,
            sd_first_trial: sample_sd(&first)?,
            ms_error_of_logs: mean_squares(&logs, trials).map(|squares| squares.error),
        })
    }

    fn df_people(&self) -> f64 {
        self.people as f64 - 1.0
    }

    /// Degrees of freedom of the typical error, (n - 1)(k - 1).
    #[must_use]
    pub fn degrees_of_freedom(&self) -> f64 {
        self.df_people() * (self.trials as f64 - 1.0)
    }

    /// Typical error: the within-person SD of one score, sqrt of the mean square left over
    /// (Hopkins 2000). For two trials it is the SD of the differences over sqrt(2).
    #[must_use]
    pub fn typical_error(&self) -> f64 {
        self.ms_error.sqrt()
    }

    /// Interval of the typical error at `level`, equal tails of chi-square.
    ///
    /// # Errors
    /// `None` unless 0 < level < 1.
    #[must_use]
    pub fn typical_error_interval(&self, level: f64) -> Option<Interval> {
        let df = self.degrees_of_freedom();
        let tail = (1.0 - level) / 2.0;
        let end = |p: f64| Some(self.typical_error() * (df / chi_square_quantile(p, df)?).sqrt());
        Some(Interval { low: end(1.0 - tail)?, high: end(tail)? })
    }

    /// Typical error in percent of the mean; `None` unless the mean is positive.
    #[must_use]
    pub fn cv_percent(&self) -> Option<f64> {
        (self.mean > 0.0).then(|| 100.0 * self.typical_error() / self.mean)
    }

    /// Typical error in percent by way of logarithms, better when noise grows with height; `None`
    /// unless every value is positive.
    #[must_use]
    pub fn cv_percent_by_logs(&self) -> Option<f64> {
        self.ms_error_of_logs.map(|square| 100.0 * libm::expm1(square.sqrt()))
    }

    /// ICC(3,1): agreement of one score, same trials for all (Shrout & Fleiss 1979, Psychol Bull
    /// 86:420). `None` if all values are equal.
    #[must_use]
    pub fn icc_3_1(&self) -> Option<f64> {
        let k = self.trials as f64;
        ratio(self.ms_people - self.ms_error, self.ms_people + (k - 1.0) * self.ms_error)
    }

    /// ICC(2,1): as ICC(3,1), with differences between trials counted as disagreement.
    #[must_use]
    pub fn icc_2_1(&self) -> Option<f64> {
        let (n, k) = (self.people as f64, self.trials as f64);
        let between_trials = k * (self.ms_trials - self.ms_error) / n;
        ratio(
            self.ms_people - self.ms_error,
            self.ms_people + (k - 1.0) * self.ms_error + between_trials,
        )
    }

    /// ICC(3,k): agreement of the mean of all trials.
    #[must_use]
    pub fn icc_3_k(&self) -> Option<f64> {
        ratio(self.ms_people - self.ms_error, self.ms_people)
    }

    /// Interval of ICC(3,1) at `level` by the F distribution (Shrout & Fleiss 1979).
    ///
    /// # Errors
    /// `None` unless 0 < level < 1 and some error is left over.
    #[must_use]
    pub fn icc_3_1_interval(&self, level: f64) -> Option<Interval> {
        let (above, below) = (self.df_people(), self.degrees_of_freedom());
        let p = 1.0 - (1.0 - level) / 2.0;
        let observed = ratio(self.ms_people, self.ms_error)?;
        let k = self.trials as f64;
        let icc = |f: f64| (f - 1.0) / (f + k - 1.0);
        Some(Interval {
            low: icc(observed / f_quantile(p, above, below)?),
            high: icc(observed * f_quantile(p, below, above)?),
        })
    }

    /// Smallest difference of two single scores beyond noise, 1.96 sqrt(2) typical errors.
    #[must_use]
    pub fn mdc95(&self) -> f64 {
        1.96 * 2.0_f64.sqrt() * self.typical_error()
    }

    /// SD between people with the noise taken out; zero where noise explains it all.
    #[must_use]
    pub fn sd_between_people(&self) -> f64 {
        ((self.ms_people - self.ms_error) / self.trials as f64).max(0.0).sqrt()
    }

    /// Smallest worthwhile change, 0.2 of the SD between people.
    #[must_use]
    pub fn smallest_worthwhile_change(&self) -> f64 {
        WORTHWHILE_SHARE * self.sd_between_people()
    }

    /// The other standard error of measurement, SD sqrt(1 - ICC), from the first trial's SD. Shown
    /// beside the typical error only, never mixed with it.
    #[must_use]
    pub fn sem_from_icc(&self) -> Option<f64> {
        self.icc_3_1().map(|icc| self.sd_first_trial * (1.0 - icc).max(0.0).sqrt())
    }
}

fn ratio(above: f64, below: f64) -> Option<f64> {
    (below > 0.0).then(|| above / below)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_trials_are_the_differences_over_root_two() {
        // Hopkins 2000: TE = SD(differences)/sqrt 2.
        let rows = [[38.0, 39.5], [45.0, 44.0], [31.5, 33.0], [52.0, 51.0]];
        let differences: Vec<f64> = rows.iter().map(|[a, b]| b - a).collect();
        let table = TwoWayTable::new(&rows).unwrap();
        let want = sample_sd(&differences).unwrap() / 2.0_f64.sqrt();
        assert!((table.typical_error() - want).abs() < 1e-12);
    }

    #[test]
    fn the_published_example_of_six_targets_and_four_judges() {
        // Shrout & Fleiss 1979, table 2 and 4: ICC(2,1) .29, ICC(3,1) .71, ICC(3,4) .91.
        let rows = [
            [9., 2., 5., 8.],
            [6., 1., 3., 2.],
            [8., 4., 6., 8.],
            [7., 1., 2., 6.],
            [10., 5., 6., 9.],
            [6., 2., 4., 7.],
        ];
        let table = TwoWayTable::new(&rows).unwrap();
        assert!((table.icc_2_1().unwrap() - 0.29).abs() < 0.005);
        assert!((table.icc_3_1().unwrap() - 0.71).abs() < 0.0051);
        assert!((table.icc_3_k().unwrap() - 0.91).abs() < 0.005);
        // By their formula, with F = 11.03 and the tables of F at 0.975: 3.576 for 5 and 15 degrees of
        // freedom, 6.428 for 15 and 5.
        let (low, high) = (11.03 / 3.576, 11.03 * 6.428);
        let interval = table.icc_3_1_interval(0.95).unwrap();
        assert!((interval.low - (low - 1.0) / (low + 3.0)).abs() < 0.001, "{interval:?}");
        assert!((interval.high - (high - 1.0) / (high + 3.0)).abs() < 0.001, "{interval:?}");
    }

    #[test]
    fn a_shift_of_one_trial_hurts_agreement_but_not_consistency() {
        let rows = [[30.0, 31.0], [35.0, 34.0], [42.0, 43.0], [50.0, 49.0]];
        let shifted = rows.map(|[a, b]| [a, b + 4.0]);
        let (plain, moved) =
            (TwoWayTable::new(&rows).unwrap(), TwoWayTable::new(&shifted).unwrap());
        assert!((plain.icc_3_1().unwrap() - moved.icc_3_1().unwrap()).abs() < 1e-12);
        assert!((plain.typical_error() - moved.typical_error()).abs() < 1e-12);
        assert!(moved.icc_2_1().unwrap() < plain.icc_2_1().unwrap());
    }

    #[test]
    fn tables_that_say_nothing_give_nothing() {
        assert_eq!(TwoWayTable::new::<Vec<f64>>(&[]), None);
        assert_eq!(TwoWayTable::new(&[[1.0, 2.0]]), None);
        assert_eq!(TwoWayTable::new(&[[1.0], [2.0]]), None);
        assert_eq!(TwoWayTable::new(&[vec![1.0, 2.0], vec![1.0]]), None);
        assert_eq!(TwoWayTable::new(&[[1.0, 2.0], [f64::NAN, 1.0]]), None);
    }

    #[test]
    fn equal_values_have_no_correlation_and_no_error() {
        let table = TwoWayTable::new(&[[5.0, 5.0], [5.0, 5.0]]).unwrap();
        assert_eq!((table.icc_3_1(), table.icc_3_1_interval(0.95)), (None, None));
        assert!(table.typical_error().abs() < 1e-15);
        assert!(table.smallest_worthwhile_change().abs() < 1e-15);
    }

    #[test]
    fn the_two_standard_errors_differ_by_the_spread_used() {
        // Nearly no error: ICC(3,1) is within 0.001 of one.
        let table = TwoWayTable::new(&[[20.0, 20.2], [35.0, 35.0], [50.0, 50.0]]).unwrap();
        let icc = table.icc_3_1().unwrap();
        assert!(icc > 0.999);
        let want = 15.0 * (1.0 - icc).sqrt();
        assert!((table.sem_from_icc().unwrap() - want).abs() < 1e-12);
    }

    #[test]
    fn logs_want_positive_values() {
        let table = TwoWayTable::new(&[[0.0, 1.0], [2.0, 3.0]]).unwrap();
        assert_eq!(table.cv_percent_by_logs(), None);
        assert!(table.cv_percent().is_some());
        let below = TwoWayTable::new(&[[-5.0, 1.0], [2.0, -3.0]]).unwrap();
        assert_eq!(below.cv_percent(), None);
        // A mean of nought is not positive.
        let nought = TwoWayTable::new(&[[-1.0, 1.0], [2.0, -2.0]]).unwrap();
        assert_eq!(nought.cv_percent(), None);
    }
}
