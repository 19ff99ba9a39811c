//! A test in progress: the ready check's answers, what is typed, reaches, trials and rest.
//!
//! Everything here is a plain function of its arguments, so the page only shows and asks.

mod answers;
mod draft;
mod judged;
mod progress;
mod rest;
mod warm_up;

pub use answers::{Answers, LegAnswer, ReadyOutcome, StopReason};
pub use judged::{Judged, judge_mark, judge_reach, judge_time};
pub use progress::{Progress, Slot};
pub use rest::{REST_SECONDS, rest_left_seconds};
pub use warm_up::{WarmUp, WarmUpState, WarmUpView};
