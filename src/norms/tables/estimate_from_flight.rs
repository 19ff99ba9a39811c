use crate::norms::source::{
    Arms, Attempts, Attribution, Caution, Citation, Comparability, Described, Grade, Layer,
    Licence, Method, Population, Sample, Source, Statistic, StatisticBasis,
};
use crate::norms::table::{AgeSpan, Cell, Norm, check, cm};
use crate::quantity::{Length, Sex};

/// Our own estimate of an average wall score, 20 to 64: the median flight height of
/// [`KOR_NFA_2024_2026`](super::KOR_NFA_2024_2026) plus [`WALL_OVER_FLIGHT`], in whole centimetres, halves up.
///
/// Three words only, never a percentile: the estimate can be 5 cm off, which is half a standard
/// deviation for men and a whole one for women. Past 50 nothing tests it.
pub static ESTIMATE_FROM_FLIGHT: Source = Source {
    id: "estimate_from_flight",
    population: Population::KoreaTestCentres,
    citation: Citation {
        authors: "Our own estimate",
        year: None,
        work: "Median flight height of kor_nfa_2024_2026 plus 10 cm",
        read_at: "computed from docs/norms/kor_nfa_2024_2026_flight.csv",
    },
    years_measured: Some((2024, 2026)),
    sample: Sample::Known(279_025),
    method: Method::FlightTime,
    arms: Arms::NotStated,
    attempts: Attempts::NotStated,
    statistic: Statistic::Best,
    statistic_basis: StatisticBasis::NotStated,
    grade: Grade::B,
    comparability: Comparability::OtherDevice,
    licence: Licence::OpenDataLicenceNotRead,
    attribution: Attribution::Described(Described::OwnEstimate),
    layer: Layer::OwnEstimate,
    cautions: &[Caution::OwnEstimate, Caution::ReadsLowerThanAWall, Caution::SelfSelected],
    cells: &CELLS,
};

/// How much more a mark on a wall reads than time in the air. Design choice: 17 pairs of wall and
/// flight-time tables differ by 4 to 17 cm, 10.1 in the middle; no published rule.
pub const WALL_OVER_FLIGHT: Length = Length::from_mm(100);

const fn cell(sex: Sex, from: u8, to: u8, average_cm: i64) -> Cell {
    let norm = Norm::Average { average: cm(average_cm), interval: None };
    Cell { sex, ages: AgeSpan::new(from, to), n: None, norm }
}

static CELLS: [Cell; 18] = [
    cell(Sex::Female, 20, 24, 35),
    cell(Sex::Female, 25, 29, 35),
    cell(Sex::Female, 30, 34, 34),
    cell(Sex::Female, 35, 39, 33),
    cell(Sex::Female, 40, 44, 32),
    cell(Sex::Female, 45, 49, 31),
    cell(Sex::Female, 50, 54, 30),
    cell(Sex::Female, 55, 59, 29),
    cell(Sex::Female, 60, 64, 27),
    cell(Sex::Male, 20, 24, 51),
    cell(Sex::Male, 25, 29, 49),
    cell(Sex::Male, 30, 34, 48),
    cell(Sex::Male, 35, 39, 47),
    cell(Sex::Male, 40, 44, 46),
    cell(Sex::Male, 45, 49, 44),
    cell(Sex::Male, 50, 54, 42),
    cell(Sex::Male, 55, 59, 39),
    cell(Sex::Male, 60, 64, 37),
];

const _: () = check(&CELLS);
