use super::chalk::{Stroke, flag, slash};
use super::lettering::fitting;
use super::scene::Sketch;
use super::steel::{Steel, measure_end, measure_rem};
use super::{
    Anchor, Area, Drawing, Frame, MOST_POINTS, Paint, Point, Px, Scale, SeasonPoint, Timeline,
    Words, decimated, estimated_width,
};
use crate::quantity::{Length, Unit};

/// The words of the home wall, formatted by the caller.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct HistoryWords<'a> {
    /// The usual jump of the last test, without its unit.
    pub number: &'a str,
    /// What stands under it: the unit and the ±.
    pub unit: &'a str,
    /// What is written at the best of all; empty to leave it out.
    pub best: &'a str,
    /// The first day and its reach, under the first test.
    pub first: [&'a str; 2],
    /// The last day and its reach, under the last test.
    pub last: [&'a str; 2],
}

/// Everything the home wall needs.
#[derive(Clone, Copy)]
pub struct HistoryLine<'a> {
    /// The room. Design choice: never lower than 18 times the root font size.
    pub frame: Frame,
    /// The unit of the measure.
    pub unit: Unit,
    /// The tests by date; the last is the one whose height is dimensioned.
    pub points: &'a [SeasonPoint],
    /// Writes a number on the measure.
    pub tick_label: &'a dyn Fn(Length) -> String,
    /// Everything else that is written.
    pub words: HistoryWords<'a>,
}

struct Plan {
    frame: Frame,
    scale: Scale,
    measure: Px,
    stripe: Px,
    line: Timeline,
    size: Px,
}

/// The home wall: every test as a mark on the whole wall above the reach, practice hollow, the best
/// of all named, and the last one dimensioned with its doubt. Empty without a test.
pub fn history_line(wall: &HistoryLine<'_>) -> Drawing {
    let frame = wall.frame.drawable(18_000);
    let plan = plan(wall, frame);
    let mut sketch = Sketch::default();
    let corner = Point::new(frame.width, frame.height);
    sketch.rect(Area::between(Point::default(), corner), Paint::Wall);
    measure_end(&mut sketch, frame, plan.measure, plan.stripe, "");
    if let Some(last) = wall.points.last() {
        past(&mut sketch, &plan, wall, last);
        today(&mut sketch, &plan, last);
        number(&mut sketch, &plan, wall, last);
    }
    let (width, label) = (plan.measure, wall.tick_label);
    let steel = Steel { frame, width, scale: plan.scale, unit: wall.unit, label };
    steel.draw(&mut sketch, Px::ZERO, plan.stripe);
    foot(&mut sketch, &plan, wall);
    sketch.finish(frame)
}

fn plan(wall: &HistoryLine<'_>, frame: Frame) -> Plan {
    let measure = frame.rems(measure_rem(frame));
    let stripe = frame.height - frame.rems(3_500);
    let right = frame.width - frame.rems(2_750);
    let room = right - measure - frame.rems(2_000);
    let most = frame.rems(4_250).min(frame.width.part(175, 1_000));
    let size = fitting(wall.words.number, most, frame.rems(1_000), room).unwrap_or(most);
    let tops = wall.points.iter().map(|p| (p.usual + p.error).max(p.best.unwrap_or_default()));
    let high = tops.max().unwrap_or(Length::from_mm(400)).max(Length::from_mm(50));
    let scale = |room| {
        let span = (Length::ZERO, high);
        Scale::padded(span, Length::ZERO, (room, Px::ZERO), (Px::ZERO, stripe))
    };
    let mut chosen = scale(frame.rems(2_000));
    let dates = || wall.points.iter().map(|point| point.date);
    let first = dates().min().unwrap_or_default();
    let line =
        Timeline::new(first, dates().max().unwrap_or(first), measure + frame.rems(1_250), right);
    let lowest = wall.points.iter().map(|point| point.usual - point.error).min();
    let free = stripe - chosen.y(lowest.unwrap_or_default().max(Length::ZERO));
    if free < block_height(size, frame) + frame.rems(1_500) {
        // The number has no room under the marks, so the wall is drawn lower to have room above.
        let above = block_height(size, frame) + frame.rems(2_000);
        chosen = scale(above.min(stripe.part(3, 5)));
    }
    Plan { frame, scale: chosen, measure, stripe, line, size }
}

fn block_height(size: Px, frame: Frame) -> Px {
    size.part(95, 100) + frame.rems(1_250)
}

/// The tests before the last.
fn past(sketch: &mut Sketch, plan: &Plan, wall: &HistoryLine<'_>, last: &SeasonPoint) {
    let frame = plan.frame;
    let heights: Vec<Length> = wall.points.iter().map(|point| point.usual).collect();
    let kept = decimated(&heights, MOST_POINTS);
    let before: Vec<&SeasonPoint> = kept
        .iter()
        .filter_map(|index| wall.points.get(*index))
        .filter(|point| *point != last)
        .collect();
    let count = i64::try_from(before.len().max(1)).unwrap_or(i64::MAX);
    let share = (plan.line.right() - plan.line.left()).part(1, count);
    let width = share.clamp(frame.rems(500), frame.rems(1_375));
    let at =
        |point: &SeasonPoint, height| Point::new(plan.line.x(point.date), plan.scale.y(height));
    let tick = |point: &&SeasonPoint| {
        let best = at(point, point.best?);
        Some((best.moved(-width.part(1, 3), Px::ZERO), best.moved(width.part(1, 3), Px::ZERO)))
    };
    sketch.lines(before.iter().filter_map(tick).collect(), Paint::Best);
    for point in before {
        let paint = if point.is_practice { Paint::ChalkMarkHollow } else { Paint::ChalkMark };
        let centre = at(point, point.usual);
        Stroke::centred(centre, width, frame).small(sketch, paint);
        if point.is_flagged {
            flag(sketch, centre.moved(Px::ZERO, frame.rems(1_750)), frame);
        }
    }
    best_of_all(sketch, plan, wall);
}

/// A dotted line at the best of all, with its words at the left end, which is free of the last test.
fn best_of_all(sketch: &mut Sketch, plan: &Plan, wall: &HistoryLine<'_>) {
    let Some(best) = wall.points.iter().filter_map(|point| point.best).max() else { return };
    if wall.words.best.is_empty() {
        return;
    }
    let (frame, y) = (plan.frame, plan.scale.y(best));
    sketch.across(plan.measure, frame.width, y, Paint::MarkLineDotted);
    let left = plan.measure + frame.rems(500);
    let size = fitting(wall.words.best, frame.rems(938), frame.rems(750), frame.width - left);
    if let Some(size) = size {
        let at = Point::new(left, y - frame.rems(450));
        sketch.text(at, Anchor::Start, size, Words::Strong, wall.words.best);
    }
}

/// The last test: hatch, chalk and dimension line.
fn today(sketch: &mut Sketch, plan: &Plan, last: &SeasonPoint) {
    let frame = plan.frame;
    let at = Point::new(plan.line.right(), plan.scale.y(last.usual));
    let (upper, lower) = (
        plan.scale.y(last.usual + last.error),
        plan.scale.y((last.usual - last.error).max(Length::ZERO)),
    );
    let half = frame.rems(2_500);
    let area = Area::between(Point::new(at.x - half, upper), Point::new(at.x + half, lower));
    sketch.rect(area, Paint::Hatch);
    let mark = Stroke::centred(at, frame.rems(4_500), frame);
    if last.is_practice {
        mark.plain(sketch, Paint::ChalkMarkHollow, Paint::Halo);
    } else {
        mark.chalk(sketch, Paint::ChalkMark, Paint::Halo);
    }
    sketch.upright(at.x, at.y, plan.stripe, Paint::Dimension);
    for y in [at.y, plan.stripe] {
        slash(sketch, Point::new(at.x, y), frame, Paint::Slash);
    }
    if last.is_flagged {
        flag(sketch, Point::new(at.x + frame.rems(875), lower + frame.rems(1_500)), frame);
    }
}

/// The big number left of the dimension line: under the marks where it fits, else above them.
fn number(sketch: &mut Sketch, plan: &Plan, wall: &HistoryLine<'_>, last: &SeasonPoint) {
    let frame = plan.frame;
    let right = plan.line.right() - frame.rems(1_000);
    let width = estimated_width(wall.words.number, plan.size);
    let reach = |point: &&SeasonPoint| plan.line.x(point.date) + frame.rems(750) >= right - width;
    let lowest = wall.points.iter().filter(reach).map(|point| point.usual).min();
    let upper = plan.scale.y(lowest.unwrap_or(last.usual).min(last.usual - last.error));
    let upper = upper.min(plan.stripe) + frame.rems(750);
    let tall = block_height(plan.size, frame);
    let free = plan.stripe - frame.rems(750) - upper;
    let top = if free >= tall { upper + (free - tall).half() } else { frame.rems(500) };
    let baseline = top + plan.size.part(75, 100);
    sketch.text(
        Point::new(right, baseline),
        Anchor::End,
        plan.size,
        Words::Hero,
        wall.words.number,
    );
    let room = right - plan.measure - frame.rems(500);
    if let Some(size) = fitting(wall.words.unit, frame.rems(1_250), frame.rems(813), room) {
        let at = Point::new(right, baseline + plan.size.part(20, 100) + frame.rems(1_000));
        sketch.text(at, Anchor::End, size, Words::Strong, wall.words.unit);
    }
}

/// The first and the last day in the dado. Where both do not fit, the last one stays.
fn foot(sketch: &mut Sketch, plan: &Plan, wall: &HistoryLine<'_>) {
    let frame = plan.frame;
    let (left, right) = (plan.measure + frame.rems(750), frame.width - frame.rems(750));
    let rows = [(Words::OnDado, 1_375), (Words::OnDadoSoft, 2_625)];
    let size = frame.rems(938);
    let wide = |pair: [&str; 2]| {
        pair.iter().map(|text| estimated_width(text, size)).max().unwrap_or_default()
    };
    let both = wide(wall.words.first) + wide(wall.words.last) + size <= right - left;
    for (index, (words, down)) in rows.into_iter().enumerate() {
        let y = plan.stripe + frame.rems(down);
        if let Some(last) = wall.words.last.get(index) {
            let fits = fitting(last, size, frame.rems(750), right - left);
            if let Some(size) = fits {
                sketch.text(Point::new(right, y), Anchor::End, size, words, last);
            }
        }
        if let Some(first) = wall.words.first.get(index).filter(|_| both) {
            sketch.text(Point::new(left, y), Anchor::Start, size, words, first);
        }
    }
}
