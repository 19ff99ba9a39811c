use super::chalk::Stroke;
use super::lettering::fitting;
use super::scene::Sketch;
use super::steel::{Steel, cut_down, measure_end, measure_rem};
use super::{Anchor, Area, Drawing, Frame, Paint, Point, Px, Scale, Words, estimated_width};
use crate::quantity::{Length, Unit};

/// What a trial left on the wall.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TrialMark {
    /// A mark that is kept, at its height above the reach mark.
    Kept(Length),
    /// The mark that is being typed.
    Typing(Length),
    /// A foul: a cross at the foot, no height.
    Foul,
    /// The trial comes next and nothing is typed yet.
    Next,
}

impl TrialMark {
    fn height(self) -> Option<Length> {
        match self {
            Self::Kept(height) | Self::Typing(height) => Some(height),
            Self::Foul | Self::Next => None,
        }
    }
}

/// One column.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TrialColumn<'a> {
    /// What stands in it.
    pub mark: TrialMark,
    /// What is written at the mark: its height, or the word for a foul.
    pub label: &'a str,
    /// What is written in the dado: the number of the trial, empty where the page puts a button.
    pub number: &'a str,
}

/// Everything the wall of the jumps needs.
#[derive(Clone, Copy)]
pub struct TrialsWall<'a> {
    /// The room. Design choice: never lower than 12 times the root font size.
    pub frame: Frame,
    /// The unit of the measure.
    pub unit: Unit,
    /// The standing reach when the measure reads from the floor, else `None`.
    pub standing_reach: Option<Length>,
    /// The trials in order.
    pub trials: &'a [TrialColumn<'a>],
    /// Writes a number on the measure.
    pub tick_label: &'a dyn Fn(Length) -> String,
    /// What the measure says at the reach mark: the standing reach, or zero.
    pub reach_label: &'a str,
}

/// The wall of the jumps and the places that the page makes touchable.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TrialsDrawing {
    /// The drawing.
    pub drawing: Drawing,
    /// The part of the dado under each column, in the order of the trials.
    pub slots: Vec<Area>,
    /// Indexes of the trials whose label found no room.
    pub dropped: Vec<usize>,
}

/// Six columns at least, so that they do not move while trials are added.
pub const TRIAL_COLUMNS: usize = 6;
/// Bare wall beyond the lowest and the highest mark. Design choice.
const AIR: Length = Length::from_mm(30);

struct Plan {
    frame: Frame,
    scale: Scale,
    base: Length,
    measure: Px,
    /// Where the upper wall ends.
    foot: Px,
    /// The y of the reach mark.
    stripe: Px,
    column: Px,
    is_cut: bool,
}

impl Plan {
    fn new(wall: &TrialsWall<'_>) -> Self {
        let frame = wall.frame.drawable(12_000);
        let stripe = frame.height - frame.rems(3_000);
        let heights = || wall.trials.iter().filter_map(|trial| trial.mark.height());
        let low = heights().min().unwrap_or(Length::from_mm(200)).max(Length::ZERO);
        let high = heights().max().unwrap_or(Length::from_mm(500)).max(low);
        let rooms = (frame.rems(2_750), frame.rems(2_250));
        let base = wall.standing_reach.unwrap_or_default();
        let reach = |foot| Scale::padded((base + low, base + high), AIR, rooms, (Px::ZERO, foot));
        let foot = stripe - frame.rems(1_750);
        let mut scale = reach(foot);
        let is_cut = scale.low() > base;
        let foot = if is_cut { foot } else { stripe };
        if !is_cut {
            // The marks are so low that the wall down to the reach mark fits.
            let room = frame.rems(2_750);
            scale = Scale::padded(
                (base, base + high),
                Length::ZERO,
                (room, Px::ZERO),
                (Px::ZERO, foot),
            );
        }
        let columns = i64::try_from(wall.trials.len().max(TRIAL_COLUMNS)).unwrap_or(i64::MAX);
        let measure = frame.rems(measure_rem(frame));
        let column = (frame.width - measure).part(1, columns);
        Self { frame, scale, base, measure, foot, stripe, column, is_cut }
    }

    fn y(&self, height: Length) -> Px {
        self.scale.y(self.base + height)
    }

    fn centre(&self, index: usize) -> Px {
        let index = i64::try_from(index).unwrap_or(0);
        self.measure + self.column.part(2 * index + 1, 2)
    }
}

/// The trials of a session as columns of one zoomed wall: marks, fouls as crosses, the mark that is
/// being typed as a dashed outline, the best as a dotted line.
pub fn trials_wall(wall: &TrialsWall<'_>) -> TrialsDrawing {
    let plan = Plan::new(wall);
    let frame = plan.frame;
    let mut sketch = Sketch::default();
    let corner = Point::new(frame.width, frame.height);
    sketch.rect(Area::between(Point::default(), corner), Paint::Wall);
    let kept = |trial: &TrialColumn<'_>| match trial.mark {
        TrialMark::Kept(height) => Some(height),
        _ => None,
    };
    if let Some(best) = wall.trials.iter().filter_map(kept).max() {
        sketch.across(plan.measure, frame.width, plan.y(best), Paint::MarkLineDotted);
    }
    let mut dropped = Vec::new();
    for (index, trial) in wall.trials.iter().enumerate() {
        column(&mut sketch, &plan, index, trial, &mut dropped);
    }
    let (width, label) = (plan.measure, wall.tick_label);
    let steel = Steel { frame, width, scale: plan.scale, unit: wall.unit, label };
    steel.draw(&mut sketch, Px::ZERO, plan.foot);
    if plan.is_cut {
        cut_down(&mut sketch, frame, width, (plan.foot, plan.stripe));
    }
    foot(&mut sketch, &plan, wall);
    let slots = (0..wall.trials.len()).map(|index| slot(&plan, index)).collect();
    TrialsDrawing { drawing: sketch.finish(frame), slots, dropped }
}

fn slot(plan: &Plan, index: usize) -> Area {
    let left = plan.centre(index) - plan.column.half();
    let size = Point::new(left + plan.column, plan.frame.height);
    Area::between(Point::new(left, plan.stripe), size)
}

fn column(
    sketch: &mut Sketch,
    plan: &Plan,
    index: usize,
    trial: &TrialColumn<'_>,
    dropped: &mut Vec<usize>,
) {
    let (frame, x) = (plan.frame, plan.centre(index));
    let width = frame.rems(2_750).min(plan.column - frame.rems(250));
    match trial.mark {
        TrialMark::Kept(height) => {
            let at = Point::new(x, plan.y(height));
            sketch.upright(x, at.y, plan.foot, Paint::Dimension);
            Stroke::centred(at, width, frame).chalk(sketch, Paint::ChalkMark, Paint::Halo);
            let above = at.moved(Px::ZERO, -frame.rems(700));
            label(sketch, plan, above, trial.label, index, dropped);
        }
        TrialMark::Typing(height) => {
            let at = Point::new(x, plan.y(height));
            sketch.upright(x, at.y, plan.foot, Paint::DimensionDashed);
            Stroke::centred(at, width, frame).plain(sketch, Paint::Typing, Paint::Halo);
            typed(sketch, plan, at, trial.label);
        }
        TrialMark::Foul => {
            let arm = frame.rems(560);
            let at = Point::new(x, plan.foot - frame.rems(1_250));
            let cross = vec![
                (at.moved(-arm, -arm), at.moved(arm, arm)),
                (at.moved(arm, -arm), at.moved(-arm, arm)),
            ];
            sketch.lines(cross, Paint::Foul);
            let above = at.moved(Px::ZERO, -frame.rems(1_000));
            label(sketch, plan, above, trial.label, index, dropped);
        }
        TrialMark::Next => {}
    }
}

/// The number at a mark; under 12 times the font size only the one being typed keeps it.
fn label(
    sketch: &mut Sketch,
    plan: &Plan,
    at: Point,
    text: &str,
    index: usize,
    dropped: &mut Vec<usize>,
) {
    let frame = plan.frame;
    let room = plan.column - frame.rems(125);
    match fitting(text, frame.rems(1_063), frame.rems(750), room) {
        Some(size) if frame.width >= frame.rems(12_000) => {
            sketch.text(at, Anchor::Middle, size, Words::Strong, text);
        }
        _ => dropped.push(index),
    }
}

/// The number of the mark that is being typed, on a tag that stays on the drawing.
fn typed(sketch: &mut Sketch, plan: &Plan, at: Point, text: &str) {
    let frame = plan.frame;
    let room = plan.column.part(3, 2).max(frame.rems(2_000));
    let size = fitting(text, frame.rems(1_063), frame.rems(813), room).unwrap_or(frame.rems(813));
    let half = (estimated_width(text, size) + frame.rems(500)).half();
    let x = at.x.max(plan.measure + half).min(frame.width - half);
    let (lower, upper) = (at.y - frame.rems(625), at.y - frame.rems(2_375));
    let tag = Area::between(Point::new(x - half, upper), Point::new(x + half, lower));
    sketch.rect(tag, Paint::Tag);
    let baseline = Point::new(x, lower - frame.rems(525));
    sketch.text(baseline, Anchor::Middle, size, Words::OnTag, text);
}

/// The dado with the numbers of the trials, and the end of the measure at the reach mark.
fn foot(sketch: &mut Sketch, plan: &Plan, wall: &TrialsWall<'_>) {
    let frame = plan.frame;
    measure_end(sketch, frame, plan.measure, plan.stripe, wall.reach_label);
    for (index, trial) in wall.trials.iter().enumerate() {
        let at = Point::new(plan.centre(index), plan.stripe + frame.rems(1_900));
        let is_now = matches!(trial.mark, TrialMark::Typing(_) | TrialMark::Next);
        sketch.text(at, Anchor::Middle, frame.rems(1_063), Words::OnDado, trial.number);
        if is_now {
            let from = at.moved(-frame.rems(563), frame.rems(375));
            let to = at.moved(frame.rems(563), frame.rems(625));
            sketch.rect(Area::between(from, to), Paint::Measure);
        }
    }
}
