//! Is today a day to test: leg work, held stretches, daily and weekly limits.
//!
//! Every figure is docs/measurement.md §5 or §7.5; what that section grades D is called a design
//! choice here. The person can always go on after leg work or a stretch: the verdict decides what is
//! said and whether the record carries the note *tired*.

mod legs;
mod limits;
mod stretch;

pub use legs::{LegWork, LegWorkKind, PartOfDay, after_leg_work};
pub use limits::{
    HARD_JUMPS_A_DAY, TEST_DAYS_A_WEEK, WeekLimit, clear_height, hard_jumps_left, week_limit,
};
pub use stretch::{HeldStretch, after_stretch};

use crate::quantity::{Length, Moment};

/// How much lower a score may be, in tenths of a percent of the jump height.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Loss {
    /// The least loss expected.
    pub per_mille_min: i64,
    /// The largest loss expected.
    pub per_mille_max: i64,
}

impl Loss {
    /// No loss.
    pub const NONE: Self = Self { per_mille_min: 0, per_mille_max: 0 };

    /// The loss as lengths, from the person's own jump height.
    ///
    /// ```
    /// use two_marks::quantity::Length;
    /// use two_marks::ready::Loss;
    /// let loss = Loss { per_mille_min: 20, per_mille_max: 40 };
    /// let (least, most) = loss.of(Length::from_mm(400));
    /// assert_eq!((least, most), (Length::from_mm(8), Length::from_mm(16)));
    /// ```
    pub const fn of(self, jump_height: Length) -> (Length, Length) {
        let per_mille = jump_height.as_micrometres() / 1_000;
        let least = Length::from_micrometres(per_mille * self.per_mille_min);
        (least, Length::from_micrometres(per_mille * self.per_mille_max))
    }
}

/// What to do today.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// Nothing stands against a test.
    Go,
    /// Test, but the record is noted as tired.
    Flagged {
        /// How much lower the score may be.
        loss: Loss,
        /// When nothing would stand against it.
        until: Moment,
    },
    /// Better wait.
    Wait {
        /// How much lower the score may be today.
        loss: Loss,
        /// When nothing would stand against it.
        until: Moment,
    },
}

impl Verdict {
    /// 0 for go, 1 for flagged, 2 for wait: how much stands against a test.
    pub const fn severity(self) -> u8 {
        match self {
            Self::Go => 0,
            Self::Flagged { .. } => 1,
            Self::Wait { .. } => 2,
        }
    }

    /// Whether a test done now carries the note *tired*.
    pub const fn is_tired(self) -> bool {
        self.severity() > 0
    }
}
