//! The wall scale: a paper ruler in true size, cut from printed sheets and stuck on the wall.

use super::lettering::{fitting, wrapped};
use super::px::divide;
use super::scene::Sketch;
use super::{Anchor, Area, Drawing, Frame, Paint, Point, Px, Words};
use crate::quantity::{Division, Length, Unit};

/// Where a wall scale begins.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ScaleStart {
    /// At the reach mark: it reads jump heights from 0.
    ReachMark,
    /// At a height over the floor: it reads heights from the floor, for people of any reach.
    Floor,
}

/// A wall scale and its words.
#[derive(Clone, Copy)]
pub struct WallScale<'a> {
    /// Where it begins.
    pub start: ScaleStart,
    /// Its smallest step, which also gives the unit.
    pub division: Division,
    /// What it is.
    pub title: &'a str,
    /// Where it goes on the wall.
    pub place: &'a str,
    /// What the check bar is for.
    pub check: &'a str,
    /// Writes a number on a line.
    pub tick_label: &'a dyn Fn(Length) -> String,
    /// Names a piece, counted from 1.
    pub piece_label: &'a dyn Fn(usize) -> String,
    /// Says on a tab which piece lies over it.
    pub tab_label: &'a dyn Fn(usize) -> String,
    /// Names a sheet, counted from 1.
    pub sheet_label: &'a dyn Fn(usize) -> String,
}

impl ScaleStart {
    /// The lowest and the highest line: 0 to 100 cm or 0 to 40 in from the reach mark, 180 to 320 cm
    /// or 70 to 126 in from the floor. Design choice.
    pub const fn span(self, unit: Unit) -> (Length, Length) {
        match (self, unit) {
            (Self::ReachMark, Unit::Centimetre) => (Length::ZERO, Length::from_mm(1_000)),
            (Self::ReachMark, Unit::Inch) => (Length::ZERO, inches(40)),
            (Self::Floor, Unit::Centimetre) => (Length::from_mm(1_800), Length::from_mm(3_200)),
            (Self::Floor, Unit::Inch) => (inches(70), inches(126)),
        }
    }
}

const fn inches(inches: i64) -> Length {
    Length::from_inch_eighths(inches * 8)
}

/// The width of a sheet. Design choice: it fits between margins of 10 mm on A4 (210 × 297 mm,
/// ISO 216) and on Letter (8.5 × 11 in, ANSI Y14.1), so nobody has to choose.
pub const SHEET_WIDTH: Length = Length::from_mm(190);
/// The height of a sheet, likewise.
pub const SHEET_HEIGHT: Length = Length::from_mm(255);

/// The scale on one piece: 20 cm or 8 in.
pub const fn piece_length(unit: Unit) -> Length {
    match unit {
        Unit::Centimetre => Length::from_mm(200),
        Unit::Inch => inches(8),
    }
}

/// The length of the check bar: 10 cm or 4 in.
pub const fn check_length(unit: Unit) -> Length {
    match unit {
        Unit::Centimetre => Length::from_mm(100),
        Unit::Inch => inches(4),
    }
}

/// A length in CSS pixels, of which 96 make an inch wherever the browser prints at 100 %.
/// Source: CSS Values and Units Level 4, 6.2. Right to 0.005 px, which is 1.4 µm.
///
/// ```
/// use two_marks::chart::{Px, true_size};
/// use two_marks::quantity::Length;
/// assert_eq!(true_size(Length::from_inch_eighths(8)), Px::whole(96));
/// ```
pub fn true_size(length: Length) -> Px {
    // 9600 hundredths of a pixel over 25 400 micrometres.
    Px::hundredths(divide(i128::from(length.as_micrometres()) * 48, 127))
}

/// Pieces side by side on one sheet.
const ACROSS: usize = 3;
/// The width of a piece, and the step from one piece to the next, in mm.
const PIECE: i64 = 58;
const STEP: i64 = 66;
/// Where the tabs begin on the sheet, and how tall they are, in mm.
const TABS: i64 = 21;
const TAB: i64 = 14;
/// Where the check bar begins, in mm.
const CHECK: i64 = 243;

fn mm(mm: i64) -> Px {
    true_size(Length::from_mm(mm))
}

fn tenths(tenths: i64) -> Px {
    true_size(Length::from_micrometres(tenths.saturating_mul(100)))
}

/// How many pieces a scale is cut into.
pub fn piece_count(start: ScaleStart, unit: Unit) -> usize {
    let (low, high) = start.span(unit);
    usize::try_from((high - low).steps_of(piece_length(unit))).unwrap_or(1)
}

/// How many sheets are printed.
pub fn sheet_count(start: ScaleStart, unit: Unit) -> usize {
    piece_count(start, unit).div_ceil(ACROSS)
}

/// The sheets of a wall scale in true size, [`SHEET_WIDTH`] by [`SHEET_HEIGHT`] each.
///
/// Each number stands on its line. The tab over a piece goes under the next one, whose lowest line
/// lies on the line below the tab.
pub fn wall_scale(scale: &WallScale<'_>) -> Vec<Drawing> {
    let pieces = piece_count(scale.start, scale.division.unit());
    (0..sheet_count(scale.start, scale.division.unit()))
        .map(|sheet| one_sheet(scale, sheet, pieces))
        .collect()
}

fn one_sheet(scale: &WallScale<'_>, sheet: usize, pieces: usize) -> Drawing {
    let mut sketch = Sketch::default();
    head(&mut sketch, scale, sheet);
    let first = sheet * ACROSS;
    for (slot, piece) in (0..).zip(first..pieces.min(first + ACROSS)) {
        let left = mm(STEP * slot);
        Piece { scale, left, index: piece, is_last: piece + 1 == pieces }.draw(&mut sketch);
    }
    check_bar(&mut sketch, scale);
    let frame =
        Frame { width: true_size(SHEET_WIDTH), height: true_size(SHEET_HEIGHT), font: mm(4) };
    sketch.finish(frame)
}

fn head(sketch: &mut Sketch, scale: &WallScale<'_>, sheet: usize) {
    let right = true_size(SHEET_WIDTH);
    let label = (scale.sheet_label)(sheet + 1);
    let size = fitting(&label, tenths(42), tenths(25), mm(50)).unwrap_or(tenths(25));
    sketch.text(Point::new(right, tenths(65)), Anchor::End, size, Words::Plain, &label);
    let size = fitting(scale.title, mm(7), mm(4), mm(136)).unwrap_or(mm(4));
    sketch.text(Point::new(Px::ZERO, tenths(65)), Anchor::Start, size, Words::Strong, scale.title);
    lines(sketch, scale.place, Point::new(Px::ZERO, tenths(128)), right);
}

/// A sentence over as many lines as it needs.
fn lines(sketch: &mut Sketch, text: &str, first: Point, room: Px) {
    let size = tenths(42);
    let mut at = first;
    for line in wrapped(text, size, room).unwrap_or_else(|| vec![text.to_owned()]) {
        sketch.text(at, Anchor::Start, size, Words::Plain, &line);
        at.y = at.y + size.part(125, 100);
    }
}

/// Blocks of one centimetre or inch in turn, with a line at each end.
fn check_bar(sketch: &mut Sketch, scale: &WallScale<'_>) {
    let unit = scale.division.unit();
    let (length, block) = match unit {
        Unit::Centimetre => (check_length(unit), Length::from_mm(10)),
        Unit::Inch => (check_length(unit), inches(1)),
    };
    let (top, end) = (mm(CHECK), true_size(length));
    let blocks = length.steps_of(block);
    let rings = (0..blocks).step_by(2).map(|at| {
        let (x1, x2) = (true_size(block.times(at)), true_size(block.times(at + 1)));
        let (y1, y2) = (top + mm(2), top + mm(6));
        vec![Point::new(x1, y1), Point::new(x2, y1), Point::new(x2, y2), Point::new(x1, y2)]
    });
    sketch.polygon(rings.collect(), Paint::Tag);
    sketch.lines(
        vec![
            (Point::new(Px::ZERO, top), Point::new(Px::ZERO, top + mm(8))),
            (Point::new(end, top), Point::new(end, top + mm(8))),
            (Point::new(Px::ZERO, top + mm(6)), Point::new(end, top + mm(6))),
        ],
        Paint::BandEdge,
    );
    let left = end + mm(5);
    lines(sketch, scale.check, Point::new(left, top + mm(4)), true_size(SHEET_WIDTH) - left);
}

struct Piece<'a> {
    scale: &'a WallScale<'a>,
    left: Px,
    index: usize,
    is_last: bool,
}

/// How a line of the scale is drawn: where it ends in mm, and the size of its number in tenths.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Line {
    Fine,
    Half,
    Unit,
    Five,
    Ten,
}

impl Line {
    /// The line at a count of millimetres or eighths of an inch.
    const fn at(count: i64, unit: Unit) -> Self {
        match unit {
            Unit::Centimetre if count % 100 == 0 => Self::Ten,
            Unit::Centimetre if count % 50 == 0 => Self::Five,
            Unit::Centimetre if count % 10 == 0 => Self::Unit,
            Unit::Centimetre if count % 5 == 0 => Self::Half,
            Unit::Inch if count % 8 == 0 => Self::Ten,
            Unit::Inch if count % 4 == 0 => Self::Unit,
            Unit::Inch if count % 2 == 0 => Self::Half,
            Unit::Centimetre | Unit::Inch => Self::Fine,
        }
    }

    const ALL: [Self; 5] = [Self::Fine, Self::Half, Self::Unit, Self::Five, Self::Ten];

    fn end(self) -> Px {
        mm(match self {
            Self::Fine => 6,
            Self::Half => 11,
            Self::Unit => 28,
            Self::Five | Self::Ten => PIECE,
        })
    }

    const fn paint(self) -> Paint {
        match self {
            Self::Ten => Paint::Tick,
            _ => Paint::TickFine,
        }
    }
}

impl Piece<'_> {
    fn unit(&self) -> Unit {
        self.scale.division.unit()
    }

    fn bottom(&self) -> Px {
        self.top() + true_size(piece_length(self.unit()))
    }

    fn top(&self) -> Px {
        mm(TABS + TAB)
    }

    fn draw(&self, sketch: &mut Sketch) {
        let (left, right) = (self.left, self.left + mm(PIECE));
        let tab = Point::new(left, mm(TABS));
        sketch.rect(Area::between(tab, Point::new(right, self.bottom())), Paint::Measure);
        self.scale_lines(sketch);
        sketch.lines(
            vec![
                (Point::new(left, self.top()), Point::new(left, self.bottom())),
                (Point::new(right, self.top()), Point::new(right, self.bottom())),
            ],
            Paint::TickFine,
        );
        self.tab(sketch);
        let label = (self.scale.piece_label)(self.index + 1);
        let room = mm(26);
        let size = fitting(&label, tenths(38), tenths(20), room).unwrap_or(tenths(20));
        let at = Point::new(right - mm(2), self.bottom() - mm(17));
        sketch.text(at, Anchor::End, size, Words::Tick, &label);
    }

    /// The number of the top line stands on the next piece, or on the last one's own tab.
    fn tab(&self, sketch: &mut Sketch) {
        let (left, right, top) = (self.left, self.left + mm(PIECE), mm(TABS));
        let around = vec![
            Point::new(left, self.top()),
            Point::new(left, top),
            Point::new(right, top),
            Point::new(right, self.top()),
        ];
        if self.is_last {
            sketch.polyline(around, Paint::TickFine);
            return;
        }
        sketch.polyline(around, Paint::StripEnd);
        let label = (self.scale.tab_label)(self.index + 2);
        let size = fitting(&label, tenths(42), tenths(20), mm(PIECE - 6)).unwrap_or(tenths(20));
        let at = Point::new(left + mm(PIECE).half(), top + mm(TAB).half() + size.part(36, 100));
        sketch.text(at, Anchor::Middle, size, Words::Tick, &label);
        // Arrows point to the line on which the next piece begins.
        for x in [left + mm(5), right - mm(5)] {
            let tip = Point::new(x, self.top() - tenths(6));
            let ring = vec![tip, tip.moved(-mm(2), -mm(4)), tip.moved(mm(2), -mm(4))];
            sketch.polygon(vec![ring], Paint::MeasureHook);
        }
    }

    fn scale_lines(&self, sketch: &mut Sketch) {
        let unit = self.unit();
        let (low, _) = self.scale.start.span(unit);
        let index = i64::try_from(self.index).unwrap_or(0);
        let base = low + piece_length(unit).times(index);
        let step = self.scale.division.step();
        let count = piece_length(unit).steps_of(step);
        for line in Line::ALL {
            let mut segments = Vec::new();
            for at in 0..=count {
                let up = step.times(at);
                let height = base + up;
                if Line::at(height.steps_of(unit.count_length()), unit) != line {
                    continue;
                }
                let from = Point::new(self.left, self.bottom() - true_size(up));
                segments.push((from, Point::new(self.left + line.end(), from.y)));
                if at < count || self.is_last {
                    self.number(sketch, line, height, from);
                }
            }
            sketch.lines(segments, line.paint());
        }
    }

    fn number(&self, sketch: &mut Sketch, line: Line, height: Length, from: Point) {
        let wide = mm(PIECE - 2);
        let (x, size) = match (line, self.unit()) {
            (Line::Ten, _) => (wide, mm(15)),
            (Line::Five, _) => (wide, mm(11)),
            (Line::Unit, Unit::Centimetre) => (mm(28), tenths(76)),
            _ => return,
        };
        let at = from.moved(x, -mm(1));
        sketch.text(at, Anchor::End, size, Words::Tick, &(self.scale.tick_label)(height));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn true_size_does_not_drift() {
        // 10 cm are 377.9527... px.
        assert_eq!(true_size(Length::from_mm(100)), Px::hundredths(37_795));
        assert_eq!(true_size(Length::from_mm(2_540)), Px::whole(9_600));
    }

    #[test]
    fn every_scale_is_a_whole_number_of_pieces() {
        for start in [ScaleStart::ReachMark, ScaleStart::Floor] {
            for unit in [Unit::Centimetre, Unit::Inch] {
                let (low, high) = start.span(unit);
                let pieces = i64::try_from(piece_count(start, unit)).unwrap();
                assert_eq!(low + piece_length(unit).times(pieces), high);
            }
        }
    }

    #[test]
    fn lines_are_told_apart_by_their_length() {
        let cm = |count| Line::at(count, Unit::Centimetre);
        assert!(cm(1_800) == Line::Ten && cm(1_850) == Line::Five && cm(1_860) == Line::Unit);
        assert!(cm(1_865) == Line::Half && cm(1_866) == Line::Fine);
        let inch = |count| Line::at(count, Unit::Inch);
        assert!(inch(16) == Line::Ten && inch(20) == Line::Unit && inch(21) == Line::Fine);
    }
}
