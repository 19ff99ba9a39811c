use crate::norms::source::{
    Arms, Attempts, Attribution, Caution, Citation, Comparability, Grade, Layer, Licence, Method,
    Population, Sample, Source, Statistic, StatisticBasis,
};
use crate::norms::table::{AgeSpan, Cell, Norm, check, cm_hundredths};
use crate::quantity::Sex;

/// Means and standard deviations of law-enforcement recruits, fitter than the public.
pub static USA_LOCKIE_2024: Source = Source {
    id: "usa_lockie_2024",
    population: Population::UsaRecruits,
    citation: Citation {
        authors: "Lockie RG et al.",
        year: Some(2024),
        work: "Percentile rank data for the countermovement vertical jump measured by a \
               jump-and-reach device in law enforcement recruits. SportLogia (online October 2024)",
        read_at: "sportlogia.com/SL2025.1/SL1.html (abstract)",
    },
    years_measured: None,
    sample: Sample::Known(833),
    method: Method::Slats,
    arms: Arms::NotStated,
    attempts: Attempts::NotStated,
    statistic: Statistic::Best,
    statistic_basis: StatisticBasis::NotStated,
    grade: Grade::AAbstract,
    comparability: Comparability::Close,
    licence: Licence::NotSeen,
    attribution: Attribution::Named("Lockie RG et al., SportLogia, 2024"),
    layer: Layer::MeanAndSd,
    cautions: &[Caution::Athletes],
    cells: &CELLS,
};

const fn cell(sex: Sex, n: u32, mean_hundredths: i64, sd_hundredths: i64) -> Cell {
    let norm =
        Norm::MeanAndSd { mean: cm_hundredths(mean_hundredths), sd: cm_hundredths(sd_hundredths) };
    Cell { sex, ages: AgeSpan::ADULT, n: Some(n), norm }
}

static CELLS: [Cell; 2] = [cell(Sex::Female, 150, 4_033, 954), cell(Sex::Male, 683, 5_534, 1_016)];

const _: () = check(&CELLS);
