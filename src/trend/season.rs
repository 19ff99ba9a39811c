//! The season so far: one line, one answer.

use crate::statistics::{TheilSen, theil_sen};

use super::change::{Weight, weight_of};
use super::growth::{Growth, GrowthYear, expected_growth};
use super::local_level::{
    DRIFT_CM2_PER_DAY, LevelChange, LocalLevel, Observation, START_VARIANCE_CM2, Smoothed, smooth,
};

/// A person's first sessions of a kind of test are practice and stay outside the line; a design
/// choice, because people learn the test itself in them.
pub const PRACTICE_SESSIONS: usize = 2;
/// Fewest counted tests for any answer; a design choice.
pub const COUNTED_TESTS_MIN: usize = 3;
/// Fewest tests for a straight line beside the smooth one; a design choice.
pub const LINE_TESTS_MIN: usize = 6;
/// Fewest days such a line must span; a design choice.
pub const LINE_DAYS_MIN: f64 = 42.0;
/// Days in a mean year.
const DAYS_PER_YEAR: f64 = 365.25;
/// Level of the straight line's interval.
const LINE_LEVEL: f64 = 0.95;

/// One test of the season. All tests share one trend key.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SeasonTest {
    /// Day, counted from any fixed day; tests come in order.
    pub day: f64,
    /// Usual height: the mean of the first three counted trials, cm.
    pub height_cm: f64,
    /// Its standard error, cm.
    pub se_cm: f64,
    /// One of the person's first sessions ([`PRACTICE_SESSIONS`]), or left out for another reason.
    pub practice: bool,
}

/// Whose season it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Who<'a> {
    /// 18 or older.
    Adult,
    /// Under 18, or of unknown age.
    UnderEighteen(UnderEighteen<'a>),
}

/// What is known of a growing person.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct UnderEighteen<'a> {
    /// Age in years, with decimals, on the day of the first test that counts; `None` if unknown.
    pub age_years: Option<f64>,
    /// Growth by year of age; empty if unknown, and then no gain is ever claimed.
    pub growth: &'a [GrowthYear],
}

/// The part of the change that growing up does not explain.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BeyondGrowth {
    /// What growing up alone brings from the first to the last counted test.
    pub expected: Growth,
    /// Change of the line through the heights less expected growth, cm, and its SD without growth's
    /// own spread.
    pub change: LevelChange,
    /// Probability that the change exceeds growth, growth's spread and noise by a worthwhile amount.
    pub p_gain: f64,
}

/// The answer of a season.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SeasonVerdict {
    /// Fewer than [`COUNTED_TESTS_MIN`] tests count so far.
    TooFew,
    /// What the change weighs; for a person under 18 a gain stands only beyond growth.
    Shown(Weight),
    /// Higher by more than noise, but growing up may explain it.
    MaybeGrowth,
    /// Higher by more than noise, and what growing up brings at this age is not known.
    GrowthUnknown,
}

/// The season so far.
#[derive(Clone, Debug, PartialEq)]
pub struct Season {
    /// Places of the counted tests among all tests.
    pub counted: Vec<usize>,
    /// Line and ribbon through the counted tests.
    pub line: Smoothed,
    /// Change of the line from the first to the last counted test; `None` for a single one.
    pub change: Option<LevelChange>,
    /// Probability of a gain worth naming, growth included.
    pub p_gain: f64,
    /// Probability of a fall worth naming.
    pub p_loss: f64,
    /// Under 18 with known growth: what is beyond it.
    pub beyond_growth: Option<BeyondGrowth>,
    /// Straight line per day, from six tests over six weeks on.
    pub straight: Option<TheilSen>,
    /// The answer.
    pub verdict: SeasonVerdict,
}

/// Reads a season.
///
/// The running picture may be looked at after every test: the smoothed change leans on the slow
/// drift, so that a lucky day hardly moves it. With thirty tests in nine months some look calls
/// noise a probable gain in fewer than one season in ten, and the same holds for a person under 18
/// who only grows; the rates stand in `docs/season-rates.md`.
///
/// Under 18 a gain is claimed only if the change beyond expected growth passes the same threshold
/// with growth's own spread added, and the plain change passes it too.
///
/// # Errors
/// `None` if no test counts, if tests are out of order, if a number is not finite, if a standard
/// error is not positive, or if the worthwhile change is negative.
#[must_use]
pub fn season(tests: &[SeasonTest], who: Who<'_>, worthwhile_cm: f64) -> Option<Season> {
    if !(worthwhile_cm >= 0.0 && worthwhile_cm.is_finite()) {
        return None;
    }
    let (counted, observations): (Vec<usize>, Vec<Observation>) = tests
        .iter()
        .enumerate()
        .filter(|(_, test)| !test.practice)
        .map(|(place, test)| {
            let variance_cm2 = test.se_cm.max(0.0) * test.se_cm;
            (place, Observation { day: test.day, height_cm: test.height_cm, variance_cm2 })
        })
        .unzip();
    let line = smooth_from_first(&observations)?;
    let last = observations.len() - 1;
    let change = line.change(0, last);
    let p_gain = change.map_or(0.0, |change| change.chance_above(worthwhile_cm));
    let p_loss = change.map_or(0.0, |change| 1.0 - change.chance_above(-worthwhile_cm));
    let beyond_growth = match who {
        Who::Adult => None,
        Who::UnderEighteen(growing) => beyond_growth(&observations, growing, worthwhile_cm),
    };
    let verdict = if observations.len() < COUNTED_TESTS_MIN {
        SeasonVerdict::TooFew
    } else {
        let p_beyond = beyond_growth.map(|beyond| beyond.p_gain);
        verdict_beside_growth(who == Who::Adult, p_gain, p_loss, p_beyond)
    };
    let straight = straight_line(&observations);
    Some(Season { counted, line, change, p_gain, p_loss, beyond_growth, straight, verdict })
}

fn smooth_from_first(observations: &[Observation]) -> Option<Smoothed> {
    let model = LocalLevel {
        drift_cm2_per_day: DRIFT_CM2_PER_DAY,
        start_cm: observations.first()?.height_cm,
        start_variance_cm2: START_VARIANCE_CM2,
    };
    smooth(observations, &model)
}

fn beyond_growth(
    observations: &[Observation],
    growing: UnderEighteen<'_>,
    worthwhile_cm: f64,
) -> Option<BeyondGrowth> {
    let first_day = observations.first()?.day;
    let age = growing.age_years?;
    let grown_by =
        |day: f64| expected_growth(growing.growth, age, age + (day - first_day) / DAYS_PER_YEAR);
    let levelled = observations
        .iter()
        .map(|o| Some(Observation { height_cm: o.height_cm - grown_by(o.day)?.mean_cm, ..*o }))
        .collect::<Option<Vec<_>>>()?;
    let expected = grown_by(observations.last()?.day)?;
    let change = smooth_from_first(&levelled)?.change(0, levelled.len() - 1)?;
    let sd_cm = libm::hypot(change.sd_cm, expected.sd_cm);
    let p_gain = LevelChange { sd_cm, ..change }.chance_above(worthwhile_cm);
    Some(BeyondGrowth { expected, change, p_gain })
}

/// What may be said of a change, with the rule for people under 18: a gain stands only if the
/// probability beyond growth, `p_beyond`, passes as well. `None` of it means that growth is unknown.
///
/// ```
/// use two_marks::trend::{SeasonVerdict, Weight, verdict_beside_growth};
/// let child = |p_beyond| verdict_beside_growth(false, 0.9, 0.01, p_beyond);
/// assert_eq!(child(Some(0.85)), SeasonVerdict::Shown(Weight::ProbableGain));
/// assert_eq!(child(Some(0.4)), SeasonVerdict::MaybeGrowth);
/// assert_eq!(child(None), SeasonVerdict::GrowthUnknown);
/// ```
#[must_use]
pub fn verdict_beside_growth(
    is_adult: bool,
    p_gain: f64,
    p_loss: f64,
    p_beyond: Option<f64>,
) -> SeasonVerdict {
    let plain = weight_of(p_gain, p_loss);
    let is_gain = matches!(plain, Weight::ClearGain | Weight::ProbableGain);
    match p_beyond {
        _ if is_adult || !is_gain => SeasonVerdict::Shown(plain),
        None => SeasonVerdict::GrowthUnknown,
        Some(p_beyond) => match weight_of(p_gain.min(p_beyond), p_loss) {
            weight @ (Weight::ClearGain | Weight::ProbableGain) => SeasonVerdict::Shown(weight),
            _ => SeasonVerdict::MaybeGrowth,
        },
    }
}

fn straight_line(observations: &[Observation]) -> Option<TheilSen> {
    let days = observations.last()?.day - observations.first()?.day;
    if observations.len() < LINE_TESTS_MIN || days < LINE_DAYS_MIN {
        return None;
    }
    let points: Vec<(f64, f64)> = observations.iter().map(|o| (o.day, o.height_cm)).collect();
    theil_sen(&points, LINE_LEVEL)
}

#[cfg(test)]
mod tests {
    use super::*;

    const GROWTH: [GrowthYear; 1] = [GrowthYear {
        from_age_years: 13.0,
        to_age_years: 14.0,
        mean_cm_per_year: 4.0,
        sd_cm_per_year: 1.5,
    }];

    fn rising(cm_per_month: f64) -> Vec<SeasonTest> {
        (0..12_u32)
            .map(|k| SeasonTest {
                day: f64::from(k) * 20.0,
                height_cm: 35.0 + cm_per_month * f64::from(k) * 20.0 / 30.0,
                se_cm: 1.2,
                practice: k < 2,
            })
            .collect()
    }

    fn boy(growth: &[GrowthYear]) -> Who<'_> {
        Who::UnderEighteen(UnderEighteen { age_years: Some(13.1), growth })
    }

    fn answer(cm_per_month: f64, who: Who<'_>) -> SeasonVerdict {
        season(&rising(cm_per_month), who, 1.2).unwrap().verdict
    }

    #[test]
    fn a_steady_rise_is_a_gain_for_an_adult_only() {
        // 4 cm a year for half a year is what growing up brings at 13; 2 cm a month is not.
        assert_eq!(answer(2.0, Who::Adult), SeasonVerdict::Shown(Weight::ClearGain));
        assert_eq!(answer(2.0, boy(&GROWTH)), SeasonVerdict::Shown(Weight::ClearGain));
        assert_eq!(answer(0.6, Who::Adult), SeasonVerdict::Shown(Weight::ProbableGain));
        assert_eq!(answer(0.6, boy(&GROWTH)), SeasonVerdict::MaybeGrowth);
        assert_eq!(answer(2.0, boy(&[])), SeasonVerdict::GrowthUnknown);
        let unknown_age = Who::UnderEighteen(UnderEighteen { age_years: None, growth: &GROWTH });
        assert_eq!(answer(2.0, unknown_age), SeasonVerdict::GrowthUnknown);
    }

    #[test]
    fn nothing_and_falls_need_no_growth_table() {
        assert_eq!(answer(0.0, boy(&[])), SeasonVerdict::Shown(Weight::NotShown));
        assert_eq!(answer(-2.0, boy(&[])), SeasonVerdict::Shown(Weight::ClearLoss));
        assert_eq!(answer(-2.0, Who::Adult), SeasonVerdict::Shown(Weight::ClearLoss));
    }

    #[test]
    fn growth_takes_off_its_mean_and_adds_its_spread() {
        let read = season(&rising(2.0), boy(&GROWTH), 1.2).unwrap();
        let beyond = read.beyond_growth.unwrap();
        let years = 180.0 / DAYS_PER_YEAR;
        assert!((beyond.expected.mean_cm - 4.0 * years).abs() < 1e-9);
        assert!((beyond.expected.sd_cm - 1.5 * years.sqrt()).abs() < 1e-9);
        assert!(beyond.change.change_cm < read.change.unwrap().change_cm);
        let without_spread = beyond.change.chance_above(1.2);
        assert!(beyond.p_gain < without_spread);
    }

    #[test]
    fn each_test_weighs_by_its_own_standard_error() {
        let mut tests = rising(1.0);
        tests[11].se_cm = 2.5;
        let read = season(&tests, Who::Adult, 1.2).unwrap();
        let last = read.line.steps.last().unwrap();
        // gain = P/(P + se²), so P (1 - gain)/gain is the square of the standard error.
        let variance = last.predicted_variance_cm2 * (1.0 - last.gain) / last.gain;
        assert!((variance - 6.25).abs() < 1e-9, "{variance}");
        let first = read.line.steps[0];
        assert!((first.predicted_cm - tests[2].height_cm).abs() < 1e-12);
        assert!((first.predicted_variance_cm2 - 100.0).abs() < 1e-12);
        // The drift of twenty days comes between two tests.
        let second = read.line.steps[1];
        let grown = second.predicted_variance_cm2 - first.filtered_variance_cm2;
        assert!((grown - 0.4).abs() < 1e-12, "{grown}");
    }

    #[test]
    fn practice_stays_outside_the_line() {
        let mut tests = rising(0.0);
        let before = season(&tests, Who::Adult, 1.2).unwrap();
        assert_eq!(before.counted, (2..12).collect::<Vec<_>>());
        tests[0].height_cm = 10.0;
        assert_eq!(season(&tests, Who::Adult, 1.2).unwrap(), before);
        tests[2].height_cm = 10.0;
        assert_ne!(season(&tests, Who::Adult, 1.2).unwrap(), before);
    }

    #[test]
    fn few_tests_give_no_answer_and_no_straight_line() {
        let tests = rising(9.0);
        let two = season(&tests[..4], Who::Adult, 1.2).unwrap();
        assert_eq!((two.verdict, two.straight), (SeasonVerdict::TooFew, None));
        let three = season(&tests[..5], Who::Adult, 1.2).unwrap();
        assert_ne!(three.verdict, SeasonVerdict::TooFew);
        assert_eq!(season(&tests[..7], Who::Adult, 1.2).unwrap().straight, None);
        let straight = season(&tests[..8], Who::Adult, 1.2).unwrap().straight.unwrap();
        assert!((straight.slope - 0.3).abs() < 1e-12);
        let one = season(&tests[..3], Who::Adult, 1.2).unwrap();
        assert_eq!(one.change, None);
        assert!(one.p_gain.abs() < 1e-15 && one.p_loss.abs() < 1e-15);
    }

    #[test]
    fn tests_over_less_than_six_weeks_are_no_straight_line() {
        let mut tests = rising(1.0);
        for test in &mut tests {
            test.day = 42.0 / 180.0 * (test.day - 40.0);
        }
        tests[11].day = 42.0;
        assert!(season(&tests, Who::Adult, 1.2).unwrap().straight.is_some());
        tests[11].day = 41.9;
        assert_eq!(season(&tests, Who::Adult, 1.2).unwrap().straight, None);
        // It does not matter which day is the first.
        for test in &mut tests {
            test.day += 1_000.0;
        }
        assert_eq!(season(&tests, Who::Adult, 1.2).unwrap().straight, None);
    }

    #[test]
    fn what_cannot_be_read_gives_nothing() {
        assert_eq!(season(&[], Who::Adult, 1.2), None);
        assert_eq!(season(&rising(1.0)[..2], Who::Adult, 1.2), None);
        assert_eq!(season(&rising(1.0), Who::Adult, -1.0), None);
        let mut tests = rising(1.0);
        tests[5].se_cm = -1.0;
        assert_eq!(season(&tests, Who::Adult, 1.2), None);
        let mut tests = rising(1.0);
        tests[5].day = 0.0;
        assert_eq!(season(&tests, Who::Adult, 1.2), None);
    }
}
