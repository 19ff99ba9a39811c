//! The jump as a strip of pictures side by side, which the page pulls past a window frame by frame.

use super::figure::Shot;
use super::pose::{Body, DIP, FRONT, JUMP, LAND, PEAK, READY, RISE, STAND};
use super::{Drawing, Frame, Px};

/// How a stretch of the jump goes on in time.
#[derive(Clone, Copy)]
enum Pace {
    /// Evenly.
    Even,
    /// Slower and slower, as going up against gravity.
    Rising,
    /// Faster and faster, as falling.
    Falling,
}

/// One stretch: from a body to a body in so many frames.
struct Stretch {
    from: Body,
    to: Body,
    frames: u16,
    pace: Pace,
    /// Whether the reach mark and the jump mark are on the wall.
    marks: (bool, bool),
}

const fn stretch(from: Body, to: Body, frames: u16, pace: Pace, marks: (bool, bool)) -> Stretch {
    Stretch { from, to, frames, pace, marks }
}

/// The whole jump: it ends in the body in which it begins, so that it can go round. Slower than
/// life, so that the eye can follow; the numbers of frames are a design choice.
const JUMP_STRETCHES: [Stretch; 11] = [
    stretch(READY, FRONT, 2, Pace::Even, (false, false)),
    stretch(FRONT, STAND, 2, Pace::Even, (false, false)),
    stretch(STAND, STAND, 5, Pace::Even, (true, false)),
    stretch(STAND, FRONT, 2, Pace::Even, (true, false)),
    stretch(FRONT, READY, 2, Pace::Even, (true, false)),
    stretch(READY, DIP, 4, Pace::Rising, (true, false)),
    stretch(DIP, RISE, 2, Pace::Falling, (true, false)),
    stretch(RISE, JUMP, 2, Pace::Even, (true, false)),
    stretch(JUMP, PEAK, 5, Pace::Rising, (true, false)),
    stretch(PEAK, LAND, 7, Pace::Falling, (true, true)),
    stretch(LAND, READY, 5, Pace::Even, (true, true)),
];

/// How many pictures the strip has.
pub const FILM_FRAMES: u16 = {
    let mut frames = 0;
    let mut at = 0;
    while at < JUMP_STRETCHES.len() {
        // A counter in a constant: there is no iterator here.
        #[expect(clippy::indexing_slicing, reason = "in range, and checked when compiling")]
        {
            frames += JUMP_STRETCHES[at].frames;
        }
        at += 1;
    }
    frames
};

/// The jump from the reach to the landing, [`FILM_FRAMES`] pictures of `frame` side by side.
///
/// `is_mirrored` is for the left hand. Shown through a window of one frame's width that moves by
/// whole frames, it is a moving picture.
pub fn film(is_mirrored: bool, frame: Frame) -> Drawing {
    let mut items = Vec::new();
    let mut count = 0;
    let mut size = (frame.width, frame.height);
    for stretch in &JUMP_STRETCHES {
        for at in 0..stretch.frames {
            let way = paced(i64::from(at) * 1_000 / i64::from(stretch.frames), stretch.pace);
            let shot = Shot { from: stretch.from, to: stretch.to, way, marks: stretch.marks };
            let drawing = shot.draw(is_mirrored, frame);
            size = (drawing.width, drawing.height);
            let right = drawing.width.part(count, 1);
            items.extend(drawing.items.into_iter().map(|item| item.moved(right, Px::ZERO)));
            count += 1;
        }
    }
    Drawing { width: size.0.part(count, 1), height: size.1, items }
}

/// The way gone at a time, both in thousandths. Up and down follow the square of the time, as a
/// free fall does.
const fn paced(time: i64, pace: Pace) -> i64 {
    match pace {
        Pace::Even => time,
        Pace::Rising => 1_000 - (1_000 - time) * (1_000 - time) / 1_000,
        Pace::Falling => time * time / 1_000,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_stretch_begins_where_the_last_one_ended() {
        let spot = |body: Body| format!("{body:?}");
        for pair in JUMP_STRETCHES.windows(2) {
            assert_eq!(spot(pair[0].to), spot(pair[1].from));
        }
        assert_eq!(spot(JUMP_STRETCHES[0].from), spot(JUMP_STRETCHES[10].to));
    }

    #[test]
    fn a_fall_is_slow_at_its_top() {
        let way = |time| paced(time, Pace::Falling);
        assert_eq!([way(0), way(500), way(1_000)], [0, 250, 1_000]);
        let way = |time| paced(time, Pace::Rising);
        assert_eq!([way(0), way(500), way(1_000)], [0, 750, 1_000]);
    }
}
