use crate::measure::{
    Doubt, MarkContext, Problem, ReachContext, Remedy, doubts_about_flight, doubts_about_mark,
    doubts_about_reach, parse_flight_time, parse_reading,
};
use crate::quantity::{Division, Reading, Unit};

/// What is typed into a field, and all there is to say about it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Judged {
    /// The reading, where the text is one.
    pub reading: Option<Reading>,
    /// Why the text is no reading.
    pub problem: Option<Problem>,
    /// Questions about the reading.
    pub doubts: Vec<Doubt>,
    /// One-tap mends.
    pub remedies: Vec<Remedy>,
}

impl Judged {
    /// The reading that may be kept: none while there is a problem or an open question. A question is
    /// closed when the person says that exactly this reading is right.
    pub fn keepable(&self, confirmed: Option<Reading>) -> Option<Reading> {
        let reading = self.reading?;
        if self.doubts.iter().any(|doubt| doubt.refuses()) {
            return None;
        }
        (self.doubts.is_empty() || confirmed == Some(reading)).then_some(reading)
    }
}

/// Judges a reading as a standing reach.
pub(super) fn judged_reach(reading: Reading, context: ReachContext) -> Judged {
    let (doubts, remedies) = doubts_about_reach(reading, context);
    Judged { reading: Some(reading), problem: None, doubts, remedies }
}

/// Judges a reading as a jump mark or a distance between the marks.
pub(super) fn judged_mark(reading: Reading, context: MarkContext<'_>) -> Judged {
    let (doubts, remedies) = doubts_about_mark(reading, context);
    Judged { reading: Some(reading), problem: None, doubts, remedies }
}

/// Judges what is typed as a standing reach.
pub fn judge_reach(text: &str, division: Division, context: ReachContext) -> Judged {
    judge(text, division, |reading| judged_reach(reading, context))
}

/// Judges what is typed as a jump mark or a distance between the marks.
pub fn judge_mark(text: &str, division: Division, context: MarkContext<'_>) -> Judged {
    judge(text, division, |reading| judged_mark(reading, context))
}

/// Judges what is typed as a time in the air, by the height it comes to: the reading is that height,
/// to the nearest millimetre or eighth of an inch.
pub fn judge_time(text: &str, unit: Unit, context: MarkContext<'_>) -> Judged {
    match parse_flight_time(text) {
        Err(problem) => Judged { problem: Some(problem), ..Judged::default() },
        Ok(time) => {
            let height = time.jump_height();
            let reading = Reading::nearest(height.0, Division::finest(unit));
            let doubts = doubts_about_flight(height, context);
            Judged { reading: Some(reading), problem: None, doubts, remedies: Vec::new() }
        }
    }
}

fn judge(text: &str, division: Division, judged: impl Fn(Reading) -> Judged) -> Judged {
    match parse_reading(text, division) {
        Err(problem) => Judged { problem: Some(problem), ..Judged::default() },
        Ok(reading) => judged(reading),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Age;
    use chrono::NaiveDate;

    fn reach(text: &str) -> Judged {
        let today = NaiveDate::from_ymd_opt(2026, 6, 14).unwrap();
        let context = ReachContext { age: Age::Unknown, today, last: None };
        judge_reach(text, Division::CmHalf, context)
    }

    #[test]
    fn a_question_is_closed_by_confirming_that_very_reading() {
        let odd = reach("88.5");
        assert_eq!(odd.keepable(None), None);
        assert_eq!(odd.keepable(odd.reading), odd.reading);
        let other = Reading { count: 890, division: Division::CmHalf };
        assert_eq!(odd.keepable(Some(other)), None);
    }

    #[test]
    fn the_impossible_cannot_be_confirmed() {
        let impossible = reach("2240");
        assert_eq!(impossible.keepable(impossible.reading), None);
        assert_eq!(impossible.remedies.len(), 1);
    }

    #[test]
    fn a_time_is_judged_by_its_height() {
        let context = MarkContext {
            age: Age::Unknown,
            variant: crate::measure::Variant::Standing,
            reach: None,
            others: &[],
            trial_sd_cm: 1.0,
        };
        let half = judge_time("500 ms", Unit::Centimetre, context);
        assert_eq!(half.keepable(None).map(|reading| reading.count), Some(306));
        let high = judge_time("0.95", Unit::Centimetre, context);
        assert!(matches!(high.doubts.as_slice(), [Doubt::UnusualForAge(_)]));
        assert_eq!(judge_time("7", Unit::Inch, context).problem, Some(Problem::NotATime));
    }

    #[test]
    fn text_that_is_no_length_has_a_problem_and_no_reading() {
        let wrong = reach("abc");
        assert_eq!((wrong.reading, wrong.problem), (None, Some(Problem::NotANumber)));
    }
}
