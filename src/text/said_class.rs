//! What became of a slip, in words.

use super::Words;
use crate::class::SlipProblem;
use crate::class::code::CodeProblem;

impl Words {
    /// Why a text is no slip.
    pub fn slip_problem(&self, problem: SlipProblem) -> String {
        match problem {
            SlipProblem::Code(CodeProblem::TooShort) => self.class_slip_short(),
            SlipProblem::Code(CodeProblem::TooLong) => self.class_slip_long(),
            SlipProblem::Code(CodeProblem::Sign(sign)) => self.class_slip_sign(&sign.to_string()),
            SlipProblem::Code(CodeProblem::Check) => self.class_slip_check(),
            SlipProblem::Code(CodeProblem::Newer) => self.class_slip_newer(),
            SlipProblem::OutOfRange => self.class_slip_range(),
        }
    }

    /// A share from 0 to 1 with two decimals.
    pub fn hundredths(&self, share: f64) -> String {
        // Bounded by what an ICC can be; anything else becomes nought.
        let hundredths = (share.clamp(-1.0, 1.0) * 100.0).round();
        let whole = (-100..=100).find(|whole| (f64::from(*whole) - hundredths).abs() < 0.5);
        self.locale().decimal(i64::from(whole.unwrap_or(0)), 2)
    }
}
