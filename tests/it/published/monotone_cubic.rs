//! A second way to read a percentile table: monotone cubic (PCHIP, Fritsch and Carlson 1980) of the
//! normal score against the score. The product interpolates in straight lines; on the wall tables
//! both agree within half a point. The formula lives here alone, since no page uses it.

use super::*;
use statrs::distribution::{ContinuousCDF, Normal};
use two_marks::norms::tables::*;
use two_marks::quantity::Sex::*;

struct Pchip {
    x: Vec<f64>,
    z: Vec<f64>,
    slope: Vec<f64>,
}

fn normal() -> Normal {
    Normal::new(0.0, 1.0).unwrap()
}

impl Pchip {
    fn new(x: Vec<f64>, percents: &[f64]) -> Self {
        let z: Vec<f64> = percents.iter().map(|p| normal().inverse_cdf(p / 100.0)).collect();
        let h: Vec<f64> = x.windows(2).map(|pair| pair[1] - pair[0]).collect();
        let s: Vec<f64> = z.windows(2).zip(&h).map(|(pair, h)| (pair[1] - pair[0]) / h).collect();
        let n = x.len();
        let mut slope = vec![0.0; n];
        for k in 1..n - 1 {
            if s[k - 1] * s[k] > 0.0 {
                let (w1, w2) = (2.0 * h[k] + h[k - 1], h[k] + 2.0 * h[k - 1]);
                slope[k] = (w1 + w2) / (w1 / s[k - 1] + w2 / s[k]);
            }
        }
        slope[0] = end_slope(h[0], h[1], s[0], s[1]);
        slope[n - 1] = end_slope(h[n - 2], h[n - 3], s[n - 2], s[n - 3]);
        Self { x, z, slope }
    }

    fn percent(&self, y: f64) -> f64 {
        let k = self.x.iter().rposition(|x| *x <= y).unwrap_or(0).min(self.x.len() - 2);
        let h = self.x[k + 1] - self.x[k];
        let t = (y - self.x[k]) / h;
        let z = self.z[k] * (2.0 * t.powi(3) - 3.0 * t * t + 1.0)
            + self.slope[k] * h * (t.powi(3) - 2.0 * t * t + t)
            + self.z[k + 1] * (3.0 * t * t - 2.0 * t.powi(3))
            + self.slope[k + 1] * h * (t.powi(3) - t * t);
        100.0 * normal().cdf(z)
    }
}

fn end_slope(h0: f64, h1: f64, s0: f64, s1: f64) -> f64 {
    let slope = ((2.0 * h0 + h1) * s0 - h0 * s1) / (h0 + h1);
    if slope * s0 <= 0.0 {
        0.0
    } else if s0 * s1 <= 0.0 && slope.abs() > 3.0 * s0.abs() {
        3.0 * s0
    } else {
        slope
    }
}

#[test]
fn the_cross_check_itself_gives_the_reference_slopes_and_places() {
    // Reference vectors `pchip_slopes` and `percentile_pchip`, made with scipy 1.17.1.
    let pchip = Pchip::new(
        vec![22.0, 25.0, 28.5, 33.0, 37.5, 42.0, 47.0],
        &[3.0, 10.0, 25.0, 50.0, 75.0, 90.0, 97.0],
    );
    let slopes = [
        0.211_886_323_495,
        0.186_006_120_65,
        0.161_297_793_361,
        0.149_886_611_155,
        0.142_000_432_461,
        0.127_062_441_281,
        0.111_925_136_357,
    ];
    for (here, there) in pchip.slope.iter().zip(slopes) {
        assert!((here - there).abs() < 1e-8, "{here} {there}");
    }
    for (y, percent) in [(35.0, 61.930_943_978_2), (26.0, 13.583_650_482_1), (33.0, 50.0)] {
        assert!((pchip.percent(y) - percent).abs() < 1e-7, "{y}");
    }
}

/// The worst distance, in points, between the product and the cross-check over a cell, every 1 mm.
fn worst(key: TrendKey, source: &'static Source, cell: &'static Cell) -> f64 {
    let Norm::Percentiles { percents, scores } = cell.norm else { panic!("percentiles") };
    let x: Vec<f64> = scores.iter().map(|score| score.as_cm()).collect();
    let p: Vec<f64> = percents.iter().map(|percent| f64::from(*percent)).collect();
    let (first, last) = (scores[0], scores[scores.len() - 1]);
    let pchip = Pchip::new(x, &p);
    let mut worst: f64 = 0.0;
    let mut length = first;
    while length <= last {
        let best = Estimate { height: length, standard_error: Length::ZERO };
        let score = Score { best, mean: None };
        let all = standings(key, cell.sex, aged(cell.ages.from), &score);
        let here = all.iter().find(|standing| standing.source == source).unwrap();
        let Percentile::At(percent) = percentiles(here.position).point else {
            panic!("inside the table")
        };
        worst = worst.max((percent - pchip.percent(length.as_cm())).abs());
        length = length + Length::from_mm(1);
    }
    worst
}

#[test]
fn straight_lines_and_monotone_cubics_agree_within_half_a_point() {
    let hoffman = worst(TrendKey::USUAL, &USA_HOFFMAN_2006, cell(&USA_HOFFMAN_2006, Male, 13));
    assert!(hoffman < 0.5, "{hoffman}");
    let texas = worst(TrendKey::USUAL, &USA_TEXAS_M2029, cell(&USA_TEXAS_M2029, Male, 25));
    assert!(texas < 0.5, "{texas}");
}

#[test]
fn on_the_steps_of_the_korean_timer_they_part_by_three_quarters_of_a_point() {
    // Flight times sit on steps of about 12.4 ms, so that neighbouring slopes jump and a smooth curve
    // and straight lines part a little. 25 of 30 groups stay within half a point; these five do not.
    let apart = [(Female, 13), (Female, 15), (Female, 17), (Female, 25), (Female, 35)];
    for cell in KOR_NFA_2024_2026.cells {
        let korea = worst(FLIGHT, &KOR_NFA_2024_2026, cell);
        let known = apart.contains(&(cell.sex, cell.ages.from));
        assert_eq!(korea > 0.5, known, "{:?} {:?}: {korea}", cell.sex, cell.ages);
        assert!(korea < 0.75, "{:?} {:?}: {korea}", cell.sex, cell.ages);
    }
}
