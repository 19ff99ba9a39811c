use crate::norms::source::{
    Arms, Attempts, Attribution, Caution, Citation, Comparability, Grade, Layer, Licence, Method,
    Population, Sample, Source, Statistic, StatisticBasis,
};
use crate::norms::table::{AgeSpan, Cell, Norm, check, inch_tenths};
use crate::quantity::{Length, Sex};

/// Deciles of boys 13 to 14 from a handbook, printed in tenths of an inch. The page that quotes them
/// describes a wall and chalk; procedure and sample of the table itself are unknown.
pub static USA_HOFFMAN_2006: Source = Source {
    id: "usa_hoffman_2006",
    population: Population::UsaBoys,
    citation: Citation {
        authors: "Hoffman J",
        year: Some(2006),
        work: "Norms for Fitness, Performance, and Health",
        read_at: "livestrong.com/article/495312",
    },
    years_measured: None,
    sample: Sample::Unknown,
    method: Method::ProbablyWall,
    arms: Arms::NotStated,
    attempts: Attempts::NotStated,
    statistic: Statistic::Best,
    statistic_basis: StatisticBasis::NotStated,
    grade: Grade::B,
    comparability: Comparability::SameOrClose,
    licence: Licence::NotSeen,
    attribution: Attribution::Named("Hoffman J, Norms for Fitness, Performance, and Health, 2006"),
    layer: Layer::Percentiles,
    cautions: &[Caution::ProcedureAndSampleUnknown],
    cells: &CELLS,
};

static CELLS: [Cell; 1] = [Cell {
    sex: Sex::Male,
    ages: AgeSpan::new(13, 14),
    n: None,
    norm: Norm::Percentiles { percents: &[10, 20, 30, 40, 50, 60, 70, 80, 90], scores: &DECILES },
}];

const DECILES: [Length; 9] = [
    inch_tenths(123),
    inch_tenths(138),
    inch_tenths(150),
    inch_tenths(160),
    inch_tenths(170),
    inch_tenths(180),
    inch_tenths(190),
    inch_tenths(200),
    inch_tenths(210),
];

const _: () = check(&CELLS);
