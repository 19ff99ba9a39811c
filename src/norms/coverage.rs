use super::lookup::{AgeFit, TestKind, cells, test_kind};
use super::source::Source;
use super::table::{AgeSpan, Cell, Norm};
use crate::measure::TrendKey;
use crate::quantity::{Age, AgeGroup, Sex};

/// One table that covers an age.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Listing {
    /// The table.
    pub source: &'static Source,
    /// The sex and age group in it.
    pub cell: &'static Cell,
}

/// Every table a test of this kind is read against at a completed age, best match first.
pub fn coverage(kind: TestKind, sex: Sex, years: u8) -> Vec<Listing> {
    let age = Age::Years { years, maybe_one_more: false, months_to_birthday: 6 };
    cells(kind, sex, age)
        .filter(|(_, _, fit)| *fit == AgeFit::Today)
        .map(|(source, cell, _)| Listing { source, cell })
        .collect()
}

/// Every table of printed bands that a test is read against where only an age group is known, best
/// match first, with how the ages fit; empty where the test, or its age group, has none.
pub fn banded(key: TrendKey, sex: Sex, group: AgeGroup) -> Vec<(Listing, AgeFit)> {
    let Ok(kind) = test_kind(key) else { return Vec::new() };
    cells(kind, sex, Age::Group(group))
        .filter(|(_, cell, _)| matches!(cell.norm, Norm::Bands { .. }))
        .map(|(source, cell, fit)| (Listing { source, cell }, fit))
        .collect()
}

/// Neighbouring ages that the same tables cover.
#[derive(Clone, Debug, PartialEq)]
pub struct CoverageRow {
    /// From the youngest to the oldest completed year.
    pub ages: AgeSpan,
    /// The tables, best match first; empty where none covers these ages.
    pub listings: Vec<Listing>,
}

/// The oldest completed year of the coverage table; nothing changes past it.
pub const COVERAGE_TO: u8 = 100;

/// The coverage of one kind of test and one sex from birth to [`COVERAGE_TO`], in rows of
/// neighbouring ages with the same tables in the same order.
pub fn coverage_rows(kind: TestKind, sex: Sex) -> Vec<CoverageRow> {
    let mut rows: Vec<CoverageRow> = Vec::new();
    for years in 0..=COVERAGE_TO {
        let listings = coverage(kind, sex, years);
        let sources = |listings: &[Listing]| -> Vec<&str> {
            listings.iter().map(|listing| listing.source.id).collect()
        };
        match rows.last_mut() {
            Some(row) if sources(&row.listings) == sources(&listings) => row.ages.to = years,
            _ => rows.push(CoverageRow { ages: AgeSpan::new(years, years), listings }),
        }
    }
    rows
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_join_without_gap_and_say_what_each_age_says() {
        for (kind, sex) in [(TestKind::Wall, Sex::Female), (TestKind::FlightTime, Sex::Male)] {
            let rows = coverage_rows(kind, sex);
            assert!(rows.len() > 2, "children, adults and the very old do not share one row");
            assert_eq!(rows.first().map(|row| row.ages.from), Some(0));
            assert_eq!(rows.last().map(|row| row.ages.to), Some(COVERAGE_TO));
            for pair in rows.windows(2) {
                assert_eq!(pair[0].ages.to + 1, pair[1].ages.from);
                let ids = |row: &CoverageRow| -> Vec<&str> {
                    row.listings.iter().map(|listing| listing.source.id).collect()
                };
                assert_ne!(ids(&pair[0]), ids(&pair[1]), "two rows for one");
            }
            for row in &rows {
                for years in [row.ages.from, row.ages.to] {
                    let ids = |all: &[Listing]| all.iter().map(|l| l.source.id).collect::<Vec<_>>();
                    assert_eq!(ids(&row.listings), ids(&coverage(kind, sex, years)), "{years}");
                }
            }
        }
    }
}
