use crate::norms::source::Citation;
use crate::norms::table::cm_hundredths;
use crate::quantity::{Length, Sex};

/// The growth reference the stature gains come from.
pub const WHO_2007_STATURE: Citation = Citation {
    authors: "World Health Organization",
    year: Some(2007),
    work: "Growth reference 5-19 years, height-for-age, medians",
    read_at: "the tables of the growth reference; differences computed for this project",
};

/// How much the median stature rises in the year from a birthday, 6 to 17; `None` at other ages.
///
/// A cross-section, so the spurt is blunted: one child's fastest year is faster than this.
pub fn stature_gain_per_year(sex: Sex, years: u8) -> Option<Length> {
    let gains = match sex {
        Sex::Female => &GIRLS,
        Sex::Male => &BOYS,
    };
    gains.get(usize::from(years.checked_sub(FIRST_AGE)?)).copied()
}

const FIRST_AGE: u8 = 6;

const BOYS: [Length; 12] = centimetres([578, 553, 530, 521, 533, 597, 696, 714, 578, 394, 226, 98]);
const GIRLS: [Length; 12] = centimetres([569, 575, 594, 614, 636, 624, 514, 341, 188, 85, 34, 21]);

#[expect(clippy::indexing_slicing, reason = "evaluated by the compiler, within bounds")]
const fn centimetres(hundredths: [i64; 12]) -> [Length; 12] {
    let mut lengths = [Length::ZERO; 12];
    let mut k = 0;
    while k < hundredths.len() {
        lengths[k] = cm_hundredths(hundredths[k]);
        k += 1;
    }
    lengths
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_years_are_not_shifted() {
        // WHO 2007 medians: the fastest year is 13 to 14 in boys and 10 to 11 in girls.
        let fastest = |sex| (6..=17).max_by_key(|age| stature_gain_per_year(sex, *age)).unwrap();
        assert_eq!(fastest(Sex::Male), 13);
        assert_eq!(fastest(Sex::Female), 10);
        assert_eq!(stature_gain_per_year(Sex::Male, 13), Some(Length::from_micrometres(71_400)));
        assert_eq!(stature_gain_per_year(Sex::Male, 5), None);
        assert_eq!(stature_gain_per_year(Sex::Female, 18), None);
    }
}
