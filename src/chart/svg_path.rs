use super::{Point, Px};
use std::fmt::Write;

/// The `d` of open lines that belong together: `M0 10H40` for level lines, `M5 0V20` for upright
/// ones, `M0 0L4 4` for the rest.
///
/// ```
/// use two_marks::chart::{Point, Px, lines_path};
/// let at = |x, y| Point::new(Px::whole(x), Px::whole(y));
/// assert_eq!(lines_path(&[(at(0, 10), at(40, 10)), (at(0, 0), at(4, 4))]), "M0 10H40M0 0L4 4");
/// ```
pub fn lines_path(segments: &[(Point, Point)]) -> String {
    let mut d = String::new();
    for (from, to) in segments {
        move_to(&mut d, *from);
        line_to(&mut d, *from, *to);
    }
    d
}

/// The `d` of one line with corners.
pub fn polyline_path(points: &[Point]) -> String {
    let mut d = String::new();
    let mut pen: Option<Point> = None;
    for point in points {
        match pen {
            None => move_to(&mut d, *point),
            Some(from) => line_to(&mut d, from, *point),
        }
        pen = Some(*point);
    }
    d
}

/// The `d` of closed outlines.
pub fn polygon_path(rings: &[Vec<Point>]) -> String {
    let mut d = String::new();
    for ring in rings.iter().filter(|ring| !ring.is_empty()) {
        d.push_str(&polyline_path(ring));
        d.push('Z');
    }
    d
}

// Writing to a String cannot fail, so the results of `write!` carry nothing.
fn move_to(d: &mut String, to: Point) {
    let _ = write!(d, "M{} {}", to.x, to.y);
}

fn line_to(d: &mut String, from: Point, to: Point) {
    let _ = match (from.x == to.x, from.y == to.y) {
        (_, true) => write!(d, "H{}", to.x),
        (true, false) => write!(d, "V{}", to.y),
        _ => write!(d, "L{} {}", to.x, to.y),
    };
}

/// The two numbers of a `viewBox` that starts at 0 0.
pub(super) fn view_box(width: Px, height: Px) -> String {
    format!("0 0 {width} {height}")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(x: i64, y: i64) -> Point {
        Point::new(Px::hundredths(x), Px::hundredths(y))
    }

    #[test]
    fn paths_are_short() {
        let ring = vec![at(0, 0), at(100, 0), at(100, 250), at(-50, 125)];
        assert_eq!(polygon_path(&[ring, Vec::new()]), "M0 0H1V2.5L-0.5 1.25Z");
        assert_eq!(polyline_path(&[]), "");
    }

    #[test]
    fn a_line_without_length_is_still_a_line() {
        assert_eq!(polyline_path(&[at(300, 400), at(300, 400)]), "M3 4H3");
    }
}
