//! The gap column of the result: marks, hatch, dimension line, the big number and the note.

use super::chalk::{self, Stroke};
use super::lettering::{fitting, wrapped};
use super::result_wall::{Dropped, NoteLine, Plan, Reference, ResultWall};
use super::scene::Sketch;
use super::{Anchor, Area, Frame, Paint, Point, Px, Words, estimated_width};
use crate::quantity::Length;

/// The left edge of everything that is written in the gap, right of the dimension line.
pub(super) fn words_left(plan: &Plan) -> Px {
    let narrow = plan.frame.width < plan.frame.rems(15_000);
    plan.gap + plan.frame.rems(if narrow { 1_900 } else { 2_150 })
}

fn words_room(plan: &Plan) -> Px {
    plan.tape - plan.frame.rems(300) - words_left(plan)
}

/// The hatch around the usual jump, the line of the usual jump and the line of the best.
pub(super) fn doubt(sketch: &mut Sketch, wall: &ResultWall<'_>, plan: &Plan) {
    if let Some(usual) = wall.usual {
        let upper = plan.y(usual.height + usual.error);
        let lower = plan.y((usual.height - usual.error).max(Length::ZERO));
        let area = Area::between(Point::new(plan.gap, upper), Point::new(plan.tape, lower));
        sketch.rect(area, Paint::Hatch);
        sketch.across(plan.gap, plan.tape, plan.y(usual.height), Paint::Usual);
    }
    sketch.across(plan.gap, plan.tape, plan.y(wall.best), Paint::MarkLine);
}

/// The dimension line with its slashes, the reach mark on the stripe and the jump mark.
pub(super) fn marks(sketch: &mut Sketch, wall: &ResultWall<'_>, plan: &Plan) {
    let frame = plan.frame;
    let left = words_left(plan) + frame.rems(100);
    let width =
        frame.rems(chalk::FULL).min(plan.tape - frame.rems(250) - left).max(frame.rems(1_000));
    let (mark, foot) = (plan.y(wall.best), plan.foot);
    let reach = Stroke::new(Point::new(left, foot), width, frame);
    reach.plain(sketch, Paint::ReachMark, Paint::HaloStripe);
    Stroke::new(Point::new(left, mark), width, frame).chalk(sketch, Paint::ChalkMark, Paint::Halo);
    let dimension = plan.gap + frame.rems(1_000);
    sketch.upright(dimension, mark, foot, Paint::Dimension);
    for y in [mark, foot] {
        chalk::slash(sketch, Point::new(dimension, y), frame, Paint::Slash);
    }
}

/// A line of words with its size and its distance from the baseline before it.
struct Row {
    text: String,
    size: Px,
    words: Words,
    step: Px,
}

/// The number and what stands under it, before it has a place.
struct Block {
    size: Px,
    rows: Vec<Row>,
    dropped: Vec<Dropped>,
}

impl Block {
    fn new(wall: &ResultWall<'_>, plan: &Plan) -> Self {
        let (frame, room) = (plan.frame, words_room(plan));
        let most = if frame.width >= frame.rems(30_000) {
            frame.rems(6_000)
        } else {
            frame.rems(4_250).min(frame.width.part(175, 1_000))
        };
        let size = fitting(wall.words.number, most, frame.rems(1_000), room).unwrap_or(most);
        let mut block = Self { size, rows: Vec::new(), dropped: Vec::new() };
        let sizes = (frame.rems(1_250), frame.rems(938));
        block.row(wall.words.unit, sizes, Words::Strong, Dropped::Unit, plan);
        let sizes = (frame.rems(938), frame.rems(813));
        block.row(wall.words.usual, sizes, Words::Plain, Dropped::UsualWords, plan);
        block
    }

    fn row(&mut self, text: &str, sizes: (Px, Px), words: Words, lost: Dropped, plan: &Plan) {
        if text.is_empty() {
            return;
        }
        let room = words_room(plan);
        let (most, least) = sizes;
        let lines = match fitting(text, most, least, room) {
            Some(size) => Some((vec![text.to_owned()], size)),
            None => wrapped(text, least, room).map(|lines| (lines, least)),
        };
        let Some((lines, size)) = lines else {
            self.dropped.push(lost);
            return;
        };
        let step = size.part(145, 100);
        self.rows.extend(lines.into_iter().map(|text| Row { text, size, words, step }));
    }

    fn cap(&self) -> Px {
        self.size.part(75, 100)
    }

    fn rows_height(&self) -> Px {
        self.rows.iter().fold(Px::ZERO, |sum, row| sum + row.step)
    }

    fn height(&self) -> Px {
        self.cap() + self.rows_height() + self.size.part(8, 100)
    }
}

/// The free part of the gap between the marks.
fn between(wall: &ResultWall<'_>, plan: &Plan) -> (Px, Px) {
    let hatch =
        wall.usual.map_or(Px::ZERO, |usual| plan.y((usual.height - usual.error).max(Length::ZERO)));
    let upper = hatch.max(plan.y(wall.best) + plan.frame.rems(500));
    (upper, plan.foot - plan.frame.rems(750))
}

fn fits_between(block: &Block, wall: &ResultWall<'_>, plan: &Plan) -> bool {
    let (upper, lower) = between(wall, plan);
    lower - upper >= block.height() + plan.frame.rems(500)
}

/// How much wall is needed above the marks: nothing when the number fits between them.
pub(super) fn room_above(wall: &ResultWall<'_>, plan: &Plan) -> Px {
    let block = Block::new(wall, plan);
    if fits_between(&block, wall, plan) {
        return Px::ZERO;
    }
    block.height() + plan.frame.rems(1_750)
}

/// Everything that is written in the gap column.
pub(super) fn words(
    sketch: &mut Sketch,
    wall: &ResultWall<'_>,
    plan: &Plan,
    dropped: &mut Vec<Dropped>,
) {
    let block = Block::new(wall, plan);
    dropped.extend(block.dropped.iter().copied());
    let free = if fits_between(&block, wall, plan) {
        number_between(sketch, wall, plan, &block, dropped)
    } else {
        number_above(sketch, wall, plan, &block, dropped)
    };
    note(sketch, wall.words.note, plan, free, dropped);
}

/// The parts of the gap that are left: above the marks and between them, each from, to.
type Free = [(Px, Px); 2];

fn number_between(
    sketch: &mut Sketch,
    wall: &ResultWall<'_>,
    plan: &Plan,
    block: &Block,
    dropped: &mut Vec<Dropped>,
) -> Free {
    let frame = plan.frame;
    let (upper, lower) = between(wall, plan);
    let top = upper + (lower - upper - block.height()).half();
    let mut at = Point::new(words_left(plan), top + block.cap());
    sketch.text(at, Anchor::Start, block.size, Words::Hero, wall.words.number);
    at.y = at.y + block.size.part(8, 100);
    for row in &block.rows {
        at.y = at.y + row.step;
        sketch.text(at, Anchor::Start, row.size, row.words, &row.text);
    }
    let size = frame.rems(938);
    let above = hatch_top(wall, plan).min(plan.y(wall.best) - frame.rems(350)) - frame.rems(350);
    let place = Point::new(words_left(plan), above);
    mark_label(sketch, wall, plan, place, dropped);
    [(frame.rems(750), above - size), (at.y + frame.rems(1_000), lower)]
}

/// The upper edge of the hatch where it reaches above the best mark.
fn hatch_top(wall: &ResultWall<'_>, plan: &Plan) -> Px {
    wall.usual.map_or(plan.foot, |usual| plan.y(usual.height + usual.error))
}

fn number_above(
    sketch: &mut Sketch,
    wall: &ResultWall<'_>,
    plan: &Plan,
    block: &Block,
    dropped: &mut Vec<Dropped>,
) -> Free {
    let frame = plan.frame;
    let left = words_left(plan);
    let marks = plan.y(wall.best).min(hatch_top(wall, plan));
    let baseline = marks - frame.rems(900);
    sketch.text(
        Point::new(left, baseline),
        Anchor::Start,
        block.size,
        Words::Hero,
        wall.words.number,
    );
    let beside = left + estimated_width(wall.words.number, block.size) + frame.rems(400);
    let right = plan.tape - frame.rems(300);
    let fits = block.rows.iter().all(|row| beside + estimated_width(&row.text, row.size) <= right);
    let mut at = Point::new(left, baseline - block.cap() - frame.rems(400));
    if fits {
        at = Point::new(beside, baseline);
    }
    for row in block.rows.iter().rev() {
        sketch.text(at, Anchor::Start, row.size, row.words, &row.text);
        at.y = at.y - row.step;
    }
    let top = at.y.min(baseline - block.cap());
    let size = frame.rems(938);
    let below = plan.y(wall.best) + frame.rems(750) + size;
    if below < plan.foot - frame.rems(750) {
        mark_label(sketch, wall, plan, Point::new(left, below), dropped);
    } else {
        dropped.push(Dropped::JumpMark);
    }
    [
        (frame.rems(750), top - frame.rems(250)),
        (below + frame.rems(500), plan.foot - frame.rems(750)),
    ]
}

fn mark_label(
    sketch: &mut Sketch,
    wall: &ResultWall<'_>,
    plan: &Plan,
    at: Point,
    dropped: &mut Vec<Dropped>,
) {
    let (number, size) = (wall.words.jump_mark_number, plan.frame.rems(938));
    let full = format!("{} {number}", wall.words.jump_mark);
    if fitting(&full, size, size, words_room(plan)).is_some() {
        sketch.text(at, Anchor::Start, size, Words::Strong, &full);
    } else {
        dropped.push(Dropped::JumpMarkWords);
        sketch.text(at, Anchor::Start, size, Words::Strong, number);
    }
}

/// The note takes the larger free part of the gap; what does not fit there is dropped from the end.
fn note(
    sketch: &mut Sketch,
    lines: &[NoteLine<'_>],
    plan: &Plan,
    free: Free,
    dropped: &mut Vec<Dropped>,
) {
    let frame = plan.frame;
    // In a narrow gap the page writes the note above the wall.
    let banned = frame.width < frame.rems(15_000);
    let [above, below] = free;
    let is_above = above.1 - above.0 >= below.1 - below.0;
    let (from, to) = if is_above { above } else { below };
    let left = if is_above { plan.gap + frame.rems(750) } else { words_left(plan) };
    let mut y = from;
    let mut is_full = banned;
    for (index, line) in lines.iter().enumerate() {
        let pen = NotePen::new(line, frame);
        let room = plan.tape - frame.rems(300) - left - pen.indent;
        let rows = wrapped(line.text, pen.size, room).unwrap_or_default();
        let count = i64::try_from(rows.len()).unwrap_or(0);
        let tall = pen.size.part(count * 130, 100);
        is_full = is_full || rows.is_empty() || y + tall > to;
        if is_full {
            dropped.push(Dropped::NoteLine(index));
            continue;
        }
        pen.write(sketch, &rows, Point::new(left, y));
        y = y + tall + frame.rems(250);
    }
}

struct NotePen {
    size: Px,
    words: Words,
    indent: Px,
    frame: Frame,
}

impl NotePen {
    fn new(line: &NoteLine<'_>, frame: Frame) -> Self {
        let (rem, words) = if line.is_head { (1_250, Words::Strong) } else { (938, Words::Plain) };
        let indent = if line.has_flag { frame.rems(1_500) } else { Px::ZERO };
        Self { size: frame.rems(rem), words, indent, frame }
    }

    fn write(&self, sketch: &mut Sketch, rows: &[String], top: Point) {
        let mut at = top.moved(self.indent, self.size.part(85, 100));
        if self.indent > Px::ZERO {
            chalk::flag(
                sketch,
                Point::new(top.x + Px::whole(1), at.y + self.frame.rems(150)),
                self.frame,
            );
        }
        for row in rows {
            sketch.text(at, Anchor::Start, self.size, self.words, row);
            at.y = at.y + self.size.part(130, 100);
        }
    }
}

/// Whether the source says anything at all.
pub(super) fn has_tape(wall: &ResultWall<'_>) -> bool {
    wall.reference != Reference::None
}
