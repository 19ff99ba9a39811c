use chrono::{NaiveDate, Timelike};

use super::form_field::{MassField, ReadingField};
use crate::assess::{age_on, reach_before};
use crate::card::Card;
use crate::history::{
    Id, MarkMethod, NOTE_MAX, Origin, Person, TAG_MAX, TAGS_MAX, Test, clean_line, clean_note,
};
use crate::measure::{
    FlightTime, FoulReason, Hand, Outcome, Reach, Session, TrendKey, Trial, Variant,
};
use crate::quantity::{Division, JumpHeight, Length, Moment, Reading, Unit};

/// One line of the trials.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct TrialField {
    /// The mark or the distance, as typed.
    pub field: ReadingField,
    /// Why it does not count; the typed mark stays, should it count after all.
    pub foul: Option<FoulReason>,
    /// A time in the air, which is no reading and cannot be typed here.
    pub air: Option<FlightTime>,
    /// How it was measured when it was saved, until another way is chosen for all.
    pub(super) own: Option<MarkMethod>,
}

/// A saved test being changed, or an earlier result being added by hand: everything as typed. Nothing
/// of it is in the record until all of it is right.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TestForm {
    /// The test as it is saved; none for a result that is added.
    pub base: Option<Test>,
    /// The day, as year-month-day.
    pub date: String,
    /// The time of day as hours:minutes, or nothing.
    pub time: String,
    /// What the test may be compared with.
    pub key: TrendKey,
    /// The hand that marked.
    pub hand: Hand,
    /// The step of the tape. Readings that nobody touches stay as they were read.
    pub division: Division,
    /// Whether trials are heights of marks, or distances between the marks.
    pub method: MarkMethod,
    /// The standing reaches.
    pub reaches: Vec<ReadingField>,
    /// The day of the reach, where it is an earlier one.
    pub reach_day: String,
    /// The trials, fouls included.
    pub trials: Vec<TrialField>,
    /// Only the best of the day is known.
    pub only_best: bool,
    /// Free words.
    pub note: String,
    /// Tags, with commas between them.
    pub tags: String,
    /// Body height that day, or nothing.
    pub body_height: ReadingField,
    /// Body mass that day, or nothing; of adults only.
    pub body_mass: MassField,
}

/// Most reaches that the form offers.
const REACHES_MAX: usize = 6;
/// Most trials that the form offers: twice the hard jumps of a day.
const TRIALS_MAX: usize = 20;

impl TestForm {
    /// The form of an earlier result, as the person usually measures. By hand mostly the best is known,
    /// so that is the answer given first.
    pub fn add(person: &Person, today: NaiveDate) -> Self {
        Self {
            base: None,
            date: today.to_string(),
            time: String::new(),
            key: TrendKey { own_way: person.own_way, ..TrendKey::USUAL },
            hand: person.hand,
            division: person.division,
            method: MarkMethod::FromFloor,
            reaches: vec![ReadingField::default()],
            reach_day: String::new(),
            trials: vec![TrialField::default()],
            only_best: true,
            note: String::new(),
            tags: String::new(),
            body_height: ReadingField::default(),
            body_mass: MassField::default(),
        }
    }

    /// The form of a result that came as a card: what the card tells stands in it, as a best of its day.
    /// `text` writes a reading as a person would type it; `note` says where the result comes from.
    /// None for a card that cannot become a record.
    pub fn of_card(
        card: &Card,
        person: &Person,
        text: impl Fn(Reading) -> String,
        note: String,
    ) -> Option<Self> {
        let date = card.date.filter(|_| card.no_record().is_none())?;
        let lengths = [Some(card.best.0), card.reach.map(|reach| reach.0)];
        let mut lengths = lengths.into_iter().flatten();
        let fits = |division| move |length| Reading::nearest(length, division).length() == length;
        // A form holds whole steps of its division; the finest holds what the card's own does not.
        let is_exact = lengths.all(fits(card.division));
        let division =
            if is_exact { card.division } else { Division::finest(card.division.unit()) };
        let field = |length| {
            let reading = Reading::nearest(length, division);
            ReadingField::of(reading, text(reading))
        };
        let mark = card.reach.map_or(card.best.0, |reach| reach.0 + card.best.0);
        Some(Self {
            key: card.key,
            division,
            method: match card.reach {
                Some(_) => MarkMethod::FromFloor,
                None => MarkMethod::BetweenMarks,
            },
            reaches: card.reach.map(|reach| field(reach.0)).into_iter().collect(),
            trials: vec![TrialField { field: field(mark), ..TrialField::default() }],
            note,
            ..Self::add(person, date)
        })
    }

    /// The form of a saved test. `text` writes a reading as a person would type it, `mass_text` a mass.
    pub fn change(
        test: &Test,
        text: impl Fn(Reading) -> String,
        mass_text: impl Fn(crate::quantity::BodyMass) -> String,
    ) -> Self {
        let session = &test.session;
        let field = |reading: Reading| ReadingField::of(reading, text(reading));
        let (reaches, reach_day) = match &session.reach {
            Reach::Measured(readings) => (readings.clone(), String::new()),
            Reach::Reused { reading, measured_on } => (vec![*reading], measured_on.to_string()),
            Reach::MarkOnly => (Vec::new(), String::new()),
        };
        let trials = session.trials.iter().map(|trial| match trial {
            Trial::FloorMark(reading) => TrialField {
                field: field(*reading),
                own: Some(MarkMethod::FromFloor),
                ..TrialField::default()
            },
            Trial::MarkDistance(reading) => TrialField {
                field: field(*reading),
                own: Some(MarkMethod::BetweenMarks),
                ..TrialField::default()
            },
            Trial::Foul(reason) => TrialField { foul: Some(*reason), ..TrialField::default() },
            Trial::FlightTime(time) => TrialField { air: Some(*time), ..TrialField::default() },
        });
        let distances = |trial: &Trial| matches!(trial, Trial::MarkDistance(_));
        let between = session.trials.iter().any(distances) || session.reach == Reach::MarkOnly;
        let time =
            test.minute_of_day.map(|minute| format!("{:02}:{:02}", minute / 60, minute % 60));
        Self {
            base: Some(test.clone()),
            date: test.date.to_string(),
            time: time.unwrap_or_default(),
            key: session.key,
            hand: session.hand,
            division: session.division,
            method: if between { MarkMethod::BetweenMarks } else { MarkMethod::FromFloor },
            reaches: reaches.into_iter().map(field).collect(),
            reach_day,
            trials: trials.collect(),
            only_best: session.top_mark_only,
            note: test.note.clone(),
            tags: test.tags.join(", "),
            body_height: test.body_height.map(field).unwrap_or_default(),
            body_mass: MassField::of(test.body_mass, mass_text),
        }
    }

    /// The day, where the text is one.
    pub fn day(&self) -> Option<NaiveDate> {
        civil_date(&self.date)
    }

    /// Minutes since midnight; an error where the text is no time of day.
    pub(super) fn minute(&self) -> Result<Option<u16>, ()> {
        if self.time.trim().is_empty() {
            return Ok(None);
        }
        let time = chrono::NaiveTime::parse_from_str(self.time.trim(), "%H:%M")
            .or_else(|_| chrono::NaiveTime::parse_from_str(self.time.trim(), "%H:%M:%S"));
        let time = time.map_err(|_| ())?;
        Ok(u16::try_from(time.hour() * 60 + time.minute()).ok())
    }

    /// The unit of a field.
    pub fn unit_of(&self, field: &ReadingField) -> Unit {
        field.unit(self.division)
    }

    /// Chooses how the trials were measured. What is typed stays, and is judged anew.
    pub fn choose_method(&mut self, method: MarkMethod) {
        self.method = method;
        for trial in &mut self.trials {
            trial.own = None;
        }
        match method {
            MarkMethod::BetweenMarks => self.reaches.retain(|field| !field.is_empty()),
            MarkMethod::FromFloor if self.reaches.is_empty() => {
                self.reaches.push(ReadingField::default());
            }
            MarkMethod::FromFloor => {}
        }
    }

    /// Whether there is room for another reach.
    pub const fn may_add_reach(&self) -> bool {
        self.reaches.len() < REACHES_MAX
    }

    /// Whether there is room for another trial.
    pub const fn may_add_trial(&self) -> bool {
        self.trials.len() < TRIALS_MAX
    }

    /// Takes a reach of an earlier day, with that day.
    pub fn take_reach(&mut self, reading: Reading, day: NaiveDate, text: String) {
        self.reaches = vec![ReadingField::of(reading, text)];
        self.reach_day = day.to_string();
    }

    /// The last reach before the day of the form, which it may take over.
    pub fn last_reach(&self, person: &Person, tests: &[Test]) -> Option<(Reading, NaiveDate)> {
        reach_before(&self.draft(person)?, tests)
    }

    /// Whether to ask if only the best of the day is known: with a single trial.
    pub fn asks_only_best(&self) -> bool {
        self.only_best || self.trials.len() == 1
    }

    /// Adds a reach.
    pub fn add_reach(&mut self) {
        self.reaches.push(ReadingField::default());
    }

    /// Adds a trial; with two of them it is no longer only the best that is known.
    pub fn add_trial(&mut self) {
        self.trials.push(TrialField::default());
        self.only_best = false;
    }

    /// What a trial comes to, as far as it can be told.
    pub fn height(&self, at: usize) -> Option<JumpHeight> {
        let reach = match self.reach() {
            Some(reach) => Session { reach, ..self.empty_session() }.standing_reach(),
            None => None,
        };
        match self.trial(self.trials.get(at)?)?.outcome(reach) {
            // A mark below the reach is said to be wrong, and not taken for a height.
            Outcome::Counted(height) => (height.0 >= Length::ZERO).then_some(height),
            Outcome::Foul(_) | Outcome::NoReach => None,
        }
    }

    /// Whether the person was grown up that day: only then is body mass asked.
    pub fn asks_mass(&self, person: &Person) -> bool {
        self.day().is_some_and(|day| age_on(person, day).is_adult())
    }

    /// The tags, each once, as the record keeps them.
    pub fn tag_list(&self) -> Vec<String> {
        let mut tags: Vec<String> = Vec::new();
        for tag in self.tags.split([',', ';', '\n']) {
            let tag = clean_line(tag, TAG_MAX);
            if !tag.is_empty() && !tags.contains(&tag) {
                tags.push(tag);
            }
        }
        tags
    }

    /// Adds a tag, or takes it off.
    pub fn switch_tag(&mut self, tag: &str) {
        let mut tags = self.tag_list();
        match tags.iter().position(|known| known == tag) {
            Some(at) => drop(tags.remove(at)),
            None => tags.push(tag.to_owned()),
        }
        self.tags = tags.join(", ");
    }

    /// The session, once every reading can be read.
    pub fn session(&self) -> Option<Session> {
        let trials: Option<Vec<Trial>> =
            self.trials.iter().map(|trial| self.trial(trial)).collect();
        Some(Session { reach: self.reach()?, trials: trials?, ..self.empty_session() })
    }

    fn empty_session(&self) -> Session {
        let mut session = Session::new(self.key, self.hand, self.division);
        session.top_mark_only = self.only_best;
        session
    }

    pub(super) fn trial(&self, line: &TrialField) -> Option<Trial> {
        if let Some(reason) = line.foul {
            return Some(Trial::Foul(reason));
        }
        if let Some(time) = line.air {
            return Some(Trial::FlightTime(time));
        }
        let reading = line.field.reading(self.division).ok()?;
        Some(match line.own.unwrap_or(self.method) {
            MarkMethod::FromFloor => Trial::FloorMark(reading),
            MarkMethod::BetweenMarks => Trial::MarkDistance(reading),
        })
    }

    pub(super) fn reach(&self) -> Option<Reach> {
        let readings: Option<Vec<Reading>> =
            self.reaches.iter().map(|field| field.reading(self.division).ok()).collect();
        let readings = readings?;
        let before = self.base.as_ref().map(|test| &test.session.reach);
        Some(match (civil_date(&self.reach_day), readings.as_slice()) {
            (Some(measured_on), [reading]) => Reach::Reused { reading: *reading, measured_on },
            (None, []) => match (self.method, before) {
                (MarkMethod::BetweenMarks, Some(Reach::Measured(none))) if none.is_empty() => {
                    Reach::Measured(Vec::new())
                }
                (MarkMethod::BetweenMarks, _) => Reach::MarkOnly,
                (MarkMethod::FromFloor, _) => Reach::Measured(Vec::new()),
            },
            _ => Reach::Measured(readings),
        })
    }

    /// Whether nothing that was measured is changed: then nothing of it is asked again.
    pub fn measures_as_before(&self) -> bool {
        self.base.is_some() && self.session() == self.base.as_ref().map(|test| test.session.clone())
    }

    /// A test with the day and the kind of the form, for looking up what came before it.
    pub(super) fn draft(&self, person: &Person) -> Option<Test> {
        let day = self.day()?;
        let at = Moment::from_civil(day, 0, 0);
        // No test has this id but itself, if it is saved already.
        let id = self.base.as_ref().map_or(Id::from_bytes([0; 16]), |test| test.id);
        let mut test = Test::new(id, person.local.clone(), at, self.empty_session());
        test.minute_of_day = self.minute().ok().flatten();
        Some(test)
    }

    /// The record that the form makes, once all of it can be read. A test that was saved keeps all that
    /// the form does not show; one that is added is labelled so.
    pub fn to_test(&self, person: &Person, id: Id, now: Moment) -> Option<Test> {
        let session = self.session()?;
        let mut test = match &self.base {
            Some(base) => base.clone(),
            None => {
                let mut test = Test::new(id, person.local.clone(), now, session.clone());
                test.origin = Origin::ByHand;
                test
            }
        };
        test.date = self.day()?;
        test.minute_of_day = self.minute().ok()?;
        test.session = session;
        test.note = clean_note(&self.note, NOTE_MAX);
        test.tags = self.tag_list().into_iter().take(TAGS_MAX).collect();
        test.body_height = self.body_height.optional(self.division).ok()?;
        let mass = self.body_mass.mass(self.division.unit()).ok()?;
        test.body_mass = mass.filter(|_| self.asks_mass(person));
        Some(test)
    }
}

/// Gives a saved test to somebody else. The hand and an own way of testing go with the person; a body
/// mass stays only with an adult.
pub fn give_test(test: &Test, to: &Person) -> Test {
    let mut given = test.clone();
    given.person = to.local.clone();
    given.session.hand = to.hand;
    given.session.key.own_way = to.own_way;
    given.body_mass = given.body_mass.filter(|_| age_on(to, test.date).is_adult());
    given
}

/// The run-up that a form offers first.
pub const FIRST_APPROACH: Variant =
    Variant::Approach { steps: 3, take_off: crate::measure::TakeOff::TwoFeet };

/// A day as year-month-day, within the years that a record may lie in.
pub(super) fn civil_date(text: &str) -> Option<NaiveDate> {
    use chrono::Datelike;
    let day = NaiveDate::parse_from_str(text.trim(), "%Y-%m-%d").ok()?;
    (1900..=2200).contains(&day.year()).then_some(day)
}
