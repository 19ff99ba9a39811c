//! Every published or worked example of `vectors/vectors.json` against the functions of the product.
//! Worked seasons have a file of their own, `vectors/season.json`; `season/model.rs` holds them.
//!
//! The manifest names each suite once. A suite of the file that it does not name fails, and so does
//! a named suite that is not in the file, so that no example is dropped in silence. Formulas the
//! product does not use are written out in `only_here` below: the examples are checked all the same.

use serde_json::{Map, Value, json};

use two_marks::assess::spurt::{
    boys_from_sitting_height_years, boys_from_stature_years, girls_from_stature_years,
};
use two_marks::measure::{
    Advice, Hand, Session, TrendKey, Trial, flight_time_s_from_height, frame_rate_error,
    height_cm_from_flight_time, height_cm_read_with_low_landing, height_from_frames,
    johnson_bahamonde_average_w, johnson_bahamonde_peak_w, sayers_countermovement_peak_w,
    sayers_squat_jump_peak_w, takeoff_impulse_n_s, takeoff_speed_m_s,
};
use two_marks::quantity::{Division, Length, Reading};
use two_marks::reliability::{
    PooledSd, TwoWayTable, lateral_reach_loss_cm, mdc95_cm, pooled_within_sd, rounding_sd_cm,
    session_se_of_best_cm, session_se_of_mean_cm, shrink_sd, stale_reach_bias_cm,
    touch_timing_loss_cm,
};
use two_marks::statistics::{
    best_of_n, chi_square_quantile, normal_cdf, normal_quantile, student_t_cdf, student_t_quantile,
    theil_sen,
};

mod only_here;

/// Works a case out: the suite's `inp` in, the same keys as its `out` back.
type Work = fn(&Input) -> Value;

/// How a suite is covered.
enum Cover {
    /// By functions of the product.
    Product(Work),
    /// By a formula that lives in the tests alone, and why.
    TestsOnly(Work, &'static str),
}
use Cover::{Product, TestsOnly};

const NO_USE: &str = "the product does not use this formula";
const BODY_MASS: &str = "it asks for a body mass, which no child is asked for";
const PLATE_POWER: &str = "fitted to force-plate heights, so never applied to a wall score";

const MANIFEST: &[(&str, Cover)] = &[
    ("inch_cm", Product(inch_cm)),
    ("rounding_sd", Product(rounding)),
    ("round_to_step", Product(round_to_step)),
    ("lateral_reach_loss", Product(lateral_loss)),
    ("touch_timing_loss", Product(timing_loss)),
    ("stale_reach_bias", Product(stale_reach)),
    ("stop_rule", Product(stop_rule)),
    ("best_of_n", Product(best)),
    ("flight_time_height", Product(flight_height)),
    ("height_flight_time", Product(flight_time)),
    ("takeoff_velocity", Product(takeoff)),
    ("frame_rate_error", Product(frame_error)),
    ("height_from_frames", Product(from_frames)),
    ("landing_posture_bias", Product(landing)),
    ("gravity_irrelevance", TestsOnly(only_here::gravity, NO_USE)),
    ("power_sayers_sj_peak", Product(sayers_sj)),
    ("power_sayers_cmj_peak", Product(sayers_cmj)),
    ("power_harman_peak", TestsOnly(only_here::harman_peak, PLATE_POWER)),
    ("power_harman_average", TestsOnly(only_here::harman_average, PLATE_POWER)),
    ("power_johnson_bahamonde_peak", Product(bahamonde_peak)),
    ("power_johnson_bahamonde_average", Product(bahamonde_average)),
    ("power_lewis_average", TestsOnly(only_here::lewis, "power of the fall, not of the push")),
    ("power_canavan_vescovi_peak", TestsOnly(only_here::canavan, PLATE_POWER)),
    ("power_amonette_peak", TestsOnly(only_here::amonette, PLATE_POWER)),
    ("power_gomez_bruton_peak", TestsOnly(only_here::gomez_bruton, PLATE_POWER)),
    ("power_harman_sign_check", TestsOnly(only_here::harman_sign, PLATE_POWER)),
    ("maturity_mirwald_boy", TestsOnly(only_here::mirwald_boy, BODY_MASS)),
    ("maturity_mirwald_girl", TestsOnly(only_here::mirwald_girl, BODY_MASS)),
    ("maturity_moore_boy_sitting", Product(moore_boy_sitting)),
    ("maturity_moore_boy_height", Product(moore_boy_height)),
    ("maturity_moore_girl_height", Product(moore_girl_height)),
    ("normal_cdf", Product(|i| json!({"p": normal_cdf(i.num("z"))}))),
    ("normal_quantile", Product(|i| json!({"z": normal_quantile(i.num("p"))}))),
    ("t_cdf", Product(|i| json!({"p": student_t_cdf(i.num("t"), i.num("df"))}))),
    ("t_quantile", Product(|i| json!({"t": student_t_quantile(i.num("p"), i.num("df"))}))),
    ("chi2_quantile", Product(|i| json!({"x": chi_square_quantile(i.num("p"), i.num("df"))}))),
    ("reliability_two_trials", Product(reliability)),
    ("reliability_three_trials", Product(reliability)),
    ("pooled_within_sd", Product(pooled)),
    ("variance_shrinkage", Product(shrinkage)),
    ("session_se", Product(session_se)),
    ("session_se_best", Product(session_se_best)),
    ("mdc_from_te", Product(mdc)),
    ("theil_sen", Product(line)),
    ("lms_z", TestsOnly(only_here::lms, NO_USE)),
    ("lms_z_cdc_stature", TestsOnly(only_here::lms, NO_USE)),
    ("lms_inverse", TestsOnly(only_here::lms_inverse, NO_USE)),
    ("lms_small_L", TestsOnly(only_here::lms_small, NO_USE)),
    ("lms_restricted", TestsOnly(only_here::lms_restricted, NO_USE)),
    ("lms_age_interpolation", TestsOnly(only_here::lms_by_age, NO_USE)),
    ("percentile_mean_sd", TestsOnly(only_here::percentile_mean_sd, NO_USE)),
    ("percentile_pchip", TestsOnly(only_here::percentile_pchip, NO_USE)),
    ("pchip_slopes", TestsOnly(only_here::pchip_slopes, NO_USE)),
];

/// The `inp` of one case.
pub(crate) struct Input<'a>(&'a Value);

impl Input<'_> {
    /// A number; a missing one fails the test.
    pub(crate) fn num(&self, key: &str) -> f64 {
        self.0[key].as_f64().unwrap_or_else(|| panic!("no number {key} in {}", self.0))
    }

    /// A count.
    fn count(&self, key: &str) -> u32 {
        u32::try_from(self.0[key].as_u64().unwrap()).unwrap()
    }

    /// A list of numbers.
    pub(crate) fn list(&self, key: &str) -> Vec<f64> {
        numbers(&self.0[key])
    }

    /// A list of lists of numbers.
    fn rows(&self, key: &str) -> Vec<Vec<f64>> {
        self.0[key].as_array().unwrap().iter().map(numbers).collect()
    }

    /// A list of objects.
    pub(crate) fn objects(&self, key: &str) -> Vec<Input<'_>> {
        self.0[key].as_array().unwrap().iter().map(Input).collect()
    }
}

fn numbers(list: &Value) -> Vec<f64> {
    list.as_array().unwrap().iter().map(|value| value.as_f64().unwrap()).collect()
}

/// Compares one result with the wanted one and returns the worst share of the tolerance used.
fn compare(got: &Value, want: &Value, abs: f64, rel: f64) -> Result<f64, String> {
    match (got, want) {
        (Value::Number(g), Value::Number(w)) => {
            let (g, w) = (g.as_f64().unwrap(), w.as_f64().unwrap());
            let share = (g - w).abs() / (abs + rel * w.abs());
            if share <= 1.0 { Ok(share) } else { Err(format!("got {g}, want {w}")) }
        }
        (Value::Array(g), Value::Array(w)) if g.len() == w.len() => g
            .iter()
            .zip(w)
            .try_fold(0.0_f64, |worst, (g, w)| Ok(worst.max(compare(g, w, abs, rel)?))),
        (Value::Object(g), Value::Object(w)) => {
            let extra: Vec<_> = g.keys().filter(|key| !w.contains_key(*key)).collect();
            if !extra.is_empty() {
                return Err(format!("keys nobody asked for: {extra:?}"));
            }
            w.iter().try_fold(0.0_f64, |worst, (key, want)| {
                let got = g.get(key).ok_or_else(|| format!("{key} is missing"))?;
                Ok(worst.max(compare(got, want, abs, rel).map_err(|e| format!("{key}: {e}"))?))
            })
        }
        _ if got == want => Ok(0.0),
        _ => Err(format!("got {got}, want {want}")),
    }
}

fn suites() -> Vec<Map<String, Value>> {
    let file: Value = serde_json::from_str(include_str!("vectors/vectors.json")).unwrap();
    let suites = file["suites"].as_array().unwrap();
    suites.iter().map(|suite| suite.as_object().unwrap().clone()).collect()
}

#[test]
fn the_manifest_names_every_suite_once() {
    let mut in_file: Vec<String> =
        suites().iter().map(|suite| suite["id"].as_str().unwrap().to_owned()).collect();
    let mut in_manifest: Vec<String> = MANIFEST.iter().map(|(id, _)| (*id).to_owned()).collect();
    in_file.sort();
    in_manifest.sort();
    assert_eq!(in_file, in_manifest);
}

#[test]
fn every_case_holds_at_its_tolerance() {
    let (mut cases, mut failures) = (0, Vec::new());
    for suite in suites() {
        let id = suite["id"].as_str().unwrap();
        let Some((_, cover)) = MANIFEST.iter().find(|(name, _)| *name == id) else {
            panic!("suite {id} is not in the manifest");
        };
        let (work, place) = match cover {
            Product(work) => (work, "product"),
            TestsOnly(work, why) => (work, *why),
        };
        let (abs, rel) = (
            suite["tolerance"]["abs"].as_f64().unwrap(),
            suite["tolerance"]["rel"].as_f64().unwrap(),
        );
        let mut worst = 0.0_f64;
        let list = suite["cases"].as_array().unwrap();
        assert!(!list.is_empty(), "{id} has no case");
        for case in list {
            cases += 1;
            match compare(&work(&Input(&case["inp"])), &case["out"], abs, rel) {
                Ok(share) => worst = worst.max(share),
                Err(why) => failures.push(format!("{id} {}: {why}", case["inp"])),
            }
        }
        println!("{id}: {} cases, {worst:.1e} of the tolerance used ({place})", list.len());
    }
    println!("{} suites, {cases} cases", MANIFEST.len());
    assert!(failures.is_empty(), "{}", failures.join("\n"));
    assert_eq!((MANIFEST.len(), cases), (53, 226));
}

#[test]
fn the_comparison_can_fail() {
    let want = json!({"a": 1.0, "b": [2.0, 3.0], "c": true, "d": null});
    assert!(compare(&want, &want, 1e-9, 1e-9).is_ok());
    for wrong in [
        json!({"a": 1.1, "b": [2.0, 3.0], "c": true, "d": null}),
        json!({"a": 1.0, "b": [2.0, 3.1], "c": true, "d": null}),
        json!({"a": 1.0, "b": [2.0], "c": true, "d": null}),
        json!({"a": 1.0, "b": [2.0, 3.0], "c": false, "d": null}),
        json!({"a": 1.0, "b": [2.0, 3.0], "c": true, "d": 0.0}),
        json!({"a": null, "b": [2.0, 3.0], "c": true, "d": null}),
        json!({"a": 1.0, "b": [2.0, 3.0], "c": true}),
        json!({"a": 1.0, "b": [2.0, 3.0], "c": true, "d": null, "e": 1.0}),
    ] {
        assert!(compare(&wrong, &want, 1e-9, 1e-9).is_err(), "{wrong}");
    }
}

fn inch_cm(i: &Input) -> Value {
    #[expect(clippy::cast_possible_truncation, reason = "the file holds at most 96 inches")]
    let eighths = (i.num("inch") * 8.0).round() as i64;
    json!({"cm": Length::from_inch_eighths(eighths).as_cm()})
}

fn rounding(i: &Input) -> Value {
    let sd = rounding_sd_cm(i.num("step_cm")).unwrap();
    json!({"sd_one_cm": sd.one_reading_cm, "sd_score_cm": sd.height_cm})
}

fn round_to_step(i: &Input) -> Value {
    let rounded = Length::from_cm(i.num("x")).rounded_to(Length::from_cm(i.num("step")));
    json!({"value": rounded.as_cm()})
}

fn lateral_loss(i: &Input) -> Value {
    json!({"loss_cm": lateral_reach_loss_cm(i.num("L_cm"), i.num("x_cm"))})
}

fn timing_loss(i: &Input) -> Value {
    json!({"loss_cm": touch_timing_loss_cm(i.num("dt_s"))})
}

fn stale_reach(i: &Input) -> Value {
    let bias = stale_reach_bias_cm(i.num("height_velocity_cm_yr"), i.num("ratio"), i.num("days"));
    json!({"bias_cm": bias})
}

/// Jumps until the session says that it is enough.
fn stop_rule(i: &Input) -> Value {
    let mut session = Session::new(TrendKey::USUAL, Hand::Right, Division::CmTenth);
    for height_cm in i.list("trials") {
        let reading = Reading::nearest(Length::from_cm(height_cm), Division::CmTenth);
        session.trials.push(Trial::MarkDistance(reading));
        if matches!(session.advice(), Advice::Enough | Advice::Full) {
            break;
        }
    }
    json!({"used": session.trials.len(), "best": session.best().unwrap().0.as_cm()})
}

fn best(i: &Input) -> Value {
    let n = i.count("n");
    let best = best_of_n(n).unwrap();
    // The spread of a mean is that of a session without days.
    let sd_mean = session_se_of_mean_cm(1.0, 0.0, n);
    json!({"bias_sd": best.bias_sd, "sd_best": best.spread_sd, "sd_mean": sd_mean})
}

fn flight_height(i: &Input) -> Value {
    let height_cm = height_cm_from_flight_time(i.num("T_s")).unwrap();
    json!({"h_m": height_cm / 100.0, "h_cm": height_cm})
}

fn flight_time(i: &Input) -> Value {
    json!({"T_s": flight_time_s_from_height(i.num("h_cm"))})
}

fn takeoff(i: &Input) -> Value {
    let height_cm = i.num("h_cm");
    json!({
        "v_m_s": takeoff_speed_m_s(height_cm),
        "J_N_s": takeoff_impulse_n_s(height_cm, i.num("m_kg")),
    })
}

fn frame_error(i: &Input) -> Value {
    let error = frame_rate_error(i.num("h_cm"), i.num("fps")).unwrap();
    json!({
        "T_s": error.flight_time_s,
        "dh_dT_cm_per_s": error.slope_cm_per_s,
        "max_err_cm": error.error_cm_max,
        "sd_cm": error.sd_cm,
        "rect_sd_cm": error.sd_cm_one_instant,
        "bias_if_last_contact_used_cm": error.bias_cm_last_contact,
    })
}

fn from_frames(i: &Input) -> Value {
    let found = height_from_frames(i.count("i_air"), i.count("i_contact"), i.num("fps")).unwrap();
    json!({
        "T_s": found.flight_time_s,
        "h_cm": found.height_cm,
        "lo_cm": found.height_cm_min,
        "hi_cm": found.height_cm_max,
        "sd_cm": found.sd_cm,
    })
}

fn landing(i: &Input) -> Value {
    let height_cm = i.num("h_cm");
    let read_cm = height_cm_read_with_low_landing(height_cm, i.num("delta_cm")).unwrap();
    json!({"h_est_cm": read_cm, "bias_cm": read_cm - height_cm})
}

fn sayers_sj(i: &Input) -> Value {
    json!({"W": sayers_squat_jump_peak_w(i.num("h_cm"), i.num("m_kg"))})
}

fn sayers_cmj(i: &Input) -> Value {
    json!({"W": sayers_countermovement_peak_w(i.num("h_cm"), i.num("m_kg"))})
}

fn bahamonde_peak(i: &Input) -> Value {
    json!({"W": johnson_bahamonde_peak_w(i.num("h_cm"), i.num("m_kg"), i.num("stature_cm"))})
}

fn bahamonde_average(i: &Input) -> Value {
    json!({"W": johnson_bahamonde_average_w(i.num("h_cm"), i.num("m_kg"), i.num("stature_cm"))})
}

fn moore_boy_sitting(i: &Input) -> Value {
    only_here::offset(i, boys_from_sitting_height_years(i.num("age"), i.num("S_cm")))
}

fn moore_boy_height(i: &Input) -> Value {
    only_here::offset(i, boys_from_stature_years(i.num("age"), i.num("H_cm")))
}

fn moore_girl_height(i: &Input) -> Value {
    only_here::offset(i, girls_from_stature_years(i.num("age"), i.num("H_cm")))
}

fn reliability(i: &Input) -> Value {
    let table = TwoWayTable::new(&i.rows("table")).unwrap();
    let te = table.typical_error();
    let interval = table.typical_error_interval(0.95).unwrap();
    json!({
        "n": table.people, "k": table.trials, "mean": table.mean,
        "trial_means": table.trial_means, "ms_subjects": table.ms_people,
        "ms_trials": table.ms_trials, "ms_error": table.ms_error,
        "df_error": table.degrees_of_freedom(), "typical_error": te, "sem": te,
        "te_ci95": [interval.low, interval.high],
        "cv_percent_simple": table.cv_percent(), "cv_percent_log": table.cv_percent_by_logs(),
        "icc_3_1": table.icc_3_1(), "icc_2_1": table.icc_2_1(), "icc_3_k": table.icc_3_k(),
        "sem_from_icc": table.sem_from_icc(), "mdc95": table.mdc95(),
        "mdc95_percent": 100.0 * table.mdc95() / table.mean,
        "sd_trial1": table.sd_first_trial, "sd_between_true": table.sd_between_people(),
        "swc": table.smallest_worthwhile_change(),
        "swc_from_trial1_sd": 0.2 * table.sd_first_trial,
    })
}

fn pooled(i: &Input) -> Value {
    let pooled = pooled_within_sd(&i.rows("sessions")).unwrap();
    json!({"df": pooled.degrees_of_freedom, "sd": pooled.sd})
}

fn shrinkage(i: &Input) -> Value {
    let degrees_of_freedom = i.count("nu") as usize;
    let own = PooledSd { sd: i.num("s"), degrees_of_freedom };
    let both = shrink_sd(i.num("s0"), i.num("nu0"), Some(own)).unwrap();
    let interval = both.interval(0.95).unwrap();
    json!({
        "nu_n": both.degrees_of_freedom, "s_n": both.sd, "weight_own": both.own_weight,
        "post_mean_var": both.mean_variance, "post_mean_sd_plug": both.plug_in_sd(),
        "ci95_sd": [interval.low, interval.high], "median_sd": both.quantile(0.5),
    })
}

fn session_se(i: &Input) -> Value {
    json!({"se": session_se_of_mean_cm(i.num("sw"), i.num("sb"), i.count("n"))})
}

fn session_se_best(i: &Input) -> Value {
    json!({"se": session_se_of_best_cm(i.num("sw"), i.num("sb"), i.count("n"))})
}

fn mdc(i: &Input) -> Value {
    json!({"mdc95": mdc95_cm(i.num("TE"), i.count("k1"), i.count("k2"))})
}

fn line(i: &Input) -> Value {
    let points: Vec<(f64, f64)> = i.list("t").into_iter().zip(i.list("y")).collect();
    let line = theil_sen(&points, i.num("alpha")).unwrap();
    json!({
        "n_pairs": line.pairs, "slope_per_day": line.slope,
        "intercept_separate": line.intercept_of_medians,
        "intercept_joint": line.intercept_of_residuals,
        "low_slope": line.slope_low, "high_slope": line.slope_high,
        "slope_per_30_days": 30.0 * line.slope, "sigma_S": line.sigma_s,
        "index_low": line.rank_low, "index_high": line.rank_high,
    })
}
