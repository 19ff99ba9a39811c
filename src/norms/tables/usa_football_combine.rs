use crate::norms::source::{
    Arms, Attempts, Attribution, Caution, Citation, Comparability, Described, Grade, Layer,
    Licence, Method, Population, Sample, Source, Statistic, StatisticBasis,
};
use crate::norms::table::{AgeSpan, Cell, Norm, check, inch_tenths};
use crate::quantity::{Length, Sex};

/// Percentiles of men at the draft combine of professional American football, all positions.
pub static USA_FOOTBALL_COMBINE: Source = Source {
    id: "usa_football_combine",
    population: Population::UsaFootballCombine,
    citation: Citation {
        authors: "Open data file; percentiles computed for this project",
        year: Some(2022),
        work: "Results of the professional American-football draft combine 2000-2022",
        read_at: "public repository nflverse/nflverse-pfr, data/combine.csv, commit 0bb27918",
    },
    years_measured: Some((2000, 2022)),
    sample: Sample::Known(5_932),
    method: Method::Slats,
    arms: Arms::UsuallySwing,
    attempts: Attempts::NotStated,
    statistic: Statistic::Best,
    statistic_basis: StatisticBasis::NotStated,
    grade: Grade::AData,
    comparability: Comparability::Close,
    licence: Licence::OpenDataLicenceNotRead,
    attribution: Attribution::Described(Described::FootballDraft),
    layer: Layer::Percentiles,
    cautions: &[Caution::Athletes],
    cells: &CELLS,
};

static CELLS: [Cell; 1] = [Cell {
    sex: Sex::Male,
    ages: AgeSpan::ADULT,
    n: Some(5_932),
    norm: Norm::Percentiles { percents: &[5, 10, 25, 50, 75, 90, 95], scores: &SCORES },
}];

const SCORES: [Length; 7] = [
    inch_tenths(255),
    inch_tenths(270),
    inch_tenths(300),
    inch_tenths(330),
    inch_tenths(360),
    inch_tenths(380),
    inch_tenths(395),
];

const _: () = check(&CELLS);
