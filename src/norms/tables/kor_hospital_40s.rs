use crate::norms::source::{
    Arms, Attempts, Attribution, Caution, Citation, Comparability, Described, Grade, Layer,
    Licence, Method, Population, Sample, Source, Statistic, StatisticBasis,
};
use crate::norms::table::{AgeSpan, Cell, Norm, check, cm};
use crate::quantity::Sex;

/// Two averages for people in their forties, from the scale of a hospital's sports medicine unit as
/// a newspaper told it.
pub static KOR_HOSPITAL_40S: Source = Source {
    id: "kor_hospital_40s",
    population: Population::KoreaHospitalForties,
    citation: Citation {
        authors: "Sports medicine unit of a hospital, South Korea",
        year: None,
        work: "Fitness scale as told by a newspaper",
        read_at: "hik481.tistory.com/16458182",
    },
    years_measured: None,
    sample: Sample::Unknown,
    method: Method::NotStated,
    arms: Arms::NotStated,
    attempts: Attempts::NotStated,
    statistic: Statistic::Best,
    statistic_basis: StatisticBasis::NotStated,
    grade: Grade::B,
    comparability: Comparability::OtherDevice,
    licence: Licence::NotSeen,
    attribution: Attribution::Described(Described::HospitalScale),
    layer: Layer::AverageLine,
    cautions: &[Caution::MethodNotStated, Caution::SampleUnknown],
    cells: &CELLS,
};

const fn cell(sex: Sex, mean_cm: i64) -> Cell {
    let norm = Norm::Average { average: cm(mean_cm), interval: None };
    Cell { sex, ages: AgeSpan::new(40, 49), n: None, norm }
}

static CELLS: [Cell; 2] = [cell(Sex::Female, 30), cell(Sex::Male, 45)];

const _: () = check(&CELLS);
