use super::STANDARD_GRAVITY_M_S2;
use crate::quantity::{JumpHeight, JumpReach, Length, Reading, StandingReach};

/// Time in the air in whole microseconds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct FlightTime {
    /// Microseconds from the first frame without contact to the first frame with contact.
    pub micros: u32,
}

impl FlightTime {
    /// Jump height h = g·T²/8: the body rises and falls for the same time when it lands as tall as it
    /// took off.
    ///
    /// ```
    /// use two_marks::measure::FlightTime;
    /// let height = FlightTime { micros: 500_000 }.jump_height();
    /// assert!((height.0.as_cm() - 30.6458).abs() < 1e-4);
    /// ```
    pub fn jump_height(self) -> JumpHeight {
        let seconds = f64::from(self.micros) / 1e6;
        JumpHeight(Length::from_cm(STANDARD_GRAVITY_M_S2 * seconds * seconds / 8.0 * 100.0))
    }
}

/// Why a trial does not count.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum FoulReason {
    /// A step before the jump.
    Step,
    /// The hand missed the wall or left no mark.
    MissedWall,
    /// The body swung away from the wall or twisted.
    SwungOff,
    /// A bad landing.
    BadLanding,
    /// No reason given.
    Other,
}

impl FoulReason {
    /// Every reason, in the order asked.
    pub const ALL: [Self; 5] =
        [Self::Step, Self::MissedWall, Self::SwungOff, Self::BadLanding, Self::Other];
}

/// One attempt, kept exactly as it was read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Trial {
    /// Height of the jump mark above the floor.
    FloorMark(Reading),
    /// Distance between the two marks.
    MarkDistance(Reading),
    /// Time in the air.
    FlightTime(FlightTime),
    /// An attempt that does not count.
    Foul(FoulReason),
}

/// What a trial came to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// It counts, with this height.
    Counted(JumpHeight),
    /// It was a foul.
    Foul(FoulReason),
    /// A floor mark without a standing reach: no height yet.
    NoReach,
}

impl Trial {
    /// The height this trial came to, above a standing reach where it needs one.
    pub fn outcome(self, reach: Option<StandingReach>) -> Outcome {
        match (self, reach) {
            (Self::FloorMark(mark), Some(reach)) => {
                Outcome::Counted(JumpReach(mark.length()).above(reach))
            }
            (Self::FloorMark(_), None) => Outcome::NoReach,
            (Self::MarkDistance(distance), _) => Outcome::Counted(JumpHeight(distance.length())),
            (Self::FlightTime(time), _) => Outcome::Counted(time.jump_height()),
            (Self::Foul(reason), _) => Outcome::Foul(reason),
        }
    }
}
