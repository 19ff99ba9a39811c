use std::ops::{Add, Sub};

use super::Unit;

/// A length, exact to the micrometre.
///
/// Range: what `i64` micrometres hold, far beyond any wall. Arithmetic saturates instead of
/// overflowing, since a typed number must never stop the page.
///
/// ```
/// use two_marks::quantity::Length;
/// assert_eq!(Length::from_mm(254), Length::from_inch_eighths(80));
/// ```
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Length {
    micrometres: i64,
}

/// Micrometres in a millimetre.
const MM: i64 = 1_000;
/// Micrometres in an eighth of an inch (1 in = 25.4 mm by definition).
const EIGHTH_INCH: i64 = 3_175;

impl Length {
    /// No length at all.
    pub const ZERO: Self = Self { micrometres: 0 };

    /// From whole micrometres.
    pub const fn from_micrometres(micrometres: i64) -> Self {
        Self { micrometres }
    }

    /// From whole millimetres.
    pub const fn from_mm(mm: i64) -> Self {
        Self { micrometres: mm.saturating_mul(MM) }
    }

    /// From eighths of an inch.
    pub const fn from_inch_eighths(eighths: i64) -> Self {
        Self { micrometres: eighths.saturating_mul(EIGHTH_INCH) }
    }

    /// Rounds a length in centimetres to the nearest micrometre; what is not finite becomes zero.
    pub fn from_cm(cm: f64) -> Self {
        let micrometres = cm * 10_000.0;
        // The cast saturates and turns NaN into zero, which is what the doc promises.
        #[expect(clippy::cast_possible_truncation)]
        Self { micrometres: micrometres.round() as i64 }
    }

    /// Whole micrometres.
    pub const fn as_micrometres(self) -> i64 {
        self.micrometres
    }

    /// Millimetres, as a fraction, for statistics.
    pub fn as_mm(self) -> f64 {
        self.as_cm() * 10.0
    }

    /// Centimetres, as a fraction, for statistics.
    pub fn as_cm(self) -> f64 {
        #[expect(clippy::cast_precision_loss, reason = "every wall fits 2^53 micrometres")]
        let micrometres = self.micrometres as f64;
        micrometres / 10_000.0
    }

    /// Rounded to whole multiples of `step`, halves away from zero; a step of zero changes nothing.
    ///
    /// ```
    /// use two_marks::quantity::Length;
    /// let half_cm = Length::from_mm(5);
    /// assert_eq!(Length::from_mm(428).rounded_to(half_cm), Length::from_mm(430));
    /// ```
    pub const fn rounded_to(self, step: Self) -> Self {
        Self { micrometres: self.steps_of(step).saturating_mul(step.micrometres.saturating_abs()) }
    }

    /// How many whole steps the length rounds to, halves away from zero.
    pub const fn steps_of(self, step: Self) -> i64 {
        let step = step.micrometres.saturating_abs();
        if step == 0 {
            return 0;
        }
        let half = step / 2;
        if self.micrometres >= 0 {
            self.micrometres.saturating_add(half) / step
        } else {
            self.micrometres.saturating_sub(half) / step
        }
    }

    /// The same length without its sign.
    pub const fn magnitude(self) -> Self {
        Self { micrometres: self.micrometres.saturating_abs() }
    }

    /// A whole multiple.
    pub const fn times(self, factor: i64) -> Self {
        Self { micrometres: self.micrometres.saturating_mul(factor) }
    }
}

impl Add for Length {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self { micrometres: self.micrometres.saturating_add(other.micrometres) }
    }
}

impl Sub for Length {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self { micrometres: self.micrometres.saturating_sub(other.micrometres) }
    }
}

/// How high the middle fingertip reaches with both heels down, from the floor.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct StandingReach(pub Length);

/// How high the mark of a jump is, from the floor.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct JumpReach(pub Length);

/// The distance between the two marks, or the height worked out from time in the air.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct JumpHeight(pub Length);

impl JumpReach {
    /// The jump height above a standing reach; negative when the marks are the wrong way round.
    pub fn above(self, reach: StandingReach) -> JumpHeight {
        JumpHeight(self.0 - reach.0)
    }
}

/// Body mass in grams. Asked of adults only, and never required.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct BodyMass {
    /// Whole grams.
    pub grams: u32,
}

/// A tenth of a pound in micrograms: a pound is 0.45359237 kg by definition (international agreement
/// of 1959).
const TENTH_POUND_MICROGRAMS: i64 = 45_359_237;

impl BodyMass {
    /// From tenths of a kilogram, or of a pound where lengths are in inches, to the nearest gram. None
    /// below zero and beyond any mass.
    ///
    /// ```
    /// use two_marks::quantity::{BodyMass, Unit};
    /// let mass = BodyMass::from_tenths(1_543, Unit::Inch).unwrap(); // 154.3 lb
    /// assert_eq!((mass.grams, mass.tenths(Unit::Inch)), (69_989, 1_543));
    /// ```
    pub fn from_tenths(tenths: i64, unit: Unit) -> Option<Self> {
        let micrograms = match unit {
            Unit::Centimetre => tenths.checked_mul(100_000_000)?,
            Unit::Inch => tenths.checked_mul(TENTH_POUND_MICROGRAMS)?,
        };
        let grams = u32::try_from((micrograms + 500_000) / 1_000_000).ok()?;
        (tenths >= 0).then_some(Self { grams })
    }

    /// Tenths of a kilogram, or of a pound where lengths are in inches, to the nearest.
    pub fn tenths(self, unit: Unit) -> i64 {
        let micrograms = i64::from(self.grams) * 1_000_000;
        let tenth = match unit {
            Unit::Centimetre => 100_000_000,
            Unit::Inch => TENTH_POUND_MICROGRAMS,
        };
        (micrograms + tenth / 2) / tenth
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn an_inch_is_25_4_mm_by_definition() {
        assert_eq!(Length::from_inch_eighths(8), Length::from_micrometres(25_400));
    }

    #[test]
    fn halves_round_away_from_zero() {
        let step = Length::from_mm(5);
        let round = |um| Length::from_micrometres(um).rounded_to(step).as_micrometres();
        assert_eq!(round(2_500), 5_000);
        assert_eq!(round(2_499), 0);
        assert_eq!(round(-2_500), -5_000);
        assert_eq!(round(-2_499), 0);
    }

    #[test]
    fn a_jump_is_the_distance_between_the_marks() {
        let reach = StandingReach(Length::from_mm(2_245));
        let mark = JumpReach(Length::from_mm(2_680));
        assert_eq!(mark.above(reach), JumpHeight(Length::from_mm(435)));
    }

    proptest! {
        #[test]
        fn centimetres_survive_a_round_trip(um in -10_000_000i64..10_000_000) {
            let length = Length::from_micrometres(um);
            prop_assert_eq!(Length::from_cm(length.as_cm()), length);
        }

        #[test]
        fn nothing_overflows(a in any::<i64>(), b in any::<i64>()) {
            let (a, b) = (Length::from_micrometres(a), Length::from_micrometres(b));
            let _ = (a + b, a - b, a.rounded_to(b), a.times(7), a.magnitude());
            let _ = (Length::from_mm(a.as_micrometres()), Length::from_inch_eighths(b.as_micrometres()));
        }
    }
}
