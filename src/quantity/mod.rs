//! What is measured: lengths, readings, times, dates and ages, as exact values with bounds.
//!
//! A tape is read in whole divisions, so a [`Reading`] is an integer count; a [`Length`] is the
//! same thing in micrometres, of which both a millimetre and an eighth of an inch hold a whole
//! number. Switching units therefore never moves a value.

mod age;
mod bounds;
mod length;
mod moment;
mod reading;

pub use age::{Age, AgeGroup, BirthMonth, Compare, Sex};
pub use bounds::{Bounds, JUMP_HEIGHT_POSSIBLE, MARK_POSSIBLE, REACH_POSSIBLE};
pub use length::{BodyMass, JumpHeight, JumpReach, Length, StandingReach};
pub use moment::{Moment, days_between};
pub use reading::{Division, Reading, Unit};
