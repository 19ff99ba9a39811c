//! A wall as a picture that leaves the page: who and when above it, the source below it.

use super::lettering::fitting;
use super::scene::Sketch;
use super::{Anchor, Area, Drawing, Frame, Paint, Point, Px, Words};

/// The drawing of a picture. Taken three times as large, it is 1080 × 1350 pixels; the large font
/// keeps the words readable on a small one. Design choice.
pub const CARD: Frame = Frame::whole(360, 450, 17);

/// What is written around the wall of a picture. What is empty takes no room.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct CardWords<'a> {
    /// At the left of the band above.
    pub name: &'a str,
    /// At the right of the band above, or at its left where there is no name.
    pub date: &'a str,
    /// Below the wall, such as whom a published table is about.
    pub source: &'a str,
}

impl CardWords<'_> {
    /// The room above the wall and below it, in thousandths of the font size.
    const fn rooms(self) -> (i64, i64) {
        let head = if self.name.is_empty() && self.date.is_empty() { 0 } else { 2_500 };
        let foot = if self.source.is_empty() { 0 } else { 1_500 };
        (head, foot)
    }

    /// The frame that is left for the wall.
    pub fn wall_frame(self) -> Frame {
        let (head, foot) = self.rooms();
        Frame { height: CARD.height - CARD.rems(head + foot), ..CARD }
    }
}

/// Puts a wall, drawn for [`CardWords::wall_frame`], and its words together.
pub fn card(wall: Drawing, words: CardWords<'_>) -> Drawing {
    let (head, foot) = words.rooms();
    let (head, foot) = (CARD.rems(head), CARD.rems(foot));
    let pad = CARD.rems(750);
    let mut sketch = Sketch::default();
    // Under the wall, so that no seam shows between them.
    let corner = Point::new(CARD.width, CARD.height);
    sketch.rect(Area::between(Point::default(), corner), Paint::Wall);
    sketch.items.extend(wall.items.into_iter().map(|item| item.moved(Px::ZERO, head)));
    if head > Px::ZERO {
        sketch.rect(Area::between(Point::default(), Point::new(CARD.width, head)), Paint::Tag);
        let room = CARD.width - pad - pad;
        let (date, right) = (line(words.date, 850, room), CARD.width - pad);
        let left = super::estimated_width(words.date, date);
        let name = line(words.name, 1_250, if left > Px::ZERO { room - left - pad } else { room });
        let baseline = CARD.rems(1_650);
        sketch.text(Point::new(pad, baseline), Anchor::Start, name, Words::OnTag, words.name);
        let (x, anchor) =
            if words.name.is_empty() { (pad, Anchor::Start) } else { (right, Anchor::End) };
        sketch.text(Point::new(x, baseline), anchor, date, Words::OnTagSoft, words.date);
    }
    if foot > Px::ZERO {
        let size = line(words.source, 850, CARD.width - pad - pad);
        let at = Point::new(pad, CARD.height - CARD.rems(500));
        sketch.text(at, Anchor::Start, size, Words::Soft, words.source);
    }
    sketch.finish(CARD)
}

/// The size of a line of words: as large as it may be and as small as it must be.
fn line(text: &str, rem: i64, room: Px) -> Px {
    fitting(text, CARD.rems(rem), CARD.rems(250), room).unwrap_or(CARD.rems(250))
}
