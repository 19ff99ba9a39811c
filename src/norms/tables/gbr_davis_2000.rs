use crate::norms::source::{
    Arms, Attempts, Attribution, Caution, Citation, Comparability, Grade, Layer, Licence, Method,
    Population, Sample, Source, Statistic, StatisticBasis,
};
use crate::norms::table::{AgeSpan, Band, Cell, Norm, Numbering, band, check, from, up_to};
use crate::quantity::Sex;

/// Five named bands for 16 to 19, both sexes, from a British textbook. Easy for boys, hard for girls.
pub static GBR_DAVIS_2000: Source = Source {
    id: "gbr_davis_2000",
    population: Population::BritainYouth,
    citation: Citation {
        authors: "Davis B et al.",
        year: Some(2000),
        work: "Physical Education and the Study of Sport",
        read_at: "brianmac.co.uk/sgtjump.htm; dnafutsal.it (Sergeant test); \
                  completesoccertraining.blogspot.com/2012/08",
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
    attribution: Attribution::Named(
        "Davis B et al., Physical Education and the Study of Sport, 2000",
    ),
    layer: Layer::Bands,
    cautions: &[Caution::SampleUnknown, Caution::LimitsNotPercentiles],
    cells: &CELLS,
};

const fn cell(sex: Sex, bands: &'static [Band]) -> Cell {
    let norm = Norm::Bands { bands, numbering: Numbering::PlaceOnly, unassigned_cm: None };
    Cell { sex, ages: AgeSpan::new(16, 19), n: None, norm }
}

static CELLS: [Cell; 2] = [cell(Sex::Female, &WOMEN), cell(Sex::Male, &MEN)];

// Printed ">58" and "<26": 58 belongs to the band below the top, 26 to the band above the foot.
const WOMEN: [Band; 5] = [up_to(25), band(26, 35), band(36, 46), band(47, 58), from(59)];
const MEN: [Band; 5] = [up_to(29), band(30, 39), band(40, 49), band(50, 65), from(66)];

const _: () = check(&CELLS);
