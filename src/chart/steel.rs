//! The steel tape measure at the left edge, the only axis of every wall.

use super::scene::Sketch;
use super::{Anchor, Area, Frame, Paint, Point, Px, Scale, Weight, Words, estimated_width, ticks};
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
            let (x1, x2) = (self.width.part(from, 100), self.width);
            let segments = all
                .iter()
                .filter(|tick| tick.weight == weight && top <= tick.y && tick.y <= bottom)
                .map(|tick| (Point::new(x1, tick.y), Point::new(x2, tick.y)))
                .collect();
            sketch.lines(segments, paint);
        }
        sketch.upright(self.width, top, bottom, Paint::MeasureEdge);
        self.numbers(sketch, top, bottom);
    }

    fn numbers(self, sketch: &mut Sketch, top: Px, bottom: Px) {
        let size = self.frame.rems(813);
        let mut free_below = bottom;
        for tick in ticks(self.scale, self.unit, self.frame) {
            let baseline = tick.y - self.frame.rems(350);
            let upper = baseline - size.part(75, 100);
            let inside = upper >= top && baseline <= free_below;
            if tick.weight != Weight::Major || !inside {
                continue;
            }
            let text = (self.label)(tick.at);
            if estimated_width(&text, size) > self.width {
                continue;
            }
            let at = Point::new(self.width.part(46, 100), baseline);
            sketch.text(at, Anchor::Middle, size, Words::Tick, &text);
            free_below = upper - self.frame.rems(250);
        }
    }
}

/// The hook at the end of the tape: a measure that hangs down to zero.
pub(super) fn hook(sketch: &mut Sketch, width: Px, bottom: Px) {
    let upper = Point::new(Px::ZERO, bottom - Px::whole(6));
    sketch.rect(Area::between(upper, Point::new(width + Px::whole(4), bottom)), Paint::MeasureHook);
}

/// The builder's cut: two lines with a kink across the drawing, and bare wall between them, which
/// says that a part of the wall is left out.
pub(super) fn cut(sketch: &mut Sketch, width: Px, top: Px, bottom: Px) {
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
