//! One rule for every sentence about change.

/// Smallest change worth naming, cm; a design choice, about a quarter of the spread between people
/// of 5 to 8 cm. Below it people would be told of what nobody notices.
pub const WORTH_NAMING_CM: f64 = 1.5;
/// From this chance on a change is told; a design choice, found by simulation to hold the rates of
/// `docs/season-rates.md` at every look.
pub const TOLD_FROM: f64 = 0.93;
/// From this chance on a change is told as clear; a design choice.
pub const CLEAR_FROM: f64 = 0.98;

/// Whose change it is, as far as growing up goes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Who {
    /// 18 or older: no growth.
    Adult,
    /// Under 18 with known growth. Each test then carries its expected growth.
    Growing {
        /// How much growth differs between people, one SD, cm a year.
        sd_cm_per_year: f64,
    },
    /// Maybe under 18, and what growing up brings cannot be looked up: no gain is claimed.
    Unknown(Missing),
    /// Under 8: there is no table, so the season only draws.
    UnderEight,
}

/// The answer that is missing for a gain under 18.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Missing {
    /// The age.
    Age,
    /// Girl or boy.
    Sex,
}

/// What is so.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Verdict {
    /// Fewer than two tests from the start on.
    TooFew,
    /// Under 8: drawn, never judged.
    OnlyDrawn,
    /// The change may be real or not. Never "no change".
    NotToldYet,
    /// Higher by more than [`WORTH_NAMING_CM`], beyond growth and in all.
    Higher {
        /// With [`CLEAR_FROM`].
        clear: bool,
    },
    /// Lower by more than [`WORTH_NAMING_CM`].
    Lower {
        /// With [`CLEAR_FROM`].
        clear: bool,
    },
    /// Higher in all, but growing may explain it.
    MayBeGrowing,
    /// Higher in all, and without this answer nobody can tell growing from a gain.
    MissingAnswer(Missing),
}

/// The change between two tests.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Change {
    /// Change of the own level, expected growth and the person's own growth beside it left out, cm.
    pub own_cm: f64,
    /// Its SD, cm.
    pub own_sd_cm: f64,
    /// Change of the level, growth included, cm.
    pub total_cm: f64,
    /// Its SD, cm.
    pub total_sd_cm: f64,
    /// Chance that the own level is more than [`WORTH_NAMING_CM`] higher.
    pub p_own_higher: f64,
    /// Chance that the level with growth is.
    pub p_total_higher: f64,
    /// Chance that the level with growth is more than [`WORTH_NAMING_CM`] lower.
    pub p_lower: f64,
}

impl Change {
    /// What may be said of it: the same rule at every look.
    ///
    /// ```
    /// use two_marks::trend::model::{Change, Verdict, Who};
    /// let change = Change {
    ///     own_cm: 4.0, own_sd_cm: 1.5, total_cm: 5.0, total_sd_cm: 1.4,
    ///     p_own_higher: 0.95, p_total_higher: 0.99, p_lower: 0.0,
    /// };
    /// let who = Who::Growing { sd_cm_per_year: 2.9 };
    /// assert_eq!(change.verdict(who), Verdict::Higher { clear: false });
    /// let unsure = Change { p_own_higher: 0.90, ..change };
    /// assert_eq!(unsure.verdict(who), Verdict::MayBeGrowing);
    /// ```
    #[must_use]
    pub fn verdict(&self, who: Who) -> Verdict {
        let own = match who {
            Who::UnderEight => return Verdict::OnlyDrawn,
            Who::Adult | Who::Growing { .. } => self.p_own_higher.min(self.p_total_higher),
            Who::Unknown(_) => 0.0,
        };
        if own >= TOLD_FROM {
            Verdict::Higher { clear: own >= CLEAR_FROM }
        } else if self.p_lower >= TOLD_FROM {
            Verdict::Lower { clear: self.p_lower >= CLEAR_FROM }
        } else if self.p_total_higher >= TOLD_FROM {
            match who {
                Who::Unknown(missing) => Verdict::MissingAnswer(missing),
                _ => Verdict::MayBeGrowing,
            }
        } else {
            Verdict::NotToldYet
        }
    }
}
