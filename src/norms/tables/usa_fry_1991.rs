use crate::norms::source::{
    Arms, Attempts, Attribution, Caution, Citation, Comparability, Grade, Layer, Licence, Method,
    Population, Sample, Source, Statistic, StatisticBasis,
};
use crate::norms::table::{AgeSpan, Cell, Norm, check, cm_tenths};
use crate::quantity::Sex;

/// Mean and standard deviation of college players of American football, 19 programmes.
pub static USA_FRY_1991: Source = Source {
    id: "usa_fry_1991",
    population: Population::UsaCollegeFootball,
    citation: Citation {
        authors: "Fry AC, Kraemer WJ",
        year: Some(1991),
        work: "Physical performance characteristics of American collegiate football players. \
               J Appl Sport Sci Res 1991;5(3):126-138",
        read_at: "discovery.researcher.life (abstract)",
    },
    years_measured: None,
    sample: Sample::Known(981),
    method: Method::NotStated,
    arms: Arms::NotStated,
    attempts: Attempts::NotStated,
    statistic: Statistic::Best,
    statistic_basis: StatisticBasis::NotStated,
    grade: Grade::AAbstract,
    comparability: Comparability::Close,
    licence: Licence::NotSeen,
    attribution: Attribution::Named("Fry AC, Kraemer WJ, J Appl Sport Sci Res 1991;5(3):126-138"),
    layer: Layer::MeanAndSd,
    cautions: &[Caution::Athletes, Caution::MethodNotStated],
    cells: &CELLS,
};

static CELLS: [Cell; 1] = [Cell {
    sex: Sex::Male,
    ages: AgeSpan::ADULT,
    n: Some(981),
    norm: Norm::MeanAndSd { mean: cm_tenths(702), sd: cm_tenths(91) },
}];

const _: () = check(&CELLS);
