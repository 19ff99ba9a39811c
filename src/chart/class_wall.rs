use super::scene::Sketch;
use super::steel::{Steel, measure_rem};
use super::{Anchor, Area, Drawing, Frame, Paint, Point, Px, Scale, Words, chalk, estimated_width};
use crate::quantity::{Length, Unit};

/// One pupil, without a name and without a number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Brick {
    /// The jump height.
    pub height: Length,
    /// Whether the result carries a flag.
    pub is_flagged: bool,
}

/// The middle of the class and its quarters.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Middle<'a> {
    /// Half of the class jumps higher than this.
    pub median: Length,
    /// The lower and the upper quartile, to be left out where the class is small.
    pub quartiles: Option<(Length, Length)>,
    /// The word for the middle.
    pub word: &'a str,
    /// The height of the middle as it is written.
    pub number: &'a str,
}

/// One published band behind the bricks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct WallBand<'a> {
    /// Its lower edge.
    pub from: Length,
    /// Its upper edge; the highest is open.
    pub to: Option<Length>,
    /// What it says: its place among the bands, never a judgement.
    pub label: &'a str,
}

/// Everything the wall of a class needs.
#[derive(Clone, Copy)]
pub struct ClassWall<'a> {
    /// The room. Design choice: never lower than 18 times the root font size.
    pub frame: Frame,
    /// The unit of the measure and of the courses.
    pub unit: Unit,
    /// The results in any order.
    pub bricks: &'a [Brick],
    /// The middle.
    pub middle: Option<Middle<'a>>,
    /// Published bands, lowest first; none without an age group and a table.
    pub bands: &'a [WallBand<'a>],
    /// Writes a number on the measure.
    pub tick_label: &'a dyn Fn(Length) -> String,
    /// Writes how many bricks a course has.
    pub count_label: &'a dyn Fn(usize) -> String,
}

/// Below this many results there is no picture, since a brick would be a person. Design choice.
pub const FEWEST_BRICKS: usize = 8;

/// The bricks between two heights.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Course {
    /// The lower edge; a result on it belongs to this course.
    pub from: Length,
    /// The upper edge; a result on it belongs to the next course.
    pub to: Length,
    /// How many results without a flag.
    pub plain: usize,
    /// How many with one.
    pub flagged: usize,
}

impl Course {
    /// How many results in all.
    pub const fn count(self) -> usize {
        self.plain + self.flagged
    }
}

/// The courses of a class from low to high: 2.5 cm or 1 in each, empty ones between others kept.
///
/// A lowest or highest course with a single result is merged with its neighbours until it has two,
/// so that nobody stands alone at an end.
pub fn courses(bricks: &[Brick], unit: Unit) -> Vec<Course> {
    let step = match unit {
        Unit::Centimetre => Length::from_mm(25),
        Unit::Inch => Length::from_inch_eighths(8),
    };
    let course = |brick: &Brick| {
        // Heights are bounded where they are typed; beyond that they count as the bound.
        let height = brick.height.clamp(Length::ZERO, Length::from_mm(5_000));
        height.as_micrometres().div_euclid(step.as_micrometres())
    };
    let (Some(low), Some(high)) =
        (bricks.iter().map(course).min(), bricks.iter().map(course).max())
    else {
        return Vec::new();
    };
    let count = |index, is_flagged| {
        let here = |brick: &&Brick| course(brick) == index && brick.is_flagged == is_flagged;
        bricks.iter().filter(here).count()
    };
    let whole = |index: i64| Course {
        from: step.times(index),
        to: step.times(index + 1),
        plain: count(index, false),
        flagged: count(index, true),
    };
    let rising: Vec<Course> = (low..=high).map(whole).collect();
    let mut rest = without_lone_end(rising);
    rest.reverse();
    rest = without_lone_end(rest);
    rest.reverse();
    rest
}

/// Merges the first course with those after it until it has two results.
fn without_lone_end(courses: Vec<Course>) -> Vec<Course> {
    let mut merged: Vec<Course> = Vec::new();
    for course in courses {
        let is_end = merged.len() == 1;
        match merged.last_mut() {
            Some(end) if is_end && end.count() < 2 => {
                *end = Course {
                    from: end.from.min(course.from),
                    to: end.to.max(course.to),
                    plain: end.plain + course.plain,
                    flagged: end.flagged + course.flagged,
                };
            }
            _ => merged.push(course),
        }
    }
    merged
}

struct Plan {
    frame: Frame,
    scale: Scale,
    measure: Px,
    brick: Px,
    tag: Px,
    /// The room for what the bands are called, left of the tag's own lines.
    names: Px,
}

/// A class laid in bricks, one for each result: running bond, flagged ones hatched and last, the
/// count after each course, a tag at the middle. `None` below [`FEWEST_BRICKS`] results.
pub fn class_wall(wall: &ClassWall<'_>) -> Option<Drawing> {
    if wall.bricks.len() < FEWEST_BRICKS {
        return None;
    }
    let courses = courses(wall.bricks, wall.unit);
    let plan = plan(wall, &courses)?;
    let frame = plan.frame;
    let mut sketch = Sketch::default();
    let corner = Point::new(frame.width, frame.height);
    sketch.rect(Area::between(Point::default(), corner), Paint::Wall);
    bands(&mut sketch, &plan, wall);
    for (index, course) in courses.iter().enumerate() {
        lay(&mut sketch, &plan, wall, index, *course);
    }
    if let Some(middle) = wall.middle {
        tag(&mut sketch, &plan, middle, &courses);
    }
    let (width, label) = (plan.measure, wall.tick_label);
    let steel = Steel { frame, width, scale: plan.scale, unit: wall.unit, label };
    steel.draw(&mut sketch, Px::ZERO, frame.height);
    Some(sketch.finish(frame))
}

fn plan(wall: &ClassWall<'_>, courses: &[Course]) -> Option<Plan> {
    let frame = wall.frame.drawable(18_000);
    let (low, high) = (courses.first()?.from, courses.last()?.to);
    let rooms = (frame.rems(500), frame.rems(500));
    let scale = Scale::padded((low, high), Length::from_mm(10), rooms, (Px::ZERO, frame.height));
    let measure = frame.rems(measure_rem(frame));
    let plot = frame.width - measure;
    let words = wall.middle.map_or(Px::ZERO, |middle| {
        let word = estimated_width(middle.word, frame.rems(938));
        word.max(estimated_width(middle.number, frame.rems(1_063))) + frame.rems(1_000)
    });
    // The tag takes no more than two fifths; what it holds shrinks first.
    let tag = words.min(plot.part(2, 5));
    let longest = courses.iter().map(|course| course.count()).max()?;
    let longest = i64::try_from(longest).unwrap_or(i64::MAX);
    let quartiles = frame.rems(1_250);
    let widest = wall.bands.iter().map(|band| estimated_width(band.label, frame.rems(813))).max();
    let names = widest.map_or(Px::ZERO, |wide| (wide + frame.rems(500)).min(plot.part(1, 4)));
    let free = plot - tag - quartiles - names - frame.rems(2_250);
    // Half a brick for the running bond.
    let brick = free.part(2, longest.saturating_mul(2).saturating_add(1));
    let brick = brick.clamp(Px::whole(3), frame.rems(2_250));
    Some(Plan { frame, scale, measure, brick, tag, names })
}

/// Every second band is a shade darker and thin lines part them, as behind a season. A band that is
/// too low for its name, or too narrow, goes without.
fn bands(sketch: &mut Sketch, plan: &Plan, wall: &ClassWall<'_>) {
    let frame = plan.frame;
    let median = wall.middle.map(|middle| plan.scale.y(middle.median));
    let (left, right) = (plan.measure, frame.width);
    let size = frame.rems(813);
    for (place, band) in wall.bands.iter().enumerate() {
        let lower = plan.scale.y(band.from).clamp(Px::ZERO, frame.height);
        let upper = band.to.map_or(Px::ZERO, |to| plan.scale.y(to)).clamp(Px::ZERO, frame.height);
        if upper >= lower {
            continue;
        }
        if place % 2 == 1 {
            let corner = Point::new(right, lower);
            sketch.rect(Area::between(Point::new(left, upper), corner), Paint::Band);
        }
        if band.to.is_some() && upper > Px::ZERO {
            sketch.across(left, right, upper, Paint::BandEdge);
        }
        let wide = estimated_width(band.label, size);
        if lower - upper >= size.part(13, 10) && wide <= plan.names {
            let x = frame.width - plan.tag - frame.rems(1_250) - plan.names;
            // Beside the line of the middle, not on it.
            let free =
                |y: &Px| median.is_none_or(|line| line < *y - size || *y + size.part(1, 4) < line);
            let middle = upper + (lower - upper).half() + size.part(36, 100);
            let places = [middle, upper + size.part(11, 10), lower - size.part(3, 10)];
            if let Some(y) = places.into_iter().find(free) {
                sketch.text(Point::new(x, y), Anchor::Start, size, Words::OnBand, band.label);
            }
        }
    }
}

fn lay(sketch: &mut Sketch, plan: &Plan, wall: &ClassWall<'_>, index: usize, course: Course) {
    let (frame, count) = (plan.frame, course.count());
    if count == 0 {
        return;
    }
    let seam = Px::whole(if plan.brick < Px::whole(12) { 1 } else { 2 });
    let bond = if index % 2 == 1 { plan.brick.half() } else { Px::ZERO };
    let mut left = plan.measure + frame.rems(375) + bond;
    let (upper, lower) = (plan.scale.y(course.to), plan.scale.y(course.from));
    for number in 0..count {
        let corner = Point::new(left + plan.brick - seam, lower - Px::whole(1));
        let area = Area::between(Point::new(left + seam, upper + Px::whole(1)), corner);
        if number < course.plain {
            sketch.rect(area, Paint::Brick);
        } else {
            sketch.rect(area, Paint::BrickFlagged);
            sketch.rect(area, Paint::Hatch);
        }
        left = left + plan.brick;
    }
    let size = frame.rems(938).min((lower - upper).part(9, 10));
    if size >= frame.rems(650) {
        let at =
            Point::new(left + frame.rems(375), upper + (lower - upper).half() + size.part(36, 100));
        sketch.text(at, Anchor::Start, size, Words::Strong, &(wall.count_label)(count));
    }
}

/// The tag at the median, a dashed line from its course, and the quartiles as a dimension line.
fn tag(sketch: &mut Sketch, plan: &Plan, middle: Middle<'_>, courses: &[Course]) {
    let frame = plan.frame;
    // A middle that does not belong to these bricks still stays on the drawing.
    let air = frame.rems(500);
    let on_wall = |height| plan.scale.y(height).clamp(air, frame.height - air);
    let y = on_wall(middle.median);
    let left = frame.width - plan.tag;
    let post = left - frame.rems(625);
    let here = courses.iter().position(|c| c.from <= middle.median && middle.median < c.to);
    let row = here.and_then(|index| courses.get(index)).map_or(0, |course| course.count());
    let bricks = i64::try_from(row).unwrap_or(0).saturating_mul(2).saturating_add(1);
    let start = plan.measure + plan.brick.part(bricks, 2) + frame.rems(2_000);
    sketch.across(start.min(post), left, y, Paint::Median);
    if let Some((lower, upper)) = middle.quartiles {
        let (upper, lower) = (on_wall(upper), on_wall(lower));
        sketch.upright(post, upper, lower, Paint::Quartile);
        for y in [upper, lower] {
            chalk::slash(sketch, Point::new(post, y), frame, Paint::Slash);
        }
    }
    let room = plan.tag - frame.rems(500);
    let fit = |text, rem| super::lettering::fitting(text, frame.rems(rem), frame.rems(750), room);
    let rows: Vec<(Px, &str, Words)> = [
        (fit(middle.word, 938), middle.word, Words::OnTagSoft),
        (fit(middle.number, 1_063), middle.number, Words::OnTag),
    ]
    .into_iter()
    .filter_map(|(size, text, words)| Some((size?, text, words)))
    .filter(|(_, text, _)| !text.is_empty())
    .collect();
    let step = |size: Px| size.part(125, 100);
    let tall = rows.iter().fold(frame.rems(500), |sum, (size, ..)| sum + step(*size));
    let top = (y - tall.half()).max(Px::ZERO).min(frame.height - tall);
    let box_corner = Point::new(frame.width, top + tall);
    sketch.rect(Area::between(Point::new(left, top), box_corner), Paint::Tag);
    let mut baseline = top + frame.rems(150);
    for (size, text, words) in rows {
        baseline = baseline + step(size);
        let at = Point::new(left + frame.rems(300), baseline);
        sketch.text(at, Anchor::Start, size, words, text);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn bricks(mm: &[i64]) -> Vec<Brick> {
        let brick = |mm: &i64| Brick { height: Length::from_mm(*mm), is_flagged: false };
        mm.iter().map(brick).collect()
    }

    fn counts(mm: &[i64]) -> Vec<(f64, f64, usize)> {
        let row = |course: Course| (course.from.as_cm(), course.to.as_cm(), course.count());
        courses(&bricks(mm), Unit::Centimetre).into_iter().map(row).collect()
    }

    #[test]
    fn a_result_on_an_edge_belongs_to_the_upper_course() {
        assert_eq!(counts(&[249, 249, 250, 260]), [(22.5, 25.0, 2), (25.0, 27.5, 2)]);
    }

    #[test]
    fn nobody_stands_alone_at_an_end() {
        let class = [200, 260, 261, 300, 301, 302, 340, 400];
        let merged = [(20.0, 27.5, 3), (27.5, 30.0, 0), (30.0, 32.5, 3), (32.5, 42.5, 2)];
        assert_eq!(counts(&class), merged);
    }

    proptest! {
        #[test]
        fn every_result_is_laid_once(mm in proptest::collection::vec(0i64..900, 2..60)) {
            for unit in [Unit::Centimetre, Unit::Inch] {
                let all = courses(&bricks(&mm), unit);
                prop_assert_eq!(all.iter().map(|c| c.count()).sum::<usize>(), mm.len());
                prop_assert!(all[0].count() >= 2 && all[all.len() - 1].count() >= 2);
                prop_assert!(all.windows(2).all(|pair| pair[0].to == pair[1].from));
            }
        }
    }
}
