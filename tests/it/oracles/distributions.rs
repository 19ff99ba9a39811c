use std::collections::BTreeMap;

use statrs::distribution::{ChiSquared, ContinuousCDF, FisherSnedecor, Normal, StudentsT};
use statrs::function::{beta::beta_reg, gamma};
use two_marks::statistics::{
    chi_square_cdf, chi_square_quantile, f_cdf, f_quantile, normal_cdf, normal_quantile,
    regularised_beta, regularised_gamma, student_t_cdf, student_t_quantile,
};

use super::{Worst, answers, number, numbers};

const DEGREES: [f64; 9] = [1.0, 2.0, 2.5, 3.0, 5.0, 8.0, 15.0, 40.0, 250.0];
const TAILS: [f64; 8] = [1e-10, 1e-6, 1e-3, 0.01, 0.025, 0.1, 0.3, 0.5];

/// The quantiles of statrs are searched for with an absolute stop, so far out in a tail they are not
/// quantiles any more (Cauchy at 1e-10: -8.9e7 for -1/(pi 1e-10) = -3.18e9). Its distribution
/// functions hold there: our quantile is put into them and must give the probability back.
const TAIL_OF_THEIR_QUANTILES: f64 = 1e-3;

fn probabilities() -> Vec<f64> {
    TAILS.iter().copied().chain(TAILS[1..7].iter().rev().map(|p| 1.0 - p)).collect()
}

#[test]
fn scipy_agrees_on_every_distribution() {
    let mut by_function: BTreeMap<String, Worst> = BTreeMap::new();
    for case in answers("distributions") {
        let (name, a) = (case["f"].as_str().unwrap(), numbers(&case["a"]));
        let got = match name {
            "normal_cdf" => Some(normal_cdf(a[0])),
            "normal_quantile" => normal_quantile(a[0]),
            "student_t_cdf" => student_t_cdf(a[0], a[1]),
            "student_t_quantile" => student_t_quantile(a[0], a[1]),
            "chi_square_cdf" => chi_square_cdf(a[0], a[1]),
            "chi_square_quantile" => chi_square_quantile(a[0], a[1]),
            "f_cdf" => f_cdf(a[0], a[1], a[2]),
            "f_quantile" => f_quantile(a[0], a[1], a[2]),
            "regularised_beta" => regularised_beta(a[0], a[1], a[2]),
            "gamma_lower" => regularised_gamma(a[0], a[1]).map(|both| both.lower),
            "gamma_upper" => regularised_gamma(a[0], a[1]).map(|both| both.upper),
            other => panic!("unknown function {other}"),
        };
        // Below 1e-290 scipy and we both run out of digits.
        by_function.entry(name.to_owned()).or_default().see(
            got.unwrap(),
            number(&case["y"]),
            1e-290,
            &format!("{a:?}"),
        );
    }
    assert_eq!(by_function.len(), 11);
    for (name, worst) in &by_function {
        worst.stays_within(name, 1e-11);
    }
}

#[test]
fn statrs_agrees_on_the_normal_distribution() {
    let theirs = Normal::new(0.0, 1.0).unwrap();
    let (mut cdf, mut quantile) = (Worst::default(), Worst::default());
    for step in -80..=80 {
        let z = f64::from(step) / 10.0;
        cdf.see(normal_cdf(z), theirs.cdf(z), 1e-16, &format!("{z}"));
    }
    for p in probabilities() {
        let got = normal_quantile(p).unwrap();
        quantile.see(got, theirs.inverse_cdf(p), 1e-3, &format!("{p}"));
    }
    cdf.stays_within("normal cdf against statrs", 1e-9);
    quantile.stays_within("normal quantile against statrs", 1e-9);
}

#[test]
fn statrs_agrees_on_student_t() {
    let (mut cdf, mut quantile, mut back) = (Worst::default(), Worst::default(), Worst::default());
    for df in DEGREES {
        let theirs = StudentsT::new(0.0, 1.0, df).unwrap();
        for step in -60..=60 {
            let t = f64::from(step) / 4.0;
            cdf.see(student_t_cdf(t, df).unwrap(), theirs.cdf(t), 1e-12, &format!("{t} df {df}"));
        }
        for p in probabilities() {
            let (got, place) = (student_t_quantile(p, df).unwrap(), format!("{p} df {df}"));
            back.see(theirs.cdf(got), p, 1e-12, &place);
            if p >= TAIL_OF_THEIR_QUANTILES {
                quantile.see(got, theirs.inverse_cdf(p), 1e-3, &place);
            }
        }
    }
    cdf.stays_within("t cdf against statrs", 1e-9);
    quantile.stays_within("t quantile against statrs", 1e-9);
    back.stays_within("t quantile put into statrs", 1e-9);
}

#[test]
fn statrs_agrees_on_chi_square() {
    let (mut cdf, mut quantile, mut back) = (Worst::default(), Worst::default(), Worst::default());
    for df in DEGREES {
        let theirs = ChiSquared::new(df).unwrap();
        for x in [1e-3, 0.1, 0.7, 2.0, 5.0, 11.0, 40.0, 300.0] {
            let got = chi_square_cdf(x, df).unwrap();
            cdf.see(got, theirs.cdf(x), 1e-12, &format!("{x} df {df}"));
        }
        for p in probabilities() {
            let (got, place) = (chi_square_quantile(p, df).unwrap(), format!("{p} df {df}"));
            back.see(theirs.cdf(got), p, 1e-12, &place);
            if p >= TAIL_OF_THEIR_QUANTILES {
                quantile.see(got, theirs.inverse_cdf(p), 1e-3, &place);
            }
        }
    }
    cdf.stays_within("chi-square cdf against statrs", 1e-9);
    quantile.stays_within("chi-square quantile against statrs", 1e-9);
    back.stays_within("chi-square quantile put into statrs", 1e-9);
}

#[test]
fn statrs_agrees_on_f() {
    let (mut cdf, mut quantile) = (Worst::default(), Worst::default());
    for above in DEGREES {
        for below in DEGREES {
            let theirs = FisherSnedecor::new(above, below).unwrap();
            for x in [0.05, 0.4, 1.0, 2.5, 9.0] {
                let got = f_cdf(x, above, below).unwrap();
                cdf.see(got, theirs.cdf(x), 1e-12, &format!("{x} df {above}, {below}"));
            }
            for p in [0.01, 0.025, 0.3, 0.5, 0.9, 0.975, 0.99] {
                let got = f_quantile(p, above, below).unwrap();
                let place = format!("{p} df {above}, {below}");
                quantile.see(got, theirs.inverse_cdf(p), 1e-3, &place);
            }
        }
    }
    cdf.stays_within("F cdf against statrs", 1e-9);
    quantile.stays_within("F quantile against statrs", 1e-9);
}

#[test]
fn statrs_agrees_on_the_incomplete_functions() {
    let (mut beta, mut lower, mut upper) = (Worst::default(), Worst::default(), Worst::default());
    for a in [0.3, 1.0, 4.5, 60.0] {
        for b in [0.5, 2.0, 33.0] {
            for x in [0.001, 0.2, 0.5, 0.77, 0.999] {
                let place = format!("{a} {b} {x}");
                beta.see(regularised_beta(a, b, x).unwrap(), beta_reg(a, b, x), 1e-12, &place);
            }
        }
        for x in [0.01, 0.5, 3.0, 20.0, 90.0] {
            let (both, place) = (regularised_gamma(a, x).unwrap(), format!("{a} {x}"));
            lower.see(both.lower, gamma::gamma_lr(a, x), 1e-12, &place);
            upper.see(both.upper, gamma::gamma_ur(a, x), 1e-12, &place);
        }
    }
    beta.stays_within("incomplete beta against statrs", 1e-9);
    lower.stays_within("lower incomplete gamma against statrs", 1e-9);
    upper.stays_within("upper incomplete gamma against statrs", 1e-9);
}
