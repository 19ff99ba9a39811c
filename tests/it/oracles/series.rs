use two_marks::reliability::{PooledSd, TwoWayTable, shrink_sd};
use two_marks::statistics::{mean, median, quantile, sample_sd, theil_sen};

use super::{Worst, answers, number, numbers};

#[test]
fn numpy_agrees_on_small_samples() {
    let mut worst = Worst::default();
    for case in answers("samples") {
        let values = numbers(&case["values"]);
        let mut see = |got: Option<f64>, want: f64| worst.see(got.unwrap(), want, 1.0, "sample");
        see(mean(&values), number(&case["mean"]));
        see(median(&values), number(&case["median"]));
        if values.len() > 1 {
            see(sample_sd(&values), number(&case["sd"]));
        }
        for pair in case["quantiles"].as_array().unwrap() {
            see(quantile(&values, number(&pair[0])), number(&pair[1]));
        }
    }
    worst.stays_within("samples against numpy", 1e-14);
}

#[test]
fn scipy_agrees_on_theil_sen_lines() {
    let mut worst = Worst::default();
    for case in answers("lines") {
        let points: Vec<(f64, f64)> =
            numbers(&case["x"]).into_iter().zip(numbers(&case["y"])).collect();
        let line = theil_sen(&points, number(&case["level"])).unwrap();
        let place = format!("{} points", points.len());
        for (got, key) in [
            (line.slope, "slope"),
            (line.slope_low, "low"),
            (line.slope_high, "high"),
            (line.intercept_of_medians, "intercept_of_medians"),
            (line.intercept_of_residuals, "intercept_of_residuals"),
        ] {
            worst.see(got, number(&case[key]), 1e-3, &format!("{place} {key}"));
        }
    }
    worst.stays_within("Theil-Sen lines against scipy", 1e-11);
}

#[test]
fn pingouin_agrees_on_intraclass_correlations() {
    let (mut worst, mut interval) = (Worst::default(), Worst::default());
    for case in answers("tables") {
        let rows: Vec<Vec<f64>> = case["table"].as_array().unwrap().iter().map(numbers).collect();
        let table = TwoWayTable::new(&rows).unwrap();
        let place = format!("{} x {}", table.people, table.trials);
        worst.see(table.icc_2_1().unwrap(), number(&case["icc_2_1"]), 1e-3, &place);
        worst.see(table.icc_3_1().unwrap(), number(&case["icc_3_1"]), 1e-3, &place);
        worst.see(table.icc_3_k().unwrap(), number(&case["icc_3_k"]), 1e-3, &place);
        let got = table.icc_3_1_interval(0.95).unwrap();
        let want = numbers(&case["icc_3_1_interval"]);
        interval.see(got.low, want[0], 1.0, &place);
        interval.see(got.high, want[1], 1.0, &place);
        let exact = numbers(&case["icc_3_1_interval_exact"]);
        worst.see(got.low, exact[0], 1e-3, &place);
        worst.see(got.high, exact[1], 1e-3, &place);
    }
    worst.stays_within("ICC against pingouin", 1e-11);
    // Printed to two decimals there.
    interval.stays_within("ICC interval against pingouin", 0.005_000_1);
}

#[test]
fn scipy_agrees_on_shrunk_spreads() {
    let mut worst = Worst::default();
    for case in answers("spreads") {
        let degrees_of_freedom = usize::try_from(case["nu"].as_u64().unwrap()).unwrap();
        let own = PooledSd { sd: number(&case["s"]), degrees_of_freedom };
        let both = shrink_sd(number(&case["s0"]), number(&case["nu0"]), Some(own)).unwrap();
        worst.see(both.mean_variance.unwrap(), number(&case["mean_variance"]), 1e-3, "variance");
        for pair in case["quantiles"].as_array().unwrap() {
            let p = number(&pair[0]);
            worst.see(both.quantile(p).unwrap(), number(&pair[1]), 1e-3, &format!("{p}"));
        }
    }
    worst.stays_within("shrunk spreads against scipy", 1e-10);
}
