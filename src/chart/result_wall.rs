use super::scene::Sketch;
use super::steel::{Steel, goes_on, measure_rem};
use super::{Anchor, Area, Drawing, Frame, Paint, Point, Px, Scale, Words};
use super::{lettering, result_gap, result_tape};
use crate::quantity::{Length, Unit};

/// The usual jump: the mean of the first counted trials and its standard error.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Usual {
    /// The mean, above the reach mark.
    pub height: Length,
    /// One standard error. The hatch reaches this far up and down from the mean.
    pub error: Length,
}

/// A named band of a published table, or one of the strips between its bounds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Strip<'a> {
    /// The lower end; the lowest strip starts at zero.
    pub from: Length,
    /// The upper end; `None` for the open one at the top.
    pub to: Option<Length>,
    /// The range, as it is written beside the strip.
    pub label: &'a str,
    /// The place among the strips, as it is written under the range.
    pub place: &'a str,
}

/// What a published source can say, one source at a time.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reference<'a> {
    /// Named bands, from the lowest to the highest.
    Strips(&'a [Strip<'a>]),
    /// Tenths of a population.
    Tenths {
        /// The heights that 1 in 10, 2 in 10 … stay under, from low to high.
        edges: &'a [Length],
        /// What is written at the lowest edge.
        lowest: &'a str,
        /// What is written at the highest edge.
        highest: &'a str,
    },
    /// An average and nothing else.
    Average {
        /// The lower end of its interval.
        from: Length,
        /// The upper end of its interval.
        to: Length,
        /// The figure.
        label: &'a str,
        /// What it is.
        word: &'a str,
    },
    /// Nothing fits this person or this test.
    None,
}

/// Where the jump stands on the tape.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Standing<'a> {
    /// The height of the statistic that the source uses: the best or the mean.
    pub at: Length,
    /// The first line of the tag, such as the range of the strip. A strip with this very label gets
    /// no other. Long words break at spaces, so what belongs together needs a non-breaking one.
    pub first: &'a str,
    /// The second line of the tag, such as the place of the strip.
    pub second: &'a str,
}

/// One line of the note on the plaster.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NoteLine<'a> {
    /// What it says. It may be broken at spaces.
    pub text: &'a str,
    /// The first line of all, as a rule.
    pub is_head: bool,
    /// A flag stands before it.
    pub has_flag: bool,
}

/// The words of a result, formatted by the caller.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ResultWords<'a> {
    /// The big number, without its unit.
    pub number: &'a str,
    /// What stands under it: the unit and what the number is.
    pub unit: &'a str,
    /// The usual jump and its ±; empty when there is none.
    pub usual: &'a str,
    /// The words "jump mark", which go before the number goes.
    pub jump_mark: &'a str,
    /// The height of the jump mark.
    pub jump_mark_number: &'a str,
    /// The height of the reach mark.
    pub reach_number: &'a str,
    /// The words "standing reach".
    pub reach: &'a str,
    /// Whom the tape is about.
    pub reference: &'a str,
    /// What the tape counts.
    pub reference_unit: &'a str,
    /// The note on the plaster.
    pub note: &'a [NoteLine<'a>],
}

/// Everything the result wall needs.
#[derive(Clone, Copy)]
pub struct ResultWall<'a> {
    /// The room. Design choice: the wall is never lower than 22 times the root font size.
    pub frame: Frame,
    /// The unit of the measure.
    pub unit: Unit,
    /// The standing reach when the measure reads from the floor; `None` when only the distance
    /// between the marks is known, and the measure reads from 0 at the reach mark.
    pub standing_reach: Option<Length>,
    /// The best jump height of the day.
    pub best: Length,
    /// The usual jump, where there are enough trials.
    pub usual: Option<Usual>,
    /// The published source.
    pub reference: Reference<'a>,
    /// Where the jump stands on it.
    pub standing: Option<Standing<'a>>,
    /// Writes a number on the measure.
    pub tick_label: &'a dyn Fn(Length) -> String,
    /// Everything else that is written.
    pub words: ResultWords<'a>,
}

/// Words that found no room, so that the caption or the list beside the wall must hold them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Dropped {
    /// The words "jump mark"; the number stands.
    JumpMarkWords,
    /// The height of the jump mark.
    JumpMark,
    /// The unit under the big number.
    Unit,
    /// The usual jump under the big number.
    UsualWords,
    /// The words of the reach mark in the dado.
    Reach,
    /// Whom the tape is about.
    ReferenceTitle,
    /// The place word of the strip with this index.
    StripPlace(usize),
    /// The whole label of the strip with this index.
    StripLabel(usize),
    /// The tag at the mark.
    Tag,
    /// The line of the note with this index.
    NoteLine(usize),
}

/// A wall and what was left off it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ResultDrawing {
    /// The drawing.
    pub drawing: Drawing,
    /// In the order in which it was dropped.
    pub dropped: Vec<Dropped>,
}

/// How far up an open strip is cut. Design choice.
pub(super) const OPEN_STRIP: Length = Length::from_mm(80);
/// Bare wall above everything that is drawn. Design choice.
const HEADROOM: Length = Length::from_mm(50);

/// The columns and the scale of one result.
pub(super) struct Plan {
    pub(super) frame: Frame,
    pub(super) scale: Scale,
    /// The height of the reach mark on the measure: the standing reach, or zero.
    pub(super) base: Length,
    /// Where the gap column begins, which is the right edge of the measure.
    pub(super) gap: Px,
    /// Where the tape begins; the right edge where there is none.
    pub(super) tape: Px,
    /// Where the labels begin.
    pub(super) labels: Px,
    /// The y of the reach mark.
    pub(super) foot: Px,
}

impl Plan {
    fn new(wall: &ResultWall<'_>, frame: Frame, high: Length) -> Self {
        let (tape, label) = match (wall.reference, frame.width) {
            (Reference::None, _) => (0, 0),
            (_, width) if width >= frame.rems(22_000) => (2_250, 6_500),
            (_, width) if width >= frame.rems(15_000) => (1_750, 5_375),
            (_, width) if width >= frame.rems(12_000) => (1_000, 4_250),
            _ => (1_000, 0),
        };
        let labels = frame.width - frame.rems(label);
        let base = wall.standing_reach.unwrap_or_default();
        let foot = frame.height - frame.rems(DADO);
        Self {
            frame,
            scale: Scale::new(base, base + high, Px::ZERO, foot),
            base,
            gap: frame.rems(measure_rem(frame)),
            tape: labels - frame.rems(tape),
            labels,
            foot,
        }
    }

    /// The y of a height above the reach mark.
    pub(super) fn y(&self, height: Length) -> Px {
        self.scale.y(self.base + height)
    }

    pub(super) fn has_labels(&self) -> bool {
        self.labels < self.frame.width
    }
}

/// The height of the dado in thousandths of the font size.
const DADO: i64 = 4_750;

/// One jump on the wall: the two marks, the height between them, the doubt, and the tape of a
/// published source.
pub fn result_wall(wall: &ResultWall<'_>) -> ResultDrawing {
    let frame = wall.frame.drawable(22_000);
    let mut high = wall_top(wall, frame);
    let mut plan = Plan::new(wall, frame, high);
    // Where the number has to stand above the jump mark, the wall grows until there is room.
    let needed = result_gap::room_above(wall, &plan);
    if needed > plan.y(highest(wall)) {
        high = topped(highest(wall), needed, plan.foot);
        plan = Plan::new(wall, frame, high);
    }
    let mut sketch = Sketch::default();
    let mut dropped = Vec::new();
    let upper = Point::new(Px::ZERO, Px::ZERO);
    let corner = Point::new(frame.width, frame.height);
    sketch.rect(Area::between(upper, corner), Paint::Wall);
    result_gap::doubt(&mut sketch, wall, &plan);
    dado(&mut sketch, wall, &plan, &mut dropped);
    result_tape::draw(&mut sketch, wall, &plan, &mut dropped);
    result_gap::marks(&mut sketch, wall, &plan);
    result_gap::words(&mut sketch, wall, &plan, &mut dropped);
    let (scale, label) = (below_reach(&plan), wall.tick_label);
    Steel { frame, width: plan.gap, scale, unit: wall.unit, label }.draw(
        &mut sketch,
        Px::ZERO,
        frame.height,
    );
    goes_on(&mut sketch, frame.width, frame.height);
    ResultDrawing { drawing: sketch.finish(frame), dropped }
}

/// The highest thing that belongs to the jump itself.
fn highest(wall: &ResultWall<'_>) -> Length {
    let usual = wall.usual.map_or(Length::ZERO, |usual| usual.height + usual.error);
    wall.best.max(usual).max(Length::ZERO)
}

fn wall_top(wall: &ResultWall<'_>, frame: Frame) -> Length {
    let tape = match wall.reference {
        Reference::Strips(strips) => {
            let closed = strips.iter().map(|s| s.to.unwrap_or(s.from)).max();
            closed.map_or(Length::ZERO, |edge| edge + OPEN_STRIP)
        }
        Reference::Tenths { edges, .. } => {
            edges.iter().max().map_or(Length::ZERO, |edge| *edge + OPEN_STRIP)
        }
        Reference::Average { to, .. } => to,
        Reference::None => Length::ZERO,
    };
    let top = highest(wall).max(tape) + HEADROOM;
    // The jump mark needs room for its own line of words whatever the scale.
    top.max(topped(highest(wall), frame.rems(2_250), frame.height - frame.rems(DADO)))
}

/// The top of a wall on which `height` has `room` above it.
fn topped(height: Length, room: Px, tall: Px) -> Length {
    let left = (tall - room).max(Px::whole(1));
    Scale::new(Length::ZERO, height, Px::ZERO, left).height_at(left - tall)
}

/// The measure hangs down over the dado, so its scale goes on below the reach mark; one that reads
/// from the reach mark ends there.
fn below_reach(plan: &Plan) -> Scale {
    let floor = plan.scale.height_at(plan.frame.height).max(Length::ZERO);
    Scale::new(floor, plan.scale.high(), Px::ZERO, plan.scale.y(floor))
}

fn dado(sketch: &mut Sketch, wall: &ResultWall<'_>, plan: &Plan, dropped: &mut Vec<Dropped>) {
    let frame = plan.frame;
    let corner = Point::new(frame.width, frame.height);
    sketch.rect(Area::between(Point::new(plan.gap, plan.foot), corner), Paint::Dado);
    let stripe = Point::new(plan.gap, plan.foot - Px::whole(2));
    sketch.rect(
        Area::between(stripe, stripe.moved(frame.width - plan.gap, Px::whole(4))),
        Paint::Stripe,
    );
    let pad = frame.rems(375);
    let left = result_gap::words_left(plan);
    let pair = [
        (left, plan.tape.min(frame.width - pad), wall.words.reach_number, wall.words.reach),
        (plan.tape, frame.width - pad, wall.words.reference, wall.words.reference_unit),
    ];
    for ((x, right, first, second), lost) in
        pair.into_iter().zip([Dropped::Reach, Dropped::ReferenceTitle])
    {
        let room = right - x;
        let least = frame.rems(750);
        // A title too long for one line takes two, and what stands under it moves down.
        let one_line = lettering::fitting(first, frame.rems(1_063), least, room).is_some();
        let small = frame.rems(813);
        let broken = lettering::wrapped(first, small, room).filter(|lines| lines.len() == 2);
        let mut lines = Vec::new();
        match broken.filter(|_| !one_line) {
            Some(broken) => {
                let places = broken.into_iter().zip([1_250, 2_250]);
                lines.extend(places.map(|(text, y)| (text, small, Words::OnDado, y)));
                lines.push((second.to_owned(), small, Words::OnDadoSoft, 3_300));
            }
            None => {
                lines.push((first.to_owned(), frame.rems(1_063), Words::OnDado, 1_650));
                lines.push((second.to_owned(), frame.rems(938), Words::OnDadoSoft, 2_950));
            }
        }
        for (text, most, words, y) in lines.into_iter().filter(|line| !line.0.is_empty()) {
            let at = Point::new(x, plan.foot + frame.rems(y));
            match lettering::fitting(&text, most, least, room) {
                Some(size) => sketch.text(at, Anchor::Start, size, words, &text),
                None if dropped.contains(&lost) => {}
                None => dropped.push(lost),
            }
        }
    }
}
