//! The season model reckoned a second time, with nothing of the product but its constants: all levels and
//! heights as one joint normal distribution, by the covariance of every two of them. A fading trend in
//! its long-run spread has the covariance σ² exp(−|s−t|/τ) between two days; what it carries by s and
//! by t is that covariance integrated twice.

use two_marks::statistics::normal_cdf;
use two_marks::trend::model::{
    DAY_FACTOR_WEIGHTS, DAY_FACTORS, DRIFT_CM2_PER_DAY, LEARNING_MEAN_CM, LEARNING_RATIO,
    LEARNING_SD_CM, LEARNING_TESTS, START_VARIANCE_CM2, SeasonTest, TREND_DAYS,
    TREND_SD_CM_PER_DAY, WORTH_NAMING_CM,
};

const DAYS_PER_YEAR: f64 = 365.25;

/// The change between two tests.
pub struct Said {
    pub own: (f64, f64),
    pub total: (f64, f64),
    pub p_own_higher: f64,
    pub p_total_higher: f64,
    pub p_lower: f64,
}

/// Posterior of (own levels, learning L, growth deviation g), for each day factor.
pub struct Joint {
    tests: Vec<SeasonTest>,
    years: Vec<f64>,
    cells: Vec<(Vec<f64>, Vec<Vec<f64>>)>,
    pub weights: Vec<f64>,
}

fn lacking(test: &SeasonTest) -> f64 {
    if test.earlier < LEARNING_TESTS {
        libm::pow(LEARNING_RATIO, f64::from(test.earlier))
    } else {
        0.0
    }
}

/// Covariance of the own levels so many days after the first test.
fn shared(s: f64, t: f64) -> f64 {
    let tau = TREND_DAYS;
    let carried = 2.0 * s.min(t) / tau + libm::exp(-s / tau) + libm::exp(-t / tau)
        - 1.0
        - libm::exp(-(s - t).abs() / tau);
    START_VARIANCE_CM2
        + (TREND_SD_CM_PER_DAY * tau).powi(2) * carried
        + DRIFT_CM2_PER_DAY * s.min(t)
}

/// Lower triangle whose square is the matrix (Cholesky).
fn root(matrix: &[Vec<f64>]) -> Vec<Vec<f64>> {
    let n = matrix.len();
    let mut lower = vec![vec![0.0; n]; n];
    for i in 0..n {
        for j in 0..=i {
            let rest: f64 = matrix[i][j] - (0..j).map(|k| lower[i][k] * lower[j][k]).sum::<f64>();
            lower[i][j] = if i == j { rest.sqrt() } else { rest / lower[j][j] };
        }
    }
    lower
}

/// Solves lower · x = right.
fn solved(lower: &[Vec<f64>], right: &[f64]) -> Vec<f64> {
    let mut x: Vec<f64> = Vec::new();
    for (row, right) in lower.iter().zip(right) {
        let known: f64 = row.iter().zip(&x).map(|(a, b)| a * b).sum();
        x.push((right - known) / row[x.len()]);
    }
    x
}

fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

impl Joint {
    pub fn new(tests: &[SeasonTest], growth_sd: f64) -> Self {
        let n = tests.len();
        let years: Vec<f64> =
            tests.iter().map(|test| (test.day - tests[0].day) / DAYS_PER_YEAR).collect();
        let z: Vec<f64> = tests.iter().map(|test| test.height_cm - test.growth_cm).collect();
        // Before: levels, learning, growth.
        let mut mean = vec![z[0] + LEARNING_MEAN_CM * lacking(&tests[0]); n];
        mean.extend([LEARNING_MEAN_CM, 0.0]);
        let mut before = vec![vec![0.0; n + 2]; n + 2];
        for i in 0..n {
            for j in 0..n {
                before[i][j] = shared(tests[i].day - tests[0].day, tests[j].day - tests[0].day);
            }
        }
        before[n][n] = LEARNING_SD_CM.powi(2);
        before[n + 1][n + 1] = growth_sd.powi(2);
        // What each test sees of them.
        let seen: Vec<Vec<f64>> = (0..n)
            .map(|k| {
                let mut row = vec![0.0; n + 2];
                row[k] = 1.0;
                row[n] = -lacking(&tests[k]);
                row[n + 1] = years[k];
                row
            })
            .collect();
        let with: Vec<Vec<f64>> =
            seen.iter().map(|row| before.iter().map(|other| dot(other, row)).collect()).collect();
        let surprise: Vec<f64> = (0..n).map(|k| z[k] - dot(&seen[k], &mean)).collect();
        let (mut cells, mut chances) = (Vec::new(), Vec::new());
        for factor in DAY_FACTORS {
            let heights: Vec<Vec<f64>> = (0..n)
                .map(|i| {
                    let mut row: Vec<f64> = (0..n).map(|j| dot(&with[i], &seen[j])).collect();
                    row[i] += tests[i].rest_variance_cm2 + (factor * tests[i].day_sd_cm).powi(2);
                    row
                })
                .collect();
            let lower = root(&heights);
            let right = solved(&lower, &surprise);
            let determinant: f64 = lower.iter().enumerate().map(|(k, row)| libm::log(row[k])).sum();
            chances.push(-determinant - 0.5 * dot(&right, &right));
            let halves: Vec<Vec<f64>> = (0..n + 2)
                .map(|i| solved(&lower, &with.iter().map(|row| row[i]).collect::<Vec<_>>()))
                .collect();
            let after: Vec<f64> = (0..n + 2).map(|i| mean[i] + dot(&halves[i], &right)).collect();
            let spread: Vec<Vec<f64>> = (0..n + 2)
                .map(|i| (0..n + 2).map(|j| before[i][j] - dot(&halves[i], &halves[j])).collect())
                .collect();
            cells.push((after, spread));
        }
        let best = chances.iter().copied().fold(f64::MIN, f64::max);
        let raw: Vec<f64> =
            chances.iter().zip(DAY_FACTOR_WEIGHTS).map(|(l, w)| w * libm::exp(l - best)).collect();
        let sum: f64 = raw.iter().sum();
        let weights = raw.iter().map(|weight| weight / sum).collect();
        Self { tests: tests.to_vec(), years, cells, weights }
    }

    /// Mean and SD in one cell of a sum of the numbers.
    fn of(cell: &(Vec<f64>, Vec<Vec<f64>>), parts: &[f64]) -> (f64, f64) {
        let across: Vec<f64> = cell.1.iter().map(|row| dot(row, parts)).collect();
        (dot(&cell.0, parts), dot(&across, parts).max(0.0).sqrt())
    }

    fn mixed(&self, parts: &[f64]) -> (f64, f64) {
        let each: Vec<(f64, f64)> = self.cells.iter().map(|cell| Self::of(cell, parts)).collect();
        let mean: f64 =
            each.iter().zip(&self.weights).map(|((mean, _), weight)| weight * mean).sum();
        let variance: f64 = each
            .iter()
            .zip(&self.weights)
            .map(|((m, sd), weight)| weight * (sd * sd + (m - mean) * (m - mean)))
            .sum();
        (mean, variance.sqrt())
    }

    fn parts(&self) -> Vec<f64> {
        vec![0.0; self.tests.len() + 2]
    }

    /// The level with growth at one test.
    pub fn level(&self, place: usize) -> (f64, f64) {
        let mut parts = self.parts();
        parts[place] = 1.0;
        *parts.last_mut().unwrap() = self.years[place];
        let (mean, sd) = self.mixed(&parts);
        (mean + self.tests[place].growth_cm, sd)
    }

    pub fn learning(&self, place: usize) -> f64 {
        let mut parts = self.parts();
        parts[self.tests.len()] = lacking(&self.tests[place]);
        self.mixed(&parts).0
    }

    pub fn growth(&self, place: usize) -> f64 {
        let mut parts = self.parts();
        *parts.last_mut().unwrap() = self.years[place];
        self.mixed(&parts).0 + self.tests[place].growth_cm
    }

    /// The change between two tests.
    pub fn change(&self, earlier: usize, later: usize) -> Said {
        let mut own = self.parts();
        own[later] = 1.0;
        own[earlier] = -1.0;
        let mut total = own.clone();
        *total.last_mut().unwrap() = self.years[later] - self.years[earlier];
        let grown = self.tests[later].growth_cm - self.tests[earlier].growth_cm;
        let above = |parts: &[f64], from: f64| -> f64 {
            let chance = |cell| {
                let (mean, sd) = Self::of(cell, parts);
                normal_cdf((mean - from) / sd)
            };
            self.cells.iter().zip(&self.weights).map(|(cell, weight)| weight * chance(cell)).sum()
        };
        let (mean, sd) = self.mixed(&total);
        Said {
            own: self.mixed(&own),
            total: (mean + grown, sd),
            p_own_higher: above(&own, WORTH_NAMING_CM),
            p_total_higher: above(&total, WORTH_NAMING_CM - grown),
            p_lower: 1.0 - above(&total, -WORTH_NAMING_CM - grown),
        }
    }
}
