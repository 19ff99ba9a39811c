use crate::norms::source::{
    Arms, Attempts, Attribution, Caution, Citation, Comparability, Described, Grade, Layer,
    Licence, Method, Population, Sample, Source, Statistic, StatisticBasis,
};
use crate::norms::table::{AgeSpan, Band, Cell, Norm, Numbering, band, check, from};
use crate::quantity::Sex;

/// Five named bands for adults over 20, both sexes, from an Australian textbook.
///
/// It has no age split: in the fifties it would call the estimated average low, so it is used up to
/// 49. The lowest band is printed "<30" (men) and "<20" (women) and the next from 31 and 21; the
/// centimetre between counts with the upper of the two, since the lowest is printed as *under* it.
pub static AUS_ARKINSTALL_2010: Source = Source {
    id: "aus_arkinstall_2010",
    population: Population::AustraliaAdults,
    citation: Citation {
        authors: "Arkinstall M et al.",
        year: Some(2010),
        work: "Physical education textbook (title not printed on the page read)",
        read_at: "dnafutsal.it (Sergeant test)",
    },
    years_measured: None,
    sample: Sample::Unknown,
    method: Method::Wall,
    arms: Arms::UsuallySwing,
    attempts: Attempts::Three,
    statistic: Statistic::BestOrMean,
    statistic_basis: StatisticBasis::PagesDiffer,
    grade: Grade::B,
    comparability: Comparability::Same,
    licence: Licence::NotSeen,
    attribution: Attribution::Described(Described::SchoolBook),
    layer: Layer::Bands,
    cautions: &[Caution::SampleUnknown, Caution::NoAgeSplit, Caution::LimitsNotPercentiles],
    cells: &CELLS,
};

const fn cell(sex: Sex, bands: &'static [Band], unassigned_cm: u8) -> Cell {
    let unassigned_cm = Some(unassigned_cm);
    let norm = Norm::Bands { bands, numbering: Numbering::PlaceOnly, unassigned_cm };
    Cell { sex, ages: AgeSpan::new(20, 49), n: None, norm }
}

static CELLS: [Cell; 2] = [cell(Sex::Female, &WOMEN, 20), cell(Sex::Male, &MEN, 30)];

const WOMEN: [Band; 5] = [under(20), band(21, 30), band(31, 45), band(46, 60), from(61)];
const MEN: [Band; 5] = [under(30), band(31, 40), band(41, 55), band(56, 70), from(71)];

const fn under(cm: u8) -> Band {
    Band { from_cm: None, to_cm: Some(cm - 1) }
}

const _: () = check(&CELLS);
