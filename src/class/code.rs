//! Codes that survive being read aloud, written on paper and typed again.
//!
//! A code is a kind letter, a number written with 23 signs, and two check signs, in groups of four.
//! Of signs that look alike at most one is used (0, 1, B, D, G, I, L, N, O, Q, S, V and Z are not);
//! a capital or small letter is the same.
//!
//! **Check signs.** Read as a polynomial over the field of 23 elements, a right code is zero at 2 and
//! at 5. The sum at 2 is the recursive method of the pure systems of ISO/IEC 7064:2003 with the
//! prime 23 in place of its 11 or 37; the second makes the pair a Reed-Solomon code (Reed & Solomon
//! 1960, J SIAM 8:300). So every single wrong sign and every exchange of two neighbours is found at
//! any length, and up to 22 signs any two wrong signs as well.

/// The signs, by value.
const SIGNS: &[u8; 23] = b"23456789ACEFHJKMPRTUWXY";
/// The number of signs, a prime.
const BASE: u32 = 23;
/// Signs of one group.
const GROUP: usize = 4;
/// Fewest signs of any code: kind, two of number, two checks.
const SIGNS_MIN: usize = 5;
/// Most signs of any code. Design choice: a link of a class has at most 127.
const SIGNS_MAX: usize = 160;
/// Where a right code is zero.
const ROOTS: (u32, u32) = (2, 5);
/// 1 / (5 - 2) in the field: 3 × 8 = 24.
const INVERSE_OF_DIFFERENCE: u32 = 8;

/// Why a text is no code.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CodeProblem {
    /// Shorter than any code of its kind.
    TooShort,
    /// Longer than any code of its kind.
    TooLong,
    /// This sign stands in no code.
    Sign(char),
    /// A sign is wrong, missing or in the wrong place: the checks do not fit.
    Check,
    /// Of a kind this page does not know: a later version's, or another's.
    Newer,
}

/// A number put together from small values, each below its own limit, so that no room is wasted.
/// What was put in last is taken out first.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Packed {
    /// Digits in base 23, the lowest first, without zeros at the high end.
    digits: Vec<u32>,
}

impl Packed {
    /// Puts a value in, which must be below `limit`.
    pub fn put(&mut self, value: u32, limit: u32) {
        debug_assert!(value < limit, "{value} of {limit}");
        let mut carry = value;
        for digit in &mut self.digits {
            let sum = *digit * limit + carry;
            (*digit, carry) = (sum % BASE, sum / BASE);
        }
        while carry > 0 {
            self.digits.push(carry % BASE);
            carry /= BASE;
        }
    }

    /// Takes the value out that was put in last.
    pub fn take(&mut self, limit: u32) -> u32 {
        let mut rest = 0;
        for digit in self.digits.iter_mut().rev() {
            let sum = rest * BASE + *digit;
            (*digit, rest) = (sum / limit, sum % limit);
        }
        while self.digits.last() == Some(&0) {
            self.digits.pop();
        }
        rest
    }

    /// Whether nothing is left.
    pub fn is_empty(&self) -> bool {
        self.digits.is_empty()
    }
}

/// Writes a code of a kind, without groups.
pub fn write(kind: char, packed: &Packed) -> String {
    let head = value_of(kind).unwrap_or(0);
    let mut signs: Vec<u32> =
        std::iter::once(head).chain(packed.digits.iter().rev().copied()).collect();
    while signs.len() < SIGNS_MIN - 2 {
        signs.insert(1, 0);
    }
    let (first, second) = (at(&signs, ROOTS.0), at(&signs, ROOTS.1));
    let (first, second) = (first * ROOTS.0 * ROOTS.0 % BASE, second * ROOTS.1 * ROOTS.1 % BASE);
    let high = (first + BASE - second) * INVERSE_OF_DIFFERENCE % BASE;
    let low = (2 * BASE + BASE - first - high * ROOTS.0 % BASE) % BASE;
    signs.extend([high, low]);
    signs.iter().filter_map(|value| sign_of(*value)).collect()
}

/// The same in groups of four, by hyphens, as it is shown.
pub fn grouped(code: &str) -> String {
    let mut text = String::with_capacity(code.len() + code.len() / GROUP);
    for (at, sign) in code.chars().enumerate() {
        if at > 0 && at % GROUP == 0 {
            text.push('-');
        }
        text.push(sign);
    }
    text
}

/// Reads a code of a kind. Groups, spaces and the size of letters do not matter.
///
/// # Errors
/// A [`CodeProblem`]; of several the first in its order.
pub fn read(kind: char, text: &str) -> Result<Packed, CodeProblem> {
    let mut signs = Vec::new();
    for sign in text.chars().filter(|sign| !is_separator(*sign)) {
        if signs.len() >= SIGNS_MAX {
            return Err(CodeProblem::TooLong);
        }
        signs.push(value_of(sign).ok_or(CodeProblem::Sign(sign))?);
    }
    if signs.len() < SIGNS_MIN {
        return Err(CodeProblem::TooShort);
    }
    if at(&signs, ROOTS.0) != 0 || at(&signs, ROOTS.1) != 0 {
        return Err(CodeProblem::Check);
    }
    let (head, number) = match signs.split_first() {
        Some((head, rest)) => (*head, rest.get(..rest.len().saturating_sub(2)).unwrap_or(&[])),
        None => return Err(CodeProblem::TooShort),
    };
    if value_of(kind) != Some(head) {
        return Err(CodeProblem::Newer);
    }
    let mut digits: Vec<u32> = number.iter().rev().copied().collect();
    while digits.last() == Some(&0) {
        digits.pop();
    }
    Ok(Packed { digits })
}

/// What may stand between the groups of a code.
pub fn is_separator(sign: char) -> bool {
    sign.is_whitespace() || matches!(sign, '-' | '\u{2010}'..='\u{2015}' | '.' | '\u{b7}')
}

/// Whether a sign stands in codes.
pub fn is_sign(sign: char) -> bool {
    value_of(sign).is_some()
}

/// The polynomial of the signs at a place.
fn at(signs: &[u32], place: u32) -> u32 {
    signs.iter().fold(0, |sum, sign| (sum * place + sign) % BASE)
}

fn value_of(sign: char) -> Option<u32> {
    let upper = u8::try_from(sign.to_ascii_uppercase()).ok()?;
    let place = SIGNS.iter().position(|known| *known == upper)?;
    u32::try_from(place).ok()
}

fn sign_of(value: u32) -> Option<char> {
    SIGNS.get(usize::try_from(value).ok()?).map(|sign| char::from(*sign))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn packed(values: &[(u32, u32)]) -> Packed {
        let mut packed = Packed::default();
        for (value, limit) in values.iter().rev() {
            packed.put(*value, *limit);
        }
        packed
    }

    #[test]
    fn a_code_worked_by_hand() {
        // Kind J is 13; the number 5 is written 0 5. As a polynomial 13x² + 0x + 5: at 2 it is 57 = 11,
        // at 5 it is 330 = 8. Times 4 and 25: 44 = 21 and 200 = 16. (21 - 16) × 8 = 40 = 17;
        // -21 - 34 = -55 = 14. So J 2 7 R K: 13·16 + 0 + 5·4 + 17·2 + 14 = 276 = 12 × 23.
        assert_eq!(write('J', &packed(&[(5, 23)])), "J27RK");
        assert_eq!(read('J', "J27RK").unwrap().take(23), 5);
    }

    #[test]
    fn groups_spaces_and_small_letters_do_not_matter() {
        let code = write('J', &packed(&[(987, 1000), (41, 97), (529, 600)]));
        let shown = grouped(&code);
        assert!(shown.contains('-'));
        for typed in [shown.clone(), shown.to_lowercase(), shown.replace('-', " "), code] {
            assert_eq!(read('J', &typed).unwrap().take(1000), 987, "{typed}");
        }
    }

    #[test]
    fn what_is_no_code_is_named() {
        assert_eq!(read('J', ""), Err(CodeProblem::TooShort));
        assert_eq!(read('J', "J27R0"), Err(CodeProblem::Sign('0')));
        assert_eq!(read('J', "J27RH"), Err(CodeProblem::Check));
        assert_eq!(read('J', &"J".repeat(161)), Err(CodeProblem::TooLong));
        assert_eq!(read('J', &write('K', &packed(&[(5, 23)]))), Err(CodeProblem::Newer));
    }

    proptest! {
        #[test]
        fn values_come_out_as_they_went_in(
            values in prop::collection::vec((0u32..100_000).prop_flat_map(|v| (Just(v), v + 1..=100_001)), 0..12)
        ) {
            let mut read = read('J', &write('J', &packed(&values))).unwrap();
            for (value, limit) in values {
                prop_assert_eq!(read.take(limit), value);
            }
            prop_assert!(read.is_empty());
        }

        #[test]
        fn any_two_wrong_signs_of_a_short_code_are_found(
            number in any::<u32>(), first in 0usize..9, second in 0usize..9, a in 1u32..23, b in 1u32..23
        ) {
            let code = write('J', &packed(&[(number, u32::MAX)]));
            let mut signs: Vec<u32> = code.chars().map(|sign| value_of(sign).unwrap()).collect();
            prop_assume!(first != second && first < signs.len() && second < signs.len());
            signs[first] = (signs[first] + a) % BASE;
            signs[second] = (signs[second] + b) % BASE;
            let wrong: String = signs.iter().map(|value| sign_of(*value).unwrap()).collect();
            prop_assert_eq!(read('J', &wrong), Err(CodeProblem::Check));
        }

        #[test]
        fn any_text_is_read_or_refused(text in any::<String>()) {
            let _ = read('J', &text);
        }
    }
}
