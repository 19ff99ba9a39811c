use crate::norms::source::{
    Arms, Attempts, Attribution, Caution, Citation, Comparability, Described, Grade, Layer,
    Licence, Method, Population, Sample, Source, Statistic, StatisticBasis,
};
use crate::norms::table::{AgeSpan, Band, Cell, Norm, Numbering, band, check, from, up_to};
use crate::quantity::Sex;

/// Score limits of Indonesia's national school fitness test, 10 to 19, both sexes.
///
/// A second file gives girls 16 to 19 the lower limits of 13 to 15 (30 and 21 for 31 and 23), which
/// is taken as a slip there: every other page agrees with what stands here.
pub static IDN_TKJI_2010: Source = Source {
    id: "idn_tkji_2010",
    population: Population::IndonesiaPupils,
    citation: Citation {
        authors: "Ministry of Education, Indonesia",
        year: Some(2010),
        work: "National school fitness test, score tables, 2010 edition, p. 24 (test agreed 1984)",
        read_at: "text-id.123dok.com/document/1y91gp3dq; grade VIII textbook p. 212, \
                  online.flipbuilder.com/nuvn/zrff; a document that quotes the tables (16-19)",
    },
    years_measured: None,
    sample: Sample::Unknown,
    method: Method::Wall,
    arms: Arms::UsuallySwing,
    attempts: Attempts::Three,
    statistic: Statistic::Best,
    statistic_basis: StatisticBasis::Implied,
    grade: Grade::B,
    comparability: Comparability::Same,
    licence: Licence::NotSeen,
    attribution: Attribution::Described(Described::SchoolTest),
    layer: Layer::Bands,
    cautions: &[Caution::SampleUnknown, Caution::LimitsNotPercentiles],
    cells: &CELLS,
};

const fn cell(sex: Sex, ages: AgeSpan, bands: &'static [Band]) -> Cell {
    let norm = Norm::Bands { bands, numbering: Numbering::SourceScore, unassigned_cm: None };
    Cell { sex, ages, n: None, norm }
}

static CELLS: [Cell; 6] = [
    cell(Sex::Female, AgeSpan::new(10, 12), &GIRLS_10_12),
    cell(Sex::Female, AgeSpan::new(13, 15), &GIRLS_13_15),
    cell(Sex::Female, AgeSpan::new(16, 19), &GIRLS_16_19),
    cell(Sex::Male, AgeSpan::new(10, 12), &BOYS_10_12),
    cell(Sex::Male, AgeSpan::new(13, 15), &BOYS_13_15),
    cell(Sex::Male, AgeSpan::new(16, 19), &BOYS_16_19),
];

const GIRLS_10_12: [Band; 5] = [up_to(20), band(21, 27), band(28, 33), band(34, 41), from(42)];
const GIRLS_13_15: [Band; 5] = [up_to(20), band(21, 29), band(30, 38), band(39, 49), from(50)];
const GIRLS_16_19: [Band; 5] = [up_to(22), band(23, 30), band(31, 38), band(39, 49), from(50)];
const BOYS_10_12: [Band; 5] = [up_to(23), band(24, 30), band(31, 37), band(38, 45), from(46)];
const BOYS_13_15: [Band; 5] = [up_to(30), band(31, 41), band(42, 52), band(53, 65), from(66)];
const BOYS_16_19: [Band; 5] = [up_to(38), band(39, 49), band(50, 59), band(60, 72), from(73)];

const _: () = check(&CELLS);
