use crate::norms::source::{
    Arms, Attempts, Attribution, Caution, Citation, Comparability, Grade, Layer, Licence, Method,
    Population, Sample, Source, Statistic, StatisticBasis,
};
use crate::norms::table::{AgeSpan, Band, Cell, Norm, Numbering, band, check, from, up_to};
use crate::quantity::Sex;

/// Five named bands for 15 to 16, both sexes, from a British textbook. Its middle band lies above
/// the one for 16 to 19 in [`GBR_DAVIS_2000`](super::GBR_DAVIS_2000): they cannot share one scale.
pub static GBR_BEASHEL_1997: Source = Source {
    id: "gbr_beashel_1997",
    population: Population::BritainPupils,
    citation: Citation {
        authors: "Beashel P, Taylor J",
        year: Some(1997),
        work: "The World of Sport Examined",
        read_at: "brianmac.co.uk/sgtjump.htm (boys); dnafutsal.it (Sergeant test, both sexes)",
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
    attribution: Attribution::Named("Beashel P, Taylor J, The World of Sport Examined, 1997"),
    layer: Layer::Bands,
    cautions: &[Caution::SampleUnknown, Caution::LimitsNotPercentiles],
    cells: &CELLS,
};

const fn cell(sex: Sex, bands: &'static [Band]) -> Cell {
    let norm = Norm::Bands { bands, numbering: Numbering::PlaceOnly, unassigned_cm: None };
    Cell { sex, ages: AgeSpan::new(15, 16), n: None, norm }
}

static CELLS: [Cell; 2] = [cell(Sex::Female, &GIRLS), cell(Sex::Male, &BOYS)];

const GIRLS: [Band; 5] = [up_to(34), band(35, 40), band(41, 50), band(51, 60), from(61)];
const BOYS: [Band; 5] = [up_to(39), band(40, 49), band(50, 55), band(56, 65), from(66)];

const _: () = check(&CELLS);
