//! What lies on a season wall: bands, ribbon, tests, change and tracks.

use super::chalk::{Stroke, flag, slash};
use super::lettering::fitting;
use super::scene::Sketch;
use super::season_wall::{
    Aside, AsideKind, BandSpan, Change, Plan, SeasonPoint, SeasonWall, SmoothPoint, Track,
};
use super::steel::Steel;
use super::{Anchor, Area, Frame, Paint, Point, Px, Scale, Words, estimated_width};
use crate::quantity::Length;
use chrono::NaiveDate;

/// Every second band is a shade darker; thin lines part them. No pattern, since hatch means doubt.
/// Labels stand where no test and no line does, or nowhere.
pub(super) fn bands(sketch: &mut Sketch, plan: &Plan, bands: &[BandSpan<'_>], obstacles: &[Area]) {
    let (left, right) = (plan.measure, plan.edge);
    let size = plan.frame.rems(813);
    let mut labels = Vec::new();
    for band in bands {
        let x1 = plan.line.x(band.since).clamp(left, right);
        let x2 = plan.line.x(band.until).clamp(left, right);
        let lower = plan.scale.y(band.from).clamp(Px::ZERO, plan.foot);
        let upper = band.to.map_or(Px::ZERO, |to| plan.scale.y(to)).clamp(Px::ZERO, plan.foot);
        if x1 >= x2 || upper >= lower {
            continue;
        }
        let area = Area::between(Point::new(x1, upper), Point::new(x2, lower));
        if band.place % 2 == 1 {
            sketch.rect(area, Paint::Band);
        }
        if band.to.is_some() && upper > Px::ZERO {
            sketch.across(x1, x2, upper, Paint::BandEdge);
        }
        labels.extend(band_label(area, size, band.label, obstacles));
    }
    for (at, text) in labels {
        sketch.text(at, Anchor::Start, size, Words::OnBand, text);
    }
}

/// The first free place for a label inside its band: upper left to upper right, then the foot.
fn band_label<'a>(
    band: Area,
    size: Px,
    text: &'a str,
    obstacles: &[Area],
) -> Option<(Point, &'a str)> {
    let air = size.part(35, 100);
    let width = estimated_width(text, size);
    let free = band.width - width - air - air;
    if free < Px::ZERO || band.height < size + air + air {
        return None;
    }
    let lines = [band.y + air, band.bottom() - air - size];
    lines.into_iter().find_map(|y| {
        let place = (0..=4).map(|n| Point::new(band.x + air + free.part(n, 4), y)).find(|at| {
            let area = Area { x: at.x, y: at.y, width, height: size };
            !obstacles.iter().any(|obstacle| obstacle.overlaps(area))
        })?;
        Some((place.moved(Px::ZERO, size.part(85, 100)), text))
    })
}

/// Where tests and line lie, for whatever has to keep clear of them.
pub(super) fn obstacles(plan: &Plan, points: &[SeasonPoint], line: &[SmoothPoint]) -> Vec<Area> {
    let half = plan.frame.rems(688);
    let box_of = |from: NaiveDate, to: NaiveDate, high: Length, low: Length, air: Px| {
        let upper = Point::new(plan.line.x(from) - air, plan.scale.y(high) - air);
        let lower = Point::new(plan.line.x(to) + air, plan.scale.y(low) + air);
        Area::between(upper, lower)
    };
    let tests = points.iter().map(|point| {
        let high = (point.usual + point.error).max(point.best.unwrap_or_default());
        box_of(point.date, point.date, high, point.usual - point.error, half)
    });
    let ribbon = line.windows(2).filter_map(|pair| match pair {
        [a, b] => {
            let high = (a.level + a.error).max(b.level + b.error);
            let low = (a.level - a.error).min(b.level - b.error);
            Some(box_of(a.date, b.date, high, low, Px::ZERO))
        }
        _ => None,
    });
    tests.chain(ribbon).collect()
}

/// The smoothed line and the hatch of its doubt. There is no line before there are two days of it.
pub(super) fn ribbon(sketch: &mut Sketch, plan: &Plan, line: &[SmoothPoint]) {
    let (first, last) = (plan.line.left(), plan.line.right());
    let x = |point: &SmoothPoint| plan.line.x(point.date);
    let shown = || line.iter().filter(move |point| first <= x(point) && x(point) <= last);
    if shown().count() < 2 {
        return;
    }
    let at = |point: &SmoothPoint, height: Length| Point::new(x(point), plan.scale.y(height));
    let upper = shown().map(|point| at(point, point.level + point.error));
    let lower = shown().rev().map(|point| at(point, point.level - point.error));
    sketch.polygon(vec![upper.chain(lower).collect()], Paint::Hatch);
    sketch.polyline(shown().map(|point| at(point, point.level)).collect(), Paint::Trend);
}

/// Growth and learning, each a light line of its own.
pub(super) fn asides(sketch: &mut Sketch, plan: &Plan, asides: &[Aside<'_>]) {
    let (first, last) = (plan.line.left(), plan.line.right());
    for aside in asides {
        let points = aside.points.iter().map(|(date, height)| (plan.line.x(*date), *height));
        let shown = points.filter(|(x, _)| first <= *x && *x <= last);
        let line: Vec<Point> =
            shown.map(|(x, height)| Point::new(x, plan.scale.y(height))).collect();
        if line.len() > 1 {
            let paint = match aside.kind {
                AsideKind::Growth => Paint::Growth,
                AsideKind::Learning => Paint::Learning,
            };
            sketch.polyline(line, paint);
        }
    }
}

/// Every test: its bar, its mark, a thin tick for the best, a flag under a flagged one.
pub(super) fn points(sketch: &mut Sketch, plan: &Plan, points: &[SeasonPoint]) {
    let frame = plan.frame;
    let count = i64::try_from(points.len().max(1)).unwrap_or(i64::MAX);
    let share = (plan.line.right() - plan.line.left()).part(1, count);
    let width = share.clamp(frame.rems(500), frame.rems(1_375));
    let at =
        |point: &SeasonPoint, height| Point::new(plan.line.x(point.date), plan.scale.y(height));
    let bar = |point: &SeasonPoint| {
        (
            at(point, point.usual + point.error),
            at(point, (point.usual - point.error).max(Length::ZERO)),
        )
    };
    let bars = points.iter().filter(|point| point.error > Length::ZERO).map(bar).collect();
    sketch.lines(bars, Paint::ErrorBar);
    let tick = |point: &SeasonPoint| {
        let best = at(point, point.best?);
        Some((best.moved(-width.part(1, 3), Px::ZERO), best.moved(width.part(1, 3), Px::ZERO)))
    };
    sketch.lines(points.iter().filter_map(tick).collect(), Paint::Best);
    // All marks of a kind are one item: hundreds of items would make a long season slow to show.
    let ring =
        |point: &SeasonPoint| Stroke::centred(at(point, point.usual), width, frame).small_ring();
    let rings = |is_practice: bool| -> Vec<Vec<Point>> {
        points.iter().filter(|point| point.is_practice == is_practice).map(ring).collect()
    };
    let (counted, practice) = (rings(false), rings(true));
    for (rings, paint) in [
        (points.iter().map(ring).collect(), Paint::Halo),
        (counted, Paint::ChalkMark),
        (practice, Paint::ChalkMarkHollow),
    ] {
        if !rings.is_empty() {
            sketch.polygon(rings, paint);
        }
    }
    for point in points.iter().filter(|point| point.is_flagged) {
        let (_, foot) = bar(point);
        flag(sketch, foot.moved(Px::ZERO, frame.rems(1_375)), frame);
    }
}

/// How wide the column of the change is: its number at full size, or smaller where that would take
/// more than a quarter of the drawing.
pub(super) fn change_width(frame: Frame, change: Change<'_>) -> Px {
    let wide = |rem| estimated_width(change.number, frame.rems(rem)) + frame.rems(1_750);
    let most = frame.width.part(1, 4).max(wide(813).min(frame.width.part(36, 100)));
    wide(1_250).min(most).max(frame.rems(1_750))
}

/// The dimension line of the change. Says whether its number found room.
pub(super) fn change(sketch: &mut Sketch, plan: &Plan, change: Change<'_>) -> bool {
    let frame = plan.frame;
    let (from, to) = (plan.scale.y(change.from), plan.scale.y(change.to));
    let x = plan.edge + frame.rems(750);
    let start = plan.line.x(change.since).clamp(plan.line.left(), plan.line.right());
    sketch.across(start, x, from, Paint::DimensionDashed);
    sketch.across(plan.line.right(), x, to, Paint::DimensionDashed);
    sketch.upright(x, from, to, Paint::Dimension);
    for y in [from, to] {
        slash(sketch, Point::new(x, y), frame, Paint::Slash);
    }
    let left = x + frame.rems(625);
    let room = frame.width - left - Px::whole(2);
    let size = fitting(change.number, frame.rems(1_250), frame.rems(813), room);
    let Some(size) = size else { return false };
    let middle = (from + (to - from).half()).max(size).min(plan.foot - frame.rems(1_750));
    sketch.text(
        Point::new(left, middle + size.part(20, 100)),
        Anchor::Start,
        size,
        Words::Strong,
        change.number,
    );
    let small = size.min(frame.rems(938));
    if fitting(change.unit, small, small, room).is_some() {
        let at = Point::new(left, middle + size.part(20, 100) + small.part(120, 100));
        sketch.text(at, Anchor::Start, small, Words::Soft, change.unit);
    }
    true
}

/// A track on its own piece of wall, with its own stretch of the measure.
pub(super) fn track(
    sketch: &mut Sketch,
    plan: &Plan,
    wall: &SeasonWall<'_>,
    track: &Track<'_>,
    (top, bottom): (Px, Px),
) {
    let frame = plan.frame;
    let (first, last) = (plan.line.left(), plan.line.right());
    let x = |date| plan.line.x(date);
    let shown: Vec<_> = track
        .points
        .iter()
        .filter(|point| first <= x(point.date) && x(point.date) <= last)
        .collect();
    let heights = || shown.iter().map(|point| point.height);
    let (Some(low), Some(high)) = (heights().min(), heights().max()) else { return };
    let rooms = (frame.rems(3_000), frame.rems(750));
    let scale = Scale::padded((low, high), Length::from_mm(5), rooms, (top, bottom));
    let at = |height, date| Point::new(x(date), scale.y(height));
    let line = shown.iter().map(|point| at(point.height, point.date)).collect();
    let paint = if track.is_dashed { Paint::TrackDashed } else { Paint::Track };
    sketch.polyline(line, paint);
    for point in shown.first().into_iter().chain(shown.last()) {
        let centre = at(point.height, point.date);
        Stroke::centred(centre, frame.rems(750), frame).small(sketch, Paint::ReachMark);
    }
    let width = plan.measure;
    Steel { frame, width, scale, unit: wall.unit, label: wall.tick_label }
        .draw(sketch, top, bottom);
    sketch.across(Px::ZERO, frame.width, top, Paint::Cut);
    ends(sketch, plan, shown.first().copied(), shown.last().copied(), scale);
    let left = plan.measure + frame.rems(500);
    let room = frame.width - left;
    if let Some(size) = fitting(track.name, frame.rems(938), frame.rems(750), room) {
        let at = Point::new(left, top + frame.rems(1_125));
        sketch.text(at, Anchor::Start, size, Words::Strong, track.name);
    }
}

/// The first and the last height of a track, above their points; the first gives way.
fn ends(
    sketch: &mut Sketch,
    plan: &Plan,
    first: Option<&super::TrackPoint<'_>>,
    last: Option<&super::TrackPoint<'_>>,
    scale: Scale,
) {
    let size = plan.frame.rems(813);
    let up = plan.frame.rems(625);
    let Some(last) = last else { return };
    let place = |point: &super::TrackPoint<'_>| {
        let half = estimated_width(point.label, size).half();
        let x = plan.line.x(point.date);
        let x = x.max(plan.measure + half + plan.frame.rems(250)).min(plan.frame.width - half);
        (Point::new(x, scale.y(point.height) - up), half)
    };
    let (at, half) = place(last);
    sketch.text(at, Anchor::Middle, size, Words::Plain, last.label);
    let Some(first) = first else { return };
    let (before, other) = place(first);
    if before.x + other + size.half() <= at.x - half {
        sketch.text(before, Anchor::Middle, size, Words::Plain, first.label);
    }
}
