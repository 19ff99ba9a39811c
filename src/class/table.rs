//! The table of a class: by number, never by height.

use chrono::NaiveDate;

use crate::history::{Class, ClassResult};
use crate::quantity::JumpHeight;

/// One number on one day.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row {
    /// The number.
    pub number: u8,
    /// The result that counts, where there is one.
    pub result: Option<ClassResult>,
    /// Results of the same number and day that a newer one stands before.
    pub earlier: Vec<ClassResult>,
    /// The highest counted trial.
    pub best: Option<JumpHeight>,
    /// The mean of the first three counted trials.
    pub usual: Option<JumpHeight>,
    /// Counted trials.
    pub counted: usize,
    /// Fewer counted trials than the class makes.
    pub is_unfinished: bool,
    /// The pupil's legs were tired.
    pub is_tired: bool,
    /// The number has another role today.
    pub helps: bool,
}

impl Row {
    /// Whether the row carries a flag: hatched on the wall, and still counted.
    pub const fn is_flagged(&self) -> bool {
        self.best.is_some() && (self.is_unfinished || self.is_tired)
    }
}

/// The days on which the class was tested, newest first.
pub fn test_days(results: &[ClassResult]) -> Vec<NaiveDate> {
    let mut days: Vec<NaiveDate> = results.iter().map(|result| result.date).collect();
    days.sort_unstable();
    days.dedup();
    days.reverse();
    days
}

/// One row per number of the class, in the order of numbers. Of several results of a number the
/// newest counts.
pub fn rows(class: &Class, results: &[ClassResult], day: NaiveDate) -> Vec<Row> {
    let mut numbers = class.numbers();
    numbers.extend(results.iter().filter(|one| one.date == day).map(|one| one.number));
    numbers.sort_unstable();
    numbers.dedup();
    numbers.into_iter().map(|number| row(class, results, day, number)).collect()
}

fn row(class: &Class, results: &[ClassResult], day: NaiveDate, number: u8) -> Row {
    let mut own: Vec<ClassResult> = results
        .iter()
        .filter(|result| result.date == day && result.number == number)
        .cloned()
        .collect();
    own.sort_by_key(|result| (result.stamp.edited_utc_ms, result.id));
    let result = own.pop();
    let session = result.as_ref().map(|result| &result.session);
    let counted = session.map_or(0, |session| session.counted().len());
    Row {
        number,
        best: session.and_then(|session| session.best()),
        usual: session.and_then(|session| Some(session.usual()?.height)),
        counted,
        is_unfinished: result.is_some() && counted < usize::from(class.setup.trials),
        is_tired: result.as_ref().is_some_and(|result| result.tired),
        helps: result.as_ref().is_some_and(|result| result.helps),
        result,
        earlier: own,
    }
}
