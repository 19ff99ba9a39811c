//! From marks on a wall to a jump height: trials, standing reach, the session and its checks.

mod checks;
mod entry;
mod kind;
mod session;
mod trial;

pub use checks::{
    Doubt, MarkContext, ReachContext, Remedy, doubts_about_mark, doubts_about_reach, jump_window,
    reach_window,
};
pub use entry::{Problem, nudged, parse_feet_and_inches, parse_reading, part_of, parts, with_part};
pub use kind::{Device, Hand, ReachMethod, Surface, TakeOff, TrendKey, Variant};
pub use session::{
    Advice, COUNTED_TRIALS_MAX, COUNTED_TRIALS_MIN, ONE_MORE_GAIN, Reach, ReachCheck, Session,
    Usual,
};
pub use trial::{FlightTime, FoulReason, Outcome, Trial};
