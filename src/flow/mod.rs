//! A test in progress: the ready check's answers, what is typed, reaches, trials and rest; and the form
//! in which a saved test is changed or an earlier result is added.
//!
//! Everything here is a plain function of its arguments, so the page only shows and asks.

mod answers;
mod draft;
mod form;
mod form_checks;
mod form_draft;
mod form_field;
mod judged;
mod progress;
mod rest;
mod warm_up;

pub use answers::{Answers, LegAnswer, Question, ReadyOutcome, StopReason};
pub use form::{FIRST_APPROACH, TestForm, TrialField, give_test};
pub use form_checks::{Finding, FormContext, FormPlace, FormProblem};
pub use form_field::{MassField, ReadingField};
pub use judged::{Judged, judge_mark, judge_reach, judge_time};
pub use progress::{Progress, Slot};
pub use rest::{REST_SECONDS, rest_left_seconds};
pub use warm_up::{WarmUp, WarmUpState, WarmUpView};
