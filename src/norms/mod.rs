//! Published reference values and where a score stands among them.
//!
//! Each file in [`tables`] holds one published table as printed, with who was measured and how.
//! [`place`] lists every table that fits a test, best match first, each with a *range* of places
//! from score minus to score plus its standard error. Sources are never blended, nothing is
//! extended beyond what a table printed, and a test no table fits gets a reason instead.
//!
//! Everything here is data for the text room: enums and numbers, no sentences. The citations are
//! plain strings, since a citation is not translated.

mod age_line;
mod approach;
mod athletes;
mod coverage;
mod growth;
mod left_out;
mod lookup;
mod position;
mod source;
mod table;
pub mod tables;

pub use age_line::{AgeLine, age_line};
pub use approach::{APPROACH_GAINS, ApproachGain, ApproachOrigin, ApproachPeople};
pub use athletes::{AdultsOnly, athlete_context};
pub use coverage::{COVERAGE_TO, CoverageRow, Listing, banded, coverage, coverage_rows};
pub use growth::{
    GrowthKind, ReachGrowth, SPREAD_MIN_CM, SPREAD_SHARE, YearlyGain, growth_by_year,
    growth_expectation, growth_expectation_of_group, reach_growth_expectation,
};
pub use left_out::{LEFT_OUT, LeftOut, WhyLeftOut};
pub use lookup::{
    AgeFit, NoPosition, NotComparable, Placement, Placements, Standing, TestKind, place, test_kind,
};
pub use position::{
    AverageRange, BandRange, Estimate, Nearness, Percentile, PercentileRange, Position, Score,
    ShownPercentile,
};
pub use source::{
    Arms, Attempts, Attribution, Caution, Citation, Comparability, Described, Grade, Layer,
    Licence, Method, Population, Sample, Source, Statistic, StatisticBasis,
};
pub use table::{AgeSpan, Band, Cell, NEAR, Norm, Numbering};

/// Every source the product shows, in the order of the page that lists them.
pub const ALL_SOURCES: [&Source; 15] = [
    &tables::IDN_TKJI_2010,
    &tables::GBR_DAVIS_2000,
    &tables::GBR_BEASHEL_1997,
    &tables::AUS_ARKINSTALL_2010,
    &tables::USA_HOFFMAN_2006,
    &tables::USA_TEXAS_M2029,
    &tables::USA_PATTERSON_2004,
    &tables::CAN_CHMS_YOUTH_2016,
    &tables::KOR_HOSPITAL_40S,
    &tables::KOR_NFA_2024_2026,
    &tables::ESTIMATE_FROM_FLIGHT,
    &tables::USA_LOCKIE_2024,
    &tables::USA_FRY_1991,
    &tables::USA_FOOTBALL_COMBINE,
    &tables::USA_BASKETBALL_COMBINE,
];
