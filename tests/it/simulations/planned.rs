//! Planned comparisons: as many sessions before as after.

use two_marks::trend::{
    ChangeQuestion, Measured, WORTHWHILE_CM, Weight, chance_of_telling, change, sessions_each_side,
};

use super::draw::Draw;

const RUNS: u32 = 20_000;
const SEED: u64 = 51;

/// Chance promised by the plan for `gain_cm`, and how often it is called in simulation.
pub(super) fn promised_and_simulated(gain_cm: f64, se_cm: f64, power: f64) -> (f64, f64) {
    promised_and_simulated_for(gain_cm, gain_cm, se_cm, power)
}

/// The same when the true gain differs from the planned one.
pub(super) fn promised_and_simulated_for(
    gain_cm: f64,
    true_gain_cm: f64,
    se_cm: f64,
    power: f64,
) -> (f64, f64) {
    let sessions = sessions_each_side(gain_cm, se_cm, WORTHWHILE_CM, power).unwrap();
    let mut draw = Draw::new(SEED);
    let se_of_mean = se_cm / f64::from(sessions).sqrt();
    let mut mean_of = |usual_cm: f64| {
        let sum: f64 = (0..sessions).map(|_| usual_cm + se_cm * draw.normal()).sum();
        Measured { height_cm: sum / f64::from(sessions), se_cm: se_of_mean }
    };
    let called = (0..RUNS)
        .filter(|_| {
            let answer = change(&ChangeQuestion {
                earlier: mean_of(40.0),
                later: mean_of(40.0 + true_gain_cm),
                worthwhile_cm: WORTHWHILE_CM,
                prior: None,
                degrees_of_freedom: None,
            });
            matches!(answer.unwrap().weight(), Weight::ProbableGain | Weight::ClearGain)
        })
        .count();
    let promised = chance_of_telling(gain_cm, se_cm, WORTHWHILE_CM, sessions).unwrap();
    (promised, called as f64 / f64::from(RUNS))
}
