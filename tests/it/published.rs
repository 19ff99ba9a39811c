//! Published figures against what the code says. Each check names its source.

mod approach;
mod athletes;
mod coverage;
mod cross_checks;
mod growth;
mod lookup_rules;
mod misprints;
mod monotone_cubic;
mod not_covered;
mod properties;
mod tables_as_printed;
mod worked_examples;

use two_marks::measure::{Device, TrendKey};
use two_marks::norms::{
    AverageRange, BandRange, Cell, Estimate, Nearness, Norm, Percentile, PercentileRange, Position,
    Score, Source, Standing, place,
};
use two_marks::quantity::{Age, Compare, Length, Sex};

const FLIGHT: TrendKey = TrendKey { device: Device::Video, ..TrendKey::USUAL };

/// A score without error: the three places of its range are one.
fn exact(cm: f64) -> Score {
    with_error(cm, 0.0)
}

fn with_error(cm: f64, error_cm: f64) -> Score {
    let best = Estimate { height: Length::from_cm(cm), standard_error: Length::from_cm(error_cm) };
    Score { best, mean: Some(best) }
}

fn aged(years: u8) -> Age {
    Age::Years { years, maybe_one_more: false, months_to_birthday: 6 }
}

fn standings(key: TrendKey, sex: Sex, age: Age, score: &Score) -> Vec<Standing> {
    let said = place(key, Compare::With(sex), age, score);
    let [placement] = said.by_sex.as_slice() else { panic!("one sex was asked for: {said:?}") };
    placement.standings.clone()
}

/// The place in one source of a wall score.
#[track_caller]
fn wall(source: &Source, sex: Sex, years: u8, score: &Score) -> Position {
    let all = standings(TrendKey::USUAL, sex, aged(years), score);
    let found = all.iter().find(|standing| standing.source == source);
    found.unwrap_or_else(|| panic!("{} says nothing at {years}", source.id)).position
}

#[track_caller]
fn percentiles(position: Position) -> PercentileRange {
    let Position::Percentile(range) = position else { panic!("percentiles: {position:?}") };
    range
}

#[track_caller]
fn bands(position: Position) -> BandRange {
    let Position::Band(range) = position else { panic!("bands: {position:?}") };
    range
}

#[track_caller]
fn average(position: Position) -> AverageRange {
    let Position::Average(range) = position else { panic!("an average: {position:?}") };
    range
}

/// The place itself must be `expected` within 0.1 points.
#[track_caller]
fn check_percent(position: Position, expected: f64) {
    let Percentile::At(percent) = percentiles(position).point else {
        panic!("inside the table: {position:?}")
    };
    assert!((percent - expected).abs() < 0.1, "{percent} is not {expected}");
}

#[track_caller]
fn cell(source: &'static Source, sex: Sex, years: u8) -> &'static Cell {
    let mut cells = source.cells.iter();
    cells.find(|cell| cell.sex == sex && cell.ages.contains(years)).expect("a cell")
}

/// The printed score at a percentile, cm.
#[track_caller]
fn at_percent(cell: &Cell, percent: u8) -> f64 {
    let Norm::Percentiles { percents, scores } = cell.norm else { panic!("percentiles") };
    let at = percents.iter().position(|printed| *printed == percent).expect("a printed percentile");
    scores[at].as_cm()
}

#[track_caller]
fn mean_and_sd(cell: &Cell) -> (f64, f64) {
    let Norm::MeanAndSd { mean, sd } = cell.norm else { panic!("a mean and SD") };
    (mean.as_cm(), sd.as_cm())
}

#[track_caller]
fn average_cm(cell: &Cell) -> f64 {
    let Norm::Average { average, .. } = cell.norm else { panic!("an average") };
    average.as_cm()
}
