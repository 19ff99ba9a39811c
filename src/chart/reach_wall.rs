use super::chalk::{Stroke, slash};
use super::scene::Sketch;
use super::steel::{Steel, hook, measure_rem};
use super::{Anchor, Area, Drawing, Frame, Paint, Point, Px, Scale, Words, estimated_width};
use crate::quantity::{Length, Unit};

/// One reach mark.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ReachMark<'a> {
    /// Its height from the floor.
    pub height: Length,
    /// The height as it is written.
    pub label: &'a str,
    /// Whether it is being typed.
    pub is_typing: bool,
}

/// Everything the wall of the standing reach needs.
#[derive(Clone, Copy)]
pub struct ReachWall<'a> {
    /// The room. Design choice: never lower than 10 times the root font size.
    pub frame: Frame,
    /// The unit of the measure.
    pub unit: Unit,
    /// The reach marks in order, three as a rule.
    pub marks: &'a [ReachMark<'a>],
    /// The height of the stripe: the mark that counts, or the one before there are three.
    pub stripe: Length,
    /// How far the marks lie apart, as it is written; empty to leave it out.
    pub spread: &'a str,
    /// Writes a number on the measure.
    pub tick_label: &'a dyn Fn(Length) -> String,
}

/// Bare wall beyond the lowest and the highest mark. Design choice.
const AIR: Length = Length::from_mm(12);

/// The reach marks, zoomed in: the one that counts is ink on the stripe, those above lie on plaster,
/// those below on the dado, and a dimension line shows how far apart they are.
pub fn reach_wall(wall: &ReachWall<'_>) -> Drawing {
    let frame = wall.frame.drawable(10_000);
    let heights = || wall.marks.iter().map(|mark| mark.height).chain([wall.stripe]);
    let low = heights().min().unwrap_or(wall.stripe);
    let high = heights().max().unwrap_or(wall.stripe);
    let rooms = (frame.rems(2_250), frame.rems(2_500));
    let scale = Scale::padded((low, high), AIR, rooms, (Px::ZERO, frame.height));
    let mut sketch = Sketch::default();
    let measure = frame.rems(measure_rem(frame));
    let corner = Point::new(frame.width, frame.height);
    let stripe = scale.y(wall.stripe);
    sketch.rect(Area::between(Point::default(), corner), Paint::Wall);
    sketch.rect(Area::between(Point::new(measure, stripe), corner), Paint::Dado);
    let band = Point::new(measure, stripe - Px::whole(2));
    let end = Point::new(frame.width, stripe + Px::whole(2));
    sketch.rect(Area::between(band, end), Paint::Stripe);
    let view = View { frame, scale, stripe, measure };
    for (index, mark) in wall.marks.iter().enumerate() {
        view.mark(&mut sketch, index, mark, wall.stripe);
    }
    if high > low && !wall.spread.is_empty() && wall.marks.len() > 1 {
        view.spread(&mut sketch, (scale.y(high), scale.y(low)), wall.spread);
    }
    let steel = Steel { frame, width: measure, scale, unit: wall.unit, label: wall.tick_label };
    steel.draw(&mut sketch, Px::ZERO, frame.height);
    hook(&mut sketch, measure, frame.height);
    sketch.finish(frame)
}

struct View {
    frame: Frame,
    scale: Scale,
    stripe: Px,
    measure: Px,
}

impl View {
    fn across(&self, percent: i64) -> Px {
        self.measure + (self.frame.width - self.measure).part(percent, 100)
    }

    fn mark(&self, sketch: &mut Sketch, index: usize, mark: &ReachMark<'_>, stripe: Length) {
        let frame = self.frame;
        // Three columns in the left three quarters; a fourth mark and more share the last.
        let column = i64::try_from(index.min(2)).unwrap_or(0);
        let at = Point::new(self.across(14 + 24 * column), self.scale.y(mark.height));
        let width = frame.rems(3_500).min(self.across(22) - self.measure);
        let stroke = Stroke::centred(at, width, frame);
        let is_below = mark.height < stripe;
        let halo = if is_below { Paint::HaloDado } else { Paint::Halo };
        if mark.is_typing {
            stroke.plain(sketch, Paint::Typing, halo);
        } else if mark.height == stripe {
            stroke.plain(sketch, Paint::ReachMark, Paint::HaloStripe);
        } else if is_below {
            stroke.chalk(sketch, Paint::ChalkMarkOnDado, halo);
        } else {
            stroke.chalk(sketch, Paint::ChalkMark, halo);
        }
        let room = self.across(24) - self.measure;
        let Some(size) =
            super::lettering::fitting(mark.label, frame.rems(1_063), frame.rems(650), room)
        else {
            return;
        };
        let (words, y) = if is_below {
            (Words::OnDado, at.y.max(self.stripe) + frame.rems(1_500))
        } else {
            (Words::Strong, at.y.min(self.stripe) - frame.rems(750))
        };
        sketch.text(Point::new(at.x, y), Anchor::Middle, size, words, mark.label);
    }

    /// The dimension line changes colour where it crosses the stripe.
    fn spread(&self, sketch: &mut Sketch, (upper, lower): (Px, Px), text: &str) {
        let frame = self.frame;
        let x = self.across(80);
        let middle = self.stripe.clamp(upper, lower);
        sketch.upright(x, upper, middle, Paint::Dimension);
        sketch.upright(x, middle, lower, Paint::DimensionOnDado);
        for y in [upper, lower] {
            let paint = if y <= self.stripe { Paint::Slash } else { Paint::SlashOnDado };
            slash(sketch, Point::new(x, y), frame, paint);
        }
        let size = frame.rems(1_063);
        let left = x + frame.rems(625);
        let size = super::lettering::fitting(text, size, frame.rems(650), frame.width - left);
        let Some(size) = size else { return };
        debug_assert!(left + estimated_width(text, size) <= frame.width);
        // The words stay clear of the stripe, on the larger part of the line.
        let on_wall = middle - upper >= lower - middle;
        let (words, y) = if on_wall {
            let y = upper + (middle - upper).half() + size.part(36, 100);
            (Words::Strong, y.min(self.stripe - frame.rems(300)))
        } else {
            let y = middle + (lower - middle).half() + size.part(36, 100);
            (Words::OnDado, y.max(self.stripe + frame.rems(1_100)))
        };
        sketch.text(Point::new(left, y), Anchor::Start, size, words, text);
    }
}
