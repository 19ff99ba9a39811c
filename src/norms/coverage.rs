use super::lookup::{AgeFit, TestKind, cells};
use super::source::Source;
use super::table::Cell;
use crate::quantity::{Age, Sex};

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
