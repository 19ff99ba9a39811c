//! Changes from session to session: what is real, what is noise, and what is growing up.
//!
//! Days are counted from any fixed day; heights and spreads are centimetres. The thresholds and the
//! drift are design choices, each a named constant; the rates of false alarm they lead to are found
//! by simulation and printed in `docs/season-rates.md`.

mod change;
mod filter;
mod growth;
mod local_level;
pub mod model;
mod planner;
mod power;
mod season;
mod verdict;

pub use change::{
    CLEAR_FALL_BELOW, CLEAR_FROM, Change, ChangeQuestion, Measured, PROBABLE_FROM, Prior,
    WORTHWHILE_CM, Weight, change, weight_of,
};
pub use growth::{Growth, GrowthYear, expected_growth};
pub use local_level::{
    DRIFT_CM2_PER_DAY, LevelChange, LocalLevel, Observation, START_VARIANCE_CM2, Smoothed, Step,
    smooth,
};
pub use planner::{chance_of_telling, sessions_each_side};
pub use power::season_power;
pub use season::{
    BeyondGrowth, COUNTED_TESTS_MIN, LINE_DAYS_MIN, LINE_TESTS_MIN, PRACTICE_SESSIONS, Season,
    SeasonTest, SeasonVerdict, UnderEighteen, Who, season, verdict_beside_growth,
};
