//! How far a score can be trusted: typical error, typical spreads by age, and the make-up of one
//! session's uncertainty.
//!
//! All lengths are centimetres on plain `f64`, all spreads are standard deviations. Numbers chosen
//! by this project rather than published stand in named constants whose doc says "design choice".

mod change;
mod geometry;
mod prior;
mod session_error;
mod shrinkage;
mod table;

pub use change::{mdc95_cm, session_se_of_best_cm, session_se_of_mean_cm, usual_from_best_cm};
pub use geometry::{
    REACH_PER_STATURE, RoundingSd, lateral_reach_loss_cm, rounding_sd_cm, stale_reach_bias_cm,
    touch_timing_loss_cm,
};
pub use prior::{
    AgeBand, DAY_SD_FLOOR_CM, Experience, FIRST_SESSION_FACTOR, PRIOR_DEGREES_OF_FREEDOM,
    SpreadPercent, TRIAL_SD_FLOOR_CM, TypicalSpread, spread_percent, typical_spread,
};
pub use session_error::{
    COARSE_STEP_CM, MarksKnown, OTHER_CLOCK_SHARE, REACH_PLACEMENT_SD_CM, ReachReadings, Reading,
    STILL_RECOVERING_SHARE, SessionConditions, SessionError, UNCHECKED_REACH_CM, session_error,
};
pub use shrinkage::{PooledSd, ShrunkSd, WithinSessions, pooled_within_sd, shrink_sd};
pub use table::{Interval, TwoWayTable};
