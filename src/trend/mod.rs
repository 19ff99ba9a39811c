//! Changes from session to session: what is real, what is noise, and what is growing up.
//!
//! Days are counted from any fixed day; heights and spreads are centimetres. [`model`] answers every
//! question about change. Its constants are design choices, each named; how often it is wrong in
//! invented people is found by simulation and printed in `docs/season-rates.md`.

mod filter;
mod growth;
pub mod model;
mod planner;
mod straight;
mod verdict;

pub use growth::{GrowthYear, growth_cm, growth_sd_cm_per_year};
pub use planner::{Outlook, PLANNER_DAY_FACTOR, Planned};
pub use straight::{LINE_DAYS_MIN, LINE_TESTS_MIN, straight_line};

/// A person's first tests of a kind are practice; a design choice. They count with what was learnt in
/// them, and are drawn hollow.
pub const PRACTICE_SESSIONS: usize = 2;
