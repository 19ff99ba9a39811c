//! Power behind a wall score, for adults who ask and type a body mass.
//!
//! A wall score counts the rise before take-off too, so neither take-off speed nor energy follows
//! from it; only equations fitted to jump-and-reach scores are used.

use crate::measure::{
    Device, Session, Variant, johnson_bahamonde_peak_w, sayers_countermovement_peak_w,
};
use crate::norms::AdultsOnly;
use crate::quantity::Unit;

/// An estimate may be off by this share up and down; a design choice from docs/measurement.md §4 (the
/// published equations disagree by 10 to 20 %).
pub const OFF_BY: f64 = 0.2;
/// Watts are rounded to this, since no equation is better. A design choice.
pub const WATT_STEP: f64 = 50.0;
/// Body masses that are accepted, kg; a design choice.
const MASS_KG: std::ops::RangeInclusive<f64> = 30.0..=250.0;
/// Body heights that are accepted, cm; a design choice.
const STATURE_CM: std::ops::RangeInclusive<f64> = 120.0..=230.0;
/// One pound by definition (international agreement of 1959), kg.
const POUND_KG: f64 = 0.453_592_37;
/// One inch by definition, cm.
const INCH_CM: f64 = 2.54;

/// Whose equation.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PowerEquation {
    /// Sayers 1999, countermovement jump: 108 college men and women.
    Sayers,
    /// Johnson & Bahamonde 1996: 69 men and 49 women, college athletes.
    JohnsonBahamonde,
}

/// Peak power of one jump, in watts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PowerEstimate {
    /// By which equation.
    pub equation: PowerEquation,
    /// The estimate, rounded to [`WATT_STEP`].
    pub watts: u32,
    /// The estimate less [`OFF_BY`].
    pub low: u32,
    /// The estimate plus [`OFF_BY`].
    pub high: u32,
}

/// A body mass as typed, kg: pounds where the person measures in inches. None for what is no mass.
pub fn parse_body_mass_kg(text: &str, unit: Unit) -> Option<f64> {
    let typed = number(text)?;
    let kg = match unit {
        Unit::Centimetre => typed,
        Unit::Inch => typed * POUND_KG,
    };
    MASS_KG.contains(&kg).then_some(kg)
}

/// A body height as typed, cm: inches where the person measures in inches.
pub fn parse_stature_cm(text: &str, unit: Unit) -> Option<f64> {
    let typed = number(text)?;
    let cm = match unit {
        Unit::Centimetre => typed,
        Unit::Inch => typed * INCH_CM,
    };
    STATURE_CM.contains(&cm).then_some(cm)
}

/// A plain number with a point or a comma.
pub(super) fn number(text: &str) -> Option<f64> {
    let plain = text.trim().replace(',', ".");
    let signs = |sign: char| sign.is_ascii_digit() || sign == '.';
    (plain.len() <= 8 && plain.chars().all(signs)).then(|| plain.parse().ok()).flatten()
}

/// Peak power of a session's best standing jump at the wall by each equation that applies. Empty for
/// any other kind of test, and where an equation gives nothing for so small a jump.
pub fn power_estimates(
    _: AdultsOnly,
    session: &Session,
    body_mass_kg: f64,
    stature_cm: Option<f64>,
) -> Vec<PowerEstimate> {
    let key = session.key;
    let fits = key.variant == Variant::Standing && key.device == Device::Wall && !key.own_way;
    let Some(best) = session.best_of_first_three().filter(|_| fits) else {
        return Vec::new();
    };
    let height_cm = best.0.as_cm();
    let sayers = sayers_countermovement_peak_w(height_cm, body_mass_kg);
    let johnson = stature_cm.and_then(|cm| johnson_bahamonde_peak_w(height_cm, body_mass_kg, cm));
    let all = [(PowerEquation::Sayers, sayers), (PowerEquation::JohnsonBahamonde, johnson)];
    let estimate = |(equation, watts): (PowerEquation, Option<f64>)| {
        let watts = watts?;
        Some(PowerEstimate {
            equation,
            watts: rounded(watts),
            low: rounded(watts * (1.0 - OFF_BY)),
            high: rounded(watts * (1.0 + OFF_BY)),
        })
    };
    all.into_iter().filter_map(estimate).collect()
}

fn rounded(watts: f64) -> u32 {
    let steps = (watts / WATT_STEP).round().clamp(0.0, 1_000.0);
    // Between nought and fifty thousand, whole: nothing is lost.
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let watts = (steps * WATT_STEP) as u32;
    watts
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::{Hand, Reach, TakeOff, TrendKey, Trial};
    use crate::quantity::{Age, AgeGroup, Division, Reading};

    fn session(key: TrendKey, jump_mm: i32) -> Session {
        let read = |count| Reading { count, division: Division::CmHalf };
        let mut session = Session::new(key, Hand::Right, Division::CmHalf);
        session.reach = Reach::Measured([2_245, 2_245, 2_245].map(read).to_vec());
        session.trials = vec![Trial::FloorMark(read(2_245 + jump_mm))];
        session
    }

    fn adult() -> AdultsOnly {
        AdultsOnly::check(Age::Group(AgeGroup::Adult)).unwrap()
    }

    #[test]
    fn worked_cases_of_the_reference() {
        // docs/measurement.md §4, case Y (45 cm, 65 kg, 172 cm): 3507.0 and 3516.9 W.
        let found = power_estimates(adult(), &session(TrendKey::USUAL, 450), 65.0, Some(172.0));
        let watts: Vec<u32> = found.iter().map(|estimate| estimate.watts).collect();
        assert_eq!(watts, [3_500, 3_500]);
        assert_eq!((found[0].low, found[0].high), (2_800, 4_200));
        // Case Z (60, 80, 185): 5019.0 and 5401.5 W.
        let found = power_estimates(adult(), &session(TrendKey::USUAL, 600), 80.0, Some(185.0));
        let watts: Vec<u32> = found.iter().map(|estimate| estimate.watts).collect();
        assert_eq!(watts, [5_000, 5_400]);
    }

    #[test]
    fn constants_with_the_sign_turned_would_be_seen() {
        // A plus in place of Sayers' minus 2007 gives 7521 W, of Johnson & Bahamonde's minus 1308
        // gives 6132.9 W; both circulate (docs/measurement.md §4).
        for estimate in power_estimates(adult(), &session(TrendKey::USUAL, 450), 65.0, Some(172.0))
        {
            assert!(estimate.high < 6_000, "{estimate:?}");
        }
    }

    #[test]
    fn no_other_kind_of_test_has_a_power() {
        let approach = Variant::Approach { steps: 3, take_off: TakeOff::TwoFeet };
        for key in [
            TrendKey { variant: approach, ..TrendKey::USUAL },
            TrendKey { device: Device::Video, ..TrendKey::USUAL },
            TrendKey { own_way: true, ..TrendKey::USUAL },
        ] {
            assert!(power_estimates(adult(), &session(key, 450), 65.0, None).is_empty());
        }
        // No body height, no second equation; a small jumper has none at all.
        assert_eq!(power_estimates(adult(), &session(TrendKey::USUAL, 450), 65.0, None).len(), 1);
        assert!(power_estimates(adult(), &session(TrendKey::USUAL, 50), 30.0, None).is_empty());
    }

    #[test]
    fn nobody_under_age_or_of_unknown_age_gets_in() {
        let years = |years| Age::Years { years, maybe_one_more: true, months_to_birthday: 0 };
        for age in [Age::Unknown, Age::Group(AgeGroup::From15To17), years(17)] {
            assert_eq!(AdultsOnly::check(age), None);
        }
        assert!(AdultsOnly::check(years(18)).is_some());
    }

    #[test]
    fn what_is_typed_is_a_mass_or_nothing() {
        assert_eq!(parse_body_mass_kg(" 65,5 ", Unit::Centimetre), Some(65.5));
        let pounds = parse_body_mass_kg("150", Unit::Inch).unwrap();
        assert!((pounds - 68.038_855_5).abs() < 1e-9);
        assert!((parse_stature_cm("70", Unit::Inch).unwrap() - 177.8).abs() < 1e-9);
        for text in ["", "x", "-70", "7e9", "nan", "inf", "5", "999", "1.2.3", "123456789"] {
            assert_eq!(parse_body_mass_kg(text, Unit::Centimetre), None, "{text}");
        }
    }
}
