//! A straight line through noisy dates that one wild value cannot tilt.

use super::normal::normal_quantile;
use super::sample::{median, to_index};

/// Theil-Sen line with Sen's interval.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TheilSen {
    /// Pairs of points with different x.
    pub pairs: usize,
    /// Median of the pairwise slopes, in units of y per unit of x.
    pub slope: f64,
    /// Lower end of the interval of the slope.
    pub slope_low: f64,
    /// Upper end of the interval of the slope.
    pub slope_high: f64,
    /// median(y) - slope * median(x): the line through the two medians.
    pub intercept_of_medians: f64,
    /// median(y - slope * x): the line with as many points above as below.
    pub intercept_of_residuals: f64,
    /// Standard deviation of Kendall's S under no trend, corrected for ties.
    pub sigma_s: f64,
    /// Zero-based rank of `slope_low` among the ordered slopes.
    pub rank_low: usize,
    /// Zero-based rank of `slope_high` among the ordered slopes.
    pub rank_high: usize,
}

/// Theil-Sen slope of `points` (x, y), with an interval at `level`, for example 0.95.
///
/// Median of the slopes over all pairs with different x. Sen 1968 (J Am Stat Assoc 63:1379): with
/// z the normal quantile of (1 - level)/2 and sigma the SD of Kendall's S corrected for ties in x
/// and in y, the interval runs between the ordered slopes of rank (N + z sigma)/2 - 1 and
/// (N - z sigma)/2, rounded half to even and held inside the list. Takes time and memory
/// proportional to the square of the number of points.
///
/// # Errors
/// `None` if a value is not finite, if no two points differ in x, or unless 0 < level < 1.
///
/// ```
/// let line = two_marks::statistics::theil_sen(
///     &[(0.0, 30.0), (10.0, 31.0), (20.0, 30.5), (30.0, 50.0), (40.0, 32.0)],
///     0.95,
/// ).unwrap();
/// assert_eq!(line.slope, 0.0625);
/// ```
#[must_use]
pub fn theil_sen(points: &[(f64, f64)], level: f64) -> Option<TheilSen> {
    let finite = points.iter().all(|(x, y)| x.is_finite() && y.is_finite());
    if !(finite && level > 0.0 && level < 1.0) {
        return None;
    }
    let z = normal_quantile((1.0 - level) / 2.0)?;
    let mut slopes = pairwise_slopes(points);
    let slope = middle(&mut slopes)?;
    let sigma_s = sigma_of_kendall_s(points);
    let pairs = slopes.len();
    let last = pairs.checked_sub(1)?;
    let rank = |offset: f64| ((pairs as f64 + offset) / 2.0).round_ties_even();
    let rank_low = to_index((rank(z * sigma_s) - 1.0).max(0.0))?.min(last);
    let rank_high = to_index(rank(-z * sigma_s))?.min(last);
    let xs: Vec<f64> = points.iter().map(|(x, _)| *x).collect();
    let ys: Vec<f64> = points.iter().map(|(_, y)| *y).collect();
    let residuals: Vec<f64> = points.iter().map(|(x, y)| y - slope * x).collect();
    Some(TheilSen {
        pairs,
        slope,
        slope_low: at_rank(&mut slopes, rank_low)?,
        slope_high: at_rank(&mut slopes, rank_high)?,
        intercept_of_medians: median(&ys)? - slope * median(&xs)?,
        intercept_of_residuals: median(&residuals)?,
        sigma_s,
        rank_low,
        rank_high,
    })
}

fn pairwise_slopes(points: &[(f64, f64)]) -> Vec<f64> {
    let mut slopes = Vec::with_capacity(points.len() * points.len() / 2);
    for (index, (x1, y1)) in points.iter().enumerate() {
        for (x2, y2) in points.iter().skip(index + 1) {
            let run = x2 - x1;
            // Same date: no slope. A run too short to divide by is the same case.
            if run.abs() >= f64::MIN_POSITIVE {
                slopes.push((y2 - y1) / run);
            }
        }
    }
    slopes
}

/// The value at a rank, from 0. Few ranks of many slopes are asked for, so the rest stays unsorted:
/// a season of 300 tests has 44,850 slopes.
fn at_rank(values: &mut [f64], rank: usize) -> Option<f64> {
    (rank < values.len()).then(|| *values.select_nth_unstable_by(rank, f64::total_cmp).1)
}

/// The median, as [`median`] gives it.
fn middle(values: &mut [f64]) -> Option<f64> {
    let last = values.len().checked_sub(1)?;
    let low = at_rank(values, last / 2)?;
    let high = at_rank(values, last.div_ceil(2))?;
    Some(low + (high - low) * 0.5)
}

fn sigma_of_kendall_s(points: &[(f64, f64)]) -> f64 {
    let term = |count: usize| {
        let k = count as f64;
        k * (k - 1.0) * (2.0 * k + 5.0)
    };
    let ties = |values: &mut Vec<f64>| {
        values.sort_by(f64::total_cmp);
        // Subtraction, because -0 and 0 are one value.
        values.chunk_by(|a, b| b - a < f64::MIN_POSITIVE).map(|run| term(run.len())).sum::<f64>()
    };
    let in_x = ties(&mut points.iter().map(|(x, _)| *x).collect());
    let in_y = ties(&mut points.iter().map(|(_, y)| *y).collect());
    ((term(points.len()) - in_x - in_y).max(0.0) / 18.0).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_straight_line_is_found_exactly() {
        let points: Vec<(f64, f64)> =
            (0..8).map(|x| (f64::from(x), 3.0 - 0.5 * f64::from(x))).collect();
        let line = theil_sen(&points, 0.95).unwrap();
        assert_eq!((line.slope, line.slope_low, line.slope_high), (-0.5, -0.5, -0.5));
        assert_eq!((line.intercept_of_medians, line.intercept_of_residuals), (3.0, 3.0));
        assert_eq!(line.pairs, 28);
    }

    #[test]
    fn order_of_the_points_does_not_matter() {
        let points = [(0.0, 40.0), (7.0, 41.5), (13.0, 40.5), (21.0, 42.0), (21.0, 43.0)];
        let mut reversed = points;
        reversed.reverse();
        assert_eq!(theil_sen(&points, 0.9), theil_sen(&reversed, 0.9));
    }

    #[test]
    fn a_higher_level_never_narrows_the_interval() {
        let points: Vec<(f64, f64)> = [31.0, 30.0, 33.0, 32.5, 35.0, 31.5, 36.0, 34.0]
            .iter()
            .enumerate()
            .map(|(day, y)| (day as f64, *y))
            .collect();
        let narrow = theil_sen(&points, 0.5).unwrap();
        let wide = theil_sen(&points, 0.99).unwrap();
        assert!(wide.slope_low < narrow.slope_low && narrow.slope_high < wide.slope_high);
    }

    #[test]
    fn what_has_no_slope_gives_nothing() {
        assert_eq!(theil_sen(&[], 0.95), None);
        assert_eq!(theil_sen(&[(1.0, 2.0)], 0.95), None);
        assert_eq!(theil_sen(&[(1.0, 2.0), (1.0, 3.0)], 0.95), None);
        assert_eq!(theil_sen(&[(1.0, 2.0), (f64::NAN, 3.0)], 0.95), None);
        for level in [0.0, 1.0, 1.005, -0.5, f64::NAN] {
            assert_eq!(theil_sen(&[(1.0, 2.0), (2.0, 3.0)], level), None, "{level}");
        }
        assert!(theil_sen(&[(1.0, 2.0), (2.0, 3.0)], 0.005).is_some());
        // Two points: one slope, both ends on it.
        let line = theil_sen(&[(1.0, 2.0), (3.0, 3.0)], 0.95).unwrap();
        assert_eq!((line.slope_low, line.slope, line.slope_high), (0.5, 0.5, 0.5));
    }
}
