//! Explanations: the parts of the ±, and the words of the trade.

use super::Words;
use crate::quantity::{Length, Unit};
use crate::reliability::SessionError;

/// One part of a ±.
#[derive(Clone, Debug, PartialEq)]
pub struct PartSaid {
    /// Its name.
    pub name: String,
    /// What it is.
    pub what: String,
    /// How large, in the unit asked for, without it.
    pub size: String,
    /// What would make it smaller.
    pub shrink: String,
}

impl Words {
    /// The parts of a session's standard error that are there, largest first.
    ///
    /// ```
    /// use std::sync::Arc;
    /// use two_marks::quantity::Unit;
    /// use two_marks::reliability::SessionError;
    /// use two_marks::text::{EnglishLocale, Words};
    /// let error = SessionError {
    ///     trials_cm: 0.9,
    ///     day_cm: 1.2,
    ///     reach_cm: 0.3,
    ///     reading_cm: 0.2,
    ///     rough_cm: 0.0,
    ///     clock_cm: 0.0,
    ///     recovery_cm: 0.0,
    /// };
    /// let words = Words::english(Arc::new(EnglishLocale));
    /// let parts = words.error_parts(&error, Unit::Centimetre);
    /// let names: Vec<&str> = parts.iter().map(|part| part.name.as_str()).collect();
    /// assert_eq!(names, ["Days differ", "Jumps differ", "Standing reach", "Reading the tape"]);
    /// ```
    pub fn error_parts(&self, error: &SessionError, unit: Unit) -> Vec<PartSaid> {
        let part = |size_cm: f64, name, what, shrink| {
            let size = self.error_size(size_cm, unit);
            (size_cm, PartSaid { name, what, size, shrink })
        };
        let all = [
            part(
                error.trials_cm,
                self.sure_trials(),
                self.sure_trials_what(),
                self.sure_trials_shrink(),
            ),
            part(error.day_cm, self.sure_day(), self.sure_day_what(), self.sure_day_shrink()),
            part(
                error.reach_cm,
                self.sure_reach(),
                self.sure_reach_what(),
                self.sure_reach_shrink(),
            ),
            part(
                error.reading_cm,
                self.sure_reading(),
                self.sure_reading_what(),
                self.sure_reading_shrink(),
            ),
            part(
                error.rough_cm,
                self.sure_rough(),
                self.sure_rough_what(),
                self.sure_rough_shrink(),
            ),
            part(
                error.clock_cm,
                self.sure_clock(),
                self.sure_clock_what(),
                self.sure_clock_shrink(),
            ),
            part(
                error.recovery_cm,
                self.sure_recovery(),
                self.sure_recovery_what(),
                self.sure_recovery_shrink(),
            ),
        ];
        let mut parts: Vec<_> = all.into_iter().filter(|(size_cm, _)| *size_cm > 0.0).collect();
        parts.sort_by(|a, b| b.0.total_cmp(&a.0));
        parts.into_iter().map(|(_, part)| part).collect()
    }

    /// A part of a ± or all of it, to a millimetre or an eighth of an inch, without its unit; what is
    /// smaller is not called nought.
    pub fn error_size(&self, size_cm: f64, unit: Unit) -> String {
        let (size, least) = (Length::from_cm(size_cm), unit.count_length());
        if size.rounded_to(least) == Length::ZERO {
            return self.sure_under(&self.exact_number(least, unit));
        }
        self.exact_number(size.rounded_to(least), unit)
    }

    /// Every word of the trade that stands on a screen, with what it means.
    pub fn glossary(&self) -> Vec<(String, String)> {
        vec![
            (self.words_standing_reach(), self.words_standing_reach_is()),
            (self.words_reach_mark(), self.words_reach_mark_is()),
            (self.words_jump_mark(), self.words_jump_mark_is()),
            (self.words_jump_height(), self.words_jump_height_is()),
            (self.words_trial(), self.words_trial_is()),
            (self.words_countermovement(), self.words_countermovement_is()),
            (self.words_approach(), self.words_approach_is()),
            (self.words_best(), self.words_best_is()),
            (self.words_usual(), self.words_usual_is()),
            (self.words_typical_error(), self.words_typical_error_is()),
            (self.words_plus_minus(), self.words_plus_minus_is()),
            (self.words_in_100(), self.words_in_100_is()),
            (self.words_strip(), self.words_strip_is()),
            (self.words_flight_time(), self.words_flight_time_is()),
            (self.words_practice(), self.words_practice_is()),
            (self.words_tired(), self.words_tired_is()),
            (self.words_rough(), self.words_rough_is()),
            (self.words_growing(), self.words_growing_is()),
            (self.words_trend(), self.words_trend_is()),
        ]
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::super::EnglishLocale;
    use super::*;

    #[test]
    fn a_small_part_is_not_called_nought() {
        let words = Words::english(Arc::new(EnglishLocale));
        assert_eq!(words.error_size(1.24, Unit::Centimetre), "1.2");
        assert_eq!(words.error_size(0.04, Unit::Centimetre), "under 0.1");
        assert_eq!(words.error_size(1.24, Unit::Inch), "½");
        assert_eq!(words.error_size(0.1, Unit::Inch), "under ⅛");
    }
}
