use super::{Paint, Px, Words};

/// A place on the drawing: x to the right, y **down**, from the upper left corner.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Point {
    /// From the left edge.
    pub x: Px,
    /// From the upper edge.
    pub y: Px,
}

impl Point {
    /// A place from its two distances.
    pub const fn new(x: Px, y: Px) -> Self {
        Self { x, y }
    }

    /// The place moved by a distance to the right and a distance down.
    pub fn moved(self, right: Px, down: Px) -> Self {
        Self { x: self.x + right, y: self.y + down }
    }
}

/// An upright rectangle.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Area {
    /// The left edge.
    pub x: Px,
    /// The upper edge.
    pub y: Px,
    /// Never negative.
    pub width: Px,
    /// Never negative.
    pub height: Px,
}

impl Area {
    /// The area between two opposite corners, in any order.
    pub fn between(a: Point, b: Point) -> Self {
        let (x, y) = (a.x.min(b.x), a.y.min(b.y));
        Self { x, y, width: a.x.max(b.x) - x, height: a.y.max(b.y) - y }
    }

    /// The right edge.
    pub fn right(self) -> Px {
        self.x + self.width
    }

    /// The lower edge.
    pub fn bottom(self) -> Px {
        self.y + self.height
    }

    /// Whether two areas share more than an edge.
    pub fn overlaps(self, other: Self) -> bool {
        self.x < other.right()
            && other.x < self.right()
            && self.y < other.bottom()
            && other.y < self.bottom()
    }
}

/// Which end of a text its place names.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    /// The left end.
    Start,
    /// The middle.
    Middle,
    /// The right end.
    End,
}

/// One line of text. The words come from outside; the drawing only places them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Label {
    /// Where the baseline begins, ends or has its middle.
    pub at: Point,
    /// Which of the three.
    pub anchor: Anchor,
    /// The font size.
    pub size: Px,
    /// Weight and colour.
    pub words: Words,
    /// What is written.
    pub content: String,
}

impl Label {
    /// The room the text may take: a careful estimate, since no font is at hand.
    pub fn area(&self) -> Area {
        let width = estimated_width(&self.content, self.size);
        let x = match self.anchor {
            Anchor::Start => self.at.x,
            Anchor::Middle => self.at.x - width.half(),
            Anchor::End => self.at.x - width,
        };
        // Digits and capitals rise about 0.73 em over the baseline, descenders hang about 0.2 em.
        let y = self.at.y - self.size.part(75, 100);
        Area { x, y, width, height: self.size.part(95, 100) }
    }
}

/// The width of a text, taken as 0.6 em per character. Design choice: wider than the mean of bold
/// digits and letters in the fonts that systems ship.
pub fn estimated_width(text: &str, size: Px) -> Px {
    let characters =
        i64::try_from(text.chars().filter(|sign| !is_unseen(*sign)).count()).unwrap_or(i64::MAX);
    size.part(characters.saturating_mul(6), 10)
}

/// Signs that only say in which direction a text runs.
fn is_unseen(sign: char) -> bool {
    matches!(sign, '\u{2066}'..='\u{2069}')
}

/// One thing on the drawing. Later items lie over earlier ones.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Item {
    /// An upright rectangle.
    Rect {
        /// Where.
        area: Area,
        /// Its role.
        paint: Paint,
    },
    /// Straight lines that belong together, such as all fine ticks.
    Lines {
        /// From, to.
        segments: Vec<(Point, Point)>,
        /// Their role.
        paint: Paint,
    },
    /// One line with corners.
    Polyline {
        /// In order.
        points: Vec<Point>,
        /// Its role.
        paint: Paint,
    },
    /// One or more closed outlines that belong together, such as the strokes of a chalk mark.
    Polygon {
        /// Each in order, closed by itself.
        rings: Vec<Vec<Point>>,
        /// Their role.
        paint: Paint,
    },
    /// A disc.
    Circle {
        /// Its middle.
        centre: Point,
        /// Its radius.
        radius: Px,
        /// Its role.
        paint: Paint,
    },
    /// A thick line with round ends: an arm, a leg, a back.
    Limb {
        /// In order.
        points: Vec<Point>,
        /// How thick.
        width: Px,
        /// Its role.
        paint: Paint,
    },
    /// A line of text.
    Text(Label),
}

/// A finished drawing: its size in CSS pixels and what lies on it, from the back to the front.
///
/// All places are absolute, so the page draws it under `viewBox="0 0 width height"` and asks again
/// when its width or its text size changes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Drawing {
    /// The width that was asked for, or the least that can be drawn.
    pub width: Px,
    /// The height that was asked for, or the least that can be drawn.
    pub height: Px,
    /// From the back to the front.
    pub items: Vec<Item>,
}

/// How much room there is and how large text is.
///
/// The frame is what the page measured. A drawing never fails on it: too small a frame gives a
/// larger drawing, which the viewBox then shrinks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Frame {
    /// The width of the drawing.
    pub width: Px,
    /// The height of the drawing, from the upper edge of the plaster to the foot of the dado.
    pub height: Px,
    /// The size of the root font: 16 px as a rule, 32 px at 200 % text.
    pub font: Px,
}

impl Frame {
    /// A frame from whole pixels.
    pub const fn whole(width: i64, height: i64, font: i64) -> Self {
        Self { width: Px::whole(width), height: Px::whole(height), font: Px::whole(font) }
    }

    /// Thousandths of the root font size.
    pub fn rems(self, thousandths: i64) -> Px {
        self.font.part(thousandths, 1_000)
    }

    /// The frame brought into the range that can be drawn: text from 8 to 64 px, a width of 10
    /// times that and at least 160 px, at most 4 096 px, a height of at least `least_rem` thousandths of the font size.
    pub(super) fn drawable(self, least_rem: i64) -> Self {
        let font = self.font.clamp(Px::whole(8), Px::whole(64));
        let narrowest = font.part(10, 1).max(Px::whole(160));
        let width = self.width.clamp(narrowest, Px::whole(4_096));
        let least = font.part(least_rem, 1_000);
        let height = self.height.clamp(least, least.max(Px::whole(4_096)));
        Self { width, height, font }
    }
}

/// What is written: short building calls for the drawings of this room.
#[derive(Debug, Default)]
pub(super) struct Sketch {
    pub(super) items: Vec<Item>,
}

impl Sketch {
    pub(super) fn rect(&mut self, area: Area, paint: Paint) {
        self.items.push(Item::Rect { area, paint });
    }

    pub(super) fn line(&mut self, from: Point, to: Point, paint: Paint) {
        self.lines(vec![(from, to)], paint);
    }

    pub(super) fn across(&mut self, x1: Px, x2: Px, y: Px, paint: Paint) {
        self.line(Point::new(x1, y), Point::new(x2, y), paint);
    }

    pub(super) fn upright(&mut self, x: Px, y1: Px, y2: Px, paint: Paint) {
        self.line(Point::new(x, y1), Point::new(x, y2), paint);
    }

    pub(super) fn lines(&mut self, segments: Vec<(Point, Point)>, paint: Paint) {
        if !segments.is_empty() {
            self.items.push(Item::Lines { segments, paint });
        }
    }

    pub(super) fn polyline(&mut self, points: Vec<Point>, paint: Paint) {
        self.items.push(Item::Polyline { points, paint });
    }

    pub(super) fn polygon(&mut self, rings: Vec<Vec<Point>>, paint: Paint) {
        self.items.push(Item::Polygon { rings, paint });
    }

    pub(super) fn text(&mut self, at: Point, anchor: Anchor, size: Px, words: Words, text: &str) {
        if !text.is_empty() {
            let content = text.to_owned();
            self.items.push(Item::Text(Label { at, anchor, size, words, content }));
        }
    }

    pub(super) fn finish(self, frame: Frame) -> Drawing {
        Drawing { width: frame.width, height: frame.height, items: self.items }
    }
}

impl Item {
    /// The role of the item; a text has none.
    pub fn paint(&self) -> Option<Paint> {
        match self {
            Self::Rect { paint, .. }
            | Self::Lines { paint, .. }
            | Self::Polyline { paint, .. }
            | Self::Polygon { paint, .. }
            | Self::Circle { paint, .. }
            | Self::Limb { paint, .. } => Some(*paint),
            Self::Text(_) => None,
        }
    }

    /// The same item further to the right and down.
    #[must_use]
    pub fn moved(self, right: Px, down: Px) -> Self {
        let point = |point: Point| point.moved(right, down);
        let all = |points: Vec<Point>| points.into_iter().map(point).collect();
        match self {
            Self::Rect { area, paint } => {
                Self::Rect { area: Area { x: area.x + right, y: area.y + down, ..area }, paint }
            }
            Self::Lines { segments, paint } => {
                let moved = segments.into_iter().map(|(a, b)| (point(a), point(b)));
                Self::Lines { segments: moved.collect(), paint }
            }
            Self::Polyline { points, paint } => Self::Polyline { points: all(points), paint },
            Self::Polygon { rings, paint } => {
                Self::Polygon { rings: rings.into_iter().map(all).collect(), paint }
            }
            Self::Circle { centre, radius, paint } => {
                Self::Circle { centre: point(centre), radius, paint }
            }
            Self::Limb { points, width, paint } => Self::Limb { points: all(points), width, paint },
            Self::Text(label) => Self::Text(Label { at: point(label.at), ..label }),
        }
    }

    /// The smallest upright area around the item without the thickness of its lines; a text counts
    /// with its estimated width.
    pub fn area(&self) -> Area {
        match self {
            Self::Rect { area, .. } => *area,
            Self::Lines { segments, .. } => around(segments.iter().flat_map(|(a, b)| [*a, *b])),
            Self::Polyline { points, .. } | Self::Limb { points, .. } => {
                around(points.iter().copied())
            }
            Self::Polygon { rings, .. } => around(rings.iter().flatten().copied()),
            Self::Circle { centre, radius, .. } => {
                Area::between(centre.moved(-*radius, -*radius), centre.moved(*radius, *radius))
            }
            Self::Text(label) => label.area(),
        }
    }
}

fn around(points: impl Iterator<Item = Point>) -> Area {
    let mut corners: Option<(Point, Point)> = None;
    for point in points {
        let (low, high) = corners.unwrap_or((point, point));
        corners = Some((
            Point::new(low.x.min(point.x), low.y.min(point.y)),
            Point::new(high.x.max(point.x), high.y.max(point.y)),
        ));
    }
    corners.map_or_else(Area::default, |(low, high)| Area::between(low, high))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(x: i64, y: i64) -> Point {
        Point::new(Px::whole(x), Px::whole(y))
    }

    #[test]
    fn neighbours_that_share_an_edge_do_not_overlap() {
        let left = Area::between(at(0, 0), at(10, 10));
        assert!(!left.overlaps(Area::between(at(10, 0), at(20, 10))));
        assert!(left.overlaps(Area::between(at(9, 9), at(20, 20))));
    }

    #[test]
    fn an_item_knows_its_area() {
        let rings = vec![vec![at(3, 4), at(9, 1)], vec![at(-2, 7)]];
        let area = Item::Polygon { rings, paint: Paint::Wall }.area();
        assert_eq!(area, Area::between(at(-2, 1), at(9, 7)));
    }

    #[test]
    fn an_absurd_frame_becomes_drawable() {
        let frame = Frame::whole(i64::MAX, -5, 0).drawable(22_000);
        assert_eq!(frame, Frame::whole(4_096, 176, 8));
    }
}
