//! Marks: a chalk stroke is three ragged strokes of one path, the same every time.

use super::scene::Sketch;
use super::{Frame, Paint, Point, Px};

/// The width of a full chalk mark in thousandths of the root font size: 116 px at 16 px.
pub(super) const FULL: i64 = 7_250;

/// A corner of an outline: thousandths of the width to the right, tenths of a pixel down at 16 px.
type Corner = (i64, i64);

const MAIN: &[Corner] = &[
    (0, -22),
    (34, -31),
    (420, -27),
    (700, -32),
    (980, -25),
    (1_000, 12),
    (960, 27),
    (550, 24),
    (200, 30),
    (10, 22),
];
const OVER_LEFT: &[Corner] = &[(50, -56), (380, -55), (370, -46), (70, -45)];
const OVER_RIGHT: &[Corner] = &[(460, -55), (860, -56), (840, -46), (460, -45)];
const UNDER: &[Corner] = &[(130, 43), (600, 40), (580, 54), (150, 56)];
/// The plain outline of a small mark, of a stroke of ink and of a halo.
const OUTLINE: &[Corner] = &[(0, -20), (30, -40), (980, -32), (1_000, 8), (970, 40), (20, 32)];
/// The outline of a mark of a test among many.
const SMALL: &[Corner] = &[(0, -20), (140, -40), (910, -32), (1_000, 8), (860, 40), (90, 32)];

/// A mark on the wall: its middle line is the height, `left` its left end.
#[derive(Clone, Copy)]
pub(super) struct Stroke {
    pub(super) left: Point,
    pub(super) width: Px,
    pub(super) font: Px,
}

impl Stroke {
    pub(super) fn new(left: Point, width: Px, frame: Frame) -> Self {
        Self { left, width, font: frame.font }
    }

    /// A mark whose middle lies at `centre`.
    pub(super) fn centred(centre: Point, width: Px, frame: Frame) -> Self {
        Self::new(centre.moved(-width.half(), Px::ZERO), width, frame)
    }

    fn ring(self, corners: &[Corner]) -> Vec<Point> {
        let at =
            |(x, y): &Corner| self.left.moved(self.width.part(*x, 1_000), self.font.part(*y, 160));
        corners.iter().map(at).collect()
    }

    /// Three ragged strokes on plaster or dado, cut free of the lines behind them by a halo.
    pub(super) fn chalk(self, sketch: &mut Sketch, paint: Paint, halo: Paint) {
        sketch.polygon(vec![self.ring(OUTLINE)], halo);
        let rings = [MAIN, OVER_LEFT, OVER_RIGHT, UNDER];
        sketch.polygon(rings.iter().map(|ring| self.ring(ring)).collect(), paint);
    }

    /// One plain stroke: ink on the stripe, a dashed outline, a hollow mark.
    pub(super) fn plain(self, sketch: &mut Sketch, paint: Paint, halo: Paint) {
        sketch.polygon(vec![self.ring(OUTLINE)], halo);
        sketch.polygon(vec![self.ring(OUTLINE)], paint);
    }

    /// A short mark for one test among many. It keeps its shape, so a narrow one is thin.
    pub(super) fn small(self, sketch: &mut Sketch, paint: Paint) {
        sketch.polygon(vec![self.small_ring()], Paint::Halo);
        sketch.polygon(vec![self.small_ring()], paint);
    }

    /// The outline of that mark, for many of them in one item.
    pub(super) fn small_ring(self) -> Vec<Point> {
        let at =
            |(x, y): &Corner| self.left.moved(self.width.part(*x, 1_000), self.width.part(*y, 220));
        SMALL.iter().map(at).collect()
    }
}

/// The slash of a dimension line: 45 degrees, through the point.
pub(super) fn slash(sketch: &mut Sketch, at: Point, frame: Frame, paint: Paint) {
    let arm = frame.rems(500);
    sketch.line(at.moved(-arm, arm), at.moved(arm, -arm), paint);
}

/// A small flag whose pole stands on `foot`.
pub(super) fn flag(sketch: &mut Sketch, foot: Point, frame: Frame) {
    let unit = frame.rems(63);
    let at = |x: i64, y: i64| foot.moved(unit.part(x, 1), unit.part(y, 1));
    sketch.polygon(
        vec![vec![at(0, -18), at(12, -18), at(9, -14), at(12, -10), at(0, -10)]],
        Paint::FlagCloth,
    );
    sketch.upright(foot.x, foot.y, at(0, -18).y, Paint::Flag);
}
