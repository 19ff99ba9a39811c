//! From marks on a wall to a jump height: trials, standing reach, the session and its checks.

mod checks;
mod closer;
mod entry;
mod flight_time;
mod frame_walk;
mod frames;
mod kind;
mod pictures;
mod power;
mod session;
mod trial;

pub use checks::{
    Doubt, MarkContext, REACH_PER_STATURE, ReachContext, Remedy, doubts_about_flight,
    doubts_about_mark, doubts_about_reach, jump_window, reach_window,
};
pub use closer::{Closer, Way};
pub use entry::{Problem, nudged, parse_feet_and_inches, parse_reading, part_of, parts, with_part};
pub use flight_time::{
    FrameError, FrameHeight, STANDARD_GRAVITY_M_S2, flight_time_s_from_height, frame_rate_error,
    height_cm_from_flight_time, height_cm_read_with_low_landing, height_from_frames,
    takeoff_impulse_n_s, takeoff_speed_m_s,
};
pub use frame_walk::{FrameMap, Look, Step};
pub use frames::{
    Airtime, ClipFault, FrameFault, Instants, Speed, TREND_FRAME_MICROS_MAX, airtime, nudged_time,
    parse_flight_time,
};
pub use kind::{Device, Hand, ReachMethod, Surface, TakeOff, TrendKey, Variant};
pub use pictures::{
    FOUND_LATE_MICROS, Found, Landmarks, Pictures, Place, Search, Shown, picture_number,
};
pub use power::{
    johnson_bahamonde_average_w, johnson_bahamonde_peak_w, sayers_countermovement_peak_w,
    sayers_squat_jump_peak_w,
};
pub use session::{
    Advice, COUNTED_TRIALS_MAX, COUNTED_TRIALS_MIN, COUNTED_TRIALS_MIN_AFTER_WALL, ONE_MORE_GAIN,
    Reach, ReachCheck, Session, Usual,
};
pub use trial::{FlightTime, FoulReason, Outcome, Trial};
