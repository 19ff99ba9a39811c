use super::table::{AgeSpan, Cell, Norm};
use super::tables::KOR_NFA_2024_2026;
use crate::quantity::{Length, Sex};

/// How the median of an age group compares with that of 19 to 24, within one programme and without
/// any conversion. A cross-section, not the fate of one person.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct AgeLine {
    /// The age group.
    pub ages: AgeSpan,
    /// How much lower its median is, in whole percent; 0 at 19 to 24 itself.
    pub lower_by_percent: u8,
}

/// The age line for an adult, 19 to 64; `None` at other ages.
///
/// Source: [`KOR_NFA_2024_2026`], medians of flight height.
///
/// ```
/// use two_marks::norms::age_line;
/// use two_marks::quantity::Sex;
/// assert_eq!(age_line(Sex::Female, 52).map(|line| line.lower_by_percent), Some(21));
/// assert_eq!(age_line(Sex::Female, 65), None);
/// ```
pub fn age_line(sex: Sex, years: u8) -> Option<AgeLine> {
    const YOUNGEST: u8 = 19;
    let cell = |age: u8| {
        let mut cells = KOR_NFA_2024_2026.cells.iter();
        cells.find(|cell| cell.sex == sex && cell.ages.contains(age))
    };
    if years < YOUNGEST {
        return None;
    }
    let here = cell(years)?;
    let young = median(cell(YOUNGEST)?)?.as_micrometres();
    let lower = young - median(here)?.as_micrometres();
    let percent = (lower * 200 / young + 1).div_euclid(2); // halves up
    Some(AgeLine { ages: here.ages, lower_by_percent: u8::try_from(percent.max(0)).unwrap_or(100) })
}

/// The median of a cell of percentiles.
pub(super) fn median(cell: &Cell) -> Option<Length> {
    let Norm::Percentiles { percents, scores } = cell.norm else { return None };
    let at = percents.iter().position(|percent| *percent == 50)?;
    scores.get(at).copied()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_printed_ages_come_out_as_printed() {
        // Summary of the same survey: compared with 19-24, women 5 % lower at 30-34, 13 % at 40-44,
        // 21 % at 50-54, 33 % at 60-64; men 7, 11, 21 and 34 %.
        for (age, women, men) in [(30, 5, 7), (44, 13, 11), (50, 21, 21), (64, 33, 34)] {
            let lower = |sex| age_line(sex, age).unwrap().lower_by_percent;
            assert_eq!((lower(Sex::Female), lower(Sex::Male)), (women, men), "{age}");
        }
    }

    #[test]
    fn the_line_starts_at_nought_and_never_rises_again() {
        for sex in [Sex::Female, Sex::Male] {
            let lower: Vec<u8> =
                (19..=64).map(|age| age_line(sex, age).unwrap().lower_by_percent).collect();
            assert_eq!(lower[0], 0);
            assert!(lower.windows(2).all(|pair| pair[0] <= pair[1]), "{sex:?}: {lower:?}");
            assert_eq!(age_line(sex, 18), None);
            assert_eq!(age_line(sex, 65), None);
        }
    }
}
