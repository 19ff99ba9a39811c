use super::form::{TestForm, TrialField};
use crate::history::MarkMethod;
use crate::measure::{FlightTime, FoulReason, Hand, Surface, TakeOff, Variant};
use crate::quantity::Division;

/// Grounds in the order in which a kept form counts them.
const GROUNDS: [Surface; 5] =
    [Surface::Firm, Surface::Grass, Surface::Sand, Surface::Mat, Surface::Slope];
/// The same for the feet of a run-up.
const TAKE_OFFS: [TakeOff; 2] = [TakeOff::OneFoot, TakeOff::TwoFeet];
/// Longest text taken back: far more than the fields of a form can hold.
const KEPT_MAX: usize = 20_000;

impl TestForm {
    /// Everything typed and chosen as lines of `name`, tab and value, so that a reload of the tab does
    /// not lose it. Nothing of it is a record.
    pub fn kept(&self) -> String {
        let mut lines = Lines::default();
        lines.put("date", &self.date);
        lines.put("time", &self.time);
        lines.put("between", flag(self.method == MarkMethod::BetweenMarks));
        lines.put("left", flag(self.hand == Hand::Left));
        lines.put_place("division", place(&Division::ALL, self.division));
        lines.put_place("ground", place(&GROUNDS, self.key.surface));
        lines.put("own-way", flag(self.key.own_way));
        if let Variant::Approach { steps, take_off } = self.key.variant {
            lines.put("steps", &steps.to_string());
            lines.put_place("feet", place(&TAKE_OFFS, take_off));
        } else if self.key.variant == Variant::Standing {
            lines.put("standing", "1");
        }
        for reach in &self.reaches {
            lines.put("reach", &reach.text);
        }
        lines.put("reach-day", &self.reach_day);
        for trial in &self.trials {
            match (trial.air, trial.foul) {
                (Some(air), _) => {
                    lines.put("air", &format!("{} {}", air.micros, air.frame_micros));
                }
                (None, foul) => {
                    lines.put("trial", &trial.field.text);
                    lines.put_place("foul", foul.and_then(|foul| place(&FoulReason::ALL, foul)));
                }
            }
        }
        lines.put("only-best", flag(self.only_best));
        lines.put("note", &self.note);
        lines.put("tags", &self.tags);
        lines.put("body-height", &self.body_height.text);
        lines.put("body-mass", &self.body_mass.text);
        lines.0
    }

    /// This form with what [`TestForm::kept`] wrote; lines that say nothing are passed over. A reading
    /// whose text is still the one it began with stays the very reading that was saved.
    #[must_use]
    pub fn with_kept(mut self, kept: &str) -> Self {
        if kept.len() > KEPT_MAX {
            return self;
        }
        let mut reaches_before = std::mem::take(&mut self.reaches);
        let mut trials_before = std::mem::take(&mut self.trials);
        for line in kept.lines() {
            let Some((name, value)) = line.split_once('\t') else { continue };
            let value = plain(value);
            match name {
                "date" => self.date = value,
                "time" => self.time = value,
                "between" if value == "1" => self.method = MarkMethod::BetweenMarks,
                "between" => self.method = MarkMethod::FromFloor,
                "left" => self.hand = if value == "1" { Hand::Left } else { Hand::Right },
                "division" => set(&mut self.division, chosen(&Division::ALL, &value)),
                "ground" => set(&mut self.key.surface, chosen(&GROUNDS, &value)),
                "own-way" => self.key.own_way = value == "1",
                "standing" => self.key.variant = Variant::Standing,
                "steps" => {
                    if let Ok(steps) = value.parse() {
                        let take_off = TakeOff::TwoFeet;
                        self.key.variant = Variant::Approach { steps, take_off };
                    }
                }
                "feet" => {
                    if let Variant::Approach { take_off, .. } = &mut self.key.variant {
                        set(take_off, chosen(&TAKE_OFFS, &value));
                    }
                }
                "reach" => {
                    let at = reaches_before.iter().position(|field| field.text == value);
                    let mut field = at.map(|at| reaches_before.remove(at)).unwrap_or_default();
                    field.text = value;
                    self.reaches.push(field);
                }
                "reach-day" => self.reach_day = value,
                "air" => {
                    if let Some(air) = air(&value) {
                        self.trials.push(TrialField { air: Some(air), ..TrialField::default() });
                    }
                }
                "trial" => {
                    let same = |line: &TrialField| line.air.is_none() && line.field.text == value;
                    let at = trials_before.iter().position(same);
                    let mut line = at.map(|at| trials_before.remove(at)).unwrap_or_default();
                    line.field.text = value;
                    line.foul = None;
                    self.trials.push(line);
                }
                "foul" => {
                    if let Some(line) = self.trials.last_mut() {
                        line.foul = chosen(&FoulReason::ALL, &value);
                    }
                }
                "only-best" => self.only_best = value == "1",
                "note" => self.note = value,
                "tags" => self.tags = value,
                "body-height" => self.body_height.text = value,
                "body-mass" => self.body_mass.text = value,
                _ => {}
            }
        }
        self
    }
}

#[derive(Default)]
struct Lines(String);

impl Lines {
    fn put(&mut self, name: &str, value: &str) {
        let value = value.replace('\\', "\\\\").replace('\n', "\\n").replace('\r', "");
        self.0.push_str(name);
        self.0.push('\t');
        self.0.push_str(&value);
        self.0.push('\n');
    }

    fn put_place(&mut self, name: &str, place: Option<usize>) {
        if let Some(place) = place {
            self.put(name, &place.to_string());
        }
    }
}

/// A value as it was before [`Lines::put`].
fn plain(value: &str) -> String {
    let mut text = String::new();
    let mut signs = value.chars();
    while let Some(sign) = signs.next() {
        match (sign, sign == '\\') {
            (_, true) => match signs.next() {
                Some('n') => text.push('\n'),
                Some(other) => text.push(other),
                None => {}
            },
            (sign, false) => text.push(sign),
        }
    }
    text
}

const fn flag(on: bool) -> &'static str {
    if on { "1" } else { "0" }
}

fn place<T: PartialEq>(all: &[T], value: T) -> Option<usize> {
    all.iter().position(|known| *known == value)
}

fn chosen<T: Copy>(all: &[T], place: &str) -> Option<T> {
    place.parse().ok().and_then(|place: usize| all.get(place).copied())
}

fn air(text: &str) -> Option<FlightTime> {
    let (micros, frame_micros) = text.split_once(' ')?;
    Some(FlightTime { micros: micros.parse().ok()?, frame_micros: frame_micros.parse().ok()? })
}

fn set<T>(slot: &mut T, value: Option<T>) {
    if let Some(value) = value {
        *slot = value;
    }
}

#[cfg(test)]
mod tests {
    use chrono::NaiveDate;
    use proptest::prelude::*;

    use super::*;
    use crate::history::{Id, LocalId, Person, Test};
    use crate::measure::{Reach, Session, TrendKey, Trial};
    use crate::quantity::{Moment, Reading};

    fn saved() -> Test {
        let reading = |count| Reading { count, division: Division::CmTenth };
        let mut session = Session::new(TrendKey::USUAL, Hand::Right, Division::CmHalf);
        session.reach = Reach::Measured(vec![reading(2101), reading(2104), reading(2103)]);
        session.trials = vec![
            Trial::FloorMark(reading(2603)),
            Trial::Foul(FoulReason::Step),
            Trial::FloorMark(reading(2611)),
        ];
        let person = LocalId::parse("abcd").unwrap();
        Test::new(Id::from_bytes([7; 16]), person, Moment { utc_ms: 0, offset_minutes: 0 }, session)
    }

    fn form() -> TestForm {
        let text = |reading: Reading| reading.count.to_string();
        TestForm::change(&saved(), text, |mass| mass.grams.to_string())
    }

    #[test]
    fn an_untouched_form_comes_back_with_its_exact_readings() {
        // Tenths are finer than the form's half centimetres: only an untouched field may keep them.
        let back = form().with_kept(&form().kept());
        assert_eq!(back, form());
        assert!(back.measures_as_before());
    }

    #[test]
    fn what_is_typed_and_chosen_comes_back() {
        let mut typed = form();
        typed.date = "2026-03-04".to_owned();
        typed.trials.remove(0);
        typed.trials[0].foul = Some(FoulReason::SwungOff);
        typed.add_trial();
        typed.trials[2].field.text = "264,5".to_owned();
        typed.note = "wind\\rain\nnew shoes\ttied".to_owned();
        typed.key.variant = Variant::Approach { steps: 4, take_off: TakeOff::OneFoot };
        typed.key.surface = Surface::Sand;
        typed.hand = Hand::Left;
        typed.body_height.text = "171".to_owned();
        assert_eq!(form().with_kept(&typed.kept()), typed);
    }

    #[test]
    fn a_time_in_the_air_comes_back() {
        let mut test = saved();
        test.session.trials =
            vec![Trial::FlightTime(FlightTime { micros: 512_300, frame_micros: 4_167 })];
        let form = TestForm::change(&test, |_| String::new(), |_| String::new());
        assert_eq!(form.clone().with_kept(&form.kept()), form);
    }

    proptest! {
        #[test]
        fn any_text_is_read_without_harm(kept in "(([a-z-]{1,10}|trial|reach|foul|feet|air)\t.{0,12}\n){0,12}") {
            let _ = form().with_kept(&kept);
        }

        #[test]
        fn any_typed_text_comes_back(note in "[^\r]{0,40}", trial in "[^\r]{0,12}") {
            let day = NaiveDate::from_ymd_opt(2026, 3, 1).unwrap();
            let person = Person::new(Id::from_bytes([1; 16]), LocalId::parse("abcd").unwrap(), "Me".to_owned(), 0);
            let mut typed = TestForm::add(&person, day);
            typed.note = note;
            typed.trials[0].field.text = trial;
            prop_assert_eq!(TestForm::add(&person, day).with_kept(&typed.kept()), typed);
        }
    }
}
