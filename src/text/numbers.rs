use super::Words;
use crate::quantity::{Division, Length, Reading, Unit};

/// Fraction signs by eighths.
const EIGHTHS: [&str; 8] = ["", "⅛", "¼", "⅜", "½", "⅝", "¾", "⅞"];

impl Words {
    /// A length in a unit with its sign, rounded to the step results are shown in: "43.5 cm", "17 ¼ in".
    pub fn length(&self, length: Length, unit: Unit) -> String {
        let number = self.length_number(length, unit);
        self.with_unit(&number, unit)
    }

    /// The same without the unit.
    pub fn length_number(&self, length: Length, unit: Unit) -> String {
        self.exact_number(length.rounded_to(unit.shown_step()), unit)
    }

    /// A ± with its unit: half centimetres or quarter inches, and never nought, which would claim
    /// certainty.
    pub fn spread(&self, spread: Length, unit: Unit) -> String {
        let number = self.spread_number(spread, unit);
        self.with_unit(&number, unit)
    }

    /// The same without the unit.
    pub fn spread_number(&self, spread: Length, unit: Unit) -> String {
        self.length_number(spread.max(unit.shown_step()), unit)
    }

    /// A reading exactly as it was read, with its unit.
    pub fn reading(&self, reading: Reading) -> String {
        let unit = reading.division.unit();
        let number = self.exact_number(reading.length(), unit);
        self.with_unit(&number, unit)
    }

    /// A length to the millimetre or the eighth of an inch, without its unit; whole centimetres and
    /// inches keep no needless zero in inches and one decimal in centimetres.
    pub fn exact_number(&self, length: Length, unit: Unit) -> String {
        let counts = length.steps_of(unit.count_length());
        match unit {
            Unit::Centimetre => self.locale().decimal(counts, 1),
            Unit::Inch => {
                let whole = self.locale().decimal(counts / 8, 0);
                let eighths = usize::try_from(counts.unsigned_abs() % 8).unwrap_or(0);
                let fraction = EIGHTHS.get(eighths).copied().unwrap_or_default();
                let sign = if counts < 0 && counts > -8 { "−" } else { "" };
                match (counts / 8, fraction) {
                    (_, "") => whole,
                    (0, fraction) => format!("{sign}{fraction}"),
                    (_, fraction) => format!("{whole}\u{a0}{fraction}"),
                }
            }
        }
    }

    /// A reading as it would be typed: without its unit, and with no decimal when whole units are read.
    pub fn entry_text(&self, reading: Reading) -> String {
        if reading.division == Division::Cm1 {
            return self.tick_number(reading.length(), Unit::Centimetre);
        }
        self.exact_number(reading.length(), reading.division.unit())
    }

    /// The fraction of a unit by itself: ".5" in centimetres, "⅛" in inches, "0" for none.
    pub fn part(&self, counts: i32, unit: Unit) -> String {
        match unit {
            Unit::Centimetre => {
                let number = self.locale().decimal(i64::from(counts), 1);
                number.strip_prefix('0').map_or(number.clone(), str::to_owned)
            }
            Unit::Inch => match usize::try_from(counts).ok().and_then(|at| EIGHTHS.get(at)) {
                Some(sign) if !sign.is_empty() => (*sign).to_owned(),
                _ => self.locale().decimal(0, 0),
            },
        }
    }

    /// A height that must be free, in metres to a tenth or in whole inches.
    pub fn clear_height(&self, height: Length, unit: Unit) -> String {
        match unit {
            Unit::Centimetre => {
                let tenths = height.steps_of(Length::from_mm(100));
                self.in_metres(&self.locale().decimal(tenths, 1))
            }
            Unit::Inch => self.in_inches(&self.tick_number(height, Unit::Inch)),
        }
    }

    /// A whole number of centimetres or inches, for ticks.
    pub fn tick_number(&self, length: Length, unit: Unit) -> String {
        let counts = length.steps_of(unit.count_length());
        let per_unit = match unit {
            Unit::Centimetre => 10,
            Unit::Inch => 8,
        };
        self.locale().decimal(counts / per_unit, 0)
    }

    pub(super) fn with_unit(&self, number: &str, unit: Unit) -> String {
        self.apart(match unit {
            Unit::Centimetre => self.in_centimetres(number),
            Unit::Inch => self.in_inches(number),
        })
    }

    /// The short sign of a unit.
    pub fn unit_sign(&self, unit: Unit) -> String {
        match unit {
            Unit::Centimetre => self.unit_cm(),
            Unit::Inch => self.unit_in(),
        }
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::super::EnglishLocale;
    use super::*;

    fn words() -> Words {
        Words::english(Arc::new(EnglishLocale))
    }

    #[test]
    fn scores_are_shown_to_half_centimetres_and_quarter_inches() {
        let length = Length::from_mm(437);
        assert_eq!(words().length(length, Unit::Centimetre), "43.5\u{a0}cm");
        assert_eq!(words().length(length, Unit::Inch), "17\u{a0}¼\u{a0}in");
    }

    #[test]
    fn readings_are_shown_as_they_were_read() {
        let reading = Reading { count: 833, division: Division::InEighth };
        assert_eq!(words().reading(reading), "104\u{a0}⅛\u{a0}in");
        let reading = Reading { count: 2243, division: Division::CmTenth };
        assert_eq!(words().reading(reading), "224.3\u{a0}cm");
    }

    #[test]
    fn what_a_key_types_reads_back() {
        use crate::measure::parse_reading;
        for division in Division::ALL {
            for steps in [1, 7, 400, 833] {
                let reading = Reading { count: steps * division.counts(), division };
                let text = words().entry_text(reading);
                assert_eq!(parse_reading(&text, division), Ok(reading), "{text}");
            }
        }
        assert_eq!(words().part(5, Unit::Centimetre), ".5");
        assert_eq!(words().part(1, Unit::Inch), "⅛");
        assert_eq!(words().part(0, Unit::Inch), "0");
    }

    #[test]
    fn small_and_negative_inches() {
        let eighths = |count| words().exact_number(Length::from_inch_eighths(count), Unit::Inch);
        assert_eq!(eighths(2), "¼");
        assert_eq!(eighths(-2), "−¼");
        assert_eq!(eighths(-12), "−1\u{a0}½");
        assert_eq!(eighths(0), "0");
    }
}
