//! What the signs of a season mean, in rows under its wall, so that page, print and picture carry it.

use super::chalk::{Stroke, flag};
use super::lettering::wrapped;
use super::scene::Sketch;
use super::{Anchor, Area, Frame, Paint, Point, Px, Words, estimated_width};

/// One sign and what it means.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LegendEntry<'a> {
    /// The sign.
    pub sample: Sample,
    /// What it means.
    pub label: &'a str,
}

/// The signs of a season.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Sample {
    /// A test and its ±.
    Test,
    /// A practice test.
    Practice,
    /// A test with a note, outside the line.
    Noted,
    /// The level and the hatch of its doubt.
    Level,
    /// The line of growing alone.
    Growth,
    /// The line of what was still to be learnt.
    Learning,
}

/// The height of a row, in thousandths of the font size.
const ROW: i64 = 1_375;
/// Every sign in a row of its own.
pub(super) const MOST: i64 = 6 * ROW + AIR;
/// The size of the words.
const SIZE: i64 = 813;
/// The width of a sign, of the air behind it, and of the air between two entries.
const SIGN: i64 = 1_500;
const AIR: i64 = 375;
const APART: i64 = 1_000;
/// Bare wall at both ends of a row.
const MARGIN: i64 = 500;

struct Placed {
    sample: Sample,
    lines: Vec<String>,
    row: i64,
    x: Px,
}

/// Fills row after row; an entry too wide for a row of its own is broken into lines, and one with a
/// word too long for that is left out. Returns how many rows there are.
fn placed(frame: Frame, entries: &[LegendEntry<'_>]) -> (Vec<Placed>, i64) {
    let (size, before) = (frame.rems(SIZE), frame.rems(SIGN + AIR));
    let (left, right) = (frame.rems(MARGIN), frame.width - frame.rems(MARGIN));
    let mut all: Vec<Placed> = Vec::new();
    let (mut row, mut rows, mut x) = (0, 0, left);
    for entry in entries {
        let Some(lines) = wrapped(entry.label, size, right - left - before) else { continue };
        let widest = lines.iter().map(|line| estimated_width(line, size)).max();
        let width = before + widest.unwrap_or(Px::ZERO);
        let count = i64::try_from(lines.len()).unwrap_or(1);
        if x > left && (count > 1 || x + width > right) {
            (row, x) = (rows, left);
        }
        all.push(Placed { sample: entry.sample, lines, row, x });
        rows = rows.max(row + count);
        // Nothing stands beside words of several lines.
        if count > 1 {
            (row, x) = (rows, left);
        } else {
            x = x + width + frame.rems(APART);
        }
    }
    (all, rows)
}

/// The height of the legend in thousandths of the font size; nought without entries.
pub(super) fn height(frame: Frame, entries: &[LegendEntry<'_>]) -> i64 {
    match placed(frame, entries).1 {
        0 => 0,
        rows => rows * ROW + AIR,
    }
}

/// Draws the legend from `top` down.
pub(super) fn draw(sketch: &mut Sketch, frame: Frame, entries: &[LegendEntry<'_>], top: Px) {
    let size = frame.rems(SIZE);
    for Placed { sample, lines, row, x } in placed(frame, entries).0 {
        let mut middle = top + frame.rems(row * ROW + ROW / 2 + AIR / 2);
        sign(sketch, frame, sample, Point::new(x, middle));
        for line in lines {
            let at = Point::new(x + frame.rems(SIGN + AIR), middle + size.part(35, 100));
            sketch.text(at, Anchor::Start, size, Words::Plain, &line);
            middle = middle + frame.rems(ROW);
        }
    }
}

/// One sign, from the middle of its left edge.
fn sign(sketch: &mut Sketch, frame: Frame, sample: Sample, left: Point) {
    let right = left.moved(frame.rems(SIGN), Px::ZERO);
    let centre = left.moved(frame.rems(SIGN).half(), Px::ZERO);
    let mark = |paint: Paint, sketch: &mut Sketch| {
        let (up, down) = (centre.moved(Px::ZERO, -frame.rems(500)), frame.rems(1_000));
        sketch.line(up, up.moved(Px::ZERO, down), Paint::ErrorBar);
        Stroke::centred(centre, frame.rems(1_000), frame).small(sketch, paint);
    };
    match sample {
        Sample::Test => mark(Paint::ChalkMark, sketch),
        Sample::Practice => mark(Paint::ChalkMarkHollow, sketch),
        Sample::Noted => flag(sketch, centre.moved(-frame.rems(375), frame.rems(500)), frame),
        Sample::Level => {
            let half = frame.rems(438);
            let area = Area::between(left.moved(Px::ZERO, -half), right.moved(Px::ZERO, half));
            let corners = [
                Point::new(area.x, area.y),
                Point::new(area.right(), area.y),
                Point::new(area.right(), area.bottom()),
                Point::new(area.x, area.bottom()),
            ];
            sketch.polygon(vec![corners.to_vec()], Paint::Hatch);
            sketch.polyline(vec![left, right], Paint::Trend);
        }
        Sample::Growth => sketch.polyline(vec![left, right], Paint::Growth),
        Sample::Learning => sketch.polyline(vec![left, right], Paint::Learning),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn entry(label: &str) -> LegendEntry<'_> {
        LegendEntry { sample: Sample::Level, label }
    }

    #[test]
    fn entries_flow_into_rows_and_stay_inside() {
        let frame = Frame::whole(320, 400, 16);
        let entries = ["usual jump ±", "practice", "tired", "by growing alone"].map(entry);
        let (placed, rows) = placed(frame, &entries);
        assert_eq!((placed.len(), rows), (4, 2));
        for one in &placed {
            let end = one.x + frame.rems(SIGN + AIR);
            assert!(end + estimated_width(&one.lines[0], frame.rems(SIZE)) <= frame.width);
        }
        assert_eq!(height(frame, &entries), rows * ROW + AIR);
        assert_eq!(height(frame, &[]), 0);
    }

    #[test]
    fn long_words_break_and_nothing_stands_beside_them() {
        let frame = Frame::whole(200, 400, 16);
        let entries = ["tired", "the level, in its hatch two times in three", "tired"].map(entry);
        let (placed, rows) = placed(frame, &entries);
        assert!(placed[1].lines.len() > 1);
        assert!(placed[0].row < placed[1].row && placed[1].row < placed[2].row);
        assert_eq!(placed[2].row + 1, rows);
        let endless = "w".repeat(200);
        assert!(super::placed(frame, &[entry(&endless)]).0.is_empty());
    }
}
