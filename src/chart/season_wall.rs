use super::scene::Sketch;
use super::season_legend::{self, LegendEntry};
use super::season_parts as parts;
use super::steel::{Steel, cut_down, measure_end, measure_rem};
use super::timeline::months;
use super::{Anchor, Area, Drawing, Frame, Paint, Point, Px, Scale, Timeline, Words, decimated};
use crate::quantity::{Length, Unit};
use chrono::NaiveDate;

/// One test of a season.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SeasonPoint {
    /// The calendar day.
    pub date: NaiveDate,
    /// The usual jump of that day, above that day's reach.
    pub usual: Length,
    /// One standard error; zero draws no bar.
    pub error: Length,
    /// The best of that day, a thin tick.
    pub best: Option<Length>,
    /// One of the first tests, which are practice.
    pub is_practice: bool,
    /// Whether it carries a flag.
    pub is_flagged: bool,
}

/// The smoothed line at one day.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SmoothPoint {
    /// The calendar day.
    pub date: NaiveDate,
    /// The level.
    pub level: Length,
    /// Its standard error, half of the ribbon.
    pub error: Length,
}

/// A light line beside the smoothed one, over the days on which it says something.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Aside<'a> {
    /// What it tells apart.
    pub kind: AsideKind,
    /// Its heights above the reach by date.
    pub points: &'a [(NaiveDate, Length)],
}

/// What a light line tells apart from the level.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum AsideKind {
    /// Where the level would be by growing alone, from the season's start on.
    Growth,
    /// The level less what learning the test still kept from it.
    Learning,
}

/// The change at the right edge.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Change<'a> {
    /// The day from which it counts.
    pub since: NaiveDate,
    /// The level on that day.
    pub from: Length,
    /// The level at the end.
    pub to: Length,
    /// The change as it is written, with its sign.
    pub number: &'a str,
    /// Its unit.
    pub unit: &'a str,
}

/// A published band while the person had one age.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BandSpan<'a> {
    /// The first day of that age.
    pub since: NaiveDate,
    /// The first day of the next age.
    pub until: NaiveDate,
    /// The lower end of the band.
    pub from: Length,
    /// The upper end; `None` for the open one.
    pub to: Option<Length>,
    /// Its place among the bands, from 0.
    pub place: usize,
    /// What is written in it.
    pub label: &'a str,
}

/// One day of a track.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TrackPoint<'a> {
    /// The calendar day.
    pub date: NaiveDate,
    /// The height from the floor.
    pub height: Length,
    /// The height as it is written at the first and the last point.
    pub label: &'a str,
}

/// A second line on the same days, such as the standing reach or the height of the touch.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Track<'a> {
    /// What it shows.
    pub name: &'a str,
    /// Its points by date.
    pub points: &'a [TrackPoint<'a>],
    /// A dashed line, to tell a third track from the second.
    pub is_dashed: bool,
}

/// Everything the season wall needs.
#[derive(Clone, Copy)]
pub struct SeasonWall<'a> {
    /// The room. Design choice: never lower than 14 times the root font size, and 5.5 more for each
    /// track.
    pub frame: Frame,
    /// The unit of the measure.
    pub unit: Unit,
    /// The tests by date.
    pub points: &'a [SeasonPoint],
    /// The smoothed line by date; empty before there are enough tests.
    pub line: &'a [SmoothPoint],
    /// Light lines that tell growth and learning apart.
    pub asides: &'a [Aside<'a>],
    /// The change, where there is one to show.
    pub change: Option<Change<'a>>,
    /// Published bands by the age at each date.
    pub bands: &'a [BandSpan<'a>],
    /// Second and third lines.
    pub tracks: &'a [Track<'a>],
    /// What the signs mean, under the wall; empty for no legend.
    pub legend: &'a [LegendEntry<'a>],
    /// The first and the last day to show; everything when `None`.
    pub window: Option<(NaiveDate, NaiveDate)>,
    /// Writes a number on the measure.
    pub tick_label: &'a dyn Fn(Length) -> String,
    /// What the measure says at the reach mark.
    pub zero_label: &'a str,
    /// Writes the name of a month, given its first day.
    pub month_label: &'a dyn Fn(NaiveDate) -> String,
}

/// A season and what found no room on it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SeasonDrawing {
    /// The drawing.
    pub drawing: Drawing,
    /// Whether the number of the change had to be left out.
    pub is_change_dropped: bool,
    /// How many tests of the window are drawn, after thinning.
    pub drawn: usize,
}

/// A season is thinned to this many points. Design choice.
pub const MOST_POINTS: usize = 500;
/// Bare wall below the lowest bar. Design choice.
const AIR: Length = Length::from_mm(10);
/// The height of one track in thousandths of the font size.
const TRACK: i64 = 5_500;
/// The least height of a season without tracks, in the same.
const LEAST: i64 = 14_000;

/// The frame with a font small enough for a season with so many tracks, and a row of legend for each
/// sign, to fit its height, where it cannot grow as on a page.
pub fn season_frame(frame: Frame, tracks: usize) -> Frame {
    let tracks = i64::try_from(tracks).unwrap_or(0).min(4);
    Frame {
        font: frame
            .font
            .min(frame.height.part(1_000, LEAST + tracks * TRACK + season_legend::MOST)),
        ..frame
    }
}

pub(super) struct Plan {
    pub(super) frame: Frame,
    pub(super) scale: Scale,
    pub(super) line: Timeline,
    pub(super) measure: Px,
    /// Where the main wall ends.
    pub(super) foot: Px,
    /// Where the plot ends and the change is dimensioned.
    pub(super) edge: Px,
}

/// A season: every test with its bar on true time, the smoothed line in its ribbon, the change at
/// the right edge, and the wall cut down to each day's reach.
pub fn season_wall(wall: &SeasonWall<'_>) -> SeasonDrawing {
    let tracks = i64::try_from(wall.tracks.len()).unwrap_or(0).min(4);
    // The rows of the legend follow the width, which is settled before the height.
    let legend = season_legend::height(wall.frame.drawable(LEAST), wall.legend);
    let frame = wall.frame.drawable(LEAST + tracks * TRACK + legend);
    let points = shown(wall);
    let mut sketch = Sketch::default();
    let corner = Point::new(frame.width, frame.height);
    sketch.rect(Area::between(Point::default(), corner), Paint::Wall);
    let foot = frame.height - frame.rems(legend);
    let stripe = foot - frame.rems(2_500);
    let panels = stripe - frame.rems(tracks * TRACK);
    let (plan, is_cut) = plan(wall, frame, &points, panels);
    let size = frame.rems(938);
    let names = months(plan.line, size, wall.month_label);
    for month in &names {
        sketch.upright(month.x, Px::ZERO, panels, Paint::Month);
    }
    let obstacles = parts::obstacles(&plan, &points, wall.line);
    parts::bands(&mut sketch, &plan, wall.bands, &obstacles);
    parts::ribbon(&mut sketch, &plan, wall.line);
    parts::asides(&mut sketch, &plan, wall.asides);
    parts::points(&mut sketch, &plan, &points);
    let is_change_dropped = match wall.change {
        Some(change) => !parts::change(&mut sketch, &plan, change),
        None => false,
    };
    let (width, label) = (plan.measure, wall.tick_label);
    let steel = Steel { frame, width, scale: plan.scale, unit: wall.unit, label };
    steel.draw(&mut sketch, Px::ZERO, plan.foot);
    if is_cut {
        cut_down(&mut sketch, frame, plan.measure, (plan.foot, panels));
    }
    let mut top = panels;
    for track in wall.tracks.iter().take(4) {
        let bottom = top + frame.rems(TRACK);
        parts::track(&mut sketch, &plan, wall, track, (top, bottom));
        top = bottom;
    }
    // Without a cut the measure has its own zero.
    let zero = if is_cut || tracks > 0 { wall.zero_label } else { "" };
    measure_end(&mut sketch, Frame { height: foot, ..frame }, plan.measure, stripe, zero);
    for month in &names {
        let half = super::estimated_width(&month.name, size).half();
        let x = month.x.max(plan.measure + half + frame.rems(250)).min(frame.width - half);
        let at = Point::new(x, stripe + frame.rems(1_500));
        sketch.text(at, Anchor::Middle, size, Words::OnDado, &month.name);
    }
    season_legend::draw(&mut sketch, frame, wall.legend, foot);
    SeasonDrawing { drawing: sketch.finish(frame), is_change_dropped, drawn: points.len() }
}

/// The tests of the window, thinned.
fn shown(wall: &SeasonWall<'_>) -> Vec<SeasonPoint> {
    let inside = |date: NaiveDate| wall.window.is_none_or(|(a, b)| a <= date && date <= b);
    let points: Vec<SeasonPoint> =
        wall.points.iter().filter(|point| inside(point.date)).copied().collect();
    let heights: Vec<Length> = points.iter().map(|point| point.usual).collect();
    decimated(&heights, MOST_POINTS)
        .into_iter()
        .filter_map(|index| points.get(index).copied())
        .collect()
}

fn plan(wall: &SeasonWall<'_>, frame: Frame, points: &[SeasonPoint], panels: Px) -> (Plan, bool) {
    let (low, high) = span(wall, points);
    let foot = panels - frame.rems(1_750);
    // A flag hangs under the lowest bar.
    let rooms = (frame.rems(1_000), frame.rems(1_750));
    let scale = Scale::padded((low, high), AIR, rooms, (Px::ZERO, foot));
    let is_cut = scale.low() > Length::ZERO;
    let (scale, foot) = if is_cut {
        (scale, foot)
    } else {
        let rooms = (frame.rems(1_000), Px::ZERO);
        let span = (Length::ZERO, high);
        (Scale::padded(span, Length::ZERO, rooms, (Px::ZERO, panels)), panels)
    };
    let measure = frame.rems(measure_rem(frame));
    let column = wall.change.map_or(Px::ZERO, |change| parts::change_width(frame, change));
    let edge = frame.width - column;
    let (first, last) = days(wall, points);
    let line = Timeline::new(first, last, measure + frame.rems(1_000), edge - frame.rems(1_000));
    (Plan { frame, scale, line, measure, foot, edge }, is_cut)
}

/// The days on the line: the window, or from the first test to the last.
fn days(wall: &SeasonWall<'_>, points: &[SeasonPoint]) -> (NaiveDate, NaiveDate) {
    let dates = || points.iter().map(|point| point.date);
    wall.window.unwrap_or_else(|| {
        let first = dates().min().unwrap_or_default();
        (first, dates().max().unwrap_or(first))
    })
}

/// The lowest and the highest thing on the wall: bars, bests, ribbon and change.
fn span(wall: &SeasonWall<'_>, points: &[SeasonPoint]) -> (Length, Length) {
    let inside = |date: NaiveDate| wall.window.is_none_or(|(a, b)| a <= date && date <= b);
    let line = || wall.line.iter().filter(|point| inside(point.date));
    let ends = || wall.change.iter().flat_map(|change| [change.from, change.to]);
    let beside = || {
        let points = wall.asides.iter().flat_map(|aside| aside.points);
        points.filter(|(date, _)| inside(*date)).map(|(_, height)| *height)
    };
    let lows = points.iter().map(|point| point.usual - point.error);
    let lows =
        lows.chain(line().map(|point| point.level - point.error)).chain(ends()).chain(beside());
    let tops = points.iter().map(|p| (p.usual + p.error).max(p.best.unwrap_or_default()));
    let tops =
        tops.chain(line().map(|point| point.level + point.error)).chain(ends()).chain(beside());
    let low = lows.min().unwrap_or(Length::from_mm(200)).max(Length::ZERO);
    (low, tops.max().unwrap_or(Length::from_mm(500)).max(low))
}
