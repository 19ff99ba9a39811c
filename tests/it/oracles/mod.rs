//! Other people's software asked the same questions.
//!
//! `oracles.json` holds answers of numpy, scipy, statsmodels and pingouin, made by
//! `make_oracles.py` (pinned versions in its header; Python is not needed to run the tests).
//! `statrs` is asked directly. Each test prints the worst deviation it found
//! (`cargo test --test it oracles -- --nocapture`) and asserts a bound on it.

use serde_json::Value;

mod distributions;
mod series;

fn answers(part: &str) -> Vec<Value> {
    let file: Value = serde_json::from_str(include_str!("oracles.json")).unwrap();
    let list = file[part].as_array().unwrap().clone();
    assert!(!list.is_empty(), "{part}");
    list
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("not a number: {value}"))
}

fn numbers(value: &Value) -> Vec<f64> {
    value.as_array().unwrap().iter().map(number).collect()
}

/// The worst deviation seen so far and where it was.
#[derive(Default)]
struct Worst {
    deviation: f64,
    place: String,
    compared: usize,
}

impl Worst {
    /// Relative deviation, absolute below `floor`. What is not a number fails at once.
    fn see(&mut self, got: f64, want: f64, floor: f64, place: &str) {
        let deviation = (got - want).abs() / want.abs().max(floor);
        assert!(deviation.is_finite(), "{place}: got {got}, want {want}");
        self.compared += 1;
        if deviation > self.deviation {
            self.deviation = deviation;
            self.place = format!("{place}: got {got:e}, want {want:e}");
        }
    }

    #[track_caller]
    fn stays_within(&self, name: &str, bound: f64) {
        println!(
            "{name}: {} compared, worst {:.1e} at {}",
            self.compared, self.deviation, self.place
        );
        assert!(self.compared > 0, "{name}: nothing was compared");
        assert!(self.deviation <= bound, "{name}: {:e} at {}", self.deviation, self.place);
    }
}
