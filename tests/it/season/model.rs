//! The season model against worked seasons and against a second way of reckoning it.

use serde_json::Value;
use two_marks::trend::model::{
    Change, DAY_FACTOR_WEIGHTS, DAY_FACTORS, DRIFT_CM2_PER_DAY, LEARNING_MEAN_CM, LEARNING_RATIO,
    LEARNING_SD_CM, LEARNING_TESTS, START_VARIANCE_CM2, SeasonTest, TOLD_FROM, TREND_DAYS,
    TREND_SD_CM_PER_DAY, Verdict, WORTH_NAMING_CM, Who, pair, season,
};

use super::joint::{Joint, Said};

/// How near the worked seasons must be.
const WORKED: f64 = 1e-6;
/// How near the joint distribution must be.
const JOINT: f64 = 1e-9;

fn worked() -> Value {
    serde_json::from_str(include_str!("../vectors/season.json")).unwrap()
}

fn number(value: &Value, key: &str) -> f64 {
    value[key].as_f64().unwrap_or_else(|| panic!("no number {key} in {value}"))
}

fn tests_of(case: &Value) -> Vec<SeasonTest> {
    let rows = case["tests"].as_array().unwrap().iter();
    rows.map(|row| SeasonTest {
        day: number(row, "day"),
        height_cm: number(row, "height_cm"),
        rest_variance_cm2: number(row, "variance_without_day_cm2"),
        day_sd_cm: number(row, "typical_day_sd_cm"),
        earlier: u32::try_from(row["earlier"].as_u64().unwrap()).unwrap(),
        growth_cm: number(row, "growth_cm"),
    })
    .collect()
}

fn who_of(case: &Value) -> Who {
    match number(case, "growth_sd_cm_per_year") {
        0.0 => Who::Adult,
        sd_cm_per_year => Who::Growing { sd_cm_per_year },
    }
}

fn words(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Higher { .. } => "higher",
        Verdict::Lower { .. } => "lower",
        Verdict::MayBeGrowing => "growth may explain it",
        Verdict::NotToldYet => "not told yet",
        other => panic!("{other:?}"),
    }
}

fn near(what: &str, got: f64, want: f64, within: f64) {
    assert!((got - want).abs() <= within, "{what}: {got} for {want}");
}

#[test]
fn the_constants_are_those_of_the_worked_seasons() {
    let file = worked();
    let said = &file["constants"];
    let list = |key: &str| -> Vec<f64> {
        said[key].as_array().unwrap().iter().map(|value| value.as_f64().unwrap()).collect()
    };
    assert_eq!(list("c"), DAY_FACTORS);
    assert_eq!(list("c_weights"), DAY_FACTOR_WEIGHTS);
    for (key, constant) in [
        ("drift_cm2_per_day", DRIFT_CM2_PER_DAY),
        ("trend_sd_cm_per_day", TREND_SD_CM_PER_DAY),
        ("trend_days", TREND_DAYS),
        ("learning_mean_cm", LEARNING_MEAN_CM),
        ("learning_sd_cm", LEARNING_SD_CM),
        ("learning_ratio", LEARNING_RATIO),
        ("learning_tests", f64::from(LEARNING_TESTS)),
        ("start_variance_cm2", START_VARIANCE_CM2),
        ("worth_naming_cm", WORTH_NAMING_CM),
        ("told_from", TOLD_FROM),
    ] {
        near(key, constant, number(said, key), 0.0);
    }
    near("sum of the weights", DAY_FACTOR_WEIGHTS.iter().sum(), 1.0, 1e-11);
}

#[test]
fn the_worked_seasons_hold() {
    let file = worked();
    let cases = file["cases"].as_array().unwrap();
    let mut pairs = 0;
    for case in cases {
        let name = case["name"].as_str().unwrap();
        let (tests, who) = (tests_of(case), who_of(case));
        let start = usize::try_from(case["start"].as_u64().unwrap()).unwrap();
        let read = season(&tests, start, who).unwrap();
        let change = read.change.unwrap();
        let want = &case["expect"];
        let check = |key: &str, got: f64, want: &Value| {
            near(&format!("{name}, {key}"), got, number(want, key), WORKED);
        };
        check("change_cm", change.own_cm, want);
        check("change_sd_cm", change.own_sd_cm, want);
        check("p_gain_beyond", change.p_own_higher, want);
        check("p_gain_total", change.p_total_higher, want);
        check("p_loss", change.p_lower, want);
        check("mean_c", read.day_factor, want);
        let (weights, line) = (want["weights"].as_array(), want["line"].as_array().unwrap());
        for (got, want) in read.day_weights.iter().zip(weights.unwrap()) {
            near(name, *got, want.as_f64().unwrap(), WORKED);
        }
        assert_eq!(read.drawn.len(), line.len(), "{name}");
        for (drawn, want) in read.drawn.iter().zip(line) {
            check("level_cm", drawn.mean_cm, want);
            check("sd_cm", drawn.sd_cm, want);
        }
        assert_eq!(words(read.verdict), case["verdict"].as_str().unwrap(), "{name}");
        let Some(two) = case.get("pair") else { continue };
        let place = |key: &str| usize::try_from(two[key].as_u64().unwrap()).unwrap();
        let change = pair(&tests, (place("earlier"), place("later")), who).unwrap();
        check("change_cm", change.own_cm, two);
        check("change_sd_cm", change.own_sd_cm, two);
        check("p_gain", change.p_own_higher, two);
        check("p_loss", change.p_lower, two);
        pairs += 1;
    }
    assert_eq!((cases.len(), pairs), (12, 4));
}

/// Numbers without a pattern: Marsaglia's shift register (2003, J. Stat. Softw. 8:14).
struct Dice(u64);

impl Dice {
    fn below(&mut self, limit: f64) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        let part = u32::try_from(self.0 >> 33).unwrap();
        limit * f64::from(part) / f64::from(1_u32 << 31)
    }
}

fn invented(dice: &mut Dice, count: u32, first_earlier: u32) -> Vec<SeasonTest> {
    let mut day = dice.below(30.0) - 15.0;
    let mut growth_cm = -dice.below(0.5);
    (0..count)
        .map(|place| {
            day += dice.below(40.0).round() * f64::from(u32::from(dice.below(1.0) > 0.15));
            growth_cm += dice.below(0.3);
            SeasonTest {
                day,
                height_cm: 35.0 + dice.below(12.0),
                rest_variance_cm2: dice.below(3.0),
                day_sd_cm: 0.5 + dice.below(2.0),
                earlier: first_earlier + place,
                growth_cm,
            }
        })
        .collect()
}

/// Compared as variances: between two tests of one day there is none, and the root of what rounding
/// leaves of it is no small number.
fn spread(what: &str, got_cm: f64, want_cm: f64) {
    near(what, got_cm * got_cm, want_cm * want_cm, JOINT);
}

fn same(what: &str, got: &Change, want: &Said) {
    near(what, got.own_cm, want.own.0, JOINT);
    spread(what, got.own_sd_cm, want.own.1);
    near(what, got.total_cm, want.total.0, JOINT);
    spread(what, got.total_sd_cm, want.total.1);
    near(what, got.p_own_higher, want.p_own_higher, JOINT);
    near(what, got.p_total_higher, want.p_total_higher, JOINT);
    near(what, got.p_lower, want.p_lower, JOINT);
}

/// Filter, smoother and copies against one joint normal distribution of all levels and heights.
#[test]
fn the_joint_distribution_says_the_same() {
    let mut dice = Dice(0x9E37_79B9_7F4A_7C15);
    for round in 0..40_u32 {
        let count = 2 + round % 14;
        let tests = invented(&mut dice, count, (round * 3) % 10);
        let sd_cm_per_year = if round % 3 == 0 { 0.0 } else { 0.5 + dice.below(4.0) };
        let who = match round % 3 {
            0 => Who::Adult,
            _ => Who::Growing { sd_cm_per_year },
        };
        let last = tests.len() - 1;
        let start = usize::try_from(round).unwrap() % last;
        let joint = Joint::new(&tests, sd_cm_per_year);
        let read = season(&tests, start, who).unwrap();
        for (got, want) in read.day_weights.iter().zip(&joint.weights) {
            near("weight", *got, *want, JOINT);
        }
        for (place, drawn) in read.drawn.iter().enumerate() {
            let (mean, sd) = joint.level(place);
            near("level", drawn.mean_cm, mean, JOINT);
            near("SD of the level", drawn.sd_cm, sd, JOINT);
            near("learning", drawn.learning_cm, joint.learning(place), JOINT);
            let grown = joint.growth(place) - joint.growth(start);
            near("growth", drawn.growth_cm, grown, JOINT);
        }
        same("season", &read.change.unwrap(), &joint.change(start, last));
        let earlier = usize::try_from(round).unwrap() * 5 % last;
        for later in earlier + 1..=last {
            let change = pair(&tests, (earlier, later), who).unwrap();
            same("pair", &change, &joint.change(earlier, later));
        }
    }
}

/// The first and the last test compared are the season, figure for figure.
#[test]
fn two_tests_and_the_season_cannot_disagree() {
    let mut dice = Dice(77);
    for count in 2..30 {
        let tests = invented(&mut dice, count, 0);
        let who = Who::Growing { sd_cm_per_year: 2.9 };
        for start in 0..tests.len() - 1 {
            let read = season(&tests, start, who).unwrap();
            assert_eq!(pair(&tests, (start, tests.len() - 1), who), read.change);
            assert_eq!(read.verdict, read.change.unwrap().verdict(who));
        }
    }
}

#[test]
fn what_cannot_be_read_gives_nothing() {
    let tests = invented(&mut Dice(5), 4, 0);
    let altered = |alter: fn(&mut SeasonTest)| {
        let mut tests = tests.clone();
        alter(&mut tests[1]);
        season(&tests, 0, Who::Adult)
    };
    assert!(altered(|_| ()).is_some());
    assert_eq!(altered(|test| test.day = -1e6), None);
    assert_eq!(altered(|test| test.day = f64::NAN), None);
    assert_eq!(altered(|test| test.height_cm = f64::INFINITY), None);
    assert_eq!(altered(|test| test.rest_variance_cm2 = -0.1), None);
    assert_eq!(altered(|test| test.day_sd_cm = 0.0), None);
    assert_eq!(altered(|test| test.growth_cm = f64::NAN), None);
    assert_eq!(season(&[], 0, Who::Adult), None);
    assert_eq!(season(&tests, 4, Who::Adult), None);
    assert_eq!(season(&tests, 0, Who::Growing { sd_cm_per_year: -1.0 }), None);
    assert_eq!(pair(&tests, (2, 2), Who::Adult), None);
    assert_eq!(pair(&tests, (2, 4), Who::Adult), None);
    let one = season(&tests, 3, Who::Adult).unwrap();
    assert_eq!((one.change, one.verdict, one.drawn.len()), (None, Verdict::TooFew, 4));
}
