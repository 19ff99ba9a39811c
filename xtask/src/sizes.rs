//! stub
use crate::shell::Outcome;
pub fn command(_rest: &[String]) -> Outcome {
    Ok(())
}
