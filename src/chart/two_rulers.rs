//! The drawings of time in the air: where the camera stands, and one jump by two rulers.

use super::lettering::fitting;
use super::scene::Sketch;
use super::{Anchor, Area, Drawing, Frame, Item, Paint, Point, Px, Words};
use crate::quantity::Length;

/// One bar of the picture.
#[derive(Clone, Copy)]
pub struct RulerBar<'a> {
    /// The usual jump by this ruler.
    pub usual: Length,
    /// The same as it is written.
    pub number: &'a str,
    /// The ruler's name.
    pub name: &'a str,
}

/// Everything the picture of both rulers needs.
#[derive(Clone, Copy)]
pub struct TwoRulers<'a> {
    /// The room.
    pub frame: Frame,
    /// By the wall: from standing with the heels down.
    pub wall: RulerBar<'a>,
    /// By time in the air: from take-off, already on the toes.
    pub clock: RulerBar<'a>,
    /// What the body rises before take-off, as it is written.
    pub rise: &'a str,
}

/// Both bars hang from one top, since the body's highest point is the same: the wall's ruler begins
/// lower, at standing height. The part that only the wall counts is dimensioned beside them.
pub fn two_rulers(picture: &TwoRulers<'_>) -> Drawing {
    let frame = picture.frame.drawable(12_000);
    let mut sketch = Sketch::default();
    let corner = Point::new(frame.width, frame.height);
    sketch.rect(Area::between(Point::default(), corner), Paint::Wall);
    let (top, bottom) = (frame.rems(1_000), frame.height - frame.rems(2_000));
    let most = picture.wall.usual.max(picture.clock.usual).max(Length::from_mm(10));
    let tall = |usual: Length| {
        (bottom - top).part(usual.max(Length::ZERO).as_micrometres(), most.as_micrometres())
    };
    let column = frame.width.part(1, 3);
    let size = frame.rems(1_063);
    let feet = [picture.wall, picture.clock].map(|bar| top + tall(bar.usual));
    for (at, (bar, foot)) in [picture.wall, picture.clock].into_iter().zip(feet).enumerate() {
        let left = column.part(i64::try_from(at).unwrap_or(0), 1) + frame.rems(500);
        let right = left + column - frame.rems(1_000);
        let area = Area::between(Point::new(left, top), Point::new(right, foot));
        sketch.rect(area, if at == 0 { Paint::StripPlain } else { Paint::StripSolid });
        let middle = left + area.width.half();
        let words = if at == 0 { Words::Plain } else { Words::OnTag };
        if let Some(size) = fitting(bar.number, size, frame.rems(650), area.width) {
            let at = Point::new(middle, top + area.height.half() + size.part(36, 100));
            if area.height > size.part(3, 2) {
                sketch.text(at, Anchor::Middle, size, words, bar.number);
            }
        }
        if let Some(size) = fitting(bar.name, size, frame.rems(650), column) {
            let at = Point::new(middle, frame.height - frame.rems(600));
            sketch.text(at, Anchor::Middle, size, Words::Strong, bar.name);
        }
    }
    let [wall, clock] = feet;
    let x = column.part(2, 1) + frame.rems(250);
    sketch.across(frame.rems(500), frame.width - frame.rems(500), top, Paint::MarkLineDotted);
    sketch.upright(x, clock.min(wall), clock.max(wall), Paint::Dimension);
    for y in [clock, wall] {
        let reach = frame.rems(300);
        let from = Point::new(x - reach, y + reach);
        sketch.line(from, Point::new(x + reach, y - reach), Paint::Slash);
    }
    let room = frame.width - x - frame.rems(900);
    if let Some(size) = fitting(picture.rise, size, frame.rems(650), room) {
        let y = clock.min(wall) + (clock.max(wall) - clock.min(wall)).half() + size.part(36, 100);
        let at = Point::new(x + frame.rems(600), y);
        sketch.text(at, Anchor::Start, size, Words::Strong, picture.rise);
    }
    sketch.finish(frame)
}

/// Everything the picture of the camera's place needs.
#[derive(Clone, Copy)]
pub struct FilmPlace<'a> {
    /// The room.
    pub frame: Frame,
    /// How far the camera stands away, as it is written.
    pub distance: &'a str,
}

/// The camera leans on something low, still, at the height of the feet; feet and floor are in its
/// picture.
pub fn film_place(place: &FilmPlace<'_>) -> Drawing {
    let frame = place.frame.drawable(8_000);
    let mut sketch = Sketch::default();
    let floor = frame.height - frame.rems(2_250);
    let x = |percent: i64| frame.width.part(percent, 100);
    let up = |thousandths: i64| floor - frame.rems(thousandths);
    let rect = |left: i64, right: i64, low: i64, high: i64| {
        Area::between(Point::new(x(left), up(low)), Point::new(x(right), up(high)))
    };
    sketch.across(x(2), x(98), floor, Paint::Floor);
    // A book to lean on, and the camera.
    sketch.rect(rect(5, 11, 0, 1_500), Paint::StripPlain);
    sketch.rect(rect(11, 13, 0, 2_250), Paint::StripSolid);
    let eye = Point::new(x(13), up(1_250));
    for (at, height) in [(96, 100), (96, 5_000)] {
        sketch.line(eye, Point::new(x(at), up(height)), Paint::MarkLineDotted);
    }
    // Both feet off the floor, toes down.
    for (left, paint) in [(78, Paint::BodyFar), (72, Paint::Body)] {
        let spots = [(left, 4_500), (left, 1_900), (left + 7, 1_100)];
        let points = spots.map(|(at, height)| Point::new(x(at), up(height))).to_vec();
        sketch.items.push(Item::Limb { points, width: frame.rems(700), paint });
    }
    let line = floor + frame.rems(750);
    sketch.across(x(13), x(75), line, Paint::Dimension);
    for at in [13, 75] {
        let reach: Px = frame.rems(300);
        let from = Point::new(x(at) - reach, line + reach);
        sketch.line(from, Point::new(x(at) + reach, line - reach), Paint::Slash);
    }
    let size = fitting(place.distance, frame.rems(1_000), frame.rems(650), x(60));
    if let Some(size) = size {
        let at = Point::new(x(44), frame.height - frame.rems(300));
        sketch.text(at, Anchor::Middle, size, Words::Strong, place.distance);
    }
    sketch.finish(frame)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn picture(width: i64, wall_mm: i64, clock_mm: i64) -> Drawing {
        let bar = |mm, number| RulerBar { usual: Length::from_mm(mm), number, name: "At the wall" };
        two_rulers(&TwoRulers {
            frame: Frame::whole(width, 320, 16),
            wall: bar(wall_mm, "41.0 cm"),
            clock: bar(clock_mm, "30.5 cm"),
            rise: "10.5 cm",
        })
    }

    fn area(drawing: &Drawing, paint: Paint) -> Area {
        let mut found = drawing.items.iter().filter(|item| item.paint() == Some(paint));
        found.next().map(Item::area).unwrap()
    }

    #[test]
    fn bars_hang_from_one_top_and_keep_their_proportion() {
        for width in [200, 320, 390, 900] {
            let drawing = picture(width, 410, 305);
            let (wall, clock) =
                (area(&drawing, Paint::StripPlain), area(&drawing, Paint::StripSolid));
            assert_eq!(wall.y, clock.y);
            let (wall_high, clock_high) =
                (wall.height.as_hundredths(), clock.height.as_hundredths());
            assert!((clock_high * 410 - wall_high * 305).abs() <= 410, "{width}");
            let rise = area(&drawing, Paint::Dimension);
            assert_eq!((rise.y, rise.bottom()), (clock.bottom(), wall.bottom()));
            assert!(!wall.overlaps(clock) && !clock.overlaps(rise));
        }
    }

    #[test]
    fn a_wall_lower_than_the_clock_is_drawn_as_it_is() {
        let drawing = picture(390, 300, 320);
        let (wall, clock) = (area(&drawing, Paint::StripPlain), area(&drawing, Paint::StripSolid));
        assert!(wall.bottom() < clock.bottom());
    }

    #[test]
    fn words_stay_on_the_drawings() {
        for (width, font) in [(200, 16), (320, 16), (320, 32), (900, 18)] {
            let frame = Frame::whole(width, 220, font);
            let place = film_place(&FilmPlace { frame, distance: "2 to 3 m" });
            for drawing in [place, picture(width, 410, 305)] {
                for item in &drawing.items {
                    if let Item::Text(label) = item {
                        let area = label.area();
                        let inside = area.x >= Px::ZERO && area.right() <= drawing.width;
                        assert!(inside && area.bottom() <= drawing.height, "{label:?}");
                    }
                }
            }
        }
    }
}
