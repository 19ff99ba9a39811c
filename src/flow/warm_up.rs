use crate::quantity::Moment;

/// Seconds of each part: easy running, slow squats, swings and hops, rising practice jumps.
/// Design choice within 5 to 10 minutes (docs/measurement.md §5).
const PART_SECONDS: [u32; 4] = [150, 60, 60, 60];

/// What the warm-up is doing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WarmUpState {
    /// Not begun.
    Ready,
    /// The clock runs.
    Running,
    /// The clock is held.
    Paused,
    /// Every part is over.
    Done,
}

/// A guided warm-up. What is left is worked out from the clock, so a page that slept tells the truth.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct WarmUp {
    /// The part, from 0; the number of parts when all are over.
    part: usize,
    /// Milliseconds of this part that passed before the clock last ran.
    passed_ms: i64,
    /// Since when the clock runs.
    running_since: Option<Moment>,
}

/// What to show of a warm-up at a moment.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct WarmUpView {
    /// The part, from 0.
    pub part: usize,
    /// Seconds left of it.
    pub left_seconds: u32,
    /// What it is doing.
    pub state: WarmUpState,
}

impl WarmUp {
    /// A warm-up that has not begun.
    pub const fn new() -> Self {
        Self { part: 0, passed_ms: 0, running_since: None }
    }

    /// How many parts there are.
    pub const PARTS: usize = PART_SECONDS.len();

    /// What to show now. Parts that ran out while nobody looked are over.
    pub fn view(self, now: Moment) -> WarmUpView {
        let caught_up = self.caught_up(now);
        let seconds = PART_SECONDS.get(caught_up.part).copied();
        let passed = u32::try_from(caught_up.passed_at(now) / 1_000).unwrap_or(0);
        let state = match (seconds, caught_up.running_since, caught_up.passed_ms, caught_up.part) {
            (None, ..) => WarmUpState::Done,
            (Some(_), Some(_), ..) => WarmUpState::Running,
            (Some(_), None, 0, 0) => WarmUpState::Ready,
            (Some(_), None, ..) => WarmUpState::Paused,
        };
        WarmUpView {
            part: caught_up.part.min(Self::PARTS - 1),
            left_seconds: seconds.map_or(0, |seconds| seconds.saturating_sub(passed)),
            state,
        }
    }

    /// The main action: start, hold, go on.
    pub fn press(&mut self, now: Moment) {
        *self = self.caught_up(now);
        match self.running_since {
            Some(_) => {
                self.passed_ms = self.passed_at(now);
                self.running_since = None;
            }
            None => self.running_since = Some(now),
        }
    }

    /// Goes to the next part.
    pub fn next_part(&mut self, now: Moment) {
        *self = self.caught_up(now);
        self.part = (self.part + 1).min(Self::PARTS);
        self.passed_ms = 0;
        self.running_since = self.running_since.map(|_| now);
    }

    fn passed_at(self, now: Moment) -> i64 {
        let running = self.running_since.map_or(0, |since| now.utc_ms.saturating_sub(since.utc_ms));
        self.passed_ms.saturating_add(running.max(0))
    }

    fn caught_up(mut self, now: Moment) -> Self {
        while let Some(seconds) = PART_SECONDS.get(self.part) {
            let length_ms = i64::from(*seconds) * 1_000;
            let passed = self.passed_at(now);
            if passed < length_ms {
                break;
            }
            self.part += 1;
            self.passed_ms = passed - length_ms;
            self.running_since = self.running_since.map(|_| now);
        }
        self
    }
}

impl Default for WarmUp {
    fn default() -> Self {
        Self::new()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const START: Moment = Moment { utc_ms: 1_781_500_000_000, offset_minutes: 120 };

    fn after(seconds: i64) -> Moment {
        Moment { utc_ms: START.utc_ms + seconds * 1_000, ..START }
    }

    #[test]
    fn it_waits_runs_holds_and_goes_on() {
        let mut warm_up = WarmUp::new();
        assert_eq!(warm_up.view(START).state, WarmUpState::Ready);
        warm_up.press(START);
        assert_eq!(warm_up.view(after(50)).left_seconds, 100);
        warm_up.press(after(50));
        assert_eq!(warm_up.view(after(500)).state, WarmUpState::Paused);
        assert_eq!(warm_up.view(after(500)).left_seconds, 100);
        warm_up.press(after(500));
        assert_eq!(warm_up.view(after(510)).left_seconds, 90);
    }

    #[test]
    fn a_page_that_slept_catches_up() {
        let mut warm_up = WarmUp::new();
        warm_up.press(START);
        let later = warm_up.view(after(150 + 60 + 10));
        assert_eq!((later.part, later.left_seconds), (2, 50));
        assert_eq!(warm_up.view(after(3_600)).state, WarmUpState::Done);
    }

    #[test]
    fn a_part_can_be_left_early() {
        let mut warm_up = WarmUp::new();
        warm_up.press(START);
        warm_up.next_part(after(10));
        let shown = warm_up.view(after(20));
        assert_eq!((shown.part, shown.left_seconds), (1, 50));
        for _ in 0..WarmUp::PARTS {
            warm_up.next_part(after(20));
        }
        assert_eq!(warm_up.view(after(20)).state, WarmUpState::Done);
    }

    #[test]
    fn a_clock_set_back_loses_no_part() {
        let mut warm_up = WarmUp::new();
        warm_up.press(START);
        assert_eq!(warm_up.view(after(-100)).left_seconds, 150);
    }

    #[test]
    fn the_whole_takes_five_to_ten_minutes() {
        let total: u32 = PART_SECONDS.iter().sum();
        assert!((300..=600).contains(&total));
    }
}
