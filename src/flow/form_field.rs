use crate::measure::{Problem, parse_reading};
use crate::quantity::{BodyMass, Division, Reading, Unit};

/// A reading as typed. One that nobody touches stays exactly what it was.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ReadingField {
    /// What stands in the field.
    pub text: String,
    /// The text it began with, and the reading that stands for.
    was: Option<(String, Reading)>,
    /// The person said that this reading is right.
    confirmed: Option<Reading>,
}

impl ReadingField {
    /// A field with a reading in it, which nobody has to confirm.
    pub fn of(reading: Reading, text: String) -> Self {
        Self { text: text.clone(), was: Some((text, reading)), confirmed: Some(reading) }
    }

    /// Whether nothing is typed.
    pub fn is_empty(&self) -> bool {
        self.text.trim().is_empty()
    }

    fn unchanged(&self) -> Option<Reading> {
        let (text, reading) = self.was.as_ref()?;
        (*text == self.text).then_some(*reading)
    }

    /// The reading, in the division of the form or as it was read once.
    ///
    /// # Errors
    /// As [`parse_reading`].
    pub fn reading(&self, division: Division) -> Result<Reading, Problem> {
        self.unchanged().map_or_else(|| parse_reading(&self.text, division), Ok)
    }

    /// The same for a field that may stay empty.
    pub(super) fn optional(&self, division: Division) -> Result<Option<Reading>, Problem> {
        if self.is_empty() { Ok(None) } else { self.reading(finest(division)).map(Some) }
    }

    /// The unit of what stands in the field.
    pub(super) fn unit(&self, division: Division) -> Unit {
        self.unchanged().map_or(division, |reading| reading.division).unit()
    }

    /// Whether the person said that this very reading is right.
    pub(super) fn is_confirmed(&self, reading: Reading) -> bool {
        self.confirmed == Some(reading)
    }

    /// Says that what stands in the field is right.
    pub fn confirm(&mut self, division: Division) {
        self.confirmed = self.reading(division).ok();
    }

    /// Puts another reading in, as the person meant it.
    pub fn put(&mut self, reading: Reading, text: String) {
        *self = Self { confirmed: None, ..Self::of(reading, text) };
    }
}

/// Body height is read to the finest step, however the jump was.
const fn finest(division: Division) -> Division {
    match division.unit() {
        Unit::Centimetre => Division::CmTenth,
        Unit::Inch => Division::InEighth,
    }
}

/// Body mass of a grown-up, grams. Design choice.
const MASS_POSSIBLE: std::ops::RangeInclusive<u32> = 25_000..=400_000;

/// A body mass as typed: kilograms, or pounds where lengths are in inches, to a tenth.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct MassField {
    /// What stands in the field.
    pub text: String,
    was: Option<(String, BodyMass)>,
}

impl MassField {
    /// A field with the mass that is saved, or an empty one.
    pub(super) fn of(mass: Option<BodyMass>, text: impl Fn(BodyMass) -> String) -> Self {
        let Some(mass) = mass else { return Self::default() };
        let text = text(mass);
        Self { text: text.clone(), was: Some((text, mass)) }
    }

    /// The mass, or none for an empty field; an error where the text is no body mass.
    pub(super) fn mass(&self, unit: Unit) -> Result<Option<BodyMass>, ()> {
        if let Some((text, mass)) = &self.was
            && *text == self.text
        {
            return Ok(Some(*mass));
        }
        if self.text.trim().is_empty() {
            return Ok(None);
        }
        let plain = self.text.trim().replace(',', ".");
        let number = plain.trim_end_matches("kg").trim_end_matches("lb").trim();
        // A tenth of a centimetre is one count, so tenths of any unit are read the same way.
        let tenths = parse_reading(number, Division::CmTenth).map_err(|_| ())?.count;
        let mass = BodyMass::from_tenths(i64::from(tenths), unit).ok_or(())?;
        if MASS_POSSIBLE.contains(&mass.grams) { Ok(Some(mass)) } else { Err(()) }
    }
}
