use super::STANDARD_GRAVITY_M_S2;
use crate::quantity::{JumpHeight, JumpReach, Length, Reading, StandingReach};

/// Time in the air in whole microseconds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct FlightTime {
    /// Microseconds from the first frame without contact to the first frame with contact.
    pub micros: u32,
    /// The longer of the two frame intervals before those frames, microseconds; 0 when no frames
    /// were counted.
    pub frame_micros: u32,
}

impl FlightTime {
    /// A time that something other than a film told.
    pub const fn timed(micros: u32) -> Self {
        Self { micros, frame_micros: 0 }
    }

    /// The text that reads back as this time, in milliseconds; empty when it was found in a film,
    /// where only the film can change it.
    pub fn as_typed(self) -> String {
        if self.frame_micros > 0 {
            return String::new();
        }
        let (whole, part) = (self.micros / 1_000, self.micros % 1_000);
        let text = if part == 0 { whole.to_string() } else { format!("{whole}.{part:03}") };
        text.trim_end_matches(|sign| part != 0 && sign == '0').to_owned()
    }

    /// Whether it was counted in frames too long for a trend, which needs 120 in a second
    /// (docs/measurement.md §3).
    pub const fn is_coarse(self) -> bool {
        self.frame_micros > super::frames::TREND_FRAME_MICROS_MAX
    }

    /// SD that counting frames gives the height, cm: gT/4 times D/sqrt(6); zero without frames.
    pub fn frame_sd_cm(self) -> f64 {
        let (time_s, frame_s) = (f64::from(self.micros) / 1e6, f64::from(self.frame_micros) / 1e6);
        100.0 * STANDARD_GRAVITY_M_S2 * time_s / 4.0 * frame_s / 6.0_f64.sqrt()
    }

    /// Jump height h = g·T²/8: the body rises and falls for the same time when it lands as tall as it
    /// took off.
    ///
    /// ```
    /// use two_marks::measure::FlightTime;
    /// let height = FlightTime::timed(500_000).jump_height();
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn half_a_second_in_the_air_is_thirty_and_a_half_centimetres() {
        // g T² / 8 = 9.80665 * 0.25 / 8 m, by hand.
        let height_cm = FlightTime::timed(500_000).jump_height().0.as_cm();
        assert!((height_cm - 30.645_781).abs() < 1e-4, "{height_cm}");
        // Twice the time is four times the height.
        let height_cm = FlightTime::timed(1_000_000).jump_height().0.as_cm();
        assert!((height_cm - 4.0 * 30.645_781).abs() < 1e-3, "{height_cm}");
    }

    #[test]
    fn a_time_reads_back_as_it_was_typed() {
        assert_eq!(FlightTime::timed(500_000).as_typed(), "500");
        assert_eq!(FlightTime::timed(512_500).as_typed(), "512.5");
        assert_eq!(FlightTime::timed(512_050).as_typed(), "512.05");
        assert_eq!(FlightTime { micros: 500_000, frame_micros: 4_000 }.as_typed(), "");
    }

    #[test]
    fn counting_frames_spreads_the_height() {
        // g T / 4 * D / sqrt(6): half a second at 240 frames a second, 122.583 cm/s * 1.70103 ms.
        let time = FlightTime { micros: 500_000, frame_micros: 4_167 };
        assert!((time.frame_sd_cm() - 0.208_54).abs() < 1e-4, "{}", time.frame_sd_cm());
        assert!(FlightTime::timed(500_000).frame_sd_cm().abs() < 1e-15);
    }

    #[test]
    fn a_mark_needs_a_reach_and_a_distance_does_not() {
        let read = |count| Reading { count, division: crate::quantity::Division::CmTenth };
        let reach = Some(StandingReach(Length::from_mm(2245)));
        let height = |mm| Outcome::Counted(JumpHeight(Length::from_mm(mm)));
        assert_eq!(Trial::FloorMark(read(2680)).outcome(reach), height(435));
        assert_eq!(Trial::FloorMark(read(2680)).outcome(None), Outcome::NoReach);
        assert_eq!(Trial::MarkDistance(read(435)).outcome(None), height(435));
        assert_eq!(Trial::Foul(FoulReason::Step).outcome(reach), Outcome::Foul(FoulReason::Step));
    }

    #[test]
    fn a_hundred_and_twenty_frames_a_second_less_a_twentieth_are_enough_for_a_trend() {
        // A twentieth more than 8333 us is 8750 us.
        let coarse = |frame_micros| FlightTime { micros: 500_000, frame_micros }.is_coarse();
        assert!(!coarse(0) && !coarse(8_750) && coarse(8_751));
    }
}
