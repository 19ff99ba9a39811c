//! What growing up alone does to a jump height, from age to age.

use crate::norms::{SPREAD_MIN_CM, SPREAD_SHARE};

/// What one year of age brings.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GrowthYear {
    /// The age in years from which it holds, up to the next one.
    pub from_age_years: f64,
    /// What the jump height gains by growing up, cm a year.
    pub cm_per_year: f64,
}

/// Growth to expect between two ages, cm, by a table in ascending order of age; below zero if the
/// second age is the lower one.
///
/// The first row holds before it too, the last one for ever. An empty table means no growth.
///
/// ```
/// use two_marks::trend::{GrowthYear, growth_cm};
/// let table = [
///     GrowthYear { from_age_years: 13.0, cm_per_year: 4.0 },
///     GrowthYear { from_age_years: 14.0, cm_per_year: 3.0 },
/// ];
/// assert_eq!(growth_cm(&table, 13.5, 14.5), 3.5);
/// assert_eq!(growth_cm(&table, 13.5, 12.5), -4.0);
/// ```
#[must_use]
pub fn growth_cm(table: &[GrowthYear], from_age_years: f64, to_age_years: f64) -> f64 {
    grown_by(table, to_age_years) - grown_by(table, from_age_years)
}

/// How much growth differs between people over some ages, one SD, cm a year: half of the mean gain
/// a year there, at least 1.5 cm. Both are design choices.
///
/// ```
/// use two_marks::trend::{GrowthYear, growth_sd_cm_per_year};
/// let table = [GrowthYear { from_age_years: 13.0, cm_per_year: 5.0 }];
/// assert_eq!(growth_sd_cm_per_year(&table, 13.0, 13.5), 2.5);
/// ```
#[must_use]
pub fn growth_sd_cm_per_year(table: &[GrowthYear], from_age_years: f64, to_age_years: f64) -> f64 {
    // A season of one day is given the gain of its day.
    let to = to_age_years.max(from_age_years + 1.0 / 365.25);
    let mean = growth_cm(table, from_age_years, to) / (to - from_age_years);
    (SPREAD_SHARE * mean).max(SPREAD_MIN_CM)
}

/// Growth since the first row's age.
fn grown_by(table: &[GrowthYear], age: f64) -> f64 {
    let mut grown = 0.0;
    for (place, row) in table.iter().enumerate() {
        let until = table.get(place + 1).map_or(f64::INFINITY, |next| next.from_age_years);
        let years = age.min(until) - row.from_age_years;
        grown += row.cm_per_year * if place == 0 { years } else { years.max(0.0) };
    }
    grown
}

#[cfg(test)]
mod tests {
    use super::*;

    fn row(from_age_years: f64, cm_per_year: f64) -> GrowthYear {
        GrowthYear { from_age_years, cm_per_year }
    }

    #[test]
    fn years_add_up_by_their_share() {
        let table = [row(12.0, 2.0), row(13.0, 4.0), row(14.0, 3.0), row(18.0, 0.0)];
        let near = |from, to, want: f64| {
            let got = growth_cm(&table, from, to);
            assert!((got - want).abs() < 1e-12, "{from} to {to}: {got}");
        };
        near(12.75, 14.25, 0.5 + 4.0 + 0.75);
        near(14.25, 12.75, -5.25);
        near(13.25, 13.5, 1.0);
        near(17.5, 30.0, 1.5);
        near(11.0, 12.5, 3.0);
        near(20.0, 25.0, 0.0);
        near(13.5, 13.5, 0.0);
        assert!(growth_cm(&[], 12.0, 14.0).abs() < 1e-15);
    }

    #[test]
    fn the_spread_is_half_of_the_gain_and_never_small() {
        let table = [row(12.0, 2.0), row(13.0, 6.0), row(18.0, 0.0)];
        let near = |from, to, want: f64| {
            let got = growth_sd_cm_per_year(&table, from, to);
            assert!((got - want).abs() < 1e-9, "{from} to {to}: {got}");
        };
        near(13.0, 14.0, 3.0);
        near(12.5, 13.5, 2.0);
        near(13.5, 13.5, 3.0);
        near(12.0, 12.5, SPREAD_MIN_CM);
        near(20.0, 21.0, SPREAD_MIN_CM);
    }
}
