//! What growing up alone does to a jump height, by year of age.

/// Ages may fail to meet by this much, years, before a table counts as having a gap.
const JOIN_YEARS: f64 = 1e-6;

/// One row of a growth table: ages from `from_age_years` up to `to_age_years`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GrowthYear {
    /// First age of the row, in years with decimals.
    pub from_age_years: f64,
    /// Where the row ends.
    pub to_age_years: f64,
    /// What the jump height gains by growing up, cm a year.
    pub mean_cm_per_year: f64,
    /// How much that differs between people, one SD, cm a year.
    pub sd_cm_per_year: f64,
}

/// Expected gain of a jump height by growing up over some time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Growth {
    /// Mean, cm.
    pub mean_cm: f64,
    /// SD between people, cm.
    pub sd_cm: f64,
}

impl Growth {
    /// Nothing is expected: an adult.
    pub const NONE: Self = Self { mean_cm: 0.0, sd_cm: 0.0 };
}

/// Growth to expect between two ages, added up year by year over a table in ascending order.
///
/// Someone ahead of the average stays ahead: the SDs of several years add up as they are, not as
/// squares, which errs to the wide side. Within a year growth comes unevenly, so over a part of a
/// year the SD shrinks only with the root of that part. Both are our own reckoning; simulated
/// seasons of children who only grow, evenly or unevenly, keep to the promised rate of false alarms
/// with it (`docs/season-rates.md`).
///
/// # Errors
/// `None` if the ages are not finite or go backwards, or if the table does not cover every age
/// between them. An empty table therefore means that growth is unknown, and then nothing is claimed
/// of anybody under 18.
///
/// ```
/// use two_marks::trend::{GrowthYear, expected_growth};
/// let table = [
///     GrowthYear { from_age_years: 13.0, to_age_years: 14.0, mean_cm_per_year: 4.0, sd_cm_per_year: 1.5 },
///     GrowthYear { from_age_years: 14.0, to_age_years: 15.0, mean_cm_per_year: 3.0, sd_cm_per_year: 1.5 },
/// ];
/// let growth = expected_growth(&table, 13.5, 14.5).unwrap();
/// assert!((growth.mean_cm - 3.5).abs() < 1e-12);
/// assert_eq!(expected_growth(&table, 14.5, 15.5), None);
/// ```
#[must_use]
pub fn expected_growth(table: &[GrowthYear], from_age: f64, to_age: f64) -> Option<Growth> {
    if !(from_age.is_finite() && to_age.is_finite() && from_age <= to_age) {
        return None;
    }
    let mut growth = Growth::NONE;
    let mut covered_to = from_age;
    for row in table {
        let years = row.to_age_years.min(to_age) - row.from_age_years.max(from_age);
        if years <= 0.0 {
            continue;
        }
        if row.from_age_years > covered_to + JOIN_YEARS {
            return None;
        }
        growth.mean_cm += row.mean_cm_per_year * years;
        growth.sd_cm += row.sd_cm_per_year * years;
        covered_to = covered_to.max(row.to_age_years.min(to_age));
    }
    // Within a year growth comes unevenly: half a year may bring more than half of a year's surprise.
    growth.sd_cm /= (to_age - from_age).clamp(f64::MIN_POSITIVE, 1.0).sqrt();
    let known = growth.mean_cm.is_finite() && growth.sd_cm >= 0.0 && growth.sd_cm.is_finite();
    (known && !table.is_empty() && covered_to + JOIN_YEARS >= to_age).then_some(growth)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn row(from: f64, to: f64, mean: f64, sd: f64) -> GrowthYear {
        GrowthYear {
            from_age_years: from,
            to_age_years: to,
            mean_cm_per_year: mean,
            sd_cm_per_year: sd,
        }
    }

    #[test]
    fn years_add_up_by_their_share() {
        let table =
            [row(12.0, 13.0, 2.0, 1.0), row(13.0, 14.0, 4.0, 2.0), row(14.0, 15.0, 3.0, 1.0)];
        let growth = expected_growth(&table, 12.75, 14.25).unwrap();
        assert!((growth.mean_cm - (0.5 + 4.0 + 0.75)).abs() < 1e-12);
        assert!((growth.sd_cm - (0.25 + 2.0 + 0.25)).abs() < 1e-12);
        let inside = expected_growth(&table, 13.25, 13.5).unwrap();
        assert!(
            (inside.mean_cm - 1.0).abs() < 1e-12
                && (inside.sd_cm - 2.0 * 0.25_f64.sqrt()).abs() < 1e-12
        );
    }

    #[test]
    fn no_time_no_growth() {
        let at_once = expected_growth(&[row(12.0, 13.0, 2.0, 1.0)], 12.5, 12.5).unwrap();
        assert_eq!(at_once, Growth::NONE);
    }

    #[test]
    fn what_the_table_does_not_cover_is_unknown() {
        let table = [row(12.0, 13.0, 2.0, 1.0), row(14.0, 15.0, 3.0, 1.0)];
        assert_eq!(expected_growth(&table, 11.5, 12.5), None);
        assert_eq!(expected_growth(&table, 12.5, 14.5), None);
        assert_eq!(expected_growth(&table, 14.5, 15.5), None);
        assert_eq!(expected_growth(&table, 16.0, 17.0), None);
        assert_eq!(expected_growth(&[], 12.0, 12.0), None);
        assert_eq!(expected_growth(&table, 13.0, 12.0), None);
        assert_eq!(expected_growth(&table, f64::NAN, 12.5), None);
        assert_eq!(expected_growth(&[row(12.0, 13.0, f64::NAN, 1.0)], 12.0, 12.5), None);
    }
}
