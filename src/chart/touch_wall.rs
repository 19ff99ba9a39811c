use super::chalk::{Stroke, slash};
use super::lettering::fitting;
use super::scene::Sketch;
use super::steel::{Steel, goes_on, measure_rem};
use super::{Anchor, Area, Drawing, Frame, Paint, Point, Px, Scale, Words};
use crate::quantity::{Length, Unit};

/// What is written on the wall of a height to reach, formatted by the caller.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TouchWords<'a> {
    /// The height to reach and what it is.
    pub target: &'a str,
    /// Where the usual jump goes.
    pub usual: &'a str,
    /// The standing reach.
    pub reach: &'a str,
    /// What is missing; empty when nothing is.
    pub missing: &'a str,
}

/// Everything the wall of a height to reach needs. All heights are from the floor.
#[derive(Clone, Copy)]
pub struct TouchWall<'a> {
    /// The room. Design choice: never lower than 16 times the root font size.
    pub frame: Frame,
    /// The unit of the measure.
    pub unit: Unit,
    /// The standing reach.
    pub standing_reach: Length,
    /// Where the fingertip goes in the usual jump.
    pub usual: Length,
    /// How far a single jump may end above or below that, about 2 times in 3.
    pub spread: Length,
    /// The mark of the best jump.
    pub best: Length,
    /// The height to reach.
    pub target: Length,
    /// Writes a number on the measure.
    pub tick_label: &'a dyn Fn(Length) -> String,
    /// Everything else that is written.
    pub words: TouchWords<'a>,
}

/// Bare wall beyond the lowest and the highest thing. Design choice.
const AIR: Length = Length::from_mm(60);

/// A wall from the standing reach up to what one would like to reach: the hatch is where a single
/// jump of today may end, the chalk mark is the best, the line across is the height to reach.
pub fn touch_wall(wall: &TouchWall<'_>) -> Drawing {
    let frame = wall.frame.drawable(16_000);
    let low = wall.standing_reach.min(wall.target);
    let high = wall.target.max(wall.best).max(wall.usual + wall.spread).max(wall.standing_reach);
    let rooms = (frame.rems(2_500), frame.rems(3_500));
    let scale = Scale::padded((low, high), AIR, rooms, (Px::ZERO, frame.height));
    let measure = frame.rems(measure_rem(frame));
    let view = View { frame, scale, measure, stripe: scale.y(wall.standing_reach) };
    let mut sketch = Sketch::default();
    let corner = Point::new(frame.width, frame.height);
    sketch.rect(Area::between(Point::default(), corner), Paint::Wall);
    view.jump(&mut sketch, wall);
    sketch.rect(Area::between(Point::new(measure, view.stripe), corner), Paint::Dado);
    let band = Point::new(measure, view.stripe - Px::whole(2));
    sketch
        .rect(Area::between(band, band.moved(frame.width - measure, Px::whole(4))), Paint::Stripe);
    view.target(&mut sketch, wall);
    view.words(&mut sketch, wall);
    let steel = Steel { frame, width: measure, scale, unit: wall.unit, label: wall.tick_label };
    steel.draw(&mut sketch, Px::ZERO, frame.height);
    goes_on(&mut sketch, frame.width, frame.height);
    sketch.finish(frame)
}

struct View {
    frame: Frame,
    scale: Scale,
    measure: Px,
    /// The y of the standing reach.
    stripe: Px,
}

impl View {
    fn left(&self) -> Px {
        self.measure + self.frame.rems(500)
    }

    fn right(&self) -> Px {
        self.frame.width - self.frame.rems(500)
    }

    fn middle(&self) -> Px {
        self.measure + (self.frame.width - self.measure).half()
    }

    /// The hatch of a single jump, its middle, and the mark of the best.
    fn jump(&self, sketch: &mut Sketch, wall: &TouchWall<'_>) {
        let upper = self.scale.y(wall.usual + wall.spread);
        let lower = self.scale.y((wall.usual - wall.spread).max(wall.standing_reach));
        let right = self.frame.width;
        let area = Area::between(Point::new(self.measure, upper), Point::new(right, lower));
        sketch.rect(area, Paint::Hatch);
        sketch.across(self.measure, right, self.scale.y(wall.usual), Paint::Usual);
        let width = self.frame.rems(3_500).min(self.right() - self.middle());
        let at = Point::new(self.left(), self.scale.y(wall.best));
        Stroke::new(at, width, self.frame).chalk(sketch, Paint::ChalkMark, Paint::Halo);
    }

    /// The line across at the height to reach, and a dimension line up to it where some is missing.
    fn target(&self, sketch: &mut Sketch, wall: &TouchWall<'_>) {
        let (y, usual) = (self.scale.y(wall.target), self.scale.y(wall.usual));
        let below = wall.target < wall.standing_reach;
        let paint = if below { Paint::DimensionOnDado } else { Paint::MarkLine };
        sketch.across(self.measure, self.frame.width, y, paint);
        if wall.target <= wall.usual || wall.words.missing.is_empty() {
            return;
        }
        let x = self.middle() + self.frame.rems(1_000);
        sketch.upright(x, y, usual, Paint::Dimension);
        for end in [y, usual] {
            slash(sketch, Point::new(x, end), self.frame, Paint::Slash);
        }
    }

    /// One line of words, smaller where it has to be, left out where that is not enough.
    fn line(&self, sketch: &mut Sketch, at: Point, anchor: Anchor, words: Words, text: &str) {
        let room = match anchor {
            Anchor::End => at.x - self.left(),
            _ => self.right() - at.x,
        };
        let (most, least) = (self.frame.rems(1_063), self.frame.rems(650));
        if let Some(size) = fitting(text, most, least, room) {
            sketch.text(at, anchor, size, words, text);
        }
    }

    /// Words stand over the target's line, under the hatch and in the dado; those that would meet
    /// others are left out, since the sentences under the wall say them all.
    fn words(&self, sketch: &mut Sketch, wall: &TouchWall<'_>) {
        let frame = self.frame;
        let target = self.scale.y(wall.target);
        let in_dado = wall.target < wall.standing_reach;
        let words = if in_dado { Words::OnDado } else { Words::Strong };
        // Clear of the slash that ends the dimension line. A target just under the stripe has its words under its line, not across the stripe.
        let is_close = in_dado && target - self.stripe < frame.rems(1_800);
        let y = if is_close { target + frame.rems(1_300) } else { target - frame.rems(850) };
        self.line(sketch, Point::new(self.right(), y), Anchor::End, words, wall.words.target);
        let foot = self.scale.y((wall.usual - wall.spread).max(wall.standing_reach));
        let jump = foot + frame.rems(1_300);
        let is_clear = (jump - target).magnitude() >= frame.rems(1_900);
        if jump + frame.rems(400) < self.stripe && is_clear {
            let at = Point::new(self.left(), jump);
            self.line(sketch, at, Anchor::Start, Words::Strong, wall.words.usual);
        }
        // What is missing, where it stands clear of the hatch and of the target's line.
        let gap = self.scale.y(wall.usual + wall.spread) - target;
        if gap >= frame.rems(1_800) {
            let y = target + gap.half() + frame.rems(380);
            let at = Point::new(self.middle() + frame.rems(1_600), y);
            self.line(sketch, at, Anchor::Start, Words::Strong, wall.words.missing);
        }
        let reach = self.stripe + frame.rems(1_500);
        let is_clear = !in_dado || target - reach > frame.rems(1_800);
        if is_clear && reach + frame.rems(400) < frame.height - Px::whole(14) {
            let at = Point::new(self.left(), reach);
            self.line(sketch, at, Anchor::Start, Words::OnDado, wall.words.reach);
        }
    }
}
