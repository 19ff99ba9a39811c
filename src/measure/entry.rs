use crate::quantity::{Division, Reading, Unit};

/// Why typed text is not a reading. Facts only; the words are in `text`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Problem {
    /// Nothing was typed.
    Empty,
    /// The text is not a length.
    NotANumber,
    /// The text names the other unit.
    OtherUnit(Unit),
    /// The reading is finer than the division chosen; this division would hold it.
    FinerThanDivision(Division),
    /// The reading is finer than anything a tape shows.
    TooFine,
    /// The text is no time in the air: not a number, or far too short or long for a jump.
    NotATime,
}

/// Readings longer than this are refused before any arithmetic: no wall has a million divisions.
const DIGITS_MAX: usize = 6;

/// Reads a length as typed, in the unit of `division`.
///
/// Centimetres take a decimal point or comma. Inches take a whole number, a decimal that is a whole
/// number of eighths, a fraction (`104 1/8`, `104⅛`), or feet and inches (`8' 8 1/8"`, `8 ft 8 in`).
/// Spaces are free. The result is exact.
///
/// # Errors
/// A [`Problem`], when the text is empty, not a length, in the other unit, or finer than the division.
///
/// ```
/// use two_marks::measure::{Problem, parse_reading};
/// use two_marks::quantity::Division;
/// assert_eq!(parse_reading(" 268,5 cm", Division::CmHalf).unwrap().count, 2685);
/// assert_eq!(parse_reading("104 1/8", Division::InEighth).unwrap().count, 833);
/// let finer = Problem::FinerThanDivision(Division::CmTenth);
/// assert_eq!(parse_reading("268.3", Division::CmHalf), Err(finer));
/// ```
pub fn parse_reading(text: &str, division: Division) -> Result<Reading, Problem> {
    let plain = plain_text(text);
    if plain.is_empty() {
        return Err(Problem::Empty);
    }
    let count = match division.unit() {
        Unit::Centimetre => centimetre_count(&plain)?,
        Unit::Inch => inch_count(&plain)?,
    };
    fit(count, division)
}

/// Reads feet, whole inches and a fraction from separate fields; empty fields count as nought.
///
/// # Errors
/// As [`parse_reading`]; empty only when every field is.
pub fn parse_feet_and_inches(
    feet: &str,
    inches: &str,
    eighths: u8,
    division: Division,
) -> Result<Reading, Problem> {
    let (feet, inches) = (plain_text(feet), plain_text(inches));
    if feet.is_empty() && inches.is_empty() && eighths == 0 {
        return Err(Problem::Empty);
    }
    let feet = if feet.is_empty() { 0 } else { whole(&feet)? };
    let inches = if inches.is_empty() { 0 } else { whole(&inches)? };
    fit((feet * 12 + inches) * 8 + i32::from(eighths), division)
}

/// The reading that a plus or minus key makes of what is typed: the next whole step up or down. An
/// empty field starts from `start`, which is then the reading itself. None when neither is a length,
/// or below zero.
pub fn nudged(text: &str, division: Division, start: Option<Reading>, up: bool) -> Option<Reading> {
    let Ok(typed) = parse_reading(text, Division::finest(division.unit())) else {
        return plain_text(text).is_empty().then_some(start).flatten();
    };
    let step = division.counts();
    let below = typed.count.div_euclid(step) * step;
    let on_step = typed.count == below;
    let count = match (up, on_step) {
        (true, _) => below + step,
        (false, true) => below - step,
        (false, false) => below,
    };
    (count >= 0).then_some(Reading { count, division })
}

/// What is typed, with another fraction of its unit: `part` counts (0 to 9 mm, or 0 to 7 eighths).
/// None when the text is no length.
pub fn with_part(text: &str, division: Division, part: i32) -> Option<Reading> {
    let typed = parse_reading(text, Division::finest(division.unit())).ok()?;
    let unit = whole_unit(division);
    Some(Reading { count: typed.count.div_euclid(unit) * unit + part.rem_euclid(unit), division })
}

/// The fraction that is typed, in counts; none when the text is no length.
pub fn part_of(text: &str, division: Division) -> Option<i32> {
    let typed = parse_reading(text, Division::finest(division.unit())).ok()?;
    Some(typed.count.rem_euclid(whole_unit(division)))
}

/// The fractions a division can show, in counts: 0 and 5 for half centimetres. One alone means that
/// only whole units are read.
pub fn parts(division: Division) -> Vec<i32> {
    let step = usize::try_from(division.counts()).unwrap_or(1);
    (0..whole_unit(division)).step_by(step).collect()
}

const fn whole_unit(division: Division) -> i32 {
    match division.unit() {
        Unit::Centimetre => 10,
        Unit::Inch => 8,
    }
}

/// A count fits a division when it is a whole number of its steps.
fn fit(count: i32, division: Division) -> Result<Reading, Problem> {
    if count % division.counts() == 0 {
        return Ok(Reading { count, division });
    }
    let mut finer = Division::ALL.into_iter().filter(|other| {
        other.unit() == division.unit()
            && other.counts() < division.counts()
            && count % other.counts() == 0
    });
    Err(finer.next().map_or(Problem::TooFine, Problem::FinerThanDivision))
}

/// Lower case, one kind of space, quote and decimal sign.
pub(super) fn plain_text(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for sign in text.trim().chars() {
        match sign {
            ',' | '٫' => plain.push('.'),
            '′' | '’' | '‘' => plain.push('\''),
            '″' | '”' | '“' => plain.push('"'),
            _ if sign.is_whitespace() => plain.push(' '),
            _ => plain.extend(sign.to_lowercase()),
        }
    }
    plain
}

fn centimetre_count(plain: &str) -> Result<i32, Problem> {
    let number = match plain.strip_suffix("cm") {
        Some(number) => number,
        None if plain.ends_with("in") || plain.ends_with('"') || plain.contains('\'') => {
            return Err(Problem::OtherUnit(Unit::Inch));
        }
        None => plain,
    };
    let (digits, decimals) = decimal(number)?;
    let tenth = decimals.first().copied().unwrap_or(0);
    if decimals.iter().skip(1).any(|digit| *digit != 0) {
        return Err(Problem::TooFine);
    }
    Ok(digits * 10 + i32::from(tenth))
}

fn inch_count(plain: &str) -> Result<i32, Problem> {
    if plain.ends_with("cm") {
        return Err(Problem::OtherUnit(Unit::Centimetre));
    }
    let (feet, rest) = match plain.split_once('\'').or_else(|| plain.split_once("ft")) {
        Some((feet, rest)) => (whole(feet.trim())?, rest),
        None => (0, plain),
    };
    let rest = rest.trim().trim_end_matches('"').trim_end_matches("in").trim();
    let eighths = if rest.is_empty() { 0 } else { inches_to_eighths(rest)? };
    Ok(feet * 96 + eighths)
}

fn inches_to_eighths(text: &str) -> Result<i32, Problem> {
    if let Some((before, eighths)) = vulgar_fraction(text) {
        let inches = if before.is_empty() { 0 } else { whole(before)? };
        return Ok(inches * 8 + eighths);
    }
    if let Some((before, denominator)) = text.split_once('/') {
        let (inches, numerator) = match before.trim().rsplit_once(' ') {
            Some((inches, numerator)) => (whole(inches.trim())?, whole(numerator)?),
            None => (0, whole(before.trim())?),
        };
        let denominator = whole(denominator.trim())?;
        if denominator == 0 || numerator >= denominator {
            return Err(Problem::NotANumber);
        }
        let eighths = numerator * 8;
        if eighths % denominator != 0 {
            return Err(Problem::TooFine);
        }
        return Ok(inches * 8 + eighths / denominator);
    }
    let (inches, decimals) = decimal(text)?;
    let mut thousandths = 0;
    for place in 0..3 {
        thousandths = thousandths * 10 + i32::from(decimals.get(place).copied().unwrap_or(0));
    }
    let finer = decimals.iter().skip(3).any(|digit| *digit != 0);
    if finer || thousandths * 8 % 1000 != 0 {
        return Err(Problem::TooFine);
    }
    Ok(inches * 8 + thousandths * 8 / 1000)
}

/// Splits off a one-character fraction at the end.
fn vulgar_fraction(text: &str) -> Option<(&str, i32)> {
    const FRACTIONS: [(char, i32); 7] =
        [('⅛', 1), ('¼', 2), ('⅜', 3), ('½', 4), ('⅝', 5), ('¾', 6), ('⅞', 7)];
    FRACTIONS.iter().find_map(|(sign, eighths)| {
        text.strip_suffix(*sign).map(|before| (before.trim(), *eighths))
    })
}

fn whole(text: &str) -> Result<i32, Problem> {
    match decimal(text)? {
        (whole, decimals) if decimals.iter().all(|digit| *digit == 0) => Ok(whole),
        _ => Err(Problem::NotANumber),
    }
}

/// The whole part and the decimal digits of a plain decimal number.
pub(super) fn decimal(text: &str) -> Result<(i32, Vec<u8>), Problem> {
    let text = text.trim();
    let (before, after) = text.split_once('.').unwrap_or((text, ""));
    if (before.is_empty() && after.is_empty()) || before.len() > DIGITS_MAX {
        return Err(Problem::NotANumber);
    }
    let mut whole = 0;
    for sign in before.chars() {
        let digit = sign.to_digit(10).and_then(|digit| i32::try_from(digit).ok());
        whole = whole * 10 + digit.ok_or(Problem::NotANumber)?;
    }
    let decimals = after.chars().map(|sign| {
        sign.to_digit(10).and_then(|digit| u8::try_from(digit).ok()).ok_or(Problem::NotANumber)
    });
    Ok((whole, decimals.collect::<Result<_, _>>()?))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[track_caller]
    fn check(text: &str, division: Division, expected: Result<i32, Problem>) {
        assert_eq!(parse_reading(text, division).map(|reading| reading.count), expected, "{text}");
    }

    #[test]
    fn centimetres_as_people_type_them() {
        for text in ["268.5", "268,5", " 268.5 ", "268.5cm", "268,5 CM", "268.50"] {
            check(text, Division::CmHalf, Ok(2685));
        }
        check("268", Division::Cm1, Ok(2680));
        check(".5", Division::CmTenth, Ok(5));
        check("268.", Division::Cm1, Ok(2680));
    }

    #[test]
    fn inches_as_people_type_them() {
        for text in ["104 1/8", "104⅛", "104 ⅛ in", "104.125", "8' 8 1/8\"", "8 ft 8⅛ in", "8’8⅛”"]
        {
            check(text, Division::InEighth, Ok(833));
        }
        check("104", Division::In1, Ok(832));
        check("8'", Division::In1, Ok(768));
        check("1/2", Division::InHalf, Ok(4));
        check("104 3/4", Division::InQuarter, Ok(838));
    }

    #[test]
    fn what_is_not_a_length_is_named() {
        check("", Division::CmHalf, Err(Problem::Empty));
        check("   ", Division::CmHalf, Err(Problem::Empty));
        check("999999", Division::Cm1, Ok(9_999_990));
        for text in ["abc", "-5", "1.2.3", ".", "268 5", "٣", "1e3", "9999999"] {
            check(text, Division::CmHalf, Err(Problem::NotANumber));
        }
        check("104 1/0", Division::InEighth, Err(Problem::NotANumber));
        check("104 8/8", Division::InEighth, Err(Problem::NotANumber));
        check("104 in", Division::CmHalf, Err(Problem::OtherUnit(Unit::Inch)));
        for text in ["104\"", "8'", "8' 8", "104 in"] {
            check(text, Division::CmTenth, Err(Problem::OtherUnit(Unit::Inch)));
        }
        check("268 cm", Division::In1, Err(Problem::OtherUnit(Unit::Centimetre)));
        check("268.25", Division::CmTenth, Err(Problem::TooFine));
        check("104 1/16", Division::InEighth, Err(Problem::TooFine));
        // 1/8 in is 0.125 in: a digit more is finer, and 0.126 in is no eighth.
        check("104.1251", Division::InEighth, Err(Problem::TooFine));
        check("104.126", Division::InEighth, Err(Problem::TooFine));
        check("8.5' 3", Division::InEighth, Err(Problem::NotANumber));
        check("268.3", Division::Cm1, Err(Problem::FinerThanDivision(Division::CmTenth)));
        check("268.5", Division::Cm1, Err(Problem::FinerThanDivision(Division::CmHalf)));
        check("104 1/4", Division::In1, Err(Problem::FinerThanDivision(Division::InQuarter)));
    }

    #[test]
    fn feet_and_inches_fields() {
        let read = |feet, inches, eighths| {
            parse_feet_and_inches(feet, inches, eighths, Division::InEighth).map(|r| r.count)
        };
        assert_eq!(read("8", "8", 1), Ok(833));
        assert_eq!(read("", "8", 0), Ok(64));
        assert_eq!(read("8", "", 0), Ok(768));
        assert_eq!(read("", "", 0), Err(Problem::Empty));
        assert_eq!(read("x", "", 0), Err(Problem::NotANumber));
    }

    #[test]
    fn plus_and_minus_go_to_the_next_step() {
        let nudge = |text, up| nudged(text, Division::CmHalf, None, up).map(|r| r.count);
        assert_eq!(nudge("267.5", true), Some(2680));
        assert_eq!(nudge("267.5", false), Some(2670));
        assert_eq!(nudge("267.3", true), Some(2675));
        assert_eq!(nudge("267.3", false), Some(2670));
        assert_eq!(nudge("0", false), None);
        assert_eq!(nudge("abc", true), None);
    }

    #[test]
    fn an_empty_field_starts_from_the_last_value() {
        let start = Some(Reading { count: 2680, division: Division::CmHalf });
        assert_eq!(nudged("", Division::CmHalf, start, true), start);
        assert_eq!(nudged("", Division::CmHalf, None, true), None);
        assert_eq!(nudged("x", Division::CmHalf, start, true), None);
    }

    #[test]
    fn a_fraction_key_keeps_the_whole_part() {
        let part = |text, division, part| with_part(text, division, part).map(|r| r.count);
        assert_eq!(part("267", Division::CmHalf, 5), Some(2675));
        assert_eq!(part("104 ⅛", Division::InEighth, 6), Some(838));
        assert_eq!(part("", Division::InEighth, 6), None);
        assert_eq!(part_of("104 ⅛", Division::InEighth), Some(1));
        assert_eq!(parts(Division::CmHalf), vec![0, 5]);
        assert_eq!(parts(Division::In1), vec![0]);
        assert_eq!(parts(Division::InEighth).len(), 8);
    }

    #[test]
    fn any_kind_of_space_parts_a_fraction_from_its_inches() {
        // No-break, narrow no-break and ideographic space, and a tab.
        for space in ['\u{a0}', '\u{202f}', '\u{3000}', '\t'] {
            check(&format!("104{space}1/8"), Division::InEighth, Ok(833));
        }
    }

    #[test]
    fn the_part_is_what_stands_behind_the_whole_unit() {
        assert_eq!(part_of("267.5", Division::CmHalf), Some(5));
        assert_eq!(part_of("104 3/4", Division::InQuarter), Some(6));
        assert_eq!(part_of("267", Division::CmHalf), Some(0));
        assert_eq!(part_of("abc", Division::CmHalf), None);
    }
    proptest! {
        #[test]
        fn no_text_panics(text in "\\PC{0,24}") {
            for division in Division::ALL {
                let _ = parse_reading(&text, division);
                let _ = parse_feet_and_inches(&text, &text, 3, division);
                let _ = (nudged(&text, division, None, true), with_part(&text, division, 3));
            }
        }

        #[test]
        fn every_tenth_of_a_centimetre_reads_back(mm in 0i32..500_000) {
            let text = format!("{}.{}", mm / 10, mm % 10);
            prop_assert_eq!(parse_reading(&text, Division::CmTenth).unwrap().count, mm);
        }

        #[test]
        fn every_eighth_reads_back(eighths in 0i32..8_000) {
            let text = format!("{} {}/8", eighths / 8, eighths % 8);
            prop_assert_eq!(parse_reading(&text, Division::InEighth).unwrap().count, eighths);
        }
    }
}
