use crate::history::{HardDay, Named, Person, Test, variant_name};
use crate::measure::{Outcome, Reach, TakeOff, Trial, Variant};
use crate::quantity::Length;

/// How decimals are written; the separator of cells follows, since spreadsheets expect the pair.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Decimal {
    /// `428.5`, cells by commas.
    #[default]
    Point,
    /// `428,5`, cells by semicolons.
    Comma,
}

/// The columns of [`tests_table`].
const TEST_COLUMNS: [&str; 33] = [
    "person",
    "test_id",
    "date",
    "time",
    "utc_offset_minutes",
    "jump",
    "run_up_steps",
    "take_off",
    "device",
    "reach_method",
    "surface",
    "own_way",
    "hand",
    "division",
    "standing_reach_mm",
    "reach_measured_on",
    "trials_counted",
    "fouls",
    "jump_height_mm_best",
    "jump_height_mm_usual",
    "trials_in_usual",
    "top_mark_only",
    "practice",
    "hours_since_leg_session",
    "hours_since_match",
    "minutes_since_held_stretch",
    "held_stretch_long",
    "origin",
    "body_height_mm",
    "body_mass_g",
    "rough",
    "tags",
    "note",
];

/// The columns of [`trials_table`].
const TRIAL_COLUMNS: [&str; 14] = [
    "person",
    "test_id",
    "date",
    "jump",
    "device",
    "trial",
    "outcome",
    "foul_reason",
    "jump_mark_mm",
    "mark_distance_mm",
    "flight_time_us",
    "division",
    "standing_reach_mm",
    "jump_height_mm",
];

/// One row per test, the tests in the order given, with a byte order mark so that spreadsheets see
/// UTF-8. Lengths are in millimetres, exact to the micrometre.
pub fn tests_table(people: &[Person], tests: &[Test], decimal: Decimal) -> String {
    let mut sheet = Sheet::new(decimal, &TEST_COLUMNS);
    for test in tests {
        sheet.row(&test_row(people, test));
    }
    sheet.text
}

/// One row per trial, fouls included.
pub fn trials_table(people: &[Person], tests: &[Test], decimal: Decimal) -> String {
    let mut sheet = Sheet::new(decimal, &TRIAL_COLUMNS);
    for test in tests {
        let outcomes = test.session.outcomes();
        for (number, (trial, outcome)) in (1u32..).zip(test.session.trials.iter().zip(outcomes)) {
            sheet.row(&trial_row(people, test, number, *trial, outcome));
        }
    }
    sheet.text
}

/// One cell of a table.
pub(crate) enum Cell {
    /// Nothing.
    Empty,
    /// Our own names and dates.
    Plain(String),
    /// What a person typed, and ids, which may start with a minus sign: guarded against being taken
    /// for a formula.
    Typed(String),
    /// A whole number.
    Number(i64),
    /// Millimetres.
    Length(Length),
}

impl Cell {
    /// How many.
    pub(crate) fn count(number: usize) -> Self {
        i64::try_from(number).ok().into()
    }

    /// Yes or no.
    pub(crate) fn yes(flag: bool) -> Self {
        named(if flag { "yes" } else { "no" })
    }
}

impl<T: Into<Cell>> From<Option<T>> for Cell {
    fn from(cell: Option<T>) -> Self {
        cell.map_or(Self::Empty, Into::into)
    }
}

impl From<Length> for Cell {
    fn from(length: Length) -> Self {
        Self::Length(length)
    }
}

impl From<i64> for Cell {
    fn from(number: i64) -> Self {
        Self::Number(number)
    }
}

fn named(name: &str) -> Cell {
    Cell::Plain(name.to_owned())
}

fn yes(flag: bool) -> Cell {
    Cell::yes(flag)
}

fn count(number: usize) -> Cell {
    Cell::count(number)
}

fn nickname(people: &[Person], test: &Test) -> Cell {
    let person = people.iter().find(|person| person.local == test.person);
    Cell::Typed(person.map(|person| person.nickname.clone()).unwrap_or_default())
}

fn test_row(people: &[Person], test: &Test) -> Vec<Cell> {
    let session = &test.session;
    let (steps, take_off) = match session.key.variant {
        Variant::Approach { steps, take_off } => (Some(i64::from(steps)), Some(take_off)),
        _ => (None, None),
    };
    let hours_since = |kind| {
        let hours = test.tired.leg_work.filter(|(known, _)| *known == kind);
        Cell::from(hours.map(|(_, hours)| i64::from(hours)))
    };
    let measured_on = match &session.reach {
        Reach::Reused { measured_on, .. } => Cell::Plain(measured_on.to_string()),
        Reach::Measured(_) | Reach::MarkOnly => Cell::Empty,
    };
    let usual = session.usual();
    let stretch = test.tired.stretch;
    vec![
        nickname(people, test),
        Cell::Typed(test.id.to_string()),
        Cell::Plain(test.date.to_string()),
        test.minute_of_day.map_or(Cell::Empty, |m| Cell::Plain(time(m))),
        Cell::Number(i64::from(test.utc_offset_minutes)),
        named(variant_name(session.key.variant)),
        steps.into(),
        take_off.map_or(Cell::Empty, |take_off: TakeOff| named(take_off.name())),
        named(session.key.device.name()),
        named(session.key.reach_method.name()),
        named(session.key.surface.name()),
        yes(session.key.own_way),
        named(session.hand.name()),
        named(session.division.name()),
        session.standing_reach().map(|reach| reach.0).into(),
        measured_on,
        count(session.counted().len()),
        count(session.fouls().count()),
        session.best().map(|best| best.0).into(),
        usual.map(|usual| usual.height.0).into(),
        usual.map_or(Cell::Empty, |usual| count(usual.trials)),
        yes(session.top_mark_only),
        yes(test.practice),
        hours_since(HardDay::LegSession),
        hours_since(HardDay::Match),
        stretch.map(|note| i64::from(note.minutes_since)).into(),
        stretch.map_or(Cell::Empty, |note| yes(note.long)),
        named(test.origin.name()),
        test.body_height.map(|reading| reading.length()).into(),
        test.body_mass.map(|mass| i64::from(mass.grams)).into(),
        yes(session.is_rough()),
        Cell::Typed(test.tags.join(", ")),
        Cell::Typed(test.note.clone()),
    ]
}

fn trial_row(
    people: &[Person],
    test: &Test,
    number: u32,
    trial: Trial,
    outcome: Outcome,
) -> Vec<Cell> {
    let (mut mark, mut distance, mut time, mut division) =
        (Cell::Empty, Cell::Empty, Cell::Empty, Cell::Empty);
    match trial {
        Trial::FloorMark(reading) => {
            (mark, division) = (reading.length().into(), named(reading.division.name()));
        }
        Trial::MarkDistance(reading) => {
            (distance, division) = (reading.length().into(), named(reading.division.name()));
        }
        Trial::FlightTime(flight) => time = Cell::Number(i64::from(flight.micros)),
        Trial::Foul(_) => {}
    }
    let (outcome, reason, height) = match outcome {
        Outcome::Counted(height) => (named("counted"), Cell::Empty, height.0.into()),
        Outcome::Foul(reason) => (named("foul"), named(reason.name()), Cell::Empty),
        Outcome::NoReach => (named("no_reach"), Cell::Empty, Cell::Empty),
    };
    vec![
        nickname(people, test),
        Cell::Typed(test.id.to_string()),
        Cell::Plain(test.date.to_string()),
        named(variant_name(test.session.key.variant)),
        named(test.session.key.device.name()),
        Cell::Number(i64::from(number)),
        outcome,
        reason,
        mark,
        distance,
        time,
        division,
        test.session.standing_reach().map(|reach| reach.0).into(),
        height,
    ]
}

fn time(minute_of_day: u16) -> String {
    format!("{:02}:{:02}", minute_of_day / 60, minute_of_day % 60)
}

/// A table as it is written, row by row.
pub(crate) struct Sheet {
    pub(crate) text: String,
    separator: char,
    point: char,
}

impl Sheet {
    /// The head row.
    pub(crate) fn new(decimal: Decimal, columns: &[&str]) -> Self {
        let (separator, point) = match decimal {
            Decimal::Point => (',', '.'),
            Decimal::Comma => (';', ','),
        };
        let mut sheet = Self { text: "\u{feff}".to_owned(), separator, point };
        let names: Vec<Cell> = columns.iter().map(|column| named(column)).collect();
        sheet.row(&names);
        sheet
    }

    /// One row.
    pub(crate) fn row(&mut self, cells: &[Cell]) {
        for (place, cell) in cells.iter().enumerate() {
            if place > 0 {
                self.text.push(self.separator);
            }
            match cell {
                Cell::Empty => {}
                Cell::Plain(text) => self.quoted(text),
                Cell::Typed(text) => self.quoted(&guarded(text)),
                Cell::Number(number) => self.text.push_str(&number.to_string()),
                Cell::Length(length) => {
                    let text = millimetres(*length, self.point);
                    self.text.push_str(&text);
                }
            }
        }
        self.text.push_str("\r\n");
    }

    fn quoted(&mut self, text: &str) {
        let needs_quotes =
            text.chars().any(|sign| matches!(sign, '"' | ',' | ';' | '\n' | '\r' | '\t'))
                || text.starts_with(' ')
                || text.ends_with(' ');
        if needs_quotes {
            self.text.push('"');
            self.text.push_str(&text.replace('"', "\"\""));
            self.text.push('"');
        } else {
            self.text.push_str(text);
        }
    }
}

/// What a spreadsheet might take for a formula gets an apostrophe in front (OWASP ASVS 5.0, 1.2.10;
/// CWE-1236).
fn guarded(text: &str) -> String {
    let risky = text.starts_with(['=', '+', '-', '@', '\t', '\r', '\0', '\'']);
    if risky { format!("'{text}") } else { text.to_owned() }
}

/// Millimetres with as many decimals as needed, at most three.
fn millimetres(length: Length, point: char) -> String {
    let micrometres = length.as_micrometres();
    let sign = if micrometres < 0 { "-" } else { "" };
    let (whole, rest) = (micrometres.unsigned_abs() / 1_000, micrometres.unsigned_abs() % 1_000);
    if rest == 0 {
        return format!("{sign}{whole}");
    }
    let decimals = format!("{rest:03}");
    format!("{sign}{whole}{point}{}", decimals.trim_end_matches('0'))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn millimetres_show_what_is_there() {
        let text = |um| millimetres(Length::from_micrometres(um), ',');
        assert_eq!(text(425_000), "425");
        assert_eq!(text(3_175), "3,175");
        assert_eq!(text(-500), "-0,5");
        assert_eq!(text(12_050), "12,05");
    }

    #[test]
    fn formulas_are_guarded() {
        assert_eq!(guarded("=1+1"), "'=1+1");
        assert_eq!(guarded("@you"), "'@you");
        assert_eq!(guarded("Mia"), "Mia");
        // So that reading can take exactly one apostrophe off again.
        assert_eq!(guarded("'s"), "''s");
    }
}
