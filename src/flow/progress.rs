use crate::history::{HardDay, Id, LocalId, MarkMethod, StretchNote, Test, Tired};
use crate::measure::{FoulReason, Outcome, Reach, ReachCheck, Session, Trial, parse_flight_time};
use crate::quantity::{Age, JumpHeight, Length, Moment, Reading, StandingReach};
use crate::ready::{HeldStretch, LegWork, LegWorkKind, after_leg_work, after_stretch};

/// Which reading is being typed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Slot {
    /// The next one.
    #[default]
    Next,
    /// An earlier one is being changed, by its place from 0.
    Change(usize),
}

/// A test in progress. All of it is kept as a draft but for health answers, which are not here.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Progress {
    /// Whose test it is.
    pub person: LocalId,
    /// When the ready check was passed.
    pub ready_passed_at: Option<Moment>,
    /// Hard leg work, as answered in the ready check.
    pub leg_work: Option<LegWork>,
    /// Held stretches, as answered at the first trial; none while not asked.
    pub stretch: Option<Option<HeldStretch>>,
    /// How marks are read.
    pub method: MarkMethod,
    /// Reach and trials.
    pub session: Session,
    /// What is typed and not kept yet.
    pub typed: String,
    /// What the typed text is for.
    pub slot: Slot,
    /// The person said that one reach is enough.
    pub one_reach: bool,
    /// When the first trial was kept: a held stretch is judged there.
    pub first_jump_at: Option<Moment>,
    /// When the newest trial was kept.
    pub jumped_at: Option<Moment>,
}

/// After so many minutes the ready check is asked again. Design choice.
const READY_MINUTES: i64 = 6 * 60;

impl Progress {
    /// A test that has only a person and a way of measuring.
    pub const fn new(person: LocalId, method: MarkMethod, session: Session) -> Self {
        Self {
            person,
            ready_passed_at: None,
            leg_work: None,
            stretch: None,
            method,
            session,
            typed: String::new(),
            slot: Slot::Next,
            one_reach: false,
            first_jump_at: None,
            jumped_at: None,
        }
    }

    /// Whether a passed ready check still holds. It lapses after six hours, and when the clock went
    /// back by more than an hour.
    pub fn is_ready(&self, now: Moment) -> bool {
        let minutes = self.ready_passed_at.map(|passed| now.minutes_since(passed));
        minutes.is_some_and(|minutes| (-60..READY_MINUTES).contains(&minutes))
    }

    /// Keeps a reach in its slot and empties the field.
    pub fn keep_reach(&mut self, reading: Reading) {
        let Reach::Measured(readings) = &mut self.session.reach else {
            self.session.reach = Reach::Measured(vec![reading]);
            self.clear_typed();
            return;
        };
        match self.slot {
            Slot::Change(at) if at < readings.len() => {
                if let Some(slot) = readings.get_mut(at) {
                    *slot = reading;
                }
            }
            _ => readings.push(reading),
        }
        self.clear_typed();
    }

    /// Forgets the reaches, to do all three again.
    pub fn redo_reaches(&mut self) {
        self.session.reach = Reach::Measured(Vec::new());
        self.one_reach = false;
        self.clear_typed();
    }

    /// Whether the reach step is finished.
    pub fn reach_is_done(&self) -> bool {
        match self.session.reach_check() {
            ReachCheck::NotNeeded | ReachCheck::Agree { .. } => true,
            ReachCheck::Missing(missing) => self.one_reach && missing < 3,
            ReachCheck::TooFarApart { .. } => false,
        }
    }

    /// The trial that a kept reading makes; of a test timed in the air, the time that is typed.
    pub fn trial_of(&self, reading: Reading) -> Trial {
        if self.session.key.device.is_clock()
            && let Ok(time) = parse_flight_time(&self.typed)
        {
            return Trial::FlightTime(time);
        }
        match self.method {
            MarkMethod::FromFloor => Trial::FloorMark(reading),
            MarkMethod::BetweenMarks => Trial::MarkDistance(reading),
        }
    }

    /// Keeps a trial in its slot and empties the field. A new one starts the rest.
    pub fn keep_trial(&mut self, trial: Trial, now: Moment) {
        match self.slot {
            Slot::Change(at) if at < self.session.trials.len() => {
                if let Some(slot) = self.session.trials.get_mut(at) {
                    *slot = trial;
                }
            }
            _ => {
                self.session.trials.push(trial);
                self.first_jump_at = self.first_jump_at.or(Some(now));
                self.jumped_at = Some(now);
            }
        }
        self.clear_typed();
    }

    /// Notes a foul.
    pub fn foul(&mut self, reason: FoulReason, now: Moment) {
        self.keep_trial(Trial::Foul(reason), now);
    }

    /// Takes the newest trial back; its reading returns to the field as `text`.
    pub fn undo_trial(&mut self, text: impl Fn(Reading) -> String) {
        let Some(trial) = self.session.trials.pop() else {
            return;
        };
        self.slot = Slot::Next;
        self.typed = match trial {
            Trial::FloorMark(reading) | Trial::MarkDistance(reading) => text(reading),
            Trial::FlightTime(time) => time.as_typed(),
            Trial::Foul(_) => String::new(),
        };
        self.jumped_at = None;
    }

    /// Opens an earlier trial for a change, with its reading as `text`.
    pub fn change_trial(&mut self, at: usize, text: impl Fn(Reading) -> String) {
        let Some(trial) = self.session.trials.get(at) else {
            return;
        };
        self.typed = match trial {
            Trial::FloorMark(reading) | Trial::MarkDistance(reading) => text(*reading),
            Trial::FlightTime(time) => time.as_typed(),
            Trial::Foul(_) => String::new(),
        };
        self.slot = Slot::Change(at);
    }

    /// Opens an earlier reach for a change, with its reading as `text`.
    pub fn change_reach(&mut self, at: usize, text: impl Fn(Reading) -> String) {
        let Reach::Measured(readings) = &self.session.reach else {
            return;
        };
        if let Some(reading) = readings.get(at) {
            self.typed = text(*reading);
            self.slot = Slot::Change(at);
        }
    }

    /// Exchanges the standing reach with what is typed as the first jump mark.
    pub fn swap_with_reach(&mut self, mark: Reading, text: impl Fn(Reading) -> String) {
        let Some(StandingReach(reach)) = self.session.standing_reach() else {
            return;
        };
        self.session.reach = Reach::Measured(vec![mark]);
        self.one_reach = true;
        self.typed = text(Reading::nearest(reach, mark.division));
    }

    /// Empties the field.
    pub fn clear_typed(&mut self) {
        self.typed.clear();
        self.slot = Slot::Next;
    }

    /// Hard jumps of this test so far, fouls included.
    pub const fn jumps(&self) -> usize {
        self.session.trials.len()
    }

    /// Heights of the counted trials but for the one being changed.
    pub fn other_heights(&self) -> Vec<JumpHeight> {
        let skip = match self.slot {
            Slot::Next => None,
            Slot::Change(at) => Some(at),
        };
        let outcomes = self.session.outcomes().into_iter().enumerate();
        let others = outcomes.filter(|(at, _)| Some(*at) != skip);
        let heights = others.filter_map(|(_, outcome)| match outcome {
            Outcome::Counted(height) => Some(height),
            _ => None,
        });
        heights.collect()
    }

    /// What may have lowered the score, as the record keeps it: leg work whose wait is not over, and a
    /// stretch that nothing has undone.
    pub fn tired(&self, age: Age, now: Moment) -> Tired {
        let work = self.leg_work.filter(|work| after_leg_work(Some(*work), age, now).is_tired());
        let leg_work = work.map(|work| {
            let kind = match work.kind {
                LegWorkKind::HardSession => HardDay::LegSession,
                LegWorkKind::Match => HardDay::Match,
            };
            let hours = now.minutes_since(work.ended).max(0) / 60;
            (kind, u16::try_from(hours).unwrap_or(u16::MAX))
        });
        let first_trial = self.first_jump_at.unwrap_or(now);
        let held = self.stretch.flatten();
        let stretch = held.filter(|held| after_stretch(Some(*held), first_trial).is_tired());
        let stretch = stretch.map(|held| {
            let minutes = first_trial.minutes_since(held.ended).max(0);
            let minutes_since = u16::try_from(minutes).unwrap_or(u16::MAX);
            StretchNote { long: held.long, minutes_since }
        });
        Tired { leg_work, stretch }
    }

    /// When it was jumped: at the newest jump whose time is known, or else now. A clock that went
    /// back since gives now too.
    fn tested_at(&self, now: Moment) -> Moment {
        let newest = self.jumped_at.or(self.first_jump_at);
        newest.filter(|at| at.utc_ms <= now.utc_ms).unwrap_or(now)
    }

    /// The record this test becomes when it is saved now. Its day is the day it was jumped.
    pub fn to_test(&self, id: Id, age: Age, now: Moment) -> Test {
        let at = self.tested_at(now);
        let mut test = Test::new(id, self.person.clone(), at, self.session.clone());
        test.stamp.edited_utc_ms = now.utc_ms;
        test.tired = self.tired(age, now);
        test
    }

    /// The height up to which the air must be free, for the reach that counts so far.
    pub fn clear_height(&self, best: Option<JumpHeight>, age: Age) -> Option<Length> {
        let reach = self.session.standing_reach()?;
        Some(crate::ready::clear_height(reach, best, age, self.session.key.variant))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::{Hand, TrendKey};
    use crate::quantity::{AgeGroup, Division};

    const NOW: Moment = Moment { utc_ms: 1_781_500_000_000, offset_minutes: 120 };
    const TEEN: Age = Age::Group(AgeGroup::From15To17);

    fn mm(count: i32) -> Reading {
        Reading { count, division: Division::CmHalf }
    }

    fn progress() -> Progress {
        let session = Session::new(TrendKey::USUAL, Hand::Right, Division::CmHalf);
        let person = LocalId::parse("abcd").unwrap();
        Progress::new(person, MarkMethod::FromFloor, session)
    }

    fn reached() -> Progress {
        let mut progress = progress();
        for count in [2240, 2250, 2245] {
            progress.keep_reach(mm(count));
        }
        progress
    }

    #[test]
    fn three_reaches_that_agree_end_the_step() {
        let mut progress = progress();
        progress.keep_reach(mm(2240));
        assert!(!progress.reach_is_done());
        progress.one_reach = true;
        assert!(progress.reach_is_done());
        assert!(reached().reach_is_done());
    }

    #[test]
    fn a_changed_reach_keeps_its_place() {
        let mut progress = reached();
        progress.change_reach(1, |reading| reading.count.to_string());
        assert_eq!(progress.typed, "2250");
        progress.keep_reach(mm(2235));
        assert_eq!(progress.session.reach, Reach::Measured(vec![mm(2240), mm(2235), mm(2245)]));
        assert_eq!((progress.typed.as_str(), progress.slot), ("", Slot::Next));
    }

    #[test]
    fn undo_gives_the_reading_back_to_the_field() {
        let mut progress = reached();
        progress.keep_trial(Trial::FloorMark(mm(2680)), NOW);
        progress.undo_trial(|reading| reading.count.to_string());
        assert_eq!((progress.jumps(), progress.typed.as_str()), (0, "2680"));
    }

    #[test]
    fn changing_a_trial_starts_no_rest_and_compares_with_the_others_only() {
        let mut progress = reached();
        progress.keep_trial(Trial::FloorMark(mm(2680)), NOW);
        progress.keep_trial(Trial::FloorMark(mm(2690)), NOW);
        progress.change_trial(0, |reading| reading.count.to_string());
        assert_eq!(progress.other_heights(), vec![JumpHeight(Length::from_mm(445))]);
        progress.keep_trial(Trial::FloorMark(mm(2675)), NOW.plus_minutes(5));
        assert_eq!(progress.jumped_at, Some(NOW));
        assert_eq!(progress.session.trials.len(), 2);
    }

    #[test]
    fn a_test_saved_after_midnight_stays_on_the_day_it_was_jumped() {
        let day = NOW.date();
        let evening = Moment::from_civil(day, 23 * 60 + 58, 120);
        let saved = evening.plus_minutes(30);
        let mut progress = reached();
        progress.keep_trial(Trial::FloorMark(mm(2680)), evening);
        for undone in [false, true] {
            if undone {
                progress.keep_trial(Trial::FloorMark(mm(2690)), evening.plus_minutes(1));
                progress.undo_trial(|reading| reading.count.to_string());
            }
            let test = progress.to_test(Id::from_bytes([1; 16]), TEEN, saved);
            assert_eq!((test.date, test.minute_of_day), (day, Some(23 * 60 + 58)));
            assert_eq!(test.stamp.edited_utc_ms, saved.utc_ms);
        }
        let before = progress.to_test(Id::from_bytes([1; 16]), TEEN, evening.plus_minutes(-60));
        assert_eq!(before.minute_of_day, Some(22 * 60 + 58));
    }

    #[test]
    fn exchanged_reach_and_mark_are_put_right() {
        let mut progress = progress();
        progress.keep_reach(mm(2680));
        progress.swap_with_reach(mm(2245), |reading| reading.count.to_string());
        assert_eq!(progress.session.standing_reach(), Some(StandingReach(Length::from_mm(2245))));
        assert_eq!(progress.typed, "2680");
    }

    #[test]
    fn the_ready_check_lapses_after_six_hours() {
        let mut progress = progress();
        assert!(!progress.is_ready(NOW));
        progress.ready_passed_at = Some(NOW);
        assert!(progress.is_ready(NOW.plus_minutes(359)));
        assert!(!progress.is_ready(NOW.plus_minutes(360)));
        assert!(!progress.is_ready(NOW.plus_minutes(-61)));
    }

    #[test]
    fn a_stretch_is_judged_at_the_first_trial() {
        let mut progress = reached();
        let held = HeldStretch { long: false, ended: NOW, moved_since: false };
        progress.stretch = Some(Some(held));
        progress.keep_trial(Trial::FloorMark(mm(2680)), NOW.plus_minutes(3));
        progress.keep_trial(Trial::FloorMark(mm(2690)), NOW.plus_minutes(20));
        let note = StretchNote { long: false, minutes_since: 3 };
        assert_eq!(progress.tired(TEEN, NOW.plus_minutes(25)).stretch, Some(note));
    }

    #[test]
    fn rested_legs_leave_no_note() {
        let mut progress = reached();
        let ended = NOW.plus_minutes(-73 * 60);
        progress.leg_work = Some(LegWork { kind: LegWorkKind::HardSession, ended });
        assert_eq!(progress.tired(TEEN, NOW), Tired::default());
        let ended = NOW.plus_minutes(-30 * 60);
        progress.leg_work = Some(LegWork { kind: LegWorkKind::HardSession, ended });
        assert_eq!(progress.tired(TEEN, NOW).leg_work, Some((HardDay::LegSession, 30)));
    }
}
