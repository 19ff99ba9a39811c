use crate::norms::source::{
    Arms, Attempts, Attribution, Caution, Citation, Comparability, Described, Grade, Layer,
    Licence, Method, Population, Sample, Source, Statistic, StatisticBasis,
};
use crate::norms::table::{AgeSpan, Cell, Norm, check, inch_tenths};
use crate::quantity::{Length, Sex};

/// Percentiles of men at the draft combine of professional basketball, standing jump.
pub static USA_BASKETBALL_COMBINE: Source = Source {
    id: "usa_basketball_combine",
    population: Population::UsaBasketballCombine,
    citation: Citation {
        authors: "Open data file; percentiles computed for this project",
        year: Some(2019),
        work: "Results of the professional basketball draft combine 2000-2019 (8 of 1195 rows dropped)",
        read_at: "public repository MaxYichenWang/NBA_Project, draft_combine_stats.csv, commit 85dae0b9",
    },
    years_measured: Some((2000, 2019)),
    sample: Sample::Known(1_187),
    method: Method::Slats,
    arms: Arms::UsuallySwing,
    attempts: Attempts::NotStated,
    statistic: Statistic::Best,
    statistic_basis: StatisticBasis::NotStated,
    grade: Grade::AData,
    comparability: Comparability::Close,
    licence: Licence::OpenDataLicenceNotRead,
    attribution: Attribution::Described(Described::BasketballDraft),
    layer: Layer::Percentiles,
    cautions: &[Caution::Athletes],
    cells: &CELLS,
};

static CELLS: [Cell; 1] = [Cell {
    sex: Sex::Male,
    ages: AgeSpan::ADULT,
    n: Some(1_187),
    norm: Norm::Percentiles { percents: &[5, 10, 25, 50, 75, 90, 95], scores: &SCORES },
}];

const SCORES: [Length; 7] = [
    inch_tenths(240),
    inch_tenths(250),
    inch_tenths(270),
    inch_tenths(290),
    inch_tenths(315),
    inch_tenths(330),
    inch_tenths(340),
];

const _: () = check(&CELLS);
