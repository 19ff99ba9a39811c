//! Before, around or after the growth spurt: an optional note for ages 8 to 18.
//!
//! Only the equations without a body mass are used, since no child is asked for one. They say how
//! many years a person is from the year of fastest growth, with an error that lets no date be named.

use chrono::NaiveDate;

use super::effort::number;
use crate::quantity::{Age, BirthMonth, Sex, Unit};

/// Youngest and oldest completed years that may ask (docs/measurement.md §7.4).
pub const SPURT_AGES: std::ops::RangeInclusive<u8> = 8..=18;
/// Within this many years of the spurt is "around" it: the error seen outside the sample the
/// equations came from was 0.65 to 0.89 years (Moore 2015, Med Sci Sports Exerc 47:1755); a design
/// choice rounds it up.
pub const AROUND_YEARS: f64 = 1.0;
/// Body heights that are accepted, cm; a design choice: the WHO's mean minus 3 SD at 8 years less
/// some, and the tallest 18-year-olds and more.
const STATURE_CM: std::ops::RangeInclusive<f64> = 95.0..=225.0;
/// A sitting height is about half of the height: 0.45 to 0.60 of it is accepted. A design choice.
const SITTING_SHARE: std::ops::RangeInclusive<f64> = 0.45..=0.60;

/// Where a person is, as far as can be told.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Spurt {
    /// More than a year before.
    Before,
    /// Within a year of it.
    Around,
    /// More than a year after.
    After,
}

impl Spurt {
    /// From years past the spurt.
    pub fn of(offset_years: f64) -> Self {
        if offset_years < -AROUND_YEARS {
            Self::Before
        } else if offset_years > AROUND_YEARS {
            Self::After
        } else {
            Self::Around
        }
    }
}

/// Years past the year of fastest growth, boys, from sitting height:
/// -8.128741 + 0.0070346 x age x sitting height.
///
/// Moore 2015, Med Sci Sports Exerc 47:1755; standard error 0.51 years, 0.65 to 0.89 outside its
/// sample. One listing prints -8.125741.
pub fn boys_from_sitting_height_years(age_years: f64, sitting_height_cm: f64) -> f64 {
    -8.128_741 + 0.007_034_6 * age_years * sitting_height_cm
}

/// The same from the whole height: -7.999994 + 0.0036124 x age x height.
pub fn boys_from_stature_years(age_years: f64, stature_cm: f64) -> f64 {
    -7.999_994 + 0.003_612_4 * age_years * stature_cm
}

/// Years past the year of fastest growth, girls: -7.709133 + 0.0042232 x age x height.
///
/// Moore 2015; standard error 0.52 years.
pub fn girls_from_stature_years(age_years: f64, stature_cm: f64) -> f64 {
    -7.709_133 + 0.004_223_2 * age_years * stature_cm
}

/// Whether a person may ask: surely 8 to 18.
pub fn may_ask(age: Age) -> bool {
    age.youngest_years().is_some_and(|years| SPURT_AGES.contains(&years))
}

/// A body height as typed, cm.
pub fn parse_child_stature_cm(text: &str, unit: Unit) -> Option<f64> {
    let cm = in_cm(text, unit)?;
    STATURE_CM.contains(&cm).then_some(cm)
}

/// A sitting height as typed, cm; it has to fit the whole height.
pub fn parse_sitting_height_cm(text: &str, unit: Unit, stature_cm: f64) -> Option<f64> {
    let cm = in_cm(text, unit)?;
    SITTING_SHARE.contains(&(cm / stature_cm)).then_some(cm)
}

fn in_cm(text: &str, unit: Unit) -> Option<f64> {
    let per_unit = match unit {
        Unit::Centimetre => 1.0,
        Unit::Inch => 2.54,
    };
    number(text).map(|typed| typed * per_unit)
}

/// Where a person born in a month stands on a date, with the height of that date. A boy's sitting
/// height is used where it is given; the girls' equation has no use for it.
pub fn spurt(
    born: BirthMonth,
    date: NaiveDate,
    sex: Sex,
    stature_cm: f64,
    sitting_height_cm: Option<f64>,
) -> Option<Spurt> {
    if !may_ask(Age::on(born, date)) {
        return None;
    }
    let age_years = f64::from(born.months_until(date)) / 12.0;
    let offset = match (sex, sitting_height_cm) {
        (Sex::Male, Some(sitting)) => boys_from_sitting_height_years(age_years, sitting),
        (Sex::Male, None) => boys_from_stature_years(age_years, stature_cm),
        (Sex::Female, _) => girls_from_stature_years(age_years, stature_cm),
    };
    Some(Spurt::of(offset))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::AgeGroup;

    fn on(born: (u16, u8)) -> BirthMonth {
        BirthMonth::new(born.0, born.1).unwrap()
    }

    fn day() -> NaiveDate {
        NaiveDate::from_ymd_opt(2026, 6, 14).unwrap()
    }

    #[test]
    fn worked_cases_of_the_reference_as_words() {
        // docs/measurement.md §7.4, 11 years, 143 cm: boy -2.3 years, girl -1.07: both before.
        let eleven = on((2015, 6));
        assert_eq!(spurt(eleven, day(), Sex::Male, 143.0, None), Some(Spurt::Before));
        assert_eq!(spurt(eleven, day(), Sex::Female, 143.0, None), Some(Spurt::Before));
        // 14 years, 163 cm: boy +0.24 (+0.14 by sitting height 84), girl +1.93.
        let fourteen = on((2012, 6));
        assert_eq!(spurt(fourteen, day(), Sex::Male, 163.0, Some(84.0)), Some(Spurt::Around));
        assert_eq!(spurt(fourteen, day(), Sex::Male, 163.0, None), Some(Spurt::Around));
        assert_eq!(spurt(fourteen, day(), Sex::Female, 163.0, None), Some(Spurt::After));
    }

    #[test]
    fn a_lost_decimal_point_would_be_seen() {
        // One table prints -7999994; the boys' line by height then gives no year at all.
        assert!(boys_from_stature_years(14.0, 163.0).abs() < 1.0);
    }

    #[test]
    fn a_year_either_way_is_around() {
        assert_eq!(Spurt::of(-1.001), Spurt::Before);
        assert_eq!(Spurt::of(-1.0), Spurt::Around);
        assert_eq!(Spurt::of(1.0), Spurt::Around);
        assert_eq!(Spurt::of(1.001), Spurt::After);
    }

    #[test]
    fn only_ages_8_to_18_may_ask() {
        assert!(!may_ask(Age::Unknown));
        assert!(!may_ask(Age::Group(AgeGroup::From12To14)));
        let born = |year| on((year, 1));
        assert_eq!(spurt(born(2019), day(), Sex::Male, 120.0, None), None);
        assert_eq!(spurt(born(2018), day(), Sex::Male, 120.0, None), Some(Spurt::Before));
        assert_eq!(spurt(born(2008), day(), Sex::Male, 180.0, None), Some(Spurt::After));
        assert_eq!(spurt(born(2007), day(), Sex::Male, 180.0, None), None);
    }

    #[test]
    fn a_sitting_height_has_to_fit() {
        assert_eq!(parse_sitting_height_cm("84", Unit::Centimetre, 163.0), Some(84.0));
        assert_eq!(parse_sitting_height_cm("163", Unit::Centimetre, 163.0), None);
        assert_eq!(parse_child_stature_cm("64", Unit::Centimetre), None);
        assert!((parse_child_stature_cm("64", Unit::Inch).unwrap() - 162.56).abs() < 1e-9);
    }
}
