use std::fmt;
use std::ops::{Add, Neg, Sub};

/// A distance on the drawing, in hundredths of a CSS pixel.
///
/// Integers keep the drawing the same natively and in the browser, and let it be written without
/// float formatting. Arithmetic saturates. `Display` writes the shortest decimal, as SVG wants it.
///
/// ```
/// use two_marks::chart::Px;
/// assert_eq!(Px::hundredths(-1_250).to_string(), "-12.5");
/// assert_eq!(Px::whole(3).to_string(), "3");
/// ```
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Px(i64);

impl Px {
    /// No distance.
    pub const ZERO: Self = Self(0);

    /// From hundredths of a pixel.
    pub const fn hundredths(hundredths: i64) -> Self {
        Self(hundredths)
    }

    /// From whole pixels.
    pub const fn whole(pixels: i64) -> Self {
        Self(pixels.saturating_mul(100))
    }

    /// Hundredths of a pixel.
    pub const fn as_hundredths(self) -> i64 {
        self.0
    }

    /// `numerator / denominator` of the distance, rounded to the nearest hundredth, halves away
    /// from zero; a denominator of zero gives zero.
    pub fn part(self, numerator: i64, denominator: i64) -> Self {
        Self(divide(i128::from(self.0) * i128::from(numerator), i128::from(denominator)))
    }

    /// Half of the distance.
    pub fn half(self) -> Self {
        self.part(1, 2)
    }

    /// The distance without its sign.
    pub const fn magnitude(self) -> Self {
        Self(self.0.saturating_abs())
    }
}

/// Rounded division, halves away from zero; by zero it gives zero, beyond `i64` it saturates.
pub(super) fn divide(numerator: i128, denominator: i128) -> i64 {
    if denominator == 0 {
        return 0;
    }
    let (numerator, denominator) =
        if denominator < 0 { (-numerator, -denominator) } else { (numerator, denominator) };
    let half = denominator / 2;
    let shifted = if numerator >= 0 { numerator + half } else { numerator - half };
    let limit = if numerator >= 0 { i64::MAX } else { i64::MIN };
    i64::try_from(shifted / denominator).unwrap_or(limit)
}

impl Add for Px {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0.saturating_add(other.0))
    }
}

impl Sub for Px {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0.saturating_sub(other.0))
    }
}

impl Neg for Px {
    type Output = Self;
    fn neg(self) -> Self {
        Self(self.0.saturating_neg())
    }
}

impl fmt::Display for Px {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let sign = if self.0 < 0 { "-" } else { "" };
        let (whole, rest) = (self.0.unsigned_abs() / 100, self.0.unsigned_abs() % 100);
        match (rest, rest % 10) {
            (0, _) => write!(f, "{sign}{whole}"),
            (_, 0) => write!(f, "{sign}{whole}.{}", rest / 10),
            _ => write!(f, "{sign}{whole}.{rest:02}"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn the_shortest_decimal_is_written() {
        let text = |h| Px::hundredths(h).to_string();
        assert_eq!(text(0), "0");
        assert_eq!(text(5), "0.05");
        assert_eq!(text(-5), "-0.05");
        assert_eq!(text(1_250), "12.5");
        assert_eq!(text(-300), "-3");
        assert_eq!(text(i64::MIN), "-92233720368547758.08");
    }

    #[test]
    fn parts_round_away_from_zero() {
        assert_eq!(Px::hundredths(5).half(), Px::hundredths(3));
        assert_eq!(Px::hundredths(-5).half(), Px::hundredths(-3));
        assert_eq!(Px::whole(7).part(1, 0), Px::ZERO);
    }

    proptest! {
        #[test]
        fn text_reads_back(h in -10_000_000i64..10_000_000) {
            let read: f64 = Px::hundredths(h).to_string().parse().unwrap();
            prop_assert!((read * 100.0 - h as f64).abs() < 1e-6);
        }

        #[test]
        fn nothing_overflows(a in any::<i64>(), b in any::<i64>()) {
            let (x, y) = (Px::hundredths(a), Px::hundredths(b));
            let _ = (x + y, x - y, -x, x.part(b, a), x.magnitude(), x.to_string());
        }
    }
}
