use crate::norms::source::{
    Arms, Attempts, Attribution, Caution, Citation, Comparability, Described, Grade, Layer,
    Licence, Method, Population, Sample, Source, Statistic, StatisticBasis,
};
use crate::norms::table::{AgeSpan, Cell, Norm, check};
use crate::quantity::{Length, Sex};

/// Percentiles of time in the air, 13 to 64, both sexes: visitors of public fitness test centres.
///
/// The only complete set of ages here, but for flight-time scores alone: it reads about 10 cm lower
/// than marks on a wall, by its definition. Many values sit on steps of about 12.4 ms, so places
/// move in jumps of 1.3 to 1.9 cm. The figures are another party's aggregates of named open data.
pub static KOR_NFA_2024_2026: Source = Source {
    id: "kor_nfa_2024_2026",
    population: Population::KoreaTestCentres,
    citation: Citation {
        authors: "National fitness award centres, South Korea (open data of the national sports \
                  promotion foundation)",
        year: Some(2026),
        work: "Measurements July 2024 to July 2026, items 014 and 041, quantiles by sex and age",
        read_at: "a public repository's data/release/age_band_value_quantiles.csv, commit 81080346",
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
    attribution: Attribution::Described(Described::TestCentres),
    layer: Layer::Percentiles,
    cautions: &[Caution::ReadsLowerThanAWall, Caution::SelfSelected],
    cells: &CELLS,
};

type Heights = [Length; 13];

const PERCENTS: [u8; 13] = [5, 10, 20, 25, 30, 40, 50, 60, 70, 75, 80, 90, 95];

const fn cell(sex: Sex, from: u8, to: u8, n: u32, heights: &'static Heights) -> Cell {
    let norm = Norm::Percentiles { percents: &PERCENTS, scores: heights };
    Cell { sex, ages: AgeSpan::new(from, to), n: Some(n), norm }
}

/// Heights of printed flight times, which are given here in tenths of a millisecond.
const fn heights(times: [i64; 13]) -> Heights {
    let mut heights = [Length::ZERO; 13];
    let mut k = 0;
    while k < times.len() {
        #[expect(clippy::indexing_slicing, reason = "evaluated by the compiler, within bounds")]
        {
            heights[k] = flight_height(times[k]);
        }
        k += 1;
    }
    heights
}

/// `g T^2 / 8` with standard gravity, 9.80665 m/s^2, as everywhere in the product (the survey's
/// note takes 9.81, which is at most 0.02 cm more); to the nearest micrometre.
const fn flight_height(tenths_of_ms: i64) -> Length {
    const PER_MICROMETRE: i64 = 80_000_000;
    let scaled = 980_665 * tenths_of_ms * tenths_of_ms;
    Length::from_micrometres((scaled + PER_MICROMETRE / 2) / PER_MICROMETRE)
}

static CELLS: [Cell; 30] = [
    cell(Sex::Female, 13, 13, 8_161, &F13),
    cell(Sex::Female, 14, 14, 7_610, &F14),
    cell(Sex::Female, 15, 15, 11_857, &F15),
    cell(Sex::Female, 16, 16, 13_611, &F16),
    cell(Sex::Female, 17, 17, 14_524, &F17),
    cell(Sex::Female, 18, 18, 8_777, &F18),
    cell(Sex::Female, 19, 24, 15_564, &F19),
    cell(Sex::Female, 25, 29, 9_286, &F25),
    cell(Sex::Female, 30, 34, 3_914, &F30),
    cell(Sex::Female, 35, 39, 2_662, &F35),
    cell(Sex::Female, 40, 44, 2_967, &F40),
    cell(Sex::Female, 45, 49, 3_359, &F45),
    cell(Sex::Female, 50, 54, 3_822, &F50),
    cell(Sex::Female, 55, 59, 3_873, &F55),
    cell(Sex::Female, 60, 64, 3_971, &F60),
    cell(Sex::Male, 13, 13, 10_393, &M13),
    cell(Sex::Male, 14, 14, 10_238, &M14),
    cell(Sex::Male, 15, 15, 15_520, &M15),
    cell(Sex::Male, 16, 16, 18_357, &M16),
    cell(Sex::Male, 17, 17, 23_229, &M17),
    cell(Sex::Male, 18, 18, 23_635, &M18),
    cell(Sex::Male, 19, 24, 21_465, &M19),
    cell(Sex::Male, 25, 29, 9_363, &M25),
    cell(Sex::Male, 30, 34, 8_392, &M30),
    cell(Sex::Male, 35, 39, 5_272, &M35),
    cell(Sex::Male, 40, 44, 4_309, &M40),
    cell(Sex::Male, 45, 49, 3_659, &M45),
    cell(Sex::Male, 50, 54, 3_131, &M50),
    cell(Sex::Male, 55, 59, 2_953, &M55),
    cell(Sex::Male, 60, 64, 5_151, &M60),
];

const F13: Heights =
    heights([3280, 3540, 3860, 3970, 4030, 4230, 4390, 4520, 4650, 4770, 4840, 5110, 5280]);
const F14: Heights =
    heights([3270, 3550, 3900, 4010, 4070, 4260, 4390, 4520, 4660, 4770, 4890, 5140, 5350]);
const F15: Heights =
    heights([3400, 3660, 3960, 4040, 4150, 4280, 4410, 4560, 4722, 4770, 4890, 5140, 5390]);
const F16: Heights =
    heights([3450, 3740, 4020, 4110, 4170, 4320, 4460, 4620, 4770, 4820, 4900, 5140, 5390]);
const F17: Heights =
    heights([3470, 3760, 4020, 4130, 4180, 4340, 4480, 4620, 4770, 4810, 4900, 5150, 5390]);
const F18: Heights =
    heights([3578, 3850, 4110, 4190, 4270, 4400, 4550, 4680, 4840, 4900, 5020, 5270, 5520]);
const F19: Heights =
    heights([3770, 3970, 4150, 4240, 4280, 4400, 4520, 4630, 4740, 4790, 4890, 5060, 5270]);
const F25: Heights =
    heights([3770, 3950, 4150, 4210, 4270, 4390, 4490, 4570, 4680, 4760, 4800, 5000, 5160]);
const F30: Heights =
    heights([3600, 3810, 4030, 4120, 4170, 4280, 4400, 4520, 4640, 4680, 4770, 4930, 5100]);
const F35: Heights =
    heights([3510, 3710, 3940, 4020, 4083, 4210, 4300, 4400, 4520, 4610, 4650, 4870, 5020]);
const F40: Heights =
    heights([3410, 3620, 3820, 3900, 4000, 4110, 4220, 4310, 4420, 4510, 4560, 4770, 4890]);
const F45: Heights =
    heights([3309, 3530, 3770, 3840, 3900, 4020, 4130, 4230, 4340, 4400, 4474, 4660, 4820]);
const F50: Heights =
    heights([3200, 3401, 3640, 3700, 3780, 3900, 4010, 4120, 4220, 4270, 4360, 4530, 4700]);
const F55: Heights =
    heights([2990, 3232, 3490, 3570, 3650, 3770, 3890, 3990, 4110, 4150, 4230, 4410, 4564]);
const F60: Heights =
    heights([2780, 3000, 3280, 3380, 3440, 3580, 3690, 3800, 3920, 4000, 4050, 4240, 4400]);
const M13: Heights =
    heights([3786, 4140, 4480, 4620, 4710, 4900, 5060, 5260, 5410, 5520, 5640, 5920, 6140]);
const M14: Heights =
    heights([4049, 4400, 4770, 4890, 5010, 5170, 5390, 5520, 5710, 5770, 5890, 6200, 6490]);
const M15: Heights =
    heights([4280, 4640, 5010, 5130, 5220, 5390, 5580, 5760, 5890, 6010, 6130, 6390, 6630]);
const M16: Heights =
    heights([4400, 4750, 5090, 5210, 5320, 5510, 5670, 5860, 6010, 6130, 6250, 6510, 6760]);
const M17: Heights =
    heights([4544, 4880, 5170, 5280, 5390, 5570, 5750, 5890, 6060, 6150, 6260, 6550, 6790]);
const M18: Heights =
    heights([4770, 5020, 5310, 5400, 5510, 5660, 5820, 5990, 6130, 6230, 6320, 6610, 6850]);
const M19: Heights =
    heights([4750, 5010, 5260, 5370, 5440, 5610, 5760, 5890, 6050, 6140, 6250, 6480, 6670]);
const M25: Heights =
    heights([4590, 4870, 5110, 5200, 5270, 5440, 5610, 5760, 5890, 5990, 6050, 6260, 6500]);
const M30: Heights =
    heights([4610, 4850, 5100, 5170, 5270, 5400, 5540, 5690, 5840, 5910, 6010, 6240, 6430]);
const M35: Heights =
    heights([4520, 4770, 5050, 5140, 5260, 5390, 5510, 5640, 5777, 5880, 5970, 6190, 6380]);
const M40: Heights =
    heights([4410, 4670, 4970, 5060, 5140, 5270, 5420, 5540, 5686, 5760, 5860, 6100, 6260]);
const M45: Heights =
    heights([4270, 4540, 4850, 4935, 5020, 5140, 5270, 5390, 5530, 5630, 5700, 5890, 6090]);
const M50: Heights =
    heights([4055, 4400, 4660, 4770, 4860, 5000, 5120, 5240, 5360, 5405, 5500, 5700, 5870]);
const M55: Heights =
    heights([3780, 4120, 4400, 4520, 4580, 4750, 4880, 5010, 5120, 5180, 5270, 5480, 5640]);
const M60: Heights =
    heights([3640, 3910, 4240, 4330, 4410, 4560, 4690, 4810, 4930, 5010, 5070, 5270, 5450]);

const _: () = check(&CELLS);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn heights_are_rounded_to_the_nearest_micrometre() {
        // 9.80665 T² / 8 by hand: 0.27078612 m at 0.470 s, 0.30645781 m at 0.500 s.
        assert_eq!(flight_height(4_700), Length::from_micrometres(270_786));
        assert_eq!(flight_height(5_000), Length::from_micrometres(306_458));
    }
}
