use super::px::divide;
use super::{Frame, Px};
use crate::quantity::{Length, Unit};

/// True height: a linear map from a stretch of wall to a stretch of the drawing, and back.
///
/// `y(h) = (high - h) / (high - low)` of the way from `top` down to `bottom`.
///
/// ```
/// use two_marks::chart::{Px, Scale};
/// use two_marks::quantity::Length;
/// let scale = Scale::new(Length::ZERO, Length::from_mm(500), Px::ZERO, Px::whole(100));
/// assert_eq!(scale.y(Length::from_mm(500)), Px::ZERO);
/// assert_eq!(scale.height_at(Px::whole(50)), Length::from_mm(250));
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Scale {
    low: Length,
    high: Length,
    top: Px,
    bottom: Px,
}

impl Scale {
    /// The stretch of wall from `low` to `high` on the drawing from `bottom` up to `top`. An empty
    /// stretch of either becomes one millimetre or one pixel.
    pub fn new(low: Length, high: Length, top: Px, bottom: Px) -> Self {
        let high = high.max(low + Length::from_mm(1));
        let bottom = bottom.max(top + Px::whole(1));
        Self { low, high, top, bottom }
    }

    /// The scale that shows `low` to `high` with `air` of wall beyond both, and at least `above`
    /// and `below` of drawing there.
    pub(super) fn padded(
        (low, high): (Length, Length),
        air: Length,
        (above, below): (Px, Px),
        (top, bottom): (Px, Px),
    ) -> Self {
        let scale = Self::new(low - air, high + air, top, bottom);
        if scale.y(high) - top >= above && bottom - scale.y(low) >= below {
            return scale;
        }
        let inner = Self::new(low, high.max(low + Length::from_mm(2)), top + above, bottom - below);
        Self::new(inner.height_at(bottom), inner.height_at(top), top, bottom)
    }

    /// The lower end of the wall that is drawn.
    pub const fn low(self) -> Length {
        self.low
    }

    /// The upper end of the wall that is drawn.
    pub const fn high(self) -> Length {
        self.high
    }

    /// The y of `high`.
    pub const fn top(self) -> Px {
        self.top
    }

    /// The y of `low`.
    pub const fn bottom(self) -> Px {
        self.bottom
    }

    /// Where a height lies, to the hundredth of a pixel; heights beyond the ends lie outside.
    pub fn y(self, height: Length) -> Px {
        self.top + self.extent(self.high - height)
    }

    /// The height that lies at a y, to the micrometre.
    pub fn height_at(self, y: Px) -> Length {
        let down = i128::from((y - self.top).as_hundredths()) * i128::from(self.span());
        let pixels = i128::from((self.bottom - self.top).as_hundredths());
        self.high - Length::from_micrometres(divide(down, pixels))
    }

    /// How tall a length is on the drawing.
    pub fn extent(self, length: Length) -> Px {
        (self.bottom - self.top).part(length.as_micrometres(), self.span())
    }

    /// Whether a height lies on the part that is drawn.
    pub fn shows(self, height: Length) -> bool {
        self.low <= height && height <= self.high
    }

    fn span(self) -> i64 {
        (self.high - self.low).as_micrometres()
    }
}

/// How long a tick is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Weight {
    /// The shortest.
    Fine,
    /// Half way across.
    Mid,
    /// All the way across, with a number.
    Major,
}

/// One tick of the measure.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Tick {
    /// The height it stands for.
    pub at: Length,
    /// Where it lies.
    pub y: Px,
    /// Its length.
    pub weight: Weight,
}

/// The steps of a measure: fine, mid, major, and which majors carry a number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Steps {
    fine: Length,
    mid: Length,
    major: Length,
}

const fn mm(fine: i64, mid: i64, major: i64) -> Steps {
    Steps { fine: Length::from_mm(fine), mid: Length::from_mm(mid), major: Length::from_mm(major) }
}

const fn eighths(fine: i64, mid: i64, major: i64) -> Steps {
    Steps {
        fine: Length::from_inch_eighths(fine),
        mid: Length::from_inch_eighths(mid),
        major: Length::from_inch_eighths(major),
    }
}

/// Design choice: 1 / 5 / 10 cm as on a builder's measure, finer when the wall is zoomed.
const CM: [Steps; 5] =
    [mm(1, 5, 10), mm(5, 10, 20), mm(10, 50, 100), mm(50, 100, 200), mm(100, 500, 1_000)];
/// Design choice: a quarter, one and six inches, finer when the wall is zoomed.
const INCH: [Steps; 5] = [
    eighths(1, 4, 8),
    eighths(2, 8, 16),
    eighths(2, 8, 48),
    eighths(8, 48, 96),
    eighths(48, 96, 288),
];

/// The ticks of a measure on a scale, from low to high.
///
/// The finest steps are taken whose numbers stand 2.25 times the font size apart (inches 4 times, as
/// builders number every sixth), or 1.25 times where that would leave about two numbers; fine ticks
/// closer than 3 px and mid ticks closer than 4 px are left out.
pub fn ticks(scale: Scale, unit: Unit, frame: Frame) -> Vec<Tick> {
    let (all, air) = match unit {
        Unit::Centimetre => (&CM, 2_250),
        Unit::Inch => (&INCH, 4_000),
    };
    let apart = |rem| all.iter().find(|steps| scale.extent(steps.major) >= frame.rems(rem));
    let tall = scale.bottom() - scale.top();
    let airy = apart(air).filter(|steps| tall >= scale.extent(steps.major).part(5, 2));
    let steps = airy.or(apart(1_250)).or(all.last()).copied().unwrap_or(mm(100, 500, 1_000));
    let mut ticks = Vec::new();
    let fine = scale.extent(steps.fine) >= Px::whole(3);
    let mid = scale.extent(steps.mid) >= Px::whole(4);
    // The coarsest steps still keep 3 px, so that a wall of any height has few ticks.
    let step = if fine {
        steps.fine
    } else if mid {
        steps.mid
    } else {
        steps.major
    };
    if scale.extent(step) < Px::whole(3) {
        return ticks;
    }
    let um = step.as_micrometres();
    let first = scale.low().as_micrometres().div_euclid(um);
    let last = scale.high().as_micrometres().div_euclid(um);
    for count in first..=last {
        let at = step.times(count);
        if scale.shows(at) {
            ticks.push(Tick { at, y: scale.y(at), weight: weight(at, steps) });
        }
    }
    ticks
}

fn weight(at: Length, steps: Steps) -> Weight {
    let whole = |step: Length| at.as_micrometres() % step.as_micrometres() == 0;
    if whole(steps.major) {
        Weight::Major
    } else if whole(steps.mid) {
        Weight::Mid
    } else {
        Weight::Fine
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn wall(mm: i64, px: i64) -> Scale {
        Scale::new(Length::ZERO, Length::from_mm(mm), Px::ZERO, Px::whole(px))
    }

    fn majors(scale: Scale, unit: Unit) -> Vec<i64> {
        ticks(scale, unit, Frame::whole(390, 500, 16))
            .into_iter()
            .filter(|tick| tick.weight == Weight::Major)
            .map(|tick| tick.at.as_micrometres())
            .collect()
    }

    #[test]
    fn a_jump_is_measured_in_tens_of_centimetres() {
        assert_eq!(majors(wall(350, 448), Unit::Centimetre), [0, 100_000, 200_000, 300_000]);
    }

    #[test]
    fn a_zoomed_wall_has_finer_numbers() {
        assert_eq!(majors(wall(60, 200), Unit::Centimetre), [0, 20_000, 40_000, 60_000]);
        assert_eq!(majors(wall(24, 200), Unit::Centimetre), [0, 10_000, 20_000]);
    }

    #[test]
    fn inches_go_by_sixes() {
        assert_eq!(majors(wall(400, 448), Unit::Inch), [0, 152_400, 304_800]);
    }

    #[test]
    fn an_absurd_wall_has_few_ticks() {
        let huge = Scale::new(
            Length::from_micrometres(i64::MIN),
            Length::from_micrometres(i64::MAX),
            Px::ZERO,
            Px::whole(400),
        );
        assert!(ticks(huge, Unit::Centimetre, Frame::whole(390, 500, 16)).is_empty());
    }

    proptest! {
        #[test]
        fn projection_goes_both_ways(
            low in -50_000i64..3_000_000, span in 1_000i64..2_000_000,
            top in 0i64..10_000, tall in 100i64..100_000, per_mille in 0i64..=1000,
        ) {
            let length = Length::from_micrometres;
            let (top, bottom) = (Px::hundredths(top), Px::hundredths(top + tall));
            let scale = Scale::new(length(low), length(low + span), top, bottom);
            let height = length(low + span * per_mille / 1000);
            let back = scale.height_at(scale.y(height));
            // Half a hundredth of a pixel, in micrometres, and one for rounding.
            let bound = length(span / tall / 2 + 2);
            prop_assert!((back - height).magnitude() <= bound);
            prop_assert!(top <= scale.y(height) && scale.y(height) <= bottom);
        }

        #[test]
        fn higher_is_further_up(a in 0i64..1_000_000, b in 0i64..1_000_000) {
            let scale = wall(1_000, 400);
            let (a, b) = (Length::from_micrometres(a), Length::from_micrometres(b));
            if a <= b {
                prop_assert!(scale.y(a) >= scale.y(b));
            }
        }

        #[test]
        fn ticks_stand_apart(mm in 5i64..3_000, px in 60i64..2_000) {
            let all = ticks(wall(mm, px), Unit::Centimetre, Frame::whole(390, 500, 16));
            for pair in all.windows(2) {
                prop_assert!(pair[0].y - pair[1].y >= Px::hundredths(298));
            }
        }
    }
}
