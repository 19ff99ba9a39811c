use super::Length;

/// The unit a person reads and writes lengths in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Unit {
    /// Centimetres.
    Centimetre,
    /// Inches, with fractions down to an eighth.
    Inch,
}

/// The smallest step the tape was read to. It decides the unit, and how much doubt the reading adds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Division {
    /// Whole centimetres.
    Cm1,
    /// Half centimetres.
    CmHalf,
    /// Millimetres.
    CmTenth,
    /// Whole inches.
    In1,
    /// Half inches.
    InHalf,
    /// Quarter inches.
    InQuarter,
    /// Eighths of an inch.
    InEighth,
}

impl Division {
    /// Every division, coarse to fine, centimetres first.
    pub const ALL: [Self; 7] = [
        Self::Cm1,
        Self::CmHalf,
        Self::CmTenth,
        Self::In1,
        Self::InHalf,
        Self::InQuarter,
        Self::InEighth,
    ];

    /// The unit the division belongs to.
    pub const fn unit(self) -> Unit {
        match self {
            Self::Cm1 | Self::CmHalf | Self::CmTenth => Unit::Centimetre,
            Self::In1 | Self::InHalf | Self::InQuarter | Self::InEighth => Unit::Inch,
        }
    }

    /// One step, in the counts a [`Reading`] uses: millimetres or eighths of an inch.
    pub const fn counts(self) -> i32 {
        match self {
            Self::Cm1 => 10,
            Self::CmHalf => 5,
            Self::CmTenth | Self::InEighth => 1,
            Self::In1 => 8,
            Self::InHalf => 4,
            Self::InQuarter => 2,
        }
    }

    /// One step as a length.
    pub const fn step(self) -> Length {
        Reading { count: self.counts(), division: self }.length()
    }

    /// A step so wide that the score is called rough: a whole centimetre or half an inch and up.
    /// Design choice: at this width two readings add 0.4 cm to the standard error of a score
    /// (docs/measurement.md §1.3), half of the smallest trial spread assumed.
    pub const fn is_coarse(self) -> bool {
        matches!(self, Self::Cm1 | Self::InHalf | Self::In1)
    }

    /// The finest division of a unit: tenths of a centimetre, or eighths of an inch.
    pub const fn finest(unit: Unit) -> Self {
        match unit {
            Unit::Centimetre => Self::CmTenth,
            Unit::Inch => Self::InEighth,
        }
    }

    /// The usual division of a unit: half centimetres, or quarter inches.
    pub const fn usual(unit: Unit) -> Self {
        match unit {
            Unit::Centimetre => Self::CmHalf,
            Unit::Inch => Self::InQuarter,
        }
    }
}

impl Unit {
    /// The length of one [`Reading`] count: 1 mm or ⅛ in.
    pub const fn count_length(self) -> Length {
        match self {
            Self::Centimetre => Length::from_mm(1),
            Self::Inch => Length::from_inch_eighths(1),
        }
    }

    /// The step results are shown in: half a centimetre, or a quarter of an inch for spreads and
    /// scores alike.
    pub const fn shown_step(self) -> Length {
        match self {
            Self::Centimetre => Length::from_mm(5),
            Self::Inch => Length::from_inch_eighths(2),
        }
    }
}

/// A length exactly as it was read: a whole count of millimetres or of eighths of an inch, and the
/// division the tape was read to.
///
/// ```
/// use two_marks::quantity::{Division, Length, Reading};
/// let mark = Reading { count: 2245, division: Division::CmHalf };
/// assert_eq!(mark.length(), Length::from_mm(2245));
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Reading {
    /// Millimetres or eighths of an inch, by the division's unit.
    pub count: i32,
    /// The step the tape was read to.
    pub division: Division,
}

impl Reading {
    /// The same reading as a length; exact.
    pub const fn length(self) -> Length {
        let count = self.count as i64;
        match self.division.unit() {
            Unit::Centimetre => Length::from_mm(count),
            Unit::Inch => Length::from_inch_eighths(count),
        }
    }

    /// The reading of this division nearest to a length, halves away from zero.
    pub fn nearest(length: Length, division: Division) -> Self {
        let steps = length.steps_of(division.step());
        let count = i32::try_from(steps.saturating_mul(i64::from(division.counts())));
        Self { count: count.unwrap_or(i32::MAX), division }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn any_division() -> impl Strategy<Value = Division> {
        prop::sample::select(Division::ALL.to_vec())
    }

    #[test]
    fn a_quarter_inch_is_two_counts() {
        assert_eq!(Division::InQuarter.step(), Length::from_micrometres(6_350));
        assert_eq!(Division::CmHalf.step(), Length::from_mm(5));
    }

    proptest! {
        #[test]
        fn a_reading_survives_being_a_length(steps in -4_000i32..4_000, division in any_division()) {
            let reading = Reading { count: steps * division.counts(), division };
            prop_assert_eq!(Reading::nearest(reading.length(), division), reading);
        }

        #[test]
        fn there_and_back_through_the_finest_other_unit_stays_within_half_a_step(
            steps in 0i32..4_000,
            division in any_division(),
        ) {
            let reading = Reading { count: steps * division.counts(), division };
            let other = match division.unit() {
                Unit::Centimetre => Division::InEighth,
                Unit::Inch => Division::CmTenth,
            };
            let shown = Reading::nearest(reading.length(), other);
            let drift = (shown.length() - reading.length()).magnitude();
            prop_assert!(drift.times(2) <= other.step());
        }
    }
}
