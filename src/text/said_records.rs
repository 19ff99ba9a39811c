//! What is wrong with a form of a test, and how a test was measured.

use super::Words;
use crate::flow::FormProblem;
use crate::history::{MarkMethod, Method};
use crate::measure::Variant;
use crate::quantity::{BodyMass, Division, Unit};

impl Words {
    /// What is wrong, or asked, beside its field.
    pub fn form_problem(&self, problem: FormProblem, division: Division) -> String {
        let unit = division.unit();
        match problem {
            FormProblem::NotADay => self.form_not_a_day(),
            FormProblem::InFuture => self.form_in_future(),
            FormProblem::NotATime => self.form_not_a_time(),
            FormProblem::Reading(problem) => self.problem(problem, division),
            FormProblem::Doubt(doubt, reading) => self.doubt(doubt, reading),
            FormProblem::ReachesApart { spread, limit } => {
                self.form_apart(&self.length(spread, unit), &self.length(limit, unit))
            }
            FormProblem::NoReach => self.form_no_reach(),
            FormProblem::ReachLater => self.form_reach_later(),
            FormProblem::NoTrial => self.form_no_trial(),
            FormProblem::NoteTooLong => self.form_note_long(),
            FormProblem::TagTooLong => self.form_tag_long(),
            FormProblem::TooManyTags => self.form_tags_many(),
            FormProblem::BodyHeight => self.form_body_height_bad(),
            FormProblem::BodyMass => self.form_body_mass_bad(),
        }
    }

    /// How a test was measured.
    pub fn way_of_measuring(&self, method: Method) -> String {
        match method {
            Method::Marks(MarkMethod::FromFloor) => self.history_from_floor(),
            Method::Marks(MarkMethod::BetweenMarks) => self.history_between(),
            Method::Air(device) => self.device(device),
        }
    }

    /// A jump by itself.
    pub fn jump(&self, variant: Variant) -> String {
        let key = crate::measure::TrendKey { variant, ..crate::measure::TrendKey::USUAL };
        self.test_kind(key)
    }

    /// A body mass as it would be typed, in kilograms, or in pounds where lengths are in inches.
    pub fn mass_text(&self, mass: BodyMass, unit: Unit) -> String {
        self.locale().decimal(mass.tenths(unit), 1)
    }

    /// The same with its unit.
    pub fn mass(&self, mass: BodyMass, unit: Unit) -> String {
        let number = self.mass_text(mass, unit);
        match unit {
            Unit::Centimetre => self.record_kg(&number),
            Unit::Inch => self.record_lb(&number),
        }
    }
}
