//! Formulas of `vectors.json` that the product does not use, written out to check the examples and
//! to have them right on the day one is wanted.

use serde_json::{Value, json};
use two_marks::statistics::{normal_cdf, normal_quantile};

use super::Input;

const G: f64 = 9.806_65;

pub(super) fn gravity(i: &Input) -> Value {
    json!({"err_percent": 100.0 * (G / i.num("g_local") - 1.0)})
}

fn power(i: &Input, per_cm: f64, per_kg: f64, constant: f64) -> Value {
    json!({"W": per_cm * i.num("h_cm") + per_kg * i.num("m_kg") + constant})
}

pub(super) fn harman_peak(i: &Input) -> Value {
    power(i, 61.9, 36.0, -1822.0)
}

pub(super) fn harman_average(i: &Input) -> Value {
    power(i, 21.2, 23.0, -1393.0)
}

pub(super) fn canavan(i: &Input) -> Value {
    power(i, 65.1, 25.8, -1413.1)
}

pub(super) fn amonette(i: &Input) -> Value {
    power(i, 63.6, 42.7, -1846.5)
}

pub(super) fn gomez_bruton(i: &Input) -> Value {
    power(i, 54.2, 34.4, -1520.4)
}

/// Body mass stands outside the root.
pub(super) fn lewis(i: &Input) -> Value {
    json!({"W": 4.9_f64.sqrt() * i.num("m_kg") * (i.num("h_cm") / 100.0).sqrt() * 9.81})
}

/// Canavan & Vescovi 2004 print a mean that only the negative constant reproduces.
pub(super) fn harman_sign(i: &Input) -> Value {
    let mass = i.num("m_kg");
    let height = (i.num("sayers_sj_mean_W") + 2055.0 - 45.3 * mass) / 60.7;
    let minus = 61.9 * height + 36.0 * mass - 1822.0;
    let plus = 61.9 * height + 36.0 * mass + 1822.0;
    let printed = i.num("printed_harman_W");
    assert!((minus / printed - 1.0).abs() < 0.003, "Harman's constant is negative");
    assert!((plus / printed - 1.0).abs() > 1.0);
    json!({
        "h_implied_cm": height, "minus_W": minus, "plus_W": plus,
        "sayers_cmj_W": 51.9 * height + 48.9 * mass - 2007.0,
        "canavan_W": 65.1 * height + 25.8 * mass - 1413.1,
    })
}

pub(super) fn offset(i: &Input, offset_yr: f64) -> Value {
    json!({"offset_yr": offset_yr, "age_phv_yr": i.num("age") - offset_yr})
}

/// The ratio of weight to height is in percent.
pub(super) fn mirwald_boy(i: &Input) -> Value {
    let (age, height, sitting) = (i.num("age"), i.num("H_cm"), i.num("S_cm"));
    let leg = height - sitting;
    let ratio = 100.0 * i.num("W_kg") / height;
    offset(
        i,
        -9.236 + 0.000_270_8 * leg * sitting - 0.001_663 * age * leg
            + 0.007_216 * age * sitting
            + 0.022_92 * ratio,
    )
}

pub(super) fn mirwald_girl(i: &Input) -> Value {
    let (age, height, sitting, weight) =
        (i.num("age"), i.num("H_cm"), i.num("S_cm"), i.num("W_kg"));
    let leg = height - sitting;
    offset(
        i,
        -9.376 + 0.000_188_2 * leg * sitting + 0.0022 * age * leg + 0.005_841 * age * sitting
            - 0.002_658 * age * weight
            + 0.076_93 * (100.0 * weight / height),
    )
}

/// z = ((y/M)^L - 1)/(L S), by way of expm1 so that L near zero joins L = 0.
fn lms_z(y: f64, l: f64, m: f64, s: f64) -> f64 {
    let ln_ratio = libm::log(y / m);
    if l.abs() < 1e-12 { ln_ratio / s } else { libm::expm1(l * ln_ratio) / (l * s) }
}

fn lms_y(z: f64, l: f64, m: f64, s: f64) -> f64 {
    if l.abs() < 1e-12 { m * libm::exp(s * z) } else { m * libm::pow(1.0 + l * s * z, 1.0 / l) }
}

fn lms_of(i: &Input) -> (f64, f64, f64) {
    (i.num("L"), i.num("M"), i.num("S"))
}

pub(super) fn lms(i: &Input) -> Value {
    let (l, m, s) = lms_of(i);
    let z = lms_z(i.num("y"), l, m, s);
    json!({"z": z, "percentile": 100.0 * normal_cdf(z)})
}

pub(super) fn lms_small(i: &Input) -> Value {
    let (l, m, s) = lms_of(i);
    json!({"z": lms_z(i.num("y"), l, m, s)})
}

pub(super) fn lms_inverse(i: &Input) -> Value {
    let (l, m, s) = lms_of(i);
    json!({"y": lms_y(i.num("z"), l, m, s)})
}

pub(super) fn lms_restricted(i: &Input) -> Value {
    let (l, m, s) = lms_of(i);
    let y = i.num("y");
    let plain = lms_z(y, l, m, s);
    let at = |z: f64| lms_y(z, l, m, s);
    let restricted = if plain > 3.0 {
        3.0 + (y - at(3.0)) / (at(3.0) - at(2.0))
    } else if plain < -3.0 {
        -3.0 + (y - at(-3.0)) / (at(-2.0) - at(-3.0))
    } else {
        plain
    };
    json!({"z_plain": plain, "z_restricted": restricted})
}

pub(super) fn lms_by_age(i: &Input) -> Value {
    let rows = i.objects("table");
    let age = i.num("age");
    let pair = rows.windows(2).find(|pair| age <= pair[1].num("age")).unwrap();
    let share = (age - pair[0].num("age")) / (pair[1].num("age") - pair[0].num("age"));
    let between = |key: &str| pair[0].num(key) + share * (pair[1].num(key) - pair[0].num(key));
    let (l, m, s) = (between("L"), between("M"), between("S"));
    let z = lms_z(i.num("y"), l, m, s);
    json!({"L": l, "M": m, "S": s, "z": z, "percentile": 100.0 * normal_cdf(z)})
}

pub(super) fn percentile_mean_sd(i: &Input) -> Value {
    let z = (i.num("y") - i.num("mean")) / i.num("sd");
    json!({"z": z, "percentile": 100.0 * normal_cdf(z)})
}

/// Slopes at the knots of a monotone cubic (Fritsch & Carlson 1980).
fn monotone_slopes(x: &[f64], z: &[f64]) -> Vec<f64> {
    let h: Vec<f64> = x.windows(2).map(|pair| pair[1] - pair[0]).collect();
    let s: Vec<f64> = z.windows(2).zip(&h).map(|(pair, h)| (pair[1] - pair[0]) / h).collect();
    let end = |h0: f64, h1: f64, s0: f64, s1: f64| {
        let slope = ((2.0 * h0 + h1) * s0 - h0 * s1) / (h0 + h1);
        if slope * s0 <= 0.0 {
            0.0
        } else if s0 * s1 <= 0.0 && slope.abs() > 3.0 * s0.abs() {
            3.0 * s0
        } else {
            slope
        }
    };
    let last = s.len() - 1;
    let mut slopes = vec![end(h[0], h[1], s[0], s[1])];
    for k in 1..=last {
        let (w1, w2) = (2.0 * h[k] + h[k - 1], h[k] + 2.0 * h[k - 1]);
        let flat = s[k - 1] * s[k] <= 0.0;
        slopes.push(if flat { 0.0 } else { (w1 + w2) / (w1 / s[k - 1] + w2 / s[k]) });
    }
    slopes.push(end(h[last], h[last - 1], s[last], s[last - 1]));
    slopes
}

pub(super) fn pchip_slopes(i: &Input) -> Value {
    json!({"slopes": monotone_slopes(&i.list("x"), &i.list("z"))})
}

/// Equal printed values become one knot at the mean normal score.
fn knots(percentiles: &[f64], values: &[f64]) -> (Vec<f64>, Vec<f64>) {
    let scores = percentiles.iter().map(|p| normal_quantile(p / 100.0).unwrap());
    let pairs: Vec<(f64, f64)> = values.iter().copied().zip(scores).collect();
    pairs
        .chunk_by(|a, b| (a.0 - b.0).abs() < 1e-12)
        .map(|run| (run[0].0, run.iter().map(|pair| pair.1).sum::<f64>() / run.len() as f64))
        .unzip()
}

pub(super) fn percentile_pchip(i: &Input) -> Value {
    let (x, z) = knots(&i.list("percentiles"), &i.list("values"));
    let slopes = monotone_slopes(&x, &z);
    let (y, last) = (i.num("y"), x.len() - 1);
    let secant = |k: usize| (z[k + 1] - z[k]) / (x[k + 1] - x[k]);
    let (place, score) = if y < x[0] {
        ("below", z[0] + (y - x[0]) * secant(0))
    } else if y > x[last] {
        ("above", z[last] + (y - x[last]) * secant(last - 1))
    } else {
        let k = x.windows(2).position(|pair| y <= pair[1]).unwrap();
        let h = x[k + 1] - x[k];
        let t = (y - x[k]) / h;
        let (t2, t3) = (t * t, t * t * t);
        let inside = (2.0 * t3 - 3.0 * t2 + 1.0) * z[k]
            + (t3 - 2.0 * t2 + t) * h * slopes[k]
            + (3.0 * t2 - 2.0 * t3) * z[k + 1]
            + (t3 - t2) * h * slopes[k + 1];
        ("inside", inside)
    };
    let raw = 100.0 * normal_cdf(score);
    json!({
        "where": place, "z": score, "percentile_raw": raw,
        "percentile_shown": raw.clamp(1.0, 99.0),
    })
}
