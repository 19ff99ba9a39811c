//! How often a season like this one would show a real gain.

use crate::statistics::{normal_cdf, normal_quantile};

use super::change::PROBABLE_FROM;
use super::growth::{Growth, expected_growth};
use super::local_level::{
    DRIFT_CM2_PER_DAY, LocalLevel, Observation, START_VARIANCE_CM2, Smoothed, smooth,
};
use super::season::{COUNTED_TESTS_MIN, SeasonTest, Who};

/// Days in a mean year.
const DAYS_PER_YEAR: f64 = 365.25;
/// More counted tests than this are not weighed one by one.
const TESTS_MAX: usize = 120;

/// Chance that the line through these tests calls a real gain at least probable at the end of the
/// season, if the gain came steadily from the first counted test to the last.
///
/// Our own reckoning, under the assumed standard errors: the line's change is a weighted sum of the
/// heights, so its mean and spread follow from the weights. The heights themselves do not matter.
/// Under 18 the gain is on top of expected growth, and growth's own spread stands against it twice:
/// people differ in it, and the rule adds it to the doubt.
///
/// # Errors
/// `None` with fewer than [`COUNTED_TESTS_MIN`] counted tests or more than 120, if all are of one
/// day, if a number is not valid (as in [`season`](super::season())), or under 18 if growth is
/// unknown.
#[must_use]
pub fn season_power(
    tests: &[SeasonTest],
    who: Who<'_>,
    gain_cm: f64,
    worthwhile_cm: f64,
) -> Option<f64> {
    let counted: Vec<&SeasonTest> = tests.iter().filter(|test| !test.practice).collect();
    if !(COUNTED_TESTS_MIN..=TESTS_MAX).contains(&counted.len()) || !gain_cm.is_finite() {
        return None;
    }
    let (first, last) = (counted.first()?.day, counted.last()?.day);
    let growth = match who {
        Who::Adult => Growth::NONE,
        Who::UnderEighteen(growing) => {
            let age = growing.age_years?;
            expected_growth(growing.growth, age, age + (last - first) / DAYS_PER_YEAR)?
        }
    };
    let days = last - first;
    if !(days > 0.0 && worthwhile_cm >= 0.0 && worthwhile_cm.is_finite()) {
        return None;
    }
    let weights = (0..counted.len())
        .map(|place| weight_of_test(&counted, place))
        .collect::<Option<Vec<f64>>>()?;
    let each = || weights.iter().zip(&counted);
    // What a gain of one centimetre by the end comes to on the line.
    let share: f64 = each().map(|(weight, test)| weight * (test.day - first) / days).sum();
    let noise: f64 =
        each().map(|(weight, test)| (weight * test.se_cm) * (weight * test.se_cm)).sum();
    let doubt = line_through(&counted, |_| 0.0)?.change(0, counted.len() - 1)?.sd_cm;
    let needed = worthwhile_cm + normal_quantile(PROBABLE_FROM)? * libm::hypot(doubt, growth.sd_cm);
    let spread = libm::hypot(noise.sqrt(), share * growth.sd_cm);
    Some(normal_cdf((share * gain_cm - needed) / spread))
}

/// How far the line's change moves with one test's height.
fn weight_of_test(tests: &[&SeasonTest], place: usize) -> Option<f64> {
    let line = line_through(tests, |at| if at == place { 1.0 } else { 0.0 })?;
    Some(line.change(0, tests.len() - 1)?.change_cm)
}

fn line_through(tests: &[&SeasonTest], height: impl Fn(usize) -> f64) -> Option<Smoothed> {
    let observations: Vec<Observation> = tests
        .iter()
        .enumerate()
        .map(|(place, test)| Observation {
            day: test.day,
            height_cm: height(place),
            variance_cm2: test.se_cm.max(0.0) * test.se_cm,
        })
        .collect();
    let model = LocalLevel {
        drift_cm2_per_day: DRIFT_CM2_PER_DAY,
        start_cm: height(0),
        start_variance_cm2: START_VARIANCE_CM2,
    };
    smooth(&observations, &model)
}

#[cfg(test)]
mod tests {
    use super::super::{GrowthYear, UnderEighteen, WORTHWHILE_CM};
    use super::*;

    /// Nine tests in nine months, two of them practice.
    fn nine(se_cm: f64) -> Vec<SeasonTest> {
        (0..9_u32)
            .map(|k| SeasonTest {
                day: f64::from(k) * 33.75,
                height_cm: 40.0,
                se_cm,
                practice: k < 2,
            })
            .collect()
    }

    fn adult(se_cm: f64, gain_cm: f64) -> f64 {
        season_power(&nine(se_cm), Who::Adult, gain_cm, WORTHWHILE_CM).unwrap()
    }

    /// The simulated adults of docs/season-rates.md, who gain over all nine tests: 3 cm are seen at
    /// the end in 11 of 100 seasons, 4 cm in 22, 6 cm in 54. Two practice tests take their share of
    /// the gain before the line begins, so the gain between the counted tests is 6/8 of it. Their ±
    /// is 2.0 cm in the early sessions and 1.3 cm in the tenth, by the first table there; the first
    /// counted test is an early one.
    #[test]
    fn it_agrees_with_simulated_seasons() {
        let mut tests = nine(1.4);
        tests[2].se_cm = 2.0;
        for (gain_cm, simulated) in [(3.0, 0.11), (4.0, 0.22), (6.0, 0.54)] {
            let gain = gain_cm * 6.0 / 8.0;
            let own = season_power(&tests, Who::Adult, gain, WORTHWHILE_CM).unwrap();
            assert!((own - simulated).abs() < 0.06, "{gain_cm}: {own}");
        }
    }

    #[test]
    fn more_gain_and_less_noise_are_seen_more_often() {
        assert!(adult(1.5, 3.0) < adult(1.5, 4.0));
        assert!(adult(2.5, 4.0) < adult(1.0, 4.0));
        // Nothing gained: far under the promise of one in ten.
        assert!(adult(1.5, 0.0) < 0.02);
    }

    #[test]
    fn growth_hides_a_gain() {
        let row = GrowthYear {
            from_age_years: 13.0,
            to_age_years: 14.0,
            mean_cm_per_year: 4.0,
            sd_cm_per_year: 3.0,
        };
        let growing = |age_years, growth| Who::UnderEighteen(UnderEighteen { age_years, growth });
        let table = [row];
        let child = season_power(&nine(1.5), growing(Some(13.1), &table), 4.0, 1.2).unwrap();
        assert!(child < adult(1.5, 4.0), "{child}");
        assert_eq!(season_power(&nine(1.5), growing(None, &table), 4.0, 1.2), None);
        assert_eq!(season_power(&nine(1.5), growing(Some(13.1), &[]), 4.0, 1.2), None);
    }

    /// With hardly any noise the line runs through the tests, so its change is the last less the first,
    /// with the square root of two standard errors. A gain is called probable from 1.2 cm and 0.8416 of
    /// the doubt on; a doubt more than that is passed in 84.13 of 100 seasons. In a child the doubt is
    /// growth's own spread over 202.5 days: 3 cm times the root of 0.5544 of a year, 2.2338 cm.
    #[test]
    fn without_noise_it_is_what_a_sum_by_hand_gives() {
        let table = [GrowthYear {
            from_age_years: 13.0,
            to_age_years: 14.0,
            mean_cm_per_year: 4.0,
            sd_cm_per_year: 3.0,
        }];
        let growing = UnderEighteen { age_years: Some(13.1), growth: &table };
        let of = |who, doubt_cm: f64| {
            season_power(&nine(0.05), who, 1.2 + 1.8416 * doubt_cm, 1.2).unwrap()
        };
        let (adult, child) = (of(Who::Adult, 0.0707), of(Who::UnderEighteen(growing), 2.2349));
        assert!((adult - 0.8413).abs() < 0.01, "{adult}");
        assert!((child - 0.8413).abs() < 0.01, "{child}");
    }

    /// Days are counted from any fixed day.
    #[test]
    fn it_does_not_matter_where_the_days_are_counted_from() {
        let table = [GrowthYear {
            from_age_years: 13.0,
            to_age_years: 14.0,
            mean_cm_per_year: 4.0,
            sd_cm_per_year: 3.0,
        }];
        let growing = UnderEighteen { age_years: Some(13.1), growth: &table };
        let mut later = nine(1.5);
        for test in &mut later {
            test.day += 1_000.0;
        }
        for who in [Who::Adult, Who::UnderEighteen(growing)] {
            let of = |tests: &[SeasonTest]| season_power(tests, who, 4.0, WORTHWHILE_CM).unwrap();
            assert!((of(&nine(1.5)) - of(&later)).abs() < 1e-9);
        }
    }

    #[test]
    fn what_cannot_be_weighed_gives_nothing() {
        let none = |tests: &[SeasonTest], gain| {
            assert_eq!(season_power(tests, Who::Adult, gain, 1.2), None);
        };
        none(&nine(1.5)[..4], 3.0);
        none(&nine(0.0), 3.0);
        none(&nine(1.5), f64::NAN);
        let mut one_day = nine(1.5);
        for test in &mut one_day {
            test.day = 0.0;
        }
        none(&one_day, 3.0);
        assert_eq!(season_power(&nine(1.5), Who::Adult, 3.0, -1.0), None);
    }
}
