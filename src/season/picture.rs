use chrono::NaiveDate;

use super::View;
use crate::assess::{BandChoice, LinePoint, SeasonStory, StoryTest};
use crate::chart::{
    Aside, AsideKind, BandSpan, Change, Frame, LegendEntry, Reference, Sample, SeasonDrawing,
    SeasonPoint, SeasonWall, SmoothPoint, Track, TrackPoint, season_wall,
};
use crate::quantity::{Length, Unit};
use crate::text::{DateForm, Words};

/// Growth and learning are drawn from so much on. Design choice: less is thinner than the line itself.
const SEEN: Length = Length::from_mm(3);

/// What a person wants to see of a season.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Picture {
    /// The table behind it.
    pub bands: Option<BandChoice>,
    /// The standing reach on a piece of wall of its own.
    pub shows_reach: bool,
    /// The highest touch on another.
    pub shows_touch: bool,
    /// The days shown; all where it is `None`.
    pub view: Option<View>,
    /// Leaves out the change, which is never shown without the answer.
    pub hides_change: bool,
    /// Leaves out the names of the months.
    pub hides_months: bool,
}

/// A band with its words, to borrow from.
struct Band {
    since: NaiveDate,
    until: NaiveDate,
    from: Length,
    to: Option<Length>,
    place: usize,
    label: String,
}

/// The wall of a season. The line and the change are drawn from two counted tests on.
pub fn picture(
    story: &SeasonStory,
    words: &Words,
    unit: Unit,
    frame: Frame,
    asked: Picture,
) -> SeasonDrawing {
    let points: Vec<SeasonPoint> = story.tests.iter().map(point).collect();
    let is_told = story.has_answer();
    let line: Vec<SmoothPoint> = if is_told { line(story) } else { Vec::new() };
    let ends = story.compared_ends().filter(|_| is_told && !asked.hides_change);
    let number = ends.map(|(from, to)| words.signed_number(to.level - from.level, unit));
    let sign = words.unit_sign(unit);
    let change = ends.zip(number.as_deref()).map(|((from, to), number)| Change {
        since: from.date,
        from: from.level,
        to: to.level,
        number,
        unit: &sign,
    });
    let bands = asked.bands.map(|choice| bands(story, words, unit, choice)).unwrap_or_default();
    let bands: Vec<BandSpan<'_>> = bands.iter().map(Band::span).collect();
    let reach = heights(story, words, unit, |test| test.reach);
    let touch = heights(story, words, unit, StoryTest::touch);
    let (reach_name, touch_name) = (words.season_show_reach(), words.season_show_touch());
    let (reach, touch) = (track_points(&reach), track_points(&touch));
    let tracks = [
        (asked.shows_reach, Track { name: &reach_name, points: &reach, is_dashed: false }),
        (asked.shows_touch, Track { name: &touch_name, points: &touch, is_dashed: true }),
    ];
    let asides = asides(story, is_told && !asked.hides_change);
    let asides: Vec<Aside<'_>> =
        asides.iter().map(|(kind, points)| Aside { kind: *kind, points }).collect();
    let signs = signs(story, words, !line.is_empty(), &asides);
    let legend: Vec<LegendEntry<'_>> =
        signs.iter().map(|(sample, label)| LegendEntry { sample: *sample, label }).collect();
    let tracks: Vec<Track<'_>> = tracks
        .into_iter()
        .filter_map(|(is_shown, track)| (is_shown && !track.points.is_empty()).then_some(track))
        .collect();
    season_wall(&SeasonWall {
        frame,
        unit,
        points: &points,
        line: &line,
        asides: &asides,
        change,
        bands: &bands,
        tracks: &tracks,
        legend: &legend,
        window: asked.view.filter(|view| !view.is_all()).map(View::days),
        tick_label: &|length| words.tick_number(length, unit),
        zero_label: &words.locale().decimal(0, 0),
        month_label: &|date| match asked.hides_months {
            true => String::new(),
            false => words.date(date, DateForm::MonthName),
        },
    })
}

/// The view asked for, or all days of a story.
pub fn window_or_all(story: &SeasonStory, view: Option<View>) -> Option<View> {
    view.or_else(|| story.days().map(|(first, last)| View::all(first, last)))
}

fn point(test: &StoryTest) -> SeasonPoint {
    SeasonPoint {
        date: test.date,
        usual: test.usual,
        error: test.error,
        best: Some(test.best),
        is_practice: test.is_practice,
        is_flagged: !test.counts(),
    }
}

fn line(story: &SeasonStory) -> Vec<SmoothPoint> {
    let points = story.line.iter();
    points.map(|p| SmoothPoint { date: p.date, level: p.level, error: p.half_width }).collect()
}

/// Growing and learning as lines of their own, where they are more than can be seen.
fn asides(story: &SeasonStory, is_told: bool) -> Vec<(AsideKind, Vec<(NaiveDate, Length)>)> {
    let Some((start, last)) = story.compared_ends().filter(|_| is_told) else {
        return Vec::new();
    };
    let mut asides = Vec::new();
    if last.growth - start.growth >= SEEN {
        let grown = |point: &LinePoint| (point.date, start.level + point.growth - start.growth);
        let since = story.line.iter().filter(|point| start.date <= point.date);
        asides.push((AsideKind::Growth, since.map(grown).collect()));
    }
    let learning: Vec<_> = story.line.iter().take_while(|point| point.learning >= SEEN).collect();
    if let Some(learnt) = story.line.get(learning.len()).filter(|_| !learning.is_empty()) {
        let points = learning.into_iter().chain([learnt]);
        let points = points.map(|point| (point.date, point.level - point.learning));
        asides.push((AsideKind::Learning, points.collect()));
    }
    asides
}

/// The signs that this picture has, with their words.
fn signs(
    story: &SeasonStory,
    words: &Words,
    has_line: bool,
    asides: &[Aside<'_>],
) -> Vec<(Sample, String)> {
    let has = |kind| asides.iter().any(|aside| aside.kind == kind);
    let tests = &story.tests;
    let all = [
        (tests.iter().any(|test| !test.is_practice), Sample::Test, words.season_sign_test()),
        (tests.iter().any(|t| t.is_practice), Sample::Practice, words.season_sign_practice()),
        (tests.iter().any(|test| !test.counts()), Sample::Noted, words.season_sign_flag()),
        (has_line, Sample::Level, words.season_sign_level()),
        (has(AsideKind::Growth), Sample::Growth, words.season_sign_growth()),
        (has(AsideKind::Learning), Sample::Learning, words.season_sign_learning()),
    ];
    all.into_iter().filter_map(|(is_there, sign, said)| is_there.then_some((sign, said))).collect()
}

fn heights(
    story: &SeasonStory,
    words: &Words,
    unit: Unit,
    of: impl Fn(&StoryTest) -> Option<Length>,
) -> Vec<(NaiveDate, Length, String)> {
    let heights = story.tests.iter().filter_map(|test| Some((test.date, of(test)?)));
    heights.map(|(date, height)| (date, height, words.exact_number(height, unit))).collect()
}

fn track_points(heights: &[(NaiveDate, Length, String)]) -> Vec<TrackPoint<'_>> {
    let points = heights.iter();
    points.map(|(date, height, label)| TrackPoint { date: *date, height: *height, label }).collect()
}

/// The bands of one table, age by age, as its tape beside a result shows them.
fn bands(story: &SeasonStory, words: &Words, unit: Unit, choice: BandChoice) -> Vec<Band> {
    let mut bands = Vec::new();
    for age in &story.bands {
        let Some(standing) = age.of(choice) else {
            continue;
        };
        let tape = words.tape(standing, unit);
        let mut add = |from: Length, to: Option<Length>, place: usize, label: &str| {
            let (since, until) = (age.since, age.until);
            bands.push(Band { since, until, from, to, place, label: label.to_owned() });
        };
        match tape.reference(&tape.strips()) {
            Reference::Strips(strips) => {
                for (place, strip) in strips.iter().enumerate() {
                    add(strip.from, strip.to, place, strip.label);
                }
            }
            Reference::Tenths { edges, lowest, highest } => {
                let last = edges.len() - 1;
                for (place, pair) in edges.windows(2).enumerate() {
                    if let [from, to] = pair {
                        let label = match place + 1 {
                            1 => lowest,
                            place if place == last => highest,
                            _ => "",
                        };
                        add(*from, Some(*to), place, label);
                    }
                }
            }
            Reference::Average { from, to, label, .. } => add(from, Some(to), 1, label),
            Reference::None => {}
        }
    }
    bands
}

impl Band {
    fn span(&self) -> BandSpan<'_> {
        BandSpan {
            since: self.since,
            until: self.until,
            from: self.from,
            to: self.to,
            place: self.place,
            label: &self.label,
        }
    }
}
