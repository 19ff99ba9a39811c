use chrono::NaiveDate;

use crate::quantity::{Age, AgeGroup, Moment};
use crate::ready::{
    LegWork, LegWorkKind, PartOfDay, Verdict, WeekLimit, after_leg_work, hard_jumps_left,
    week_limit,
};

/// Answers to the ready check. They live in the page while it is open; no health answer is stored.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Answers {
    /// Pain, fever, chest trouble or dizzy today.
    pub unwell: Option<bool>,
    /// Something of the private list fits.
    pub fits: Option<bool>,
    /// A professional has said jumping is fine.
    pub cleared: bool,
    /// An adult is near (asked of the young).
    pub adult_near: Option<bool>,
    /// Surely 13 or older (asked where only the group of 12 to 14 is known, and no adult is near).
    pub is_13: Option<bool>,
    /// A parent or guardian answered the health questions (asked under 15).
    pub parent_answered: Option<bool>,
    /// In a class: parents were asked before the lesson, and one question without reasons stands for
    /// both health questions.
    pub in_class: bool,
    /// Hard leg work in the last four days.
    pub legs: LegAnswer,
    /// Wall, floor, height and shoes are as they should be.
    pub looked: bool,
}

/// The answer about leg work, as far as it is given.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct LegAnswer {
    /// Whether there was any.
    pub worked: Option<bool>,
    /// What it was.
    pub kind: Option<LegWorkKind>,
    /// How many days ago, 0 for today.
    pub days_ago: Option<u8>,
    /// The part of that day.
    pub part: Option<PartOfDay>,
}

impl LegAnswer {
    /// The first thing that still needs to be asked.
    pub const fn missing(self) -> Option<Question> {
        match self.worked {
            None => Some(Question::LegWork),
            Some(true) if self.kind.is_none() => Some(Question::LegWorkKind),
            Some(true) if self.days_ago.is_none() => Some(Question::LegWorkDay),
            Some(true) if self.part.is_none() => Some(Question::LegWorkPart),
            Some(_) => None,
        }
    }

    /// The leg work it tells of.
    pub fn leg_work(self, now: Moment) -> Option<LegWork> {
        if self.worked != Some(true) {
            return None;
        }
        Some(LegWork::remembered(self.kind?, self.days_ago?, self.part?, now))
    }
}

/// Why there is no test today.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StopReason {
    /// Unwell today. Nobody goes on from here.
    Unwell,
    /// Something of the list fits, and no professional has said jumping is fine.
    AskFirst,
    /// Under 15, and no parent or guardian answered the health questions.
    AskParent,
    /// Under 13, and no adult is near.
    NoAdult,
    /// Ten hard jumps are done today.
    DayFull,
}

/// A question of the ready check, in the order of the page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Question {
    /// Pain, fever, chest trouble or dizzy today?
    Unwell,
    /// Does anything of the list fit?
    Fits,
    /// Under 15: did a parent or guardian answer?
    ParentAnswered,
    /// For the young: is an adult near?
    AdultNear,
    /// For the group of 12 to 14 with no adult near: already 13?
    Is13,
    /// Hard leg work in the last days?
    LegWork,
    /// What kind it was.
    LegWorkKind,
    /// Which day it was.
    LegWorkDay,
    /// What time of the day it was.
    LegWorkPart,
    /// The look around.
    LookAround,
}

/// What the ready check comes to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ReadyOutcome {
    /// No test today.
    Stop(StopReason),
    /// Answers are missing.
    Missing {
        /// How many.
        count: u32,
        /// The uppermost of them.
        first: Question,
    },
    /// All is answered.
    Judged {
        /// Whether the legs are rested.
        verdict: Verdict,
        /// Where the person stands in the week.
        week: WeekLimit,
    },
}

impl Answers {
    /// Whether it is asked if the person is 13 already: with no adult near, where only the group of
    /// 12 to 14 is known. In a class an adult is near, whatever the age.
    pub fn asks_13(self, age: Age) -> bool {
        age == Age::Group(AgeGroup::From12To14) && self.adult_near == Some(false) && !self.in_class
    }

    /// The outcome for a person of this age, now. A stop is said as soon as it is known.
    pub fn outcome(
        self,
        age: Age,
        now: Moment,
        jumps_today: usize,
        test_days: &[NaiveDate],
    ) -> ReadyOutcome {
        if self.unwell == Some(true) {
            return ReadyOutcome::Stop(StopReason::Unwell);
        }
        if self.fits == Some(true) && !self.cleared {
            return ReadyOutcome::Stop(StopReason::AskFirst);
        }
        let asks_parent = age.parent_answers() && !self.in_class;
        if asks_parent && self.parent_answered == Some(false) {
            return ReadyOutcome::Stop(StopReason::AskParent);
        }
        let may_be_13 = self.asks_13(age);
        let alone = age.needs_adult_present() && self.adult_near == Some(false);
        if alone && (!may_be_13 || self.is_13 == Some(false)) {
            return ReadyOutcome::Stop(StopReason::NoAdult);
        }
        if hard_jumps_left(jumps_today) == 0 {
            return ReadyOutcome::Stop(StopReason::DayFull);
        }
        let open = [
            self.unwell.is_none().then_some(Question::Unwell),
            (!self.in_class && self.fits.is_none()).then_some(Question::Fits),
            (asks_parent && self.parent_answered.is_none()).then_some(Question::ParentAnswered),
            (age.needs_adult_present() && self.adult_near.is_none()).then_some(Question::AdultNear),
            (may_be_13 && self.is_13.is_none()).then_some(Question::Is13),
            self.legs.missing(),
            (!self.looked).then_some(Question::LookAround),
        ];
        let missing: Vec<_> = open.into_iter().flatten().collect();
        if let Some(&first) = missing.first() {
            let count = u32::try_from(missing.len()).unwrap_or(u32::MAX);
            return ReadyOutcome::Missing { count, first };
        }
        ReadyOutcome::Judged {
            verdict: after_leg_work(self.legs.leg_work(now), age, now),
            week: week_limit(test_days, now.date()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const NOW: Moment = Moment { utc_ms: 1_781_500_000_000, offset_minutes: 120 };
    const WELL: Answers = Answers {
        unwell: Some(false),
        fits: Some(false),
        cleared: false,
        adult_near: None,
        is_13: None,
        parent_answered: None,
        in_class: false,
        legs: LegAnswer { worked: Some(false), kind: None, days_ago: None, part: None },
        looked: true,
    };
    const TEEN: Age = Age::Group(AgeGroup::From15To17);

    #[test]
    fn nothing_is_preset() {
        let outcome = Answers::default().outcome(TEEN, NOW, 0, &[]);
        assert_eq!(outcome, ReadyOutcome::Missing { count: 4, first: Question::Unwell });
    }

    #[test]
    fn unwell_is_no_test_whatever_else_is_answered() {
        let unwell = Answers { unwell: Some(true), cleared: true, ..WELL };
        assert_eq!(unwell.outcome(TEEN, NOW, 0, &[]), ReadyOutcome::Stop(StopReason::Unwell));
    }

    #[test]
    fn a_professional_opens_the_way_for_the_private_list_only() {
        let fits = Answers { fits: Some(true), ..WELL };
        assert_eq!(fits.outcome(TEEN, NOW, 0, &[]), ReadyOutcome::Stop(StopReason::AskFirst));
        let cleared = Answers { cleared: true, ..fits };
        assert!(matches!(cleared.outcome(TEEN, NOW, 0, &[]), ReadyOutcome::Judged { .. }));
    }

    fn goes_on(answers: Answers, age: Age) -> bool {
        matches!(answers.outcome(age, NOW, 0, &[]), ReadyOutcome::Judged { .. })
    }

    #[test]
    fn the_young_need_an_adult_near() {
        let child = Age::Group(AgeGroup::Under12);
        let asked = Answers { parent_answered: Some(true), ..WELL };
        let missing = ReadyOutcome::Missing { count: 1, first: Question::AdultNear };
        assert_eq!(asked.outcome(child, NOW, 0, &[]), missing);
        assert!(goes_on(Answers { adult_near: Some(true), ..asked }, child));
        let alone = Answers { adult_near: Some(false), is_13: Some(true), ..asked };
        assert_eq!(alone.outcome(child, NOW, 0, &[]), ReadyOutcome::Stop(StopReason::NoAdult));
    }

    #[test]
    fn a_group_of_two_rules_can_say_which_one_is_true() {
        let group = Age::Group(AgeGroup::From12To14);
        let alone = Answers { parent_answered: Some(true), adult_near: Some(false), ..WELL };
        let missing = ReadyOutcome::Missing { count: 1, first: Question::Is13 };
        assert_eq!(alone.outcome(group, NOW, 0, &[]), missing);
        assert!(goes_on(Answers { is_13: Some(true), ..alone }, group));
        let younger = Answers { is_13: Some(false), ..alone };
        assert_eq!(younger.outcome(group, NOW, 0, &[]), ReadyOutcome::Stop(StopReason::NoAdult));
    }

    #[test]
    fn a_child_can_say_that_no_parent_answered() {
        let years = Age::Years { years: 14, maybe_one_more: false, months_to_birthday: 3 };
        let missing = ReadyOutcome::Missing { count: 1, first: Question::ParentAnswered };
        assert_eq!(WELL.outcome(years, NOW, 0, &[]), missing);
        let no = Answers { parent_answered: Some(false), ..WELL };
        assert_eq!(no.outcome(years, NOW, 0, &[]), ReadyOutcome::Stop(StopReason::AskParent));
        assert!(goes_on(Answers { parent_answered: Some(true), ..WELL }, years));
        assert!(goes_on(WELL, TEEN));
    }

    #[test]
    fn a_class_asks_one_question_without_reasons_and_no_parent() {
        let pupil = Age::Group(AgeGroup::From12To14);
        let class = Answers { fits: None, adult_near: Some(true), in_class: true, ..WELL };
        assert!(goes_on(class, pupil));
        let reason = Answers { unwell: Some(true), ..class };
        assert_eq!(reason.outcome(pupil, NOW, 0, &[]), ReadyOutcome::Stop(StopReason::Unwell));
        let alone = Answers { adult_near: Some(false), ..class };
        assert_eq!(alone.outcome(pupil, NOW, 0, &[]), ReadyOutcome::Stop(StopReason::NoAdult));
    }

    #[test]
    fn ten_jumps_close_the_day() {
        assert_eq!(WELL.outcome(TEEN, NOW, 10, &[]), ReadyOutcome::Stop(StopReason::DayFull));
    }

    #[test]
    fn leg_work_needs_all_three_answers() {
        let half = LegAnswer {
            worked: Some(true),
            kind: Some(LegWorkKind::Match),
            ..LegAnswer::default()
        };
        let first = |legs| match (Answers { legs, ..WELL }).outcome(TEEN, NOW, 0, &[]) {
            ReadyOutcome::Missing { count: 1, first } => first,
            outcome => panic!("one is missing: {outcome:?}"),
        };
        assert_eq!(first(LegAnswer { kind: None, ..half }), Question::LegWorkKind);
        assert_eq!(first(half), Question::LegWorkDay);
        assert_eq!(first(LegAnswer { days_ago: Some(1), ..half }), Question::LegWorkPart);
        assert_eq!(first(LegAnswer::default()), Question::LegWork);
        let legs = LegAnswer { days_ago: Some(1), part: Some(PartOfDay::Evening), ..half };
        let outcome = Answers { legs, ..WELL }.outcome(TEEN, NOW, 0, &[]);
        let ReadyOutcome::Judged { verdict, .. } = outcome else {
            panic!("all is answered: {outcome:?}");
        };
        assert_eq!(verdict.severity(), 2);
    }
}
