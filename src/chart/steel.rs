//! The steel tape measure at the left edge, the only axis of every wall.

use super::lettering::fitting;
use super::scene::Sketch;
use super::{
    Anchor, Area, Frame, Item, Label, Paint, Point, Px, Scale, Tick, Weight, Words,
    estimated_width, ticks,
};
use crate::quantity::{Length, Unit};

/// The measure of one drawing.
#[derive(Clone, Copy)]
pub(super) struct Steel<'a> {
    pub(super) frame: Frame,
    pub(super) width: Px,
    pub(super) scale: Scale,
    pub(super) unit: Unit,
    pub(super) label: &'a dyn Fn(Length) -> String,
}

/// How wide the measure is, in thousandths of the root font size, by the width of the drawing.
pub(super) fn measure_rem(frame: Frame) -> i64 {
    if frame.width >= frame.rems(22_000) {
        2_750
    } else if frame.width >= frame.rems(15_000) {
        2_000
    } else {
        750
    }
}

impl Steel<'_> {
    /// Paints the tape from `top` to `bottom` with its ticks and, where there is room, numbers.
    pub(super) fn draw(self, sketch: &mut Sketch, top: Px, bottom: Px) {
        let left = Point::new(Px::ZERO, top);
        sketch.rect(Area::between(left, Point::new(self.width, bottom)), Paint::Measure);
        let all = ticks(self.scale, self.unit, self.frame);
        let numbers = self.numbers(&all, top, bottom);
        let narrow = self.width < self.frame.rems(2_500);
        for (weight, from, paint) in [
            (Weight::Fine, 78, Paint::TickFine),
            (Weight::Mid, 58, Paint::Tick),
            (Weight::Major, 0, Paint::Tick),
        ] {
            // On a narrow measure the numbers need the room of the fine ticks.
            if narrow && weight == Weight::Fine {
                continue;
            }
            let start = self.width.part(from, 100);
            let is_clear = |tick: &&Tick| {
                let line = Area { x: start, y: tick.y, width: self.width, height: Px::ZERO };
                weight == Weight::Major || !numbers.iter().any(|label| label.area().overlaps(line))
            };
            let segments = all
                .iter()
                .filter(|tick| tick.weight == weight && top <= tick.y && tick.y <= bottom)
                .filter(is_clear)
                .map(|tick| (Point::new(start, tick.y), Point::new(self.width, tick.y)))
                .collect();
            sketch.lines(segments, paint);
        }
        sketch.upright(self.width, top, bottom, Paint::MeasureEdge);
        sketch.items.extend(numbers.into_iter().map(Item::Text));
    }

    /// The numbers stand on the major ticks, which [`ticks`] sets far enough apart for them.
    fn numbers(self, all: &[Tick], top: Px, bottom: Px) -> Vec<Label> {
        let size = self.frame.rems(813);
        let mut numbers = Vec::new();
        for tick in all.iter().filter(|tick| tick.weight == Weight::Major) {
            let baseline = tick.y - self.frame.rems(350);
            let upper = baseline - size.part(75, 100);
            let content = (self.label)(tick.at);
            let fits = estimated_width(&content, size) <= self.width;
            if upper < top || baseline > bottom || !fits {
                continue;
            }
            let at = Point::new(self.width.part(46, 100), baseline);
            let (anchor, words) = (Anchor::Middle, Words::Tick);
            numbers.push(Label { at, anchor, size, words, content });
        }
        numbers
    }
}

/// The hook at the end of the tape: a measure that hangs down to zero.
pub(super) fn hook(sketch: &mut Sketch, width: Px, bottom: Px) {
    let upper = Point::new(Px::ZERO, bottom - Px::whole(6));
    sketch.rect(Area::between(upper, Point::new(width + Px::whole(4), bottom)), Paint::MeasureHook);
}

/// The dado from the stripe to the foot of the drawing, and the end of the measure in it, which says
/// what it reads at the reach mark.
pub(super) fn measure_end(
    sketch: &mut Sketch,
    frame: Frame,
    measure: Px,
    stripe: Px,
    reading: &str,
) {
    let corner = Point::new(frame.width, frame.height);
    let end = frame.height - frame.rems(250);
    sketch.rect(Area::between(Point::new(Px::ZERO, stripe), corner), Paint::Dado);
    let left = Point::new(Px::ZERO, stripe);
    sketch.rect(Area::between(left, Point::new(measure, end)), Paint::Measure);
    hook(sketch, measure, end);
    let upper = Point::new(Px::ZERO, stripe - Px::whole(2));
    let lower = Point::new(frame.width, stripe + Px::whole(2));
    sketch.rect(Area::between(upper, lower), Paint::Stripe);
    let room = measure - Px::whole(2);
    if let Some(size) = fitting(reading, frame.rems(813), frame.rems(650), room) {
        let at = Point::new(measure.half(), stripe + frame.rems(1_250));
        sketch.text(at, Anchor::Middle, size, Words::Tick, reading);
    }
}

/// The cut between the wall that is drawn and the reach mark, with the measure running through.
pub(super) fn cut_down(sketch: &mut Sketch, frame: Frame, measure: Px, (top, bottom): (Px, Px)) {
    sketch.rect(
        Area::between(Point::new(Px::ZERO, top), Point::new(measure, bottom)),
        Paint::Measure,
    );
    cut(sketch, frame.width, top, bottom);
}

/// The builder's cut: two lines with a kink across the drawing, and bare wall between them, which
/// says that a part of the wall is left out.
fn cut(sketch: &mut Sketch, width: Px, top: Px, bottom: Px) {
    let upper = kinked(width, top + Px::whole(7));
    let lower = kinked(width, bottom - Px::whole(7));
    let ring = upper.iter().chain(lower.iter().rev()).copied().collect();
    sketch.polygon(vec![ring], Paint::Wall);
    sketch.polyline(upper, Paint::Cut);
    sketch.polyline(lower, Paint::Cut);
}

/// The wall goes on down to the floor: a line with three kinks at the foot of the dado.
pub(super) fn goes_on(sketch: &mut Sketch, width: Px, bottom: Px) {
    let y = bottom - Px::whole(7);
    let mut line = vec![Point::new(Px::ZERO, y)];
    for percent in [15, 52, 84] {
        line.extend(kink(width.part(percent, 100), y));
    }
    line.push(Point::new(width, y));
    let mut below = line.clone();
    below.extend([Point::new(width, bottom), Point::new(Px::ZERO, bottom)]);
    sketch.polygon(vec![below], Paint::Wall);
    sketch.polyline(line, Paint::Cut);
}

fn kinked(width: Px, y: Px) -> Vec<Point> {
    let mut line = vec![Point::new(Px::ZERO, y)];
    line.extend(kink(width.part(28, 100), y));
    line.push(Point::new(width, y));
    line
}

fn kink(x: Px, y: Px) -> [Point; 4] {
    let at = |right, down| Point::new(x + Px::whole(right), y + Px::whole(down));
    [at(0, 0), at(6, -6), at(14, 6), at(20, 0)]
}
