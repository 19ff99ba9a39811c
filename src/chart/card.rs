//! A wall as a picture that leaves the page: who and when above it, the source below it.

use super::lettering::{fitting, wrapped};
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
    /// Above the wall, in as many lines as it needs, such as an answer.
    pub answer: &'a str,
    /// Under the answer and smaller, what belongs beside it.
    pub beside: &'a str,
    /// Below the wall, such as whom a published table is about.
    pub source: &'a str,
}

/// The least size of a line that cannot break, in thousandths of the font size.
const LEAST: i64 = 250;
/// The size of an answer, and of what stands beside it.
const ANSWER: i64 = 1_000;
const BESIDE: i64 = 750;
/// From line to line, in thousandths of the size of the words.
const LEADING: i64 = 1_300;

impl CardWords<'_> {
    /// The rooms of the band above, of the answer and of the line below, from above.
    fn rooms(self) -> [Px; 3] {
        let head = if self.name.is_empty() && self.date.is_empty() { 0 } else { 2_500 };
        let foot = if self.source.is_empty() { 0 } else { 1_500 };
        let lines: Px = self
            .answers()
            .iter()
            .map(|(size, _)| size.part(LEADING, 1_000))
            .fold(Px::ZERO, |all, line| all + line);
        let answer = if lines > Px::ZERO { lines + CARD.rems(750) } else { lines };
        [CARD.rems(head), answer, CARD.rems(foot)]
    }

    /// The lines of the answer and of what stands beside it, each with its size.
    fn answers(self) -> Vec<(Px, String)> {
        let mut lines = Vec::new();
        for (rem, text) in [(ANSWER, self.answer), (BESIDE, self.beside)] {
            let size = CARD.rems(rem);
            let broken = wrapped(text, size, room()).unwrap_or_else(|| vec![text.to_owned()]);
            lines.extend(broken.into_iter().map(|text| (size, text)));
        }
        lines
    }

    /// The frame that is left for the wall.
    pub fn wall_frame(self) -> Frame {
        let taken = self.rooms().into_iter().fold(Px::ZERO, |all, room| all + room);
        Frame { height: CARD.height - taken, ..CARD }
    }
}

/// Puts a wall, drawn for [`CardWords::wall_frame`], and its words together.
pub fn card(wall: Drawing, words: CardWords<'_>) -> Drawing {
    let [head, answer, foot] = words.rooms();
    let pad = pad();
    let mut sketch = Sketch::default();
    // Under the wall, so that no seam shows between them.
    let corner = Point::new(CARD.width, CARD.height);
    sketch.rect(Area::between(Point::default(), corner), Paint::Wall);
    sketch.items.extend(wall.items.into_iter().map(|item| item.moved(Px::ZERO, head + answer)));
    if head > Px::ZERO {
        sketch.rect(Area::between(Point::default(), Point::new(CARD.width, head)), Paint::Tag);
        let (date, right) = (line(words.date, 850, room()), CARD.width - pad);
        let left = super::estimated_width(words.date, date);
        let name =
            line(words.name, 1_250, if left > Px::ZERO { room() - left - pad } else { room() });
        let baseline = CARD.rems(1_650);
        sketch.text(Point::new(pad, baseline), Anchor::Start, name, Words::OnTag, words.name);
        let (x, anchor) =
            if words.name.is_empty() { (pad, Anchor::Start) } else { (right, Anchor::End) };
        sketch.text(Point::new(x, baseline), anchor, date, Words::OnTagSoft, words.date);
    }
    let mut y = head + CARD.rems(250);
    for (size, text) in words.answers() {
        y = y + size.part(LEADING, 1_000);
        let paint = if size == CARD.rems(ANSWER) { Words::Strong } else { Words::Plain };
        let size = line(&text, 1_000, room()).min(size);
        sketch.text(Point::new(pad, y), Anchor::Start, size, paint, &text);
    }
    if foot > Px::ZERO {
        let at = Point::new(pad, CARD.height - CARD.rems(500));
        sketch.text(at, Anchor::Start, line(words.source, 850, room()), Words::Soft, words.source);
    }
    sketch.finish(CARD)
}

/// Bare wall at both sides of the words.
fn pad() -> Px {
    CARD.rems(750)
}

fn room() -> Px {
    CARD.width - pad() - pad()
}

/// The size of a line of words: as large as it may be and as small as it must be.
fn line(text: &str, rem: i64, room: Px) -> Px {
    fitting(text, CARD.rems(rem), CARD.rems(LEAST), room).unwrap_or(CARD.rems(LEAST))
}
