//! A closer look at a film's picture: how many times, and at which part.

/// Places across and down a picture. Design choice: at four times, neighbouring parts overlap.
const PLACES_MAX: u8 = 4;

/// How closely a picture is looked at, and where. It begins at the middle of the lower edge, where
/// the feet should be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Closer {
    /// How many times larger than whole: 1 shows all of it.
    pub times: u8,
    /// From the left edge, 0, to the right edge, 4.
    pub across: u8,
    /// From the upper edge, 0, to the lower edge, 4.
    pub down: u8,
}

/// Which way the part that is looked at moves.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// To the left.
    Left,
    /// To the right.
    Right,
    /// Up.
    Up,
    /// Down.
    Down,
}

impl Default for Closer {
    fn default() -> Self {
        Self { times: 1, across: PLACES_MAX / 2, down: PLACES_MAX }
    }
}

impl Closer {
    /// One place further; it stays where the picture ends.
    ///
    /// ```
    /// use two_marks::measure::{Closer, Way};
    /// let right = Closer::default().moved(Way::Right);
    /// assert_eq!((right.across, right.down), (3, 4));
    /// assert_eq!(right.moved(Way::Down), right);
    /// ```
    #[must_use]
    pub fn moved(self, way: Way) -> Self {
        let on = |place: u8| place.saturating_add(1).min(PLACES_MAX);
        match way {
            Way::Left => Self { across: self.across.saturating_sub(1), ..self },
            Way::Right => Self { across: on(self.across), ..self },
            Way::Up => Self { down: self.down.saturating_sub(1), ..self },
            Way::Down => Self { down: on(self.down), ..self },
        }
    }

    /// The part of a picture that fills a place with these sides: left, top, width and height, in the
    /// picture's pixels. What has another shape than the place is cut, never stretched.
    pub fn part(self, picture: (f64, f64), place: (f64, f64)) -> [f64; 4] {
        let scale = (place.0 / picture.0).max(place.1 / picture.1) * f64::from(self.times.max(1));
        let (wide, high) = (place.0 / scale, place.1 / scale);
        let at = |spare: f64, step: u8| spare * f64::from(step) / f64::from(PLACES_MAX);
        [at(picture.0 - wide, self.across), at(picture.1 - high, self.down), wide, high]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const WAYS: [(Way, Way); 2] = [(Way::Left, Way::Right), (Way::Up, Way::Down)];

    #[test]
    fn at_first_the_lower_edge_is_shown_as_large_as_it_fits() {
        let part = |picture| {
            Closer::default().part(picture, (96.0, 72.0)).map(|side| format!("{side:.2}")).join(" ")
        };
        assert_eq!(part((160.0, 120.0)), "0.00 0.00 160.00 120.00");
        // Wide films lose their sides, tall ones their upper part.
        assert_eq!(part((1920.0, 1080.0)), "240.00 0.00 1440.00 1080.00");
        assert_eq!(part((1080.0, 1920.0)), "0.00 1110.00 1080.00 810.00");
    }

    #[test]
    fn every_part_of_a_picture_can_be_reached_and_none_beyond() {
        for (picture, times) in
            [((1920.0, 1080.0), 2), ((1920.0, 1080.0), 4), ((1080.0, 1920.0), 4)]
        {
            for (back, on) in WAYS {
                let mut at = Closer { times, ..Closer::default() };
                for _ in 0..9 {
                    at = at.moved(back);
                }
                let side = |at: Closer| {
                    let [left, top, wide, high] = at.part(picture, picture);
                    if on == Way::Right { (left, left + wide) } else { (top, top + high) }
                };
                let (first, mut seen_to) = side(at);
                assert!(first.abs() < 1e-9, "{first}");
                for _ in 0..9 {
                    at = at.moved(on);
                    let (from, to) = side(at);
                    assert!(from <= seen_to + 1e-9, "a gap at {from}, seen to {seen_to}");
                    seen_to = to;
                }
                let end = if on == Way::Right { picture.0 } else { picture.1 };
                assert!((seen_to - end).abs() < 1e-9, "{seen_to} of {end}");
            }
        }
    }

    #[test]
    fn a_move_goes_one_place_and_stops_at_the_edge() {
        let at = |across, down| Closer { times: 3, across, down };
        assert_eq!(at(2, 2).moved(Way::Left), at(1, 2));
        assert_eq!(at(2, 2).moved(Way::Right), at(3, 2));
        assert_eq!(at(2, 2).moved(Way::Up), at(2, 1));
        assert_eq!(at(2, 2).moved(Way::Down), at(2, 3));
        assert_eq!((at(0, 4).moved(Way::Left), at(0, 4).moved(Way::Down)), (at(0, 4), at(0, 4)));
        assert_eq!((at(4, 0).moved(Way::Right), at(4, 0).moved(Way::Up)), (at(4, 0), at(4, 0)));
    }

    #[test]
    fn twice_as_close_shows_half_of_each_side() {
        let close = Closer { times: 2, ..Closer::default() };
        let part = close.part((160.0, 120.0), (80.0, 60.0)).map(|side| format!("{side:.2}"));
        assert_eq!(part.join(" "), "40.00 60.00 80.00 60.00");
    }
}
