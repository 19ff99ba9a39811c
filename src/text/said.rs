//! What the core found, in words.

use chrono::NaiveDate;

use super::{DateForm, Words};
use crate::measure::{
    Advice, Doubt, FoulReason, Problem, ReachCheck, Remedy, Surface, TakeOff, TrendKey, Variant,
};
use crate::quantity::{Bounds, Division, JumpHeight, Length, Moment, Reading, Unit};
use crate::ready::{Loss, Verdict};

impl Words {
    /// Why typed text is no reading.
    pub fn problem(&self, problem: Problem, division: Division) -> String {
        let unit = division.unit();
        match problem {
            Problem::Empty => self.problem_empty(),
            Problem::NotANumber => self.problem_not_a_number(&match unit {
                Unit::Centimetre => self.example_cm(),
                Unit::Inch => self.example_in(),
            }),
            Problem::OtherUnit(Unit::Inch) => self.problem_other_unit_in(),
            Problem::OtherUnit(Unit::Centimetre) => self.problem_other_unit_cm(),
            Problem::FinerThanDivision(finer) => self.problem_finer(&self.division(finer)),
            Problem::TooFine => self.problem_too_fine(),
            Problem::NotATime => self.clock_not_a_time(),
        }
    }

    /// A question about a reading.
    pub fn doubt(&self, doubt: Doubt, reading: Reading) -> String {
        let unit = reading.division.unit();
        let value = self.reading(reading);
        let ends = |bounds: Bounds| (self.length(bounds.min, unit), self.length(bounds.max, unit));
        match doubt {
            Doubt::Impossible(bounds) => {
                let (min, max) = ends(bounds);
                self.problem_impossible(&value, &min, &max)
            }
            Doubt::MarkBelowReach => self.problem_below_reach(),
            Doubt::UnusualForAge(bounds) => {
                let (min, max) = ends(bounds);
                self.problem_unusual(&value, &min, &max)
            }
            Doubt::ReachFell(by) => self.problem_reach_fell(&self.length(by, unit)),
            Doubt::ReachRose(by) => self.problem_reach_rose(&self.length(by, unit)),
            Doubt::FarFromOthers(by) => self.problem_far(&self.length(by, unit)),
        }
    }

    /// A one-tap mend.
    pub fn remedy(&self, remedy: Remedy) -> String {
        match remedy {
            Remedy::ReadAs(reading) => self.problem_read_as(&self.reading(reading)),
            Remedy::SwapWithReach => self.problem_swap(),
        }
    }

    /// A division of the tape.
    pub fn division(&self, division: Division) -> String {
        match division {
            Division::Cm1 => self.setup_division_cm1(),
            Division::CmHalf => self.setup_division_cm_half(),
            Division::CmTenth => self.setup_division_cm_tenth(),
            Division::In1 => self.setup_division_in1(),
            Division::InHalf => self.setup_division_in_half(),
            Division::InQuarter => self.setup_division_in_quarter(),
            Division::InEighth => self.setup_division_in_eighth(),
        }
    }

    /// What to do after the newest trial.
    pub fn advice(&self, advice: Advice, unit: Unit) -> String {
        match advice {
            Advice::Missing(trials) => self.jumps_missing(u32::try_from(trials).unwrap_or(0)),
            Advice::OneMore(gain) => self.jumps_one_more(&self.length(gain, unit)),
            Advice::Enough => self.jumps_enough(),
            Advice::Full => self.jumps_full(),
        }
    }

    /// Whether the reaches can stand; nothing while some are missing.
    pub fn reach_check(&self, check: ReachCheck, middle: Length, unit: Unit) -> Option<String> {
        match check {
            ReachCheck::NotNeeded | ReachCheck::Missing(_) => None,
            ReachCheck::Agree { .. } => Some(self.reach_agree(&self.length(middle, unit))),
            ReachCheck::TooFarApart { spread, limit } => {
                Some(self.reach_apart(&self.length(spread, unit), &self.length(limit, unit)))
            }
        }
    }

    /// Why a trial does not count.
    pub fn foul_reason(&self, reason: FoulReason) -> String {
        match reason {
            FoulReason::Step => self.jumps_foul_step(),
            FoulReason::MissedWall => self.jumps_foul_missed(),
            FoulReason::SwungOff => self.jumps_foul_swung(),
            FoulReason::BadLanding => self.jumps_foul_landing(),
            FoulReason::Other => self.jumps_foul_other(),
        }
    }

    /// The kind of a test: its jump, and what sets it apart.
    pub fn test_kind(&self, key: TrendKey) -> String {
        let jump = match key.variant {
            Variant::Standing => self.jump_standing(),
            Variant::Approach { steps, take_off } => {
                let take_off = match take_off {
                    TakeOff::OneFoot => self.off_one_foot(),
                    TakeOff::TwoFeet => self.off_two_feet(),
                };
                self.jump_approach_steps(&self.whole(u32::from(steps)), &take_off)
            }
            Variant::HandsOnHips => self.jump_hands_on_hips(),
            Variant::HeldSquat => self.jump_held_squat(),
        };
        let clock = key.device.is_clock().then(|| self.device(key.device));
        let surface = (key.surface != Surface::Firm).then(|| self.surface(key.surface));
        let own_way = key.own_way.then(|| self.own_way_label());
        let parts = [clock, surface, own_way].into_iter().flatten();
        parts.fold(jump, |kind, part| self.two_things(&kind, &part))
    }

    /// The ground jumped from.
    pub fn surface(&self, surface: Surface) -> String {
        match surface {
            Surface::Firm => self.setup_surface_firm(),
            Surface::Grass => self.setup_surface_grass(),
            Surface::Sand => self.setup_surface_sand(),
            Surface::Mat => self.setup_surface_mat(),
            Surface::Slope => self.setup_surface_slope(),
        }
    }

    /// "Tuesday, 17:00".
    pub fn weekday_and_time(&self, moment: Moment) -> String {
        let weekday = self.date(moment.date(), DateForm::Weekday);
        self.ready_weekday_time(&weekday, &self.locale().time(moment.minute_of_day()))
    }

    /// A time of day.
    pub fn time(&self, moment: Moment) -> String {
        self.locale().time(moment.minute_of_day())
    }

    /// A calendar date.
    pub fn date(&self, date: NaiveDate, form: DateForm) -> String {
        self.locale().date(date, form)
    }

    /// The head line of a verdict and the sentences under it. Losses are told in lengths where the
    /// person's own jump height is known, in percent where it is not.
    pub fn verdict(
        &self,
        verdict: Verdict,
        own: Option<JumpHeight>,
        unit: Unit,
    ) -> (String, Vec<String>) {
        match verdict {
            Verdict::Go => (self.ready_go(), vec![self.ready_go_note()]),
            Verdict::Flagged { loss, until } => {
                let until = self.weekday_and_time(until);
                let note = match own {
                    Some(own) => {
                        let (least, most) = self.loss(loss, own, unit);
                        self.ready_flagged_note(&least, &most, &until)
                    }
                    None => self.ready_flagged_unknown(&self.percent(loss.per_mille_max), &until),
                };
                (self.ready_flagged(), vec![note, self.ready_source()])
            }
            Verdict::Wait { loss, until } => {
                let loss = match own {
                    Some(own) if loss.per_mille_min == 0 => {
                        self.ready_zero_to(&self.loss(loss, own, unit).1)
                    }
                    Some(own) => {
                        let (least, most) = self.loss(loss, own, unit);
                        self.ready_wait_loss(&least, &most)
                    }
                    None => {
                        let least = self.percent(loss.per_mille_min);
                        self.ready_wait_percent(&least, &self.percent(loss.per_mille_max))
                    }
                };
                let title = self.ready_wait(&self.weekday_and_time(until));
                (title, vec![self.ready_wait_note(), loss, self.ready_source()])
            }
        }
    }

    /// The ends of a loss as lengths.
    fn loss(&self, loss: Loss, own: JumpHeight, unit: Unit) -> (String, String) {
        let (least, most) = loss.of(own.0);
        (self.length_number(least, unit), self.length(most, unit))
    }

    /// Tenths of a percent as a whole percentage, halves up.
    fn percent(&self, per_mille: i64) -> String {
        self.locale().decimal((per_mille + 5) / 10, 0)
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::super::EnglishLocale;
    use super::*;
    use crate::quantity::Age;
    use crate::ready::{LegWork, LegWorkKind, after_leg_work};

    fn words() -> Words {
        Words::english(Arc::new(EnglishLocale))
    }

    #[test]
    fn a_wait_says_until_when_why_and_how_much() {
        let now = Moment { utc_ms: 1_781_500_000_000, offset_minutes: 120 };
        let work = LegWork { kind: LegWorkKind::HardSession, ended: now.plus_minutes(-24 * 60) };
        let verdict = after_leg_work(Some(work), Age::Unknown, now);
        let own = Some(JumpHeight(Length::from_mm(400)));
        let (title, why) = words().verdict(verdict, own, Unit::Centimetre);
        assert_eq!(title, "Better wait until Wednesday, 07:06");
        let expected = [
            "Hard work takes height off your jump for days. Feeling fresh is no proof.",
            "Today a score may be 1.0 to 2.5\u{a0}cm lower.",
            "Times and losses are our own reckoning, from Behm 2016, Williams 2025 and Silva 2018.",
        ];
        assert_eq!(why, expected);
        let (_, why) = words().verdict(verdict, None, Unit::Centimetre);
        assert_eq!(why.get(1).map(String::as_str), Some("Today a score may be 3 to 6 % lower."));
    }

    #[test]
    fn kinds_of_test_name_what_sets_them_apart() {
        let approach = Variant::Approach { steps: 3, take_off: TakeOff::TwoFeet };
        let key = TrendKey { variant: approach, surface: Surface::Grass, ..TrendKey::USUAL };
        assert_eq!(words().test_kind(key), "Running jump, 3 steps, off both feet, Grass");
        assert_eq!(words().test_kind(TrendKey::USUAL), "Standing jump");
    }
}
