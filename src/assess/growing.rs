//! What growing up alone is expected to bring one person.

use chrono::NaiveDate;

use crate::history::{Born, Person};
use crate::norms::{growth_by_year, growth_expectation_for};
use crate::quantity::{Age, AgeGroup, BirthMonth, Compare, days_between};
use crate::trend::{GrowthYear, UnderEighteen};

/// Days in a mean year.
const DAYS_PER_YEAR: f64 = 365.25;
/// Where growing up ends in the tables, and the rules for grown-ups begin.
const GROWN_UP_YEARS: f64 = 18.0;
/// Older than anybody.
const OLDEST_YEARS: f64 = 131.0;

/// A growing person's age and what each year of age brings.
#[derive(Clone, Debug, PartialEq)]
pub struct Growing {
    /// Age in years on the first day, the youngest it can be; `None` if nothing is known of it.
    pub age_years: Option<f64>,
    /// Growth by year of age.
    pub table: Vec<GrowthYear>,
}

impl Growing {
    /// The same for the reckoning of a season.
    pub fn as_under_eighteen(&self) -> UnderEighteen<'_> {
        UnderEighteen { age_years: self.age_years, growth: &self.table }
    }
}

/// Whether somebody grows on a day and by how much a year; `None` for a grown-up.
///
/// From a birth month each year of age has its own row, and none is expected from 18 on. Of an age
/// group, or of nobody's age, only the largest gain in it is known: that one row then holds at any
/// age, which errs to the cautious side.
pub fn growing(person: &Person, on: NaiveDate) -> Option<Growing> {
    let compare = person.compare.unwrap_or(Compare::None);
    let largest = |age: Age| Growing {
        age_years: Some(0.0),
        table: growth_expectation_for(compare, age)
            .map(|gain| row(0.0, OLDEST_YEARS, gain.mean_cm_per_year, gain.sd_cm_per_year))
            .into_iter()
            .collect(),
    };
    match person.born {
        Some(Born::Month(month)) if Age::on(month, on).is_adult() => None,
        Some(Born::Month(month)) => {
            let years = growth_by_year(compare).map(|(years, gain)| {
                let from = f64::from(years);
                row(from, from + 1.0, gain.mean_cm_per_year, gain.sd_cm_per_year)
            });
            let grown = row(GROWN_UP_YEARS, OLDEST_YEARS, 0.0, 0.0);
            Some(Growing {
                age_years: youngest_years(month, on),
                table: years.chain([grown]).collect(),
            })
        }
        Some(Born::Group(AgeGroup::Adult)) => None,
        Some(Born::Group(group)) => Some(largest(Age::Group(group))),
        None => Some(largest(Age::Unknown)),
    }
}

fn row(from_age_years: f64, to_age_years: f64, mean: f64, sd: f64) -> GrowthYear {
    GrowthYear { from_age_years, to_age_years, mean_cm_per_year: mean, sd_cm_per_year: sd }
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
    use crate::quantity::Sex;
    use crate::trend::{Growth, expected_growth};

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

    fn over_a_year(growing: &Growing) -> Option<Growth> {
        let age = growing.age_years?;
        expected_growth(&growing.table, age, age + 1.0)
    }

    #[test]
    fn a_boy_of_13_grows_by_the_row_of_his_age() {
        let boy = person(born(2012, 8), Some(Compare::With(Sex::Male)));
        let growing = growing(&boy, day(2025, 8, 31)).unwrap();
        assert!((growing.age_years.unwrap() - 13.0).abs() < 0.003);
        let year = over_a_year(&growing).unwrap();
        // Medians of docs/norms/kor_nfa_2024_2026.csv, 14 less 13.
        assert!((year.mean_cm - 4.2).abs() < 0.05, "{year:?}");
    }

    #[test]
    fn the_table_goes_on_without_growth_from_18() {
        let boy = person(born(2008, 8), Some(Compare::With(Sex::Male)));
        let growing = growing(&boy, day(2026, 3, 1)).unwrap();
        let age = growing.age_years.unwrap();
        let to_birthday = expected_growth(&growing.table, age, 18.0).unwrap();
        let beyond = expected_growth(&growing.table, age, 19.0).unwrap();
        assert!((to_birthday.mean_cm - beyond.mean_cm).abs() < 1e-12);
        assert!(super::growing(&boy, day(2026, 9, 1)).is_none(), "18 by then");
    }

    #[test]
    fn an_unknown_age_is_allowed_the_most_growth() {
        let nobody = growing(&person(None, None), day(2026, 3, 1)).unwrap();
        let group = Some(Born::Group(AgeGroup::From15To17));
        let teen = growing(&person(group, None), day(2026, 3, 1)).unwrap();
        let (most, some) = (over_a_year(&nobody).unwrap(), over_a_year(&teen).unwrap());
        assert!(most.mean_cm > some.mean_cm && some.mean_cm > 0.0);
        let adult = Some(Born::Group(AgeGroup::Adult));
        assert_eq!(growing(&person(adult, None), day(2026, 3, 1)), None);
    }

    #[test]
    fn under_eight_no_growth_is_known() {
        let child = person(born(2019, 3), Some(Compare::With(Sex::Female)));
        assert_eq!(over_a_year(&growing(&child, day(2026, 2, 1)).unwrap()), None);
        let unborn = growing(&child, day(2019, 3, 10)).unwrap();
        assert_eq!(unborn.age_years, None);
    }
}
