use chrono::NaiveDate;

use super::form::{TestForm, civil_date};
use super::judged::{judged_mark, judged_reach};
use crate::assess::{age_on, expected_trial_sd_cm, reach_before};
use crate::history::{
    MarkMethod, NOTE_MAX, Person, TAG_MAX, TAGS_MAX, Test, clean_line, clean_note,
};
use crate::measure::{
    Doubt, MarkContext, Problem, ReachCheck, ReachContext, Remedy, Session, Trial,
};
use crate::quantity::{Age, Bounds, JumpHeight, Length, Reading, StandingReach};

/// Where on the form something is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum FormPlace {
    /// The day.
    Date,
    /// The time of day.
    Time,
    /// A reach, from 0.
    Reach(usize),
    /// The reaches together.
    Reaches,
    /// The day of an earlier reach.
    ReachDay,
    /// A trial, from 0.
    Trial(usize),
    /// The trials together.
    Trials,
    /// The note.
    Note,
    /// The tags.
    Tags,
    /// Body height.
    BodyHeight,
    /// Body mass.
    BodyMass,
}

/// What is wrong, or asked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FormProblem {
    /// Not a day.
    NotADay,
    /// A day that has not come yet.
    InFuture,
    /// Not a time of day.
    NotATime,
    /// The text is no reading.
    Reading(Problem),
    /// A question about the reading; some cannot be confirmed.
    Doubt(Doubt, Reading),
    /// The reaches are too far apart.
    ReachesApart {
        /// Largest minus smallest.
        spread: Length,
        /// What would still have been close enough.
        limit: Length,
    },
    /// Marks from the floor need a reach.
    NoReach,
    /// The earlier reach was measured after the test.
    ReachLater,
    /// No trial counts.
    NoTrial,
    /// Longer than a note may be.
    NoteTooLong,
    /// One tag is longer than a tag may be.
    TagTooLong,
    /// More tags than a test may have.
    TooManyTags,
    /// No body is so tall or so small.
    BodyHeight,
    /// Not a body mass.
    BodyMass,
}

/// One thing found on the form.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Finding {
    /// Where.
    pub place: FormPlace,
    /// What.
    pub problem: FormProblem,
    /// One-tap mends.
    pub remedies: Vec<Remedy>,
}

impl Finding {
    fn new(place: FormPlace, problem: FormProblem) -> Self {
        Self { place, problem, remedies: Vec::new() }
    }

    /// Whether it is said while the person still types. What is empty or not begun is said after the
    /// person tried to keep it.
    pub const fn is_said_at_once(&self) -> bool {
        matches!(
            self.problem,
            FormProblem::Doubt(..) | FormProblem::InFuture | FormProblem::ReachLater
        )
    }

    /// Whether the person may say that it is right all the same.
    pub const fn may_be_right(&self) -> bool {
        matches!(self.problem, FormProblem::Doubt(doubt, _) if !doubt.refuses())
    }
}

/// What is known beside the form.
#[derive(Clone, Copy, Debug)]
pub struct FormContext<'a> {
    /// Whose test it is.
    pub person: &'a Person,
    /// All tests of that person.
    pub tests: &'a [Test],
    /// Today.
    pub today: NaiveDate,
}

/// Body heights that exist. Design choice: from a small five-year-old to beyond the tallest person known.
const BODY_HEIGHT_POSSIBLE: Bounds =
    Bounds { min: Length::from_mm(600), max: Length::from_mm(2_800) };

impl TestForm {
    /// All that is wrong or asked, in the order of the form. What was saved before and is untouched is
    /// not asked again.
    pub fn findings(&self, context: FormContext<'_>) -> Vec<Finding> {
        let mut found = Vec::new();
        self.find_in_time(context, &mut found);
        if !self.measures_as_before() {
            let day = self.day().unwrap_or(context.today);
            let age = age_on(context.person, day);
            self.find_in_reaches(context, age, day, &mut found);
            self.find_in_trials(context, age, &mut found);
        }
        self.find_in_words(&mut found);
        self.find_in_body(context, &mut found);
        found
    }

    fn find_in_time(&self, context: FormContext<'_>, found: &mut Vec<Finding>) {
        let saved = self.base.as_ref().map(|test| test.date);
        match self.day() {
            None => found.push(Finding::new(FormPlace::Date, FormProblem::NotADay)),
            Some(day) if day > context.today && saved != Some(day) => {
                found.push(Finding::new(FormPlace::Date, FormProblem::InFuture));
            }
            Some(_) => {}
        }
        if self.minute().is_err() {
            found.push(Finding::new(FormPlace::Time, FormProblem::NotATime));
        }
    }

    fn find_in_reaches(
        &self,
        context: FormContext<'_>,
        age: Age,
        day: NaiveDate,
        found: &mut Vec<Finding>,
    ) {
        let before = found.len();
        let is_earlier = self.reaches.len() == 1 && !self.reach_day.trim().is_empty();
        let last = self.draft(context.person).filter(|_| !is_earlier);
        let last = last.and_then(|test| reach_before(&test, context.tests));
        let last = last.map(|(reading, day)| (StandingReach(reading.length()), day));
        for (at, field) in self.reaches.iter().enumerate() {
            let place = FormPlace::Reach(at);
            match field.reading(self.division) {
                Err(problem) => found.push(Finding::new(place, FormProblem::Reading(problem))),
                Ok(reading) => {
                    let context = ReachContext { age, today: day, last };
                    let judged = judged_reach(reading, context);
                    let open = judged
                        .doubts
                        .iter()
                        .find(|doubt| doubt.refuses() || !field.is_confirmed(reading));
                    if let Some(doubt) = open {
                        let problem = FormProblem::Doubt(*doubt, reading);
                        found.push(Finding { place, problem, remedies: judged.remedies });
                    }
                }
            }
        }
        if is_earlier {
            let measured_on = civil_date(&self.reach_day);
            let problem = match measured_on {
                None => Some(FormProblem::NotADay),
                Some(measured_on) if measured_on > day => Some(FormProblem::ReachLater),
                Some(_) => None,
            };
            found.extend(problem.map(|problem| Finding::new(FormPlace::ReachDay, problem)));
        }
        if found.len() > before {
            return;
        }
        let Some(session) = self.session_of_reaches() else { return };
        let problem = match session.reach_check() {
            ReachCheck::TooFarApart { spread, limit } => {
                Some(FormProblem::ReachesApart { spread, limit })
            }
            ReachCheck::Missing(3) if self.method == MarkMethod::FromFloor => {
                Some(FormProblem::NoReach)
            }
            _ => None,
        };
        found.extend(problem.map(|problem| Finding::new(FormPlace::Reaches, problem)));
    }

    /// The session with its reaches alone.
    fn session_of_reaches(&self) -> Option<Session> {
        let mut session = Session::new(self.key, self.hand, self.division);
        session.reach = self.reach()?;
        Some(session)
    }

    fn find_in_trials(&self, context: FormContext<'_>, age: Age, found: &mut Vec<Finding>) {
        let reach = self.session_of_reaches().and_then(|session| session.standing_reach());
        let heights: Vec<Option<JumpHeight>> =
            (0..self.trials.len()).map(|at| self.height(at)).collect();
        let earlier = context.tests.iter().filter(|test| test.session.key == self.key).count();
        let mut counted = 0;
        for (at, line) in self.trials.iter().enumerate() {
            if line.foul.is_some() {
                continue;
            }
            counted += 1;
            if line.air.is_some() {
                continue;
            }
            let place = FormPlace::Trial(at);
            let reading = match line.field.reading(self.division) {
                Ok(reading) => reading,
                Err(problem) => {
                    found.push(Finding::new(place, FormProblem::Reading(problem)));
                    continue;
                }
            };
            let from_floor = matches!(self.trial(line), Some(Trial::FloorMark(_)));
            if from_floor && reach.is_none() {
                // Without a reach there is no height to judge; that is said at the reaches.
                continue;
            }
            let others: Vec<JumpHeight> = heights
                .iter()
                .enumerate()
                .filter_map(|(other, height)| height.filter(|_| other != at))
                .collect();
            let typical = others.first().map_or(Length::from_mm(400), |height| height.0);
            let judged = judged_mark(
                reading,
                MarkContext {
                    age,
                    variant: self.key.variant,
                    reach: reach.filter(|_| from_floor),
                    others: &others,
                    trial_sd_cm: expected_trial_sd_cm(age, earlier, typical),
                },
            );
            let open = judged
                .doubts
                .iter()
                .find(|doubt| doubt.refuses() || !line.field.is_confirmed(reading));
            if let Some(doubt) = open {
                let problem = FormProblem::Doubt(*doubt, reading);
                found.push(Finding { place, problem, remedies: judged.remedies });
            }
        }
        if counted == 0 {
            found.push(Finding::new(FormPlace::Trials, FormProblem::NoTrial));
        }
    }

    fn find_in_words(&self, found: &mut Vec<Finding>) {
        let fits = |text: &str, max: usize, clean: fn(&str, usize) -> String| {
            clean(text, max) == clean(text, usize::MAX)
        };
        if !fits(&self.note, NOTE_MAX, clean_note) {
            found.push(Finding::new(FormPlace::Note, FormProblem::NoteTooLong));
        }
        if self.tags.split([',', ';', '\n']).any(|tag| !fits(tag, TAG_MAX, clean_line)) {
            found.push(Finding::new(FormPlace::Tags, FormProblem::TagTooLong));
        } else if self.tag_list().len() > TAGS_MAX {
            found.push(Finding::new(FormPlace::Tags, FormProblem::TooManyTags));
        }
    }

    fn find_in_body(&self, context: FormContext<'_>, found: &mut Vec<Finding>) {
        match self.body_height.optional(self.division) {
            Err(problem) => {
                found.push(Finding::new(FormPlace::BodyHeight, FormProblem::Reading(problem)));
            }
            Ok(Some(reading)) if !BODY_HEIGHT_POSSIBLE.contains(reading.length()) => {
                found.push(Finding::new(FormPlace::BodyHeight, FormProblem::BodyHeight));
            }
            Ok(_) => {}
        }
        let asked = self.asks_mass(context.person);
        if asked && self.body_mass.mass(self.division.unit()).is_err() {
            found.push(Finding::new(FormPlace::BodyMass, FormProblem::BodyMass));
        }
    }

    /// Says that what stands in a field is right.
    pub fn confirm(&mut self, place: FormPlace) {
        let division = self.division;
        if let Some(field) = self.field_mut(place) {
            field.confirm(division);
        }
    }

    /// Takes a one-tap mend. `text` writes a reading as a person would type it.
    pub fn mend(&mut self, place: FormPlace, remedy: Remedy, text: impl Fn(Reading) -> String) {
        match remedy {
            Remedy::ReadAs(reading) => {
                if let Some(field) = self.field_mut(place) {
                    field.put(reading, text(reading));
                }
            }
            Remedy::SwapWithReach => self.swap_with_reach(place),
        }
    }

    fn swap_with_reach(&mut self, place: FormPlace) {
        let division = self.division;
        let Some(counts) = self.session_of_reaches().and_then(|session| session.standing_reach())
        else {
            return;
        };
        let is_counted = |field: &super::ReadingField| {
            field.reading(division).is_ok_and(|reading| reading.length() == counts.0)
        };
        let Some(at) = self.reaches.iter().position(is_counted) else { return };
        let Some(mark) = self.field_mut(place).map(std::mem::take) else { return };
        if let Some(reach) = self.reaches.get_mut(at) {
            let reach = std::mem::replace(reach, mark);
            if let Some(field) = self.field_mut(place) {
                *field = reach;
            }
        }
    }

    fn field_mut(&mut self, place: FormPlace) -> Option<&mut super::ReadingField> {
        match place {
            FormPlace::Reach(at) => self.reaches.get_mut(at),
            FormPlace::Trial(at) => self.trials.get_mut(at).map(|line| &mut line.field),
            FormPlace::BodyHeight => Some(&mut self.body_height),
            _ => None,
        }
    }
}
