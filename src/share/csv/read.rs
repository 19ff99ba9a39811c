//! Earlier results from a spreadsheet file. Nothing is stored here: what was read is shown first.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use super::table::{Table, TableProblem, read_table};
use crate::history::{
    APPROACH, Id, LocalId, NICKNAME_MAX, NOTE_MAX, Named, Origin, Stamp, Test, clean_line,
    clean_note,
};
use crate::measure::{
    Hand, Reach, ReachMethod, Session, Surface, TakeOff, TrendKey, Trial, Variant,
};
use crate::quantity::{
    Bounds, Division, JUMP_HEIGHT_POSSIBLE, Length, MARK_POSSIBLE, Moment, REACH_POSSIBLE, Reading,
};

/// What a file held.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Import {
    /// The rows that can be taken over.
    pub tests: Vec<ImportedTest>,
    /// What stands in the way of the others, in the order of the file.
    pub problems: Vec<ImportProblem>,
    /// Columns that were not used.
    pub unused_columns: Vec<String>,
}

/// One result of a file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ImportedTest {
    /// The line of the file, counted from 1.
    pub line: usize,
    /// The nickname in the file, where there is one.
    pub nickname: Option<String>,
    /// The id in the file, where it was written by this page: a test that is in the store already
    /// need not be added again.
    pub id: Option<Id>,
    /// The day.
    pub date: NaiveDate,
    /// Minutes since midnight, where given.
    pub minute_of_day: Option<u16>,
    /// The reach and the mark, or the height alone.
    pub session: Session,
    /// A practice test.
    pub practice: bool,
    /// The note.
    pub note: String,
}

impl ImportedTest {
    /// As a test of a person, labelled as imported.
    pub fn into_test(self, id: Id, person: LocalId, now: Moment) -> Test {
        let mut test = Test::new(id, person, now, self.session);
        test.stamp = Stamp::first(now.utc_ms);
        test.date = self.date;
        test.minute_of_day = self.minute_of_day;
        test.practice = self.practice;
        test.note = self.note;
        test.origin = Origin::Imported;
        test
    }
}

/// Something that could not be read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ImportProblem {
    /// The line of the file, counted from 1; the first names the columns.
    pub line: usize,
    /// The name of the column, where it is one.
    pub column: &'static str,
    /// What is wrong.
    pub kind: ProblemKind,
}

/// What is wrong with a cell or a row.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ProblemKind {
    /// The file has no such column, and needs it.
    MissingColumn,
    /// Two columns have this name.
    DoubleColumn,
    /// The cell is empty, and must not be.
    Empty,
    /// Not a date as year-month-day.
    NotADate,
    /// Not a time as hours:minutes.
    NotATime,
    /// Not a number.
    NotANumber,
    /// A length that cannot be.
    Impossible,
    /// Not one of the names of that column.
    UnknownName,
    /// The row has neither a height nor a reach with a mark.
    NoResult,
}

// Names of columns that are read. A length comes in one of three units, by the end of its name.
const DATE: &str = "date";
const REACH: &str = "standing_reach";
const MARK: &str = "jump_mark";
const HEIGHT: &str = "jump_height";
const OTHER_COLUMNS: [&str; 13] = [
    DATE,
    "person",
    "test_id",
    "time",
    "jump",
    "run_up_steps",
    "take_off",
    "device",
    "reach_method",
    "surface",
    "own_way",
    "practice",
    "note",
];
/// The unit a column's name ends in.
#[derive(Clone, Copy, PartialEq, Eq)]
enum ColumnUnit {
    Mm,
    Cm,
    Inch,
}

const UNITS: [(&str, ColumnUnit); 4] = [
    ("_mm", ColumnUnit::Mm),
    ("_mm_best", ColumnUnit::Mm),
    ("_cm", ColumnUnit::Cm),
    ("_in", ColumnUnit::Inch),
];

/// Reads results: one row per test, columns by name in any order. Needed are `date` and either
/// `jump_height_cm` or `standing_reach_cm` and `jump_mark_cm`; lengths may end in `_mm`, `_cm` or
/// `_in`. A file of [`super::tests_table`] is read as its best heights.
///
/// # Errors
/// A [`TableProblem`], when the text is no table; single rows that cannot be read are listed.
///
/// ```
/// use two_marks::share::csv::read_results;
/// let import = read_results("date;jump_height_cm\n2026-05-03;41,5\n").unwrap();
/// assert_eq!(import.tests.len(), 1);
/// assert!(import.problems.is_empty());
/// ```
pub fn read_results(text: &str) -> Result<Import, TableProblem> {
    let table = read_table(text)?;
    let mut import = Import::default();
    let columns = columns(&table, &mut import);
    if !import.problems.is_empty() {
        return Ok(import);
    }
    for (cells, line) in table.rows.iter().zip(&table.lines).skip(1) {
        if cells.iter().all(|cell| cell.trim().is_empty()) {
            continue;
        }
        let row = Row { cells, columns: &columns };
        match row.test(*line) {
            Ok(test) => import.tests.push(test),
            Err((column, kind)) => {
                import.problems.push(ImportProblem { line: *line, column, kind });
            }
        }
    }
    Ok(import)
}

type Columns = BTreeMap<&'static str, (usize, ColumnUnit)>;

/// Which cell holds what.
fn columns(table: &Table, import: &mut Import) -> Columns {
    let mut columns = Columns::new();
    let problem = |column, kind| ImportProblem { line: 1, column, kind };
    for (place, written) in table.rows.first().into_iter().flatten().enumerate() {
        let name = written.trim().to_lowercase();
        let plain = OTHER_COLUMNS.into_iter().find(|known| *known == name);
        let found = plain.map(|known| (known, ColumnUnit::Mm)).or_else(|| length_column(&name));
        let Some((known, unit)) = found else {
            import.unused_columns.push(clean_line(written, NICKNAME_MAX));
            continue;
        };
        if columns.insert(known, (place, unit)).is_some() {
            import.problems.push(problem(known, ProblemKind::DoubleColumn));
        }
    }
    if !columns.contains_key(DATE) {
        import.problems.push(problem(DATE, ProblemKind::MissingColumn));
    }
    let has_marks = columns.contains_key(REACH) && columns.contains_key(MARK);
    if !columns.contains_key(HEIGHT) && !has_marks {
        import.problems.push(problem(HEIGHT, ProblemKind::MissingColumn));
    }
    columns
}

fn length_column(name: &str) -> Option<(&'static str, ColumnUnit)> {
    [REACH, MARK, HEIGHT].into_iter().find_map(|column| {
        let ending = name.strip_prefix(column)?;
        let unit = UNITS.iter().find(|(known, _)| *known == ending)?.1;
        Some((column, unit))
    })
}

type Fault = (&'static str, ProblemKind);

struct Row<'a> {
    cells: &'a [String],
    columns: &'a Columns,
}

impl Row<'_> {
    /// The text of a cell, without the apostrophe that guards against formulas.
    fn cell(&self, column: &'static str) -> Option<&str> {
        let (place, _) = self.columns.get(column)?;
        let text = self.cells.get(*place)?.trim();
        let guarded = text
            .strip_prefix('\'')
            .filter(|rest| rest.starts_with(['=', '+', '-', '@', '\t', '\r', '\0', '\'']));
        Some(guarded.unwrap_or(text)).filter(|text| !text.is_empty())
    }

    fn test(&self, line: usize) -> Result<ImportedTest, Fault> {
        let date = self.cell(DATE).ok_or((DATE, ProblemKind::Empty))?;
        let note = self.cell("note").unwrap_or_default();
        Ok(ImportedTest {
            line,
            nickname: self.cell("person").map(|name| clean_line(name, NICKNAME_MAX)),
            id: self.cell("test_id").and_then(Id::parse),
            date: day(date).ok_or((DATE, ProblemKind::NotADate))?,
            minute_of_day: self.cell("time").map(minute).transpose()?,
            session: self.session()?,
            practice: self.flag("practice")?,
            note: clean_note(note, NOTE_MAX),
        })
    }

    fn session(&self) -> Result<Session, Fault> {
        let key = TrendKey {
            variant: self.variant()?,
            device: self.named("device", TrendKey::USUAL.device)?,
            reach_method: self.named("reach_method", ReachMethod::OneHandHeelsDown)?,
            surface: self.named("surface", Surface::Firm)?,
            own_way: self.flag("own_way")?,
        };
        let mut session = Session::new(key, Hand::Right, Division::CmTenth);
        session.top_mark_only = true;
        let reach = self.length(REACH, REACH_POSSIBLE)?;
        let mark = self.length(MARK, MARK_POSSIBLE)?;
        let height = self.length(HEIGHT, JUMP_HEIGHT_POSSIBLE)?;
        match (reach, mark, height) {
            (Some(reach), Some(mark), _) => {
                if !JUMP_HEIGHT_POSSIBLE.contains(mark.length() - reach.length()) {
                    return Err((MARK, ProblemKind::Impossible));
                }
                session.division = mark.division;
                session.reach = Reach::Measured(vec![reach]);
                session.trials = vec![Trial::FloorMark(mark)];
            }
            (reach, _, Some(height)) => {
                session.division = height.division;
                session.reach = reach.map_or(Reach::MarkOnly, |reach| Reach::Measured(vec![reach]));
                session.trials = vec![Trial::MarkDistance(height)];
            }
            _ => return Err((HEIGHT, ProblemKind::NoResult)),
        }
        Ok(session)
    }

    fn variant(&self) -> Result<Variant, Fault> {
        if self.cell("jump") != Some(APPROACH) {
            return self.named("jump", Variant::Standing);
        }
        let steps = self.cell("run_up_steps").ok_or(("run_up_steps", ProblemKind::Empty))?;
        let steps = steps.parse().ok().filter(|steps| (1..=9).contains(steps));
        let take_off = self.cell("take_off").ok_or(("take_off", ProblemKind::Empty))?;
        Ok(Variant::Approach {
            steps: steps.ok_or(("run_up_steps", ProblemKind::NotANumber))?,
            take_off: TakeOff::named(take_off).ok_or(("take_off", ProblemKind::UnknownName))?,
        })
    }

    fn named<T: Named>(&self, column: &'static str, default: T) -> Result<T, Fault> {
        let value = self.cell(column).map_or(Some(default), T::named);
        value.ok_or((column, ProblemKind::UnknownName))
    }

    fn flag(&self, column: &'static str) -> Result<bool, Fault> {
        match self.cell(column) {
            None | Some("no" | "0") => Ok(false),
            Some("yes" | "1") => Ok(true),
            Some(_) => Err((column, ProblemKind::UnknownName)),
        }
    }

    fn length(&self, column: &'static str, possible: Bounds) -> Result<Option<Reading>, Fault> {
        let Some(text) = self.cell(column) else {
            return Ok(None);
        };
        let unit = self.columns.get(column).map_or(ColumnUnit::Mm, |(_, unit)| *unit);
        let thousandths = thousandths(text).ok_or((column, ProblemKind::NotANumber))?;
        let length = Length::from_micrometres(match unit {
            ColumnUnit::Mm => thousandths,
            ColumnUnit::Cm => thousandths * 10,
            ColumnUnit::Inch => thousandths * 127 / 5,
        });
        let reading = reading(length, unit);
        let fits = possible.contains(reading.length());
        if fits { Ok(Some(reading)) } else { Err((column, ProblemKind::Impossible)) }
    }
}

/// A length as a reading: of the coarsest usual division that holds it exactly, or else to the nearest
/// millimetre.
fn reading(length: Length, unit: ColumnUnit) -> Reading {
    let divisions: &[Division] = match unit {
        ColumnUnit::Mm | ColumnUnit::Cm => &[Division::CmHalf],
        ColumnUnit::Inch => &[Division::InHalf, Division::InQuarter, Division::InEighth],
    };
    let mut readings = divisions.iter().map(|division| Reading::nearest(length, *division));
    let exact = readings.find(|reading| reading.length() == length);
    exact.unwrap_or_else(|| Reading::nearest(length, Division::CmTenth))
}

/// A decimal with a point or a comma, in thousandths; more than three decimals are cut, more than six
/// digits before them refused.
fn thousandths(text: &str) -> Option<i64> {
    let (whole, decimals) = text.split_once(['.', ',']).unwrap_or((text, ""));
    let is_number = |digits: &str| digits.bytes().all(|digit| digit.is_ascii_digit());
    let fits = (1..=6).contains(&whole.len()) && decimals.len() <= 9;
    if !fits || !is_number(whole) || !is_number(decimals) {
        return None;
    }
    let mut padded: String = decimals.chars().take(3).collect();
    while padded.len() < 3 {
        padded.push('0');
    }
    Some(whole.parse::<i64>().ok()? * 1_000 + padded.parse::<i64>().ok()?)
}

/// A date as year-month-day.
fn day(text: &str) -> Option<NaiveDate> {
    let mut parts = text.split('-').map(|part| (part.len(), part.parse::<u32>().ok()));
    let ((4, Some(year)), (2, Some(month)), (2, Some(day)), None) =
        (parts.next()?, parts.next()?, parts.next()?, parts.next())
    else {
        return None;
    };
    let year = i32::try_from(year).ok().filter(|year| (1900..=2200).contains(year))?;
    NaiveDate::from_ymd_opt(year, month, day)
}

/// A time as hours:minutes.
fn minute(text: &str) -> Result<u16, Fault> {
    let parsed = text.split_once(':').and_then(|(hours, minutes)| {
        let (hours, minutes) = (hours.parse::<u16>().ok()?, minutes.parse::<u16>().ok()?);
        (hours < 24 && minutes < 60).then(|| hours * 60 + minutes)
    });
    parsed.ok_or(("time", ProblemKind::NotATime))
}
