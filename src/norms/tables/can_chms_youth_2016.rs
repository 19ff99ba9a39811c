use crate::norms::source::{
    Arms, Attempts, Attribution, Caution, Citation, Comparability, Grade, Layer, Licence, Method,
    Population, Sample, Source, Statistic, StatisticBasis,
};
use crate::norms::table::{AgeSpan, Cell, Norm, check, cm};
use crate::quantity::Sex;

/// Weighted means with their 95 % intervals, 6 to 19, both sexes, from a national household sample.
/// A force plate and a formula, so an average line only.
pub static CAN_CHMS_YOUTH_2016: Source = Source {
    id: "can_chms_youth_2016",
    population: Population::CanadaHouseholds,
    citation: Citation {
        authors: "Statistics Canada",
        year: Some(2019),
        work: "Trends in physical fitness of children and youth, Table 1. \
               Health Reports 82-003-x, October 2019, DOI 10.25318/82-003-x201901000001-eng",
        read_at: "www150.statcan.gc.ca/n1/pub/82-003-x/2019010/article/00001/tbl/tbl01-eng.htm",
    },
    years_measured: Some((2016, 2017)),
    sample: Sample::SizeNotRead,
    method: Method::ForcePlate,
    arms: Arms::NotStated,
    attempts: Attempts::NotStated,
    statistic: Statistic::Best,
    statistic_basis: StatisticBasis::NotStated,
    grade: Grade::ATable,
    comparability: Comparability::OtherDevice,
    licence: Licence::OpenWithAttribution,
    attribution: Attribution::Named(
        "Source: Statistics Canada, Health Reports, October 2019. Adapted; this is no \
                  endorsement by Statistics Canada.",
    ),
    layer: Layer::AverageLine,
    cautions: &[Caution::OtherDevice],
    cells: &CELLS,
};

const fn cell(sex: Sex, ages: AgeSpan, mean: i64, low: i64, high: i64) -> Cell {
    let norm = Norm::Average { average: cm(mean), interval: Some((cm(low), cm(high))) };
    Cell { sex, ages, n: None, norm }
}

static CELLS: [Cell; 6] = [
    cell(Sex::Female, AgeSpan::new(6, 10), 28, 27, 28),
    cell(Sex::Female, AgeSpan::new(11, 14), 35, 34, 36),
    cell(Sex::Female, AgeSpan::new(15, 19), 36, 34, 37),
    cell(Sex::Male, AgeSpan::new(6, 10), 28, 27, 29),
    cell(Sex::Male, AgeSpan::new(11, 14), 39, 35, 43),
    cell(Sex::Male, AgeSpan::new(15, 19), 49, 46, 51),
];

const _: () = check(&CELLS);
