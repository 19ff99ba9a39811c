use crate::norms::source::{
    Arms, Attempts, Attribution, Caution, Citation, Comparability, Grade, Layer, Licence, Method,
    Population, Sample, Source, Statistic, StatisticBasis,
};
use crate::norms::table::{AgeSpan, Cell, Norm, check, inch_tenths};
use crate::quantity::Sex;

/// Means and standard deviations of women and men 21 to 30, printed in tenths of an inch. Medical
/// students and their spouses, more active than most.
pub static USA_PATTERSON_2004: Source = Source {
    id: "usa_patterson_2004",
    population: Population::UsaActiveStudents,
    citation: Citation {
        authors: "Patterson D, Peterson DF",
        year: Some(2004),
        work: "Vertical jump and leg power norms for young adults. \
               Med Sci Sports Exerc 2004;36(5 Suppl):S114",
        read_at: "journals.lww.com/acsm-msse/Fulltext/2004/05001 (abstract)",
    },
    years_measured: None,
    sample: Sample::Known(724),
    method: Method::Slats,
    arms: Arms::UsuallySwing,
    attempts: Attempts::NotStated,
    statistic: Statistic::Best,
    statistic_basis: StatisticBasis::NotStated,
    grade: Grade::AAbstract,
    comparability: Comparability::Close,
    licence: Licence::NotSeen,
    attribution: Attribution::Named(
        "Patterson D, Peterson DF, Med Sci Sports Exerc 2004;36(5 Suppl):S114",
    ),
    layer: Layer::MeanAndSd,
    cautions: &[Caution::ActiveSample, Caution::SmallGroup],
    cells: &CELLS,
};

const fn cell(sex: Sex, ages: AgeSpan, n: u32, mean_tenths: i64, sd_tenths: i64) -> Cell {
    let norm = Norm::MeanAndSd { mean: inch_tenths(mean_tenths), sd: inch_tenths(sd_tenths) };
    Cell { sex, ages, n: Some(n), norm }
}

static CELLS: [Cell; 4] = [
    cell(Sex::Female, AgeSpan::new(21, 25), 182, 141, 25),
    cell(Sex::Female, AgeSpan::new(26, 30), 42, 140, 24),
    cell(Sex::Male, AgeSpan::new(21, 25), 312, 222, 35),
    cell(Sex::Male, AgeSpan::new(26, 30), 188, 219, 33),
];

const _: () = check(&CELLS);
