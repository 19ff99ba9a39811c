//! The tape of a published source and the labels beside it.

use super::lettering::{fitting, wrapped};
use super::result_gap::has_tape;
use super::result_wall::{Dropped, OPEN_STRIP, Plan, Reference, ResultWall, Standing};
use super::scene::Sketch;
use super::{Anchor, Area, Paint, Point, Px, Words, estimated_width};
use crate::quantity::Length;

/// Half of the seam between two strips.
const SEAM: Px = Px::hundredths(150);
/// How far tenths run on, dashed, beyond the last one that the source knows. Design choice.
const DASHED_END: Length = Length::from_mm(40);

/// Paints the tape, the line of the jump across it, the tag and the labels.
pub(super) fn draw(
    sketch: &mut Sketch,
    wall: &ResultWall<'_>,
    plan: &Plan,
    dropped: &mut Vec<Dropped>,
) {
    if !has_tape(wall) {
        return;
    }
    match wall.reference {
        Reference::Strips(strips) => {
            for (index, strip) in strips.iter().enumerate() {
                let top = strip.to.unwrap_or(strip.from + OPEN_STRIP);
                piece(
                    sketch,
                    plan,
                    (strip.from, top),
                    rising(index, strips.len()),
                    strip.to.is_none(),
                );
            }
        }
        Reference::Tenths { edges, .. } => tenths(sketch, plan, edges),
        Reference::Average { from, to, .. } => {
            piece(sketch, plan, (from, to), Paint::StripDiagonal, false);
        }
        Reference::None => {}
    }
    let mut column = Column { plan, sketch, dropped, taken: Vec::new() };
    if let Some(standing) = wall.standing {
        column.standing(standing);
    }
    column.labels(wall);
}

/// The pattern rises with the height: plain, dots, diagonal, cross, solid.
fn rising(index: usize, count: usize) -> Paint {
    let place = match count.saturating_sub(1) {
        0 => 2,
        last => (index * 4 + last / 2) / last,
    };
    match place {
        0 => Paint::StripPlain,
        1 => Paint::StripDots,
        2 => Paint::StripDiagonal,
        3 => Paint::StripCross,
        _ => Paint::StripSolid,
    }
}

/// One piece of tape: paper with an ink outline, the pattern on it. An open end is saw-cut.
fn piece(
    sketch: &mut Sketch,
    plan: &Plan,
    (from, to): (Length, Length),
    paint: Paint,
    is_open: bool,
) {
    let (left, right) = (plan.tape + Px::whole(1), tape_right(plan));
    let lower = plan.y(from) - SEAM;
    let upper = (plan.y(to) + SEAM).min(lower);
    let mut ring = vec![Point::new(left, lower), Point::new(left, upper)];
    if is_open {
        let tooth = (right - left).part(1, 6);
        let depth = tooth.min((lower - upper).half());
        for n in 1..6 {
            let down = if n % 2 == 1 { depth } else { Px::ZERO };
            ring.push(Point::new(left + tooth.part(n, 1), upper + down));
        }
    }
    ring.extend([Point::new(right, upper), Point::new(right, lower)]);
    sketch.polygon(vec![ring.clone()], Paint::StripPlain);
    if paint != Paint::StripPlain {
        sketch.polygon(vec![ring], paint);
    }
}

fn tape_right(plan: &Plan) -> Px {
    plan.labels.min(plan.frame.width - Px::whole(1)) - Px::whole(1)
}

fn tenths(sketch: &mut Sketch, plan: &Plan, edges: &[Length]) {
    for (index, pair) in edges.windows(2).enumerate() {
        if let [from, to] = pair {
            let paint = if index % 2 == 0 { Paint::StripPlain } else { Paint::StripDots };
            piece(sketch, plan, (*from, *to), paint, false);
        }
    }
    let (Some(low), Some(high)) = (edges.first(), edges.last()) else { return };
    let ends = [((*low - DASHED_END).max(Length::ZERO), *low), (*high, *high + DASHED_END)];
    for (from, to) in ends {
        let (left, right) = (plan.tape + Px::whole(1), tape_right(plan));
        let (lower, upper) = (plan.y(from) - SEAM, plan.y(to) + SEAM);
        if lower > upper {
            let area = Area::between(Point::new(left, upper), Point::new(right, lower));
            let (a, b) = (Point::new(left, lower), Point::new(right, lower));
            let (c, d) = (Point::new(right, area.y), Point::new(left, area.y));
            sketch.polyline(vec![a, b, c, d, a], Paint::StripEnd);
        }
    }
}

/// A label that may move within its own strip.
struct Tab<'a> {
    index: usize,
    low: Px,
    high: Px,
    wish: Px,
    first: &'a str,
    second: &'a str,
}

struct Column<'a> {
    plan: &'a Plan,
    sketch: &'a mut Sketch,
    dropped: &'a mut Vec<Dropped>,
    /// What stands in the column already, from, to.
    taken: Vec<(Px, Px)>,
}

/// Lines of a label and the size they are written in.
type Lines = (Vec<String>, Px);

impl Column<'_> {
    fn left(&self) -> Px {
        self.plan.labels + self.plan.frame.rems(625)
    }

    fn room(&self) -> Px {
        self.plan.frame.width - self.plan.frame.rems(250) - self.left()
    }

    /// A text in one line if it can be, else in several, else in one small one.
    fn lines(&self, text: &str, rem: i64) -> Option<Lines> {
        let frame = self.plan.frame;
        let one = |least| {
            fitting(text, frame.rems(rem), least, self.room())
                .map(|size| (vec![text.to_owned()], size))
        };
        let broken = |size| wrapped(text, size, self.room()).map(|lines| (lines, size));
        one(frame.rems(813))
            .or_else(|| broken(frame.rems(938)))
            .or_else(|| one(frame.rems(750)))
            .or_else(|| broken(frame.rems(750)))
    }

    /// The line of the jump across the tape and the tag at its end.
    fn standing(&mut self, standing: Standing<'_>) {
        let plan = self.plan;
        let y = plan.y(standing.at);
        self.sketch.across(plan.tape, tape_right(plan), y, Paint::Case);
        let end = (plan.labels + plan.frame.rems(450)).min(plan.frame.width);
        self.sketch.across(plan.tape, end, y, Paint::Lead);
        let first = self.lines(standing.first, 1_063).filter(|_| plan.has_labels());
        let second = self.lines(standing.second, 938).filter(|_| plan.has_labels());
        let (Some(first), Some(second)) = (first, second) else {
            self.dropped.push(Dropped::Tag);
            return;
        };
        let rows = [(first, Words::OnTag), (second, Words::OnTagSoft)];
        let step = |size: Px| size.part(125, 100);
        let tall = rows.iter().fold(plan.frame.rems(500), |sum, ((lines, size), _)| {
            sum + step(*size).part(i64::try_from(lines.len()).unwrap_or(0), 1)
        });
        let highest = plan.foot - tall - Px::whole(4);
        let top = (y - tall.half()).min(highest).max(Px::whole(2));
        let left = plan.labels + plan.frame.rems(400);
        let corner = Point::new(plan.frame.width - plan.frame.rems(125), top + tall);
        self.sketch.rect(Area::between(Point::new(left, top), corner), Paint::Tag);
        let mut baseline = top + plan.frame.rems(200);
        for ((lines, size), words) in rows {
            for line in lines {
                baseline = baseline + step(size);
                let at = Point::new(self.left(), baseline - size.part(20, 100));
                self.sketch.text(at, Anchor::Start, size, words, &line);
            }
        }
        self.taken.push((top, top + tall));
    }

    fn labels(&mut self, wall: &ResultWall<'_>) {
        let plan = self.plan;
        let own = wall.standing.map(|standing| [standing.first, standing.second]);
        let mut tabs = tabs(wall, plan);
        // The strip of the jump has the tag for its label.
        tabs.retain(|tab| own.is_none_or(|own| !own.contains(&tab.first)));
        // Those next to the tag have the least freedom, so they choose first.
        let middle = wall.standing.map_or(plan.foot, |standing| plan.y(standing.at));
        tabs.sort_by_key(|tab| (tab.wish - middle).magnitude());
        for tab in tabs {
            self.label(&tab);
        }
    }

    /// Rules in order: move inside the own strip; drop the place; drop the label.
    fn label(&mut self, tab: &Tab<'_>) {
        let first = self.lines(tab.first, 1_063).filter(|_| self.plan.has_labels());
        let Some(first) = first else {
            self.dropped.push(Dropped::StripLabel(tab.index));
            return;
        };
        let second = self.lines(tab.second, 938).filter(|(lines, _)| lines.len() == 1);
        if let Some(second) = second.filter(|_| !tab.second.is_empty()) {
            let rows = [(first.clone(), Words::Strong), (second, Words::Soft)];
            if self.place(tab, &rows) {
                return;
            }
        }
        if !tab.second.is_empty() {
            self.dropped.push(Dropped::StripPlace(tab.index));
        }
        if !self.place(tab, &[(first, Words::Strong)]) {
            self.dropped.push(Dropped::StripLabel(tab.index));
        }
    }

    fn place(&mut self, tab: &Tab<'_>, rows: &[(Lines, Words)]) -> bool {
        let step = |size: Px| size.part(125, 100);
        let tall = rows.iter().fold(Px::ZERO, |sum, ((lines, size), _)| {
            sum + step(*size).part(i64::try_from(lines.len()).unwrap_or(0), 1)
        });
        let Some(top) = self.free_top(tab, tall) else { return false };
        let mut baseline = top;
        for ((lines, size), words) in rows {
            for line in lines {
                debug_assert!(estimated_width(line, *size) <= self.room());
                baseline = baseline + step(*size);
                let at = Point::new(self.left(), baseline - size.part(25, 100));
                self.sketch.text(at, Anchor::Start, *size, *words, line);
            }
        }
        self.taken.push((top, top + tall));
        true
    }

    /// The nearest place to the wished one whose middle stays inside the strip and which touches
    /// nothing that stands already.
    fn free_top(&self, tab: &Tab<'_>, tall: Px) -> Option<Px> {
        let air = self.plan.frame.rems(125);
        let wish = tab.wish - tall.half();
        let mut tops = vec![wish];
        for (from, to) in &self.taken {
            tops.extend([*from - air - tall, *to + air]);
        }
        tops.sort_by_key(|top| (*top - wish).magnitude());
        let is_free = |top: &Px| {
            let middle = *top + tall.half();
            let inside = tab.high <= middle && middle <= tab.low;
            let on_wall = *top >= Px::ZERO && *top + tall <= self.plan.foot - Px::whole(3);
            let apart = self.taken.iter().all(|(from, to)| *top + tall < *from || *to < *top);
            inside && on_wall && apart
        };
        tops.into_iter().find(is_free)
    }
}

fn tabs<'a>(wall: &ResultWall<'a>, plan: &Plan) -> Vec<Tab<'a>> {
    let tab = |index, from: Length, to: Length, first, second| {
        let (low, high) = (plan.y(from), plan.y(to));
        Tab { index, low, high, wish: low + (high - low).half(), first, second }
    };
    match wall.reference {
        Reference::Strips(strips) => {
            let one = |(index, strip): (usize, &super::Strip<'a>)| {
                let to = strip.to.unwrap_or(strip.from + OPEN_STRIP);
                tab(index, strip.from, to, strip.label, strip.place)
            };
            strips.iter().enumerate().map(one).collect()
        }
        Reference::Tenths { edges, lowest, highest } => {
            let around = |index, edge: Option<&Length>, text| {
                edge.map(|edge| tab(index, *edge - DASHED_END, *edge + DASHED_END, text, ""))
            };
            let last = edges.len().saturating_sub(1);
            let both = [around(0, edges.first(), lowest), around(last, edges.last(), highest)];
            both.into_iter().flatten().collect()
        }
        // The piece may be thin, so its label may stand as far off as a dashed end is long.
        Reference::Average { from, to, label, word } => {
            vec![tab(0, from - DASHED_END, to + DASHED_END, label, word)]
        }
        Reference::None => Vec::new(),
    }
}
