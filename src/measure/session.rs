use chrono::NaiveDate;

use super::{FoulReason, Hand, Outcome, TrendKey, Trial};
use crate::quantity::{Division, JumpHeight, Length, Reading, StandingReach};

/// How many trials must count before a test is complete (best of three is what norms use,
/// docs/measurement.md §1.1).
pub const COUNTED_TRIALS_MIN: usize = 3;
/// How many are enough for time in the air when the wall was tested on the same day: the day's ten
/// jumps count both. Design choice.
pub const COUNTED_TRIALS_MIN_AFTER_WALL: usize = 2;
/// How many counted trials end a test. Design choice (docs/measurement.md §1.4).
pub const COUNTED_TRIALS_MAX: usize = 6;
/// While the newest trial beats the earlier best by this much, one more is worth it. Design choice
/// (docs/measurement.md §1.4).
pub const ONE_MORE_GAIN: Length = Length::from_mm(10);
/// Three reaches should agree this closely, or within one and a half divisions if that is wider.
/// Design choice (docs/measurement.md §1.2).
const REACH_SPREAD_MAX: Length = Length::from_mm(15);

/// The standing reach of a test.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Reach {
    /// Readings from the floor, taken on the day of the test, in order.
    Measured(Vec<Reading>),
    /// An adult's reach from an earlier day.
    Reused {
        /// The reach that counted on that day.
        reading: Reading,
        /// The day it was measured.
        measured_on: NaiveDate,
    },
    /// Only a mark on the wall: trials are distances between the marks.
    MarkOnly,
}

/// Whether the reaches of a test can stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ReachCheck {
    /// Nothing to check: the mark is on the wall, or an earlier reach is used.
    NotNeeded,
    /// This many readings are still missing of three.
    Missing(usize),
    /// They agree; the middle one counts.
    Agree {
        /// Largest minus smallest.
        spread: Length,
    },
    /// They are too far apart: all three are done again.
    TooFarApart {
        /// Largest minus smallest.
        spread: Length,
        /// What would still have been close enough.
        limit: Length,
    },
}

/// What to do after the newest trial.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Advice {
    /// This many more counted trials make a test.
    Missing(usize),
    /// The newest beat the earlier best by this much: one more is worth it.
    OneMore(Length),
    /// The heights have stopped rising.
    Enough,
    /// Six counted trials: the test is over.
    Full,
}

/// The mean of the first three counted trials: the statistic of trends and comparisons.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Usual {
    /// The mean, to the micrometre.
    pub height: JumpHeight,
    /// How many trials it rests on, 1 to 3.
    pub trials: usize,
}

/// What one test consists of: how it was done, the reach, and every trial in order.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Session {
    /// What the test may be compared with.
    pub key: TrendKey,
    /// The hand that made both marks.
    pub hand: Hand,
    /// The step the tape is read to.
    pub division: Division,
    /// The standing reach.
    pub reach: Reach,
    /// Every trial, fouls included, in order.
    pub trials: Vec<Trial>,
    /// Only the highest mark of the day is known: there is a best and no mean.
    pub top_mark_only: bool,
}

impl Session {
    /// A test with nothing measured yet.
    pub fn new(key: TrendKey, hand: Hand, division: Division) -> Self {
        let reach = Reach::Measured(Vec::new());
        Self { key, hand, division, reach, trials: Vec::new(), top_mark_only: false }
    }

    /// The reach that counts: the middle one of three, the lower middle one of an even number.
    pub fn standing_reach(&self) -> Option<StandingReach> {
        match &self.reach {
            Reach::Measured(readings) => {
                let mut lengths: Vec<Length> = readings.iter().map(|r| r.length()).collect();
                lengths.sort_unstable();
                let middle = lengths.len().checked_sub(1)? / 2;
                lengths.get(middle).map(|length| StandingReach(*length))
            }
            Reach::Reused { reading, .. } => Some(StandingReach(reading.length())),
            Reach::MarkOnly => None,
        }
    }

    /// Whether the reaches can stand.
    pub fn reach_check(&self) -> ReachCheck {
        let Reach::Measured(readings) = &self.reach else {
            return ReachCheck::NotNeeded;
        };
        if readings.len() < 3 {
            return ReachCheck::Missing(3 - readings.len());
        }
        let spread = spread_of(readings.iter().map(|reading| reading.length()));
        let limit = self.reach_spread_max();
        if spread > limit {
            ReachCheck::TooFarApart { spread, limit }
        } else {
            ReachCheck::Agree { spread }
        }
    }

    /// How far apart three reaches may lie: 1.5 cm, or one and a half divisions if that is more.
    pub fn reach_spread_max(&self) -> Length {
        let by_division =
            Length::from_micrometres(self.division.step().times(3).as_micrometres() / 2);
        REACH_SPREAD_MAX.max(by_division)
    }

    /// What each trial came to, in order.
    pub fn outcomes(&self) -> Vec<Outcome> {
        let reach = self.standing_reach();
        self.trials.iter().map(|trial| trial.outcome(reach)).collect()
    }

    /// The heights of the trials that count, in order.
    pub fn counted(&self) -> Vec<JumpHeight> {
        let counted = self.outcomes().into_iter().filter_map(|outcome| match outcome {
            Outcome::Counted(height) => Some(height),
            Outcome::Foul(_) | Outcome::NoReach => None,
        });
        counted.collect()
    }

    /// The highest counted trial: the score.
    pub fn best(&self) -> Option<JumpHeight> {
        self.counted().into_iter().max()
    }

    /// The highest of the first three counted trials: what most published tables used.
    pub fn best_of_first_three(&self) -> Option<JumpHeight> {
        self.counted().into_iter().take(COUNTED_TRIALS_MIN).max()
    }

    /// The mean of the first three counted trials. None without a trial, and none when only the top
    /// mark is known, since a top mark is a best and says nothing of the others.
    pub fn usual(&self) -> Option<Usual> {
        if self.top_mark_only {
            return None;
        }
        let heights: Vec<_> = self.counted().into_iter().take(COUNTED_TRIALS_MIN).collect();
        let trials = i64::try_from(heights.len()).ok().filter(|count| *count > 0)?;
        let sum = heights.iter().fold(Length::ZERO, |sum, height| sum + height.0);
        let mean = Length::from_micrometres(sum.as_micrometres())
            .steps_of(Length::from_micrometres(trials));
        Some(Usual { height: JumpHeight(Length::from_micrometres(mean)), trials: heights.len() })
    }

    /// Whether to go on after the newest trial. Fouls change nothing.
    pub fn advice(&self) -> Advice {
        self.advice_of(COUNTED_TRIALS_MIN)
    }

    /// The same where `trials_min` counted trials make a test.
    pub fn advice_of(&self, trials_min: usize) -> Advice {
        let heights = self.counted();
        if heights.len() < trials_min {
            return Advice::Missing(trials_min - heights.len());
        }
        if heights.len() >= COUNTED_TRIALS_MAX {
            return Advice::Full;
        }
        let Some((newest, earlier)) = heights.split_last() else {
            return Advice::Missing(trials_min);
        };
        let gain = earlier.iter().max().map_or(Length::ZERO, |best| newest.0 - best.0);
        if gain >= ONE_MORE_GAIN { Advice::OneMore(gain) } else { Advice::Enough }
    }

    /// Whether a trial was counted in frames too long for a trend: fewer than 120 a second. Such a
    /// test is shown with its band and stands in no line.
    pub fn is_too_coarse_for_trend(&self) -> bool {
        let coarse = |trial: &Trial| matches!(trial, Trial::FlightTime(time) if time.is_coarse());
        self.trials.iter().any(coarse)
    }

    /// The longest frame interval of its trials, microseconds; none without a film.
    pub fn longest_frame_micros(&self) -> Option<u32> {
        let frames = self.trials.iter().filter_map(|trial| match trial {
            Trial::FlightTime(time) if time.frame_micros > 0 => Some(time.frame_micros),
            _ => None,
        });
        frames.max()
    }

    /// Frames a second at that interval, rounded; zero without a film.
    pub fn frames_per_s(&self) -> u32 {
        self.longest_frame_micros().map_or(0, |micros| (1_000_000 + micros / 2) / micros.max(1))
    }

    /// How far off counting frames can make the best height: gT/4 times one interval.
    pub fn frame_error_max(&self) -> Length {
        let times = self.trials.iter().filter_map(|trial| match trial {
            Trial::FlightTime(time) => Some(time),
            _ => None,
        });
        let most = times.map(|time| time.frame_sd_cm() * 6.0_f64.sqrt()).fold(0.0, f64::max);
        Length::from_cm(most)
    }

    /// SD that counting frames gives the mean square trial, cm; zero without frames.
    pub fn frame_sd_cm(&self) -> f64 {
        let sds: Vec<f64> = self
            .trials
            .iter()
            .filter_map(|trial| match trial {
                Trial::FlightTime(time) => Some(time.frame_sd_cm()),
                _ => None,
            })
            .take(COUNTED_TRIALS_MIN)
            .collect();
        let count = u32::try_from(sds.len()).map_or(1.0, f64::from).max(1.0);
        (sds.iter().map(|sd| sd * sd).sum::<f64>() / count).sqrt()
    }

    /// The fouls, in order.
    pub fn fouls(&self) -> impl Iterator<Item = FoulReason> + '_ {
        self.trials.iter().filter_map(|trial| match trial {
            Trial::Foul(reason) => Some(*reason),
            _ => None,
        })
    }

    /// Whether the reading of this test widens its ±: a single reach, a coarse division, only the top
    /// mark known, or a mean of fewer than three.
    pub fn is_rough(&self) -> bool {
        let single_reach = match &self.reach {
            Reach::Measured(readings) => readings.len() < 3 && self.needs_reach(),
            Reach::Reused { .. } | Reach::MarkOnly => false,
        };
        let few = self.usual().is_some_and(|usual| usual.trials < COUNTED_TRIALS_MIN);
        let coarse = self.division.is_coarse() || self.is_too_coarse_for_trend();
        single_reach || coarse || self.top_mark_only || few
    }

    /// Whether any trial is a height from the floor, which needs a standing reach.
    fn needs_reach(&self) -> bool {
        self.trials.iter().any(|trial| matches!(trial, Trial::FloorMark(_)))
    }
}

/// Largest minus smallest; zero for nothing.
fn spread_of(lengths: impl Iterator<Item = Length> + Clone) -> Length {
    match (lengths.clone().min(), lengths.max()) {
        (Some(min), Some(max)) => max - min,
        _ => Length::ZERO,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::FlightTime;
    use proptest::prelude::*;

    fn mm(count: i32) -> Reading {
        Reading { count, division: Division::CmTenth }
    }

    fn session(reach: &[i32], marks: &[Option<i32>]) -> Session {
        let mut session = Session::new(TrendKey::USUAL, Hand::Right, Division::CmTenth);
        session.reach = Reach::Measured(reach.iter().map(|count| mm(*count)).collect());
        session.trials = marks
            .iter()
            .map(|mark| mark.map_or(Trial::Foul(FoulReason::Step), |m| Trial::FloorMark(mm(m))))
            .collect();
        session
    }

    fn height_mm(height: Option<JumpHeight>) -> Option<i64> {
        height.map(|h| h.0.as_micrometres() / 1_000)
    }

    #[test]
    fn the_middle_reach_counts() {
        let test = session(&[2250, 2240, 2245], &[]);
        assert_eq!(test.standing_reach(), Some(StandingReach(Length::from_mm(2245))));
        assert_eq!(test.reach_check(), ReachCheck::Agree { spread: Length::from_mm(10) });
    }

    #[test]
    fn reaches_more_than_a_centimetre_and_a_half_apart_are_done_again() {
        let just = session(&[2250, 2235, 2245], &[]);
        assert!(matches!(just.reach_check(), ReachCheck::Agree { .. }));
        let over = session(&[2251, 2235, 2245], &[]);
        assert!(matches!(over.reach_check(), ReachCheck::TooFarApart { .. }));
    }

    #[test]
    fn a_coarse_tape_allows_one_and_a_half_of_its_own_steps() {
        let mut test = session(&[], &[]);
        test.division = Division::In1;
        assert_eq!(test.reach_spread_max(), Length::from_inch_eighths(12));
    }

    #[test]
    fn best_of_all_but_usual_of_the_first_three() {
        let test =
            session(&[2245, 2245, 2245], &[Some(2655), None, Some(2665), Some(2675), Some(2700)]);
        assert_eq!(height_mm(test.best()), Some(455));
        assert_eq!(height_mm(test.best_of_first_three()), Some(430));
        let usual = test.usual().unwrap();
        assert_eq!((height_mm(Some(usual.height)), usual.trials), (Some(420), 3));
    }

    #[test]
    fn a_top_mark_has_a_best_and_no_mean() {
        let mut test = session(&[2245, 2245, 2245], &[Some(2655)]);
        test.top_mark_only = true;
        assert_eq!(test.usual(), None);
        assert_eq!(height_mm(test.best()), Some(410));
        assert!(test.is_rough());
    }

    #[test]
    fn a_test_is_rough_with_few_reaches_few_trials_or_a_coarse_tape() {
        let three = [Some(2655), Some(2665), Some(2675)];
        assert!(!session(&[2245; 3], &three).is_rough());
        assert!(session(&[2245; 2], &three).is_rough());
        assert!(session(&[2245; 3], &three[..2]).is_rough());
        // Distances between the marks need no reach.
        let mut distances = session(&[], &[]);
        distances.trials = vec![Trial::MarkDistance(mm(420)); 3];
        assert!(!distances.is_rough());
        let mut coarse = session(&[2245; 3], &three);
        coarse.division = Division::In1;
        assert!(coarse.is_rough());
    }

    #[test]
    fn one_more_while_the_newest_is_best_by_a_centimetre() {
        let advice = |marks: &[i32]| {
            let marks: Vec<_> = marks.iter().map(|m| Some(*m)).collect();
            session(&[2245; 3], &marks).advice()
        };
        assert_eq!(advice(&[2650, 2660]), Advice::Missing(1));
        assert_eq!(advice(&[2650, 2660, 2670]), Advice::OneMore(Length::from_mm(10)));
        assert_eq!(advice(&[2650, 2660, 2669]), Advice::Enough);
        assert_eq!(advice(&[2650, 2660, 2670, 2680, 2690, 2700]), Advice::Full);
    }

    #[test]
    fn nothing_counted_has_no_usual_jump() {
        assert_eq!(session(&[2245; 3], &[]).usual(), None);
        assert_eq!(session(&[2245; 3], &[None, None]).usual(), None);
    }

    #[test]
    fn what_is_missing_counts_down_from_three() {
        let missing = |marks: &[Option<i32>]| session(&[2245; 3], marks).advice();
        assert_eq!(missing(&[]), Advice::Missing(3));
        assert_eq!(missing(&[Some(2650)]), Advice::Missing(2));
        assert_eq!(missing(&[Some(2650), None]), Advice::Missing(2));
    }

    fn filmed(times: &[(u32, u32)]) -> Session {
        let mut test = session(&[], &[]);
        test.trials = times
            .iter()
            .map(|(micros, frame_micros)| {
                Trial::FlightTime(FlightTime { micros: *micros, frame_micros: *frame_micros })
            })
            .collect();
        test
    }

    #[test]
    fn the_longest_frame_tells_the_rate_of_a_film() {
        let rate = |frames: &[u32]| {
            let times: Vec<_> = frames.iter().map(|frame| (571_000, *frame)).collect();
            let test = filmed(&times);
            (test.longest_frame_micros(), test.frames_per_s(), test.is_too_coarse_for_trend())
        };
        assert_eq!(rate(&[4_167, 4_168, 4_166]), (Some(4_168), 240, false));
        // One slower film among the others is enough.
        assert_eq!(rate(&[4_167, 33_367]), (Some(33_367), 30, true));
        assert_eq!(rate(&[8_333]), (Some(8_333), 120, false));
        // 1,000,000 / 9,000 is 111.1 and 1,000,000 / 9,050 is 110.497.
        assert_eq!((rate(&[9_000]).1, rate(&[9_050]).1), (111, 110));
        assert_eq!(rate(&[0, 0]), (None, 0, false));
        assert_eq!(filmed(&[]).frames_per_s(), 0);
    }

    /// docs/measurement.md §3: 40 cm are 0.571 s in the air; at 120 frames a second the height is off by
    /// 1.167 cm at most, and its SD is 0.476 cm.
    #[test]
    fn frames_leave_a_height_open_by_what_the_reference_says() {
        let test = filmed(&[(571_000, 8_333)]);
        assert!((test.frame_error_max().as_cm() - 1.167).abs() < 1e-3);
        assert!((test.frame_sd_cm() - 0.476).abs() < 1e-3);
        // The most of all trials; the SD of the mean square of the first three: 240 a second halves it,
        // sqrt((0.476² + 0.476² + 0.238²) / 3) = 0.412.
        let mixed =
            filmed(&[(571_000, 4_167), (571_000, 8_333), (571_000, 8_333), (571_000, 33_333)]);
        assert!((mixed.frame_error_max().as_cm() - 4.668).abs() < 5e-3);
        assert!((mixed.frame_sd_cm() - 0.412).abs() < 1e-3, "{}", mixed.frame_sd_cm());
        assert!(filmed(&[]).frame_sd_cm().abs() < 1e-15);
        assert_eq!(session(&[2245; 3], &[Some(2650)]).frame_error_max(), Length::ZERO);
    }

    #[test]
    fn fouls_are_told_in_order() {
        let mut test = session(&[2245; 3], &[None, Some(2650)]);
        test.trials.push(Trial::Foul(FoulReason::BadLanding));
        assert_eq!(test.fouls().collect::<Vec<_>>(), [FoulReason::Step, FoulReason::BadLanding]);
    }
    proptest! {
        #[test]
        fn a_foul_never_changes_the_score(
            marks in prop::collection::vec(2300i32..2900, 1..6),
            at in 0usize..6,
        ) {
            let plain: Vec<_> = marks.iter().map(|m| Some(*m)).collect();
            let mut fouled = plain.clone();
            fouled.insert(at.min(fouled.len()), None);
            let (plain, fouled) = (session(&[2245; 3], &plain), session(&[2245; 3], &fouled));
            prop_assert_eq!(plain.best(), fouled.best());
            prop_assert_eq!(plain.usual(), fouled.usual());
            prop_assert_eq!(plain.advice(), fouled.advice());
        }

        #[test]
        fn the_order_of_trials_does_not_move_the_best(
            marks in prop::collection::vec(2300i32..2900, 1..6),
        ) {
            let forward: Vec<_> = marks.iter().map(|m| Some(*m)).collect();
            let backward: Vec<_> = forward.iter().rev().copied().collect();
            prop_assert_eq!(session(&[2245; 3], &forward).best(), session(&[2245; 3], &backward).best());
        }

        #[test]
        fn the_first_three_in_any_order_give_the_same_usual_jump(
            marks in prop::collection::vec(2300i32..2900, 3..4),
        ) {
            let forward: Vec<_> = marks.iter().map(|m| Some(*m)).collect();
            let backward: Vec<_> = forward.iter().rev().copied().collect();
            prop_assert_eq!(session(&[2245; 3], &forward).usual(), session(&[2245; 3], &backward).usual());
        }
    }
}
