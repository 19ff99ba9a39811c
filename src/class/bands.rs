//! Published bands behind a class: only where the teacher gave an age group and tables.

use super::table::Row;
use crate::history::Class;
use crate::norms::{AgeFit, Listing, banded};
use crate::quantity::{Compare, Sex};

/// One published table, and the numbers of the class that it is about.
#[derive(Clone, Debug, PartialEq)]
pub struct ClassBands {
    /// The table and its cell.
    pub listing: Listing,
    /// How the cell's ages fit: the whole age group, or part of it.
    pub age_fit: AgeFit,
    /// Numbers with a counted jump that it is about, rising.
    pub numbers: Vec<u8>,
}

/// Every table that speaks of somebody in the rows: those of most numbers first, then best match
/// first. Empty without an age group and tables, and for a jump that no table fits.
pub fn class_bands(class: &Class, rows: &[Row]) -> Vec<ClassBands> {
    let mut all: Vec<ClassBands> = Vec::new();
    for row in rows.iter().filter(|row| row.best.is_some()) {
        let sexes: &[Sex] = match class.compare_of(row.number) {
            Some(Compare::With(Sex::Female)) => &[Sex::Female],
            Some(Compare::With(Sex::Male)) => &[Sex::Male],
            Some(Compare::Both) => &[Sex::Female, Sex::Male],
            Some(Compare::None) | None => &[],
        };
        let Some(age) = class.age_of(row.number) else { continue };
        for sex in sexes {
            for (listing, age_fit) in banded(class.setup.key(), *sex, age) {
                match all.iter_mut().find(|known| known.listing == listing) {
                    Some(known) => known.add(row.number, age_fit),
                    None => {
                        all.push(ClassBands { listing, age_fit, numbers: vec![row.number] });
                    }
                }
            }
        }
    }
    // A stable sort keeps the best match first among equals.
    all.sort_by_key(|bands| std::cmp::Reverse(bands.numbers.len()));
    all
}

impl ClassBands {
    fn add(&mut self, number: u8, age_fit: AgeFit) {
        self.numbers.push(number);
        // Of two age groups the poorer fit is told.
        if age_fit != AgeFit::WholeGroup {
            self.age_fit = age_fit;
        }
    }
}
