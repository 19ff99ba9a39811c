use crate::quantity::{Length, Sex};

/// How far from an average a score still counts as "near". Design choice: our estimate can be this
/// far off by itself, and other devices differ by as much.
pub const NEAR: Length = Length::from_mm(50);

/// Completed years, both ends included: 13.9 years is 13.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct AgeSpan {
    /// Youngest.
    pub from: u8,
    /// Oldest.
    pub to: u8,
}

impl AgeSpan {
    /// Every adult: tables of adult athletes and recruits print no ages.
    pub const ADULT: Self = Self { from: 18, to: 130 };

    /// From the youngest to the oldest completed year.
    pub const fn new(from: u8, to: u8) -> Self {
        Self { from, to }
    }

    /// Whether an age lies inside, ends included.
    pub const fn contains(self, years: u8) -> bool {
        self.from <= years && years <= self.to
    }

    /// Whether the two share an age.
    pub const fn meets(self, other: Self) -> bool {
        self.from <= other.to && other.from <= self.to
    }

    /// Whether every age of the other lies inside.
    pub const fn covers(self, other: Self) -> bool {
        self.from <= other.from && other.to <= self.to
    }

    /// How many completed years it holds.
    pub const fn years(self) -> u8 {
        self.to.saturating_sub(self.from).saturating_add(1)
    }
}

/// One printed band, in whole centimetres, both limits included; `None` is an open end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Band {
    /// Lowest whole centimetre.
    pub from_cm: Option<u8>,
    /// Highest whole centimetre.
    pub to_cm: Option<u8>,
}

impl Band {
    /// The lowest whole centimetre that counts here; a centimetre the printed limits leave out
    /// counts with the band above it.
    pub fn lowest_counted_cm(self, unassigned_cm: Option<u8>) -> Option<u8> {
        let from = self.from_cm?;
        let left_out = unassigned_cm.filter(|gap| gap.checked_add(1) == Some(from));
        Some(left_out.unwrap_or(from))
    }
}

/// How the source itself counts its bands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Numbering {
    /// It gives scores, 1 the lowest.
    SourceScore,
    /// It gives names; only the place among them is shown.
    PlaceOnly,
}

/// What a table says of one sex and age group.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Norm {
    /// Scores at printed percentiles, both ascending.
    Percentiles {
        /// The printed percentiles.
        percents: &'static [u8],
        /// The score at each.
        scores: &'static [Length],
    },
    /// Mean and standard deviation.
    MeanAndSd {
        /// The mean.
        mean: Length,
        /// The standard deviation.
        sd: Length,
    },
    /// Bands, lowest first.
    Bands {
        /// The printed limits.
        bands: &'static [Band],
        /// How the source counts them.
        numbering: Numbering,
        /// A whole centimetre the printed limits leave out; it counts with the band above it.
        unassigned_cm: Option<u8>,
    },
    /// One average.
    Average {
        /// The average.
        average: Length,
        /// Its printed interval (95 % of the mean), where there is one.
        interval: Option<(Length, Length)>,
    },
}

/// What a table says, and of whom.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Cell {
    /// Girls and women, or boys and men.
    pub sex: Sex,
    /// The ages it was printed for.
    pub ages: AgeSpan,
    /// How many people, where known.
    pub n: Option<u32>,
    /// The figures.
    pub norm: Norm,
}

pub(super) const fn cm(whole: i64) -> Length {
    Length::from_mm(whole * 10)
}

/// Tenths of a centimetre, as printed with one decimal.
pub(super) const fn cm_tenths(tenths: i64) -> Length {
    Length::from_mm(tenths)
}

/// Hundredths of a centimetre, as printed with two decimals.
pub(super) const fn cm_hundredths(hundredths: i64) -> Length {
    Length::from_micrometres(hundredths * 100)
}

/// Tenths of an inch; 25.4 mm by definition.
pub(super) const fn inch_tenths(tenths: i64) -> Length {
    Length::from_micrometres(tenths * 2_540)
}

pub(super) const fn band(from_cm: u8, to_cm: u8) -> Band {
    Band { from_cm: Some(from_cm), to_cm: Some(to_cm) }
}

pub(super) const fn up_to(to_cm: u8) -> Band {
    Band { from_cm: None, to_cm: Some(to_cm) }
}

pub(super) const fn from(from_cm: u8) -> Band {
    Band { from_cm: Some(from_cm), to_cm: None }
}

/// Stops the build when a table is out of order: cells without sense, percentiles or scores that
/// fall, bands with a gap (other than the one the source is known to have) or an overlap.
pub(super) const fn check(cells: &[Cell]) {
    let mut i = 0;
    while i < cells.len() {
        #[expect(clippy::indexing_slicing, reason = "evaluated by the compiler, within bounds")]
        let cell = &cells[i];
        assert!(cell.ages.from <= cell.ages.to, "ages ascend");
        match cell.norm {
            Norm::Percentiles { percents, scores } => check_percentiles(percents, scores),
            Norm::MeanAndSd { mean, sd } => {
                assert!(sd.as_micrometres() > 0 && mean.as_micrometres() > sd.as_micrometres());
            }
            Norm::Bands { bands, unassigned_cm, .. } => check_bands(bands, unassigned_cm),
            Norm::Average { average, interval } => {
                assert!(average.as_micrometres() > 0);
                if let Some((low, high)) = interval {
                    assert!(low.as_micrometres() <= average.as_micrometres());
                    assert!(average.as_micrometres() <= high.as_micrometres());
                }
            }
        }
        check_no_overlap(cells, i);
        i += 1;
    }
}

#[expect(clippy::indexing_slicing, reason = "evaluated by the compiler, within bounds")]
const fn check_no_overlap(cells: &[Cell], i: usize) {
    let mut j = i + 1;
    while j < cells.len() {
        let same_sex = cells[i].sex as u8 == cells[j].sex as u8;
        assert!(!same_sex || !cells[i].ages.meets(cells[j].ages), "age groups do not overlap");
        j += 1;
    }
}

#[expect(clippy::indexing_slicing, reason = "evaluated by the compiler, within bounds")]
const fn check_percentiles(percents: &[u8], scores: &[Length]) {
    assert!(percents.len() == scores.len() && percents.len() >= 2, "one score per percentile");
    assert!(percents[0] > 0 && percents[percents.len() - 1] < 100, "percentiles are open");
    let mut k = 1;
    while k < percents.len() {
        assert!(percents[k - 1] < percents[k], "percentiles ascend");
        assert!(scores[k - 1].as_micrometres() < scores[k].as_micrometres(), "scores ascend");
        k += 1;
    }
}

#[expect(clippy::panic, reason = "stops the compiler, never the page")]
#[expect(clippy::indexing_slicing, reason = "evaluated by the compiler, within bounds")]
const fn check_bands(bands: &[Band], unassigned_cm: Option<u8>) {
    assert!(bands.len() >= 2);
    assert!(bands[0].from_cm.is_none(), "the lowest band is open");
    assert!(bands[bands.len() - 1].to_cm.is_none(), "the highest band is open");
    let mut k = 1;
    while k < bands.len() {
        match (bands[k - 1].to_cm, bands[k].from_cm) {
            (Some(to), Some(from)) => {
                let known_gap = match unassigned_cm {
                    Some(gap) => gap == to + 1 && from == to + 2,
                    None => false,
                };
                assert!(from == to + 1 || known_gap, "bands meet without gap or overlap");
            }
            _ => panic!("only the ends are open"),
        }
        k += 1;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::panic::catch_unwind;

    const GIRL: Cell = Cell {
        sex: Sex::Female,
        ages: AgeSpan::new(10, 12),
        n: None,
        norm: Norm::Average { average: cm(30), interval: None },
    };

    fn of_bands(bands: &[Band], unassigned_cm: Option<u8>) -> Norm {
        let bands = Vec::leak(bands.to_vec());
        Norm::Bands { bands, numbering: Numbering::PlaceOnly, unassigned_cm }
    }

    fn of_percents(percents: &[u8], scores: &[i64]) -> Norm {
        let scores: Vec<Length> = scores.iter().map(|whole| cm(*whole)).collect();
        Norm::Percentiles { percents: Vec::leak(percents.to_vec()), scores: Vec::leak(scores) }
    }

    /// The checks stop the compiler on a wrong table; called here, they panic.
    fn passes(cells: &[Cell]) -> bool {
        catch_unwind(|| check(cells)).is_ok()
    }

    fn norm_passes(norm: Norm) -> bool {
        passes(&[Cell { norm, ..GIRL }])
    }

    #[test]
    fn a_table_in_order_passes() {
        assert!(passes(&[GIRL, Cell { ages: AgeSpan::new(13, 15), ..GIRL }]));
        assert!(passes(&[GIRL, Cell { sex: Sex::Male, ..GIRL }]));
        assert!(norm_passes(Norm::MeanAndSd { mean: cm(30), sd: cm(6) }));
        assert!(norm_passes(Norm::Average { average: cm(30), interval: Some((cm(30), cm(30))) }));
        assert!(norm_passes(of_percents(&[10, 50, 90], &[2, 3, 4])));
        assert!(norm_passes(of_bands(&[up_to(25), band(26, 35), from(36)], None)));
        // 26 is left out by the printed limits, and known to be.
        assert!(norm_passes(of_bands(&[up_to(25), band(27, 35), from(36)], Some(26))));
    }

    #[test]
    fn ages_that_fall_or_overlap_stop_the_build() {
        assert!(!passes(&[Cell { ages: AgeSpan::new(12, 10), ..GIRL }]));
        assert!(!passes(&[GIRL, Cell { ages: AgeSpan::new(12, 14), ..GIRL }]));
        let boy = Cell { sex: Sex::Male, ..GIRL };
        assert!(!passes(&[GIRL, boy, boy]));
    }

    #[test]
    fn figures_out_of_order_stop_the_build() {
        let wrong = [
            Norm::MeanAndSd { mean: cm(30), sd: cm(0) },
            Norm::MeanAndSd { mean: cm(6), sd: cm(6) },
            Norm::Average { average: cm(0), interval: None },
            Norm::Average { average: cm(30), interval: Some((cm(31), cm(32))) },
            Norm::Average { average: cm(30), interval: Some((cm(28), cm(29))) },
            of_percents(&[50], &[3]),
            of_percents(&[10, 50], &[3]),
            of_percents(&[0, 50], &[2, 3]),
            of_percents(&[50, 100], &[2, 3]),
            of_percents(&[10, 50, 50], &[2, 3, 4]),
            of_percents(&[50, 10], &[2, 3]),
            of_percents(&[10, 50, 90], &[2, 3, 3]),
            of_percents(&[10, 50], &[3, 2]),
        ];
        for norm in wrong {
            assert!(!norm_passes(norm), "{norm:?}");
        }
    }

    #[test]
    fn bands_with_a_gap_an_overlap_or_a_closed_end_stop_the_build() {
        let wrong = [
            of_bands(&[up_to(25)], None),
            of_bands(&[band(1, 25), from(26)], None),
            of_bands(&[up_to(25), band(26, 35)], None),
            of_bands(&[up_to(25), from(27)], None),
            of_bands(&[up_to(25), from(25)], None),
            of_bands(&[up_to(25), from(26), from(36)], None),
            of_bands(&[up_to(25), up_to(35), from(36)], None),
            of_bands(&[up_to(25), band(26, 35), from(37)], None),
            // The gap known is another one, or wider than a centimetre.
            of_bands(&[up_to(25), from(27)], Some(30)),
            of_bands(&[up_to(25), from(28)], Some(26)),
            of_bands(&[up_to(25), from(27)], Some(27)),
        ];
        for norm in wrong {
            assert!(!norm_passes(norm), "{norm:?}");
        }
    }

    #[test]
    fn spans_of_ages_hold_both_their_ends() {
        let span = AgeSpan::new(10, 12);
        let at = |from, to| AgeSpan::new(from, to);
        assert!(span.contains(10) && span.contains(12) && !span.contains(9) && !span.contains(13));
        assert!(span.meets(at(12, 15)) && span.meets(at(6, 10)));
        assert!(!span.meets(at(13, 15)) && !span.meets(at(6, 9)));
        assert!(span.covers(span) && span.covers(at(11, 11)));
        assert!(!span.covers(at(9, 12)) && !span.covers(at(10, 13)));
        assert_eq!((span.years(), at(7, 7).years()), (3, 1));
    }

    #[test]
    fn a_centimetre_left_out_counts_with_the_band_above_it() {
        assert_eq!(band(27, 35).lowest_counted_cm(Some(26)), Some(26));
        assert_eq!(band(27, 35).lowest_counted_cm(Some(36)), Some(27));
        assert_eq!(band(27, 35).lowest_counted_cm(None), Some(27));
        assert_eq!(up_to(26).lowest_counted_cm(Some(26)), None);
    }
}
