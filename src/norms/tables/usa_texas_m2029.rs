use crate::norms::source::{
    Arms, Attempts, Attribution, Caution, Citation, Comparability, Grade, Layer, Licence, Method,
    Population, Sample, Source, Statistic, StatisticBasis,
};
use crate::norms::table::{AgeSpan, Cell, Norm, check, cm_tenths};
use crate::quantity::{Length, Sex};

/// Deciles of men 20 to 29, printed in centimetres and inches; the centimetres are used. They are
/// almost evenly spaced, so they look smoothed: used as printed, never extended.
pub static USA_TEXAS_M2029: Source = Source {
    id: "usa_texas_m2029",
    population: Population::UsaMenTwenties,
    citation: Citation {
        authors: "Fitness Institute of Texas, University of Texas at Austin",
        year: None,
        work: "Vertical jump percentiles, men 20-29",
        read_at: "mens-fitness-and-health.com/Vertical-Jump.html",
    },
    years_measured: None,
    sample: Sample::Unknown,
    method: Method::Wall,
    arms: Arms::Swing,
    attempts: Attempts::Three,
    statistic: Statistic::Best,
    statistic_basis: StatisticBasis::Implied,
    grade: Grade::B,
    comparability: Comparability::Same,
    licence: Licence::NotSeen,
    attribution: Attribution::Named(
        "Fitness Institute of Texas: vertical jump percentiles, men 20-29",
    ),
    layer: Layer::Percentiles,
    cautions: &[Caution::SampleUnknown, Caution::LooksSmoothed],
    cells: &CELLS,
};

static CELLS: [Cell; 1] = [Cell {
    sex: Sex::Male,
    ages: AgeSpan::new(20, 29),
    n: None,
    norm: Norm::Percentiles { percents: &[10, 20, 30, 40, 50, 60, 70, 80, 90], scores: &DECILES },
}];

const DECILES: [Length; 9] = [
    cm_tenths(371),
    cm_tenths(404),
    cm_tenths(434),
    cm_tenths(465),
    cm_tenths(495),
    cm_tenths(526),
    cm_tenths(559),
    cm_tenths(589),
    cm_tenths(620),
];

const _: () = check(&CELLS);
