//! What growing up alone is expected to bring one person.

use chrono::NaiveDate;

use crate::history::{Born, Person};
use crate::norms::{growth_by_year, growth_expectation_of_group};
use crate::quantity::{Age, AgeGroup, BirthMonth, Compare, Sex, days_between};
use crate::trend::model::{Missing, SeasonTest, Who};
use crate::trend::{GrowthYear, growth_cm, growth_sd_cm_per_year};

/// Days in a mean year.
const DAYS_PER_YEAR: f64 = 365.25;
/// Where growing up ends in the tables, and the rules for grown-ups begin.
const GROWN_UP_YEARS: f64 = 18.0;
/// Where the tables of growth begin; a younger child's season is drawn and not judged.
pub const JUDGED_FROM_YEARS: f64 = 8.0;

/// How somebody grows from a day on.
#[derive(Clone, Debug, PartialEq)]
pub enum Growing {
    /// 18 or older on that day.
    Adult,
    /// Under 18, or of unknown age, and this answer is missing.
    Unknown(Missing),
    /// Growth by age.
    Known(GrowthPath),
}

/// A growing person's age and what each year of age brings.
#[derive(Clone, Debug, PartialEq)]
pub struct GrowthPath {
    /// Age in years on the first day, the youngest it can be; of an age group only the group is
    /// known, and then this is 8.
    age_years: f64,
    /// Growth by year of age.
    table: Vec<GrowthYear>,
}

impl GrowthPath {
    /// Of a girl or a boy of an age in years, with decimals.
    pub fn of(sex: Sex, age_years: f64) -> Self {
        let years = growth_by_year(sex).map(|(years, gain)| GrowthYear {
            from_age_years: f64::from(years),
            cm_per_year: gain.mean_cm_per_year,
        });
        let grown = GrowthYear { from_age_years: GROWN_UP_YEARS, cm_per_year: 0.0 };
        Self { age_years, table: years.chain([grown]).collect() }
    }

    /// Age so many days after the first day.
    pub fn age_years(&self, days: f64) -> f64 {
        self.age_years + days / DAYS_PER_YEAR
    }

    /// Growth to expect from the first day to so many days later, cm.
    pub fn growth_cm(&self, days: f64) -> f64 {
        growth_cm(&self.table, self.age_years, self.age_years(days))
    }

    /// How much growth differs between people from the first day to so many days later, one SD, cm
    /// a year.
    pub fn sd_cm_per_year(&self, days: f64) -> f64 {
        growth_sd_cm_per_year(&self.table, self.age_years, self.age_years(days))
    }
}

impl Growing {
    /// Gives each test its growth from the first of them on, and says whose season it is.
    pub fn spread_over(&self, tests: &mut [SeasonTest]) -> Who {
        let Self::Known(path) = self else {
            return match self {
                Self::Unknown(missing) => Who::Unknown(*missing),
                Self::Adult | Self::Known(_) => Who::Adult,
            };
        };
        let first = tests.first().map_or(0.0, |test| test.day);
        for test in tests.iter_mut() {
            test.growth_cm = path.growth_cm(test.day - first);
        }
        let days = tests.last().map_or(0.0, |last| last.day - first);
        if path.age_years(days) < JUDGED_FROM_YEARS {
            return Who::UnderEight;
        }
        Who::Growing { sd_cm_per_year: path.sd_cm_per_year(days) }
    }

    /// The place of the first test from which a season may be judged: from the eighth birthday on.
    pub fn judged_from(&self, tests: &[SeasonTest]) -> usize {
        let (Self::Known(path), Some(first)) = (self, tests.first()) else { return 0 };
        let is_young =
            |test: &&SeasonTest| path.age_years(test.day - first.day) < JUDGED_FROM_YEARS;
        let young = tests.iter().take_while(is_young).count();
        if young < tests.len() { young } else { 0 }
    }
}

/// How somebody grows from a day on.
///
/// From a birth month each year of age has its own row, and none is expected from 18 on. Of an age
/// group only the largest gain in it is known, which errs to the cautious side. Without an age, or
/// under 18 without a sex, nothing is known.
pub fn growing(person: &Person, on: NaiveDate) -> Growing {
    let sex = match person.compare {
        Some(Compare::With(sex)) => Some(sex),
        Some(Compare::Both | Compare::None) | None => None,
    };
    match (person.born, sex) {
        (Some(Born::Month(month)), _) if Age::on(month, on).is_adult() => Growing::Adult,
        (Some(Born::Group(AgeGroup::Adult)), _) => Growing::Adult,
        (None, _) => Growing::Unknown(Missing::Age),
        (Some(_), None) => Growing::Unknown(Missing::Sex),
        (Some(Born::Month(month)), Some(sex)) => youngest_years(month, on)
            .map_or(Growing::Unknown(Missing::Age), |age| Growing::Known(GrowthPath::of(sex, age))),
        (Some(Born::Group(group)), Some(sex)) => {
            growth_expectation_of_group(sex, group).map_or(Growing::Adult, |gain| {
                let row = GrowthYear { from_age_years: 0.0, cm_per_year: gain.mean_cm_per_year };
                let table = vec![row];
                Growing::Known(GrowthPath { age_years: JUDGED_FROM_YEARS, table })
            })
        }
    }
}

/// Age with decimals, counted from the last day of the birth month.
fn youngest_years(born: BirthMonth, on: NaiveDate) -> Option<f64> {
    let first = NaiveDate::from_ymd_opt(i32::from(born.year()), u32::from(born.month()), 1)?;
    let next = first.checked_add_months(chrono::Months::new(1))?;
    let last = next.pred_opt()?;
    let days = i32::try_from(days_between(last, on)).ok()?;
    (days >= 0).then(|| f64::from(days) / DAYS_PER_YEAR)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::history::{Id, LocalId};

    fn person(born: Option<Born>, compare: Option<Compare>) -> Person {
        let id = Id::from_bytes([7; 16]);
        let local = LocalId::shortest(id, |_| false);
        Person { born, compare, ..Person::new(id, local, "Kim".to_owned(), 0) }
    }

    fn day(year: i32, month: u32, day: u32) -> NaiveDate {
        NaiveDate::from_ymd_opt(year, month, day).unwrap()
    }

    fn born(year: u16, month: u8) -> Option<Born> {
        BirthMonth::new(year, month).map(Born::Month)
    }

    fn of(person: &Person, on: NaiveDate) -> GrowthPath {
        match growing(person, on) {
            Growing::Known(path) => path,
            other => panic!("{other:?}"),
        }
    }

    fn tests(days: &[f64]) -> Vec<SeasonTest> {
        let test = |day: &f64| SeasonTest {
            day: *day,
            height_cm: 30.0,
            rest_variance_cm2: 1.0,
            day_sd_cm: 1.0,
            earlier: 0,
            growth_cm: 0.0,
        };
        days.iter().map(test).collect()
    }

    #[test]
    fn a_boy_of_13_grows_by_the_row_of_his_age() {
        let boy = person(born(2012, 8), Some(Compare::With(Sex::Male)));
        let path = of(&boy, day(2025, 8, 31));
        assert!((path.age_years(0.0) - 13.0).abs() < 0.003);
        assert!((path.growth_cm(365.25) - 5.8).abs() < 0.01);
        assert!((path.sd_cm_per_year(300.0) - 2.9).abs() < 0.01);
        let mut rows = tests(&[5.0, 35.0, 370.25]);
        let who = growing(&boy, day(2025, 8, 31)).spread_over(&mut rows);
        let Who::Growing { sd_cm_per_year } = who else { panic!("{who:?}") };
        assert!((sd_cm_per_year - 2.9).abs() < 0.01);
        assert!(rows[0].growth_cm.abs() < 1e-15);
        assert!((rows[1].growth_cm - 5.8 * 30.0 / 365.25).abs() < 1e-3);
    }

    #[test]
    fn nothing_grows_from_18_on() {
        let boy = person(born(2008, 8), Some(Compare::With(Sex::Male)));
        let path = of(&boy, day(2026, 3, 1));
        let to_birthday = (18.0 - path.age_years(0.0)) * DAYS_PER_YEAR;
        assert!((path.growth_cm(to_birthday) - path.growth_cm(to_birthday + 400.0)).abs() < 1e-12);
        assert_eq!(growing(&boy, day(2026, 9, 1)), Growing::Adult, "18 by then");
    }

    #[test]
    fn a_missing_answer_is_named() {
        let asked = |born, compare| growing(&person(born, compare), day(2026, 3, 1));
        assert_eq!(asked(None, Some(Compare::With(Sex::Male))), Growing::Unknown(Missing::Age));
        assert_eq!(asked(None, None), Growing::Unknown(Missing::Age));
        for compare in [None, Some(Compare::Both), Some(Compare::None)] {
            assert_eq!(asked(born(2014, 1), compare), Growing::Unknown(Missing::Sex));
            let group = Some(Born::Group(AgeGroup::From15To17));
            assert_eq!(asked(group, compare), Growing::Unknown(Missing::Sex));
            assert_eq!(asked(born(1990, 1), compare), Growing::Adult);
            assert_eq!(asked(Some(Born::Group(AgeGroup::Adult)), compare), Growing::Adult);
        }
        let unborn = asked(born(2026, 3), Some(Compare::With(Sex::Female)));
        assert_eq!(unborn, Growing::Unknown(Missing::Age));
    }

    #[test]
    fn an_age_group_is_allowed_the_most_growth_in_it() {
        let group = Some(Born::Group(AgeGroup::From12To14));
        let path = of(&person(group, Some(Compare::With(Sex::Female))), day(2026, 3, 1));
        assert!((path.growth_cm(DAYS_PER_YEAR) - 2.2).abs() < 1e-12);
        assert!((path.sd_cm_per_year(100.0) - crate::norms::SPREAD_MIN_CM).abs() < 1e-12);
    }

    /// A season that begins at seven is judged from the first test after the eighth birthday.
    #[test]
    fn under_eight_a_season_is_only_drawn() {
        let child = person(born(2018, 3), Some(Compare::With(Sex::Female)));
        let grows = growing(&child, day(2026, 2, 1));
        let mut young = tests(&[0.0, 30.0, 57.0]);
        assert_eq!(grows.spread_over(&mut young), Who::UnderEight);
        assert_eq!(grows.judged_from(&young), 0);
        let mut eight = tests(&[0.0, 30.0, 61.0, 90.0]);
        assert!(matches!(grows.spread_over(&mut eight), Who::Growing { .. }));
        assert_eq!(grows.judged_from(&eight), 2);
    }
}
