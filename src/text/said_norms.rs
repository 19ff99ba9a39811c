//! Where one jump stands in one published table, in words.

use super::Words;
use crate::norms::{
    AgeFit, AverageRange, BandRange, Cell, Comparability, Layer, Method, NEAR, Nearness,
    NoPosition, Norm, NotComparable, PercentileRange, Position, ShownPercentile, Source, Standing,
    Statistic,
};
use crate::quantity::{Length, Unit};

/// What is said of one place in one table. A place is always a range.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StandingSaid {
    /// The first line of the tag on the wall.
    pub tag: String,
    /// The second line of the tag.
    pub second: String,
    /// All of it as one sentence, with whom the table is about.
    pub sentence: String,
    /// Whom the table is about.
    pub title: String,
    /// How near the table's way of testing is to the person's.
    pub comparability: String,
    /// How the table was measured, where that is another way.
    pub method: Option<String>,
    /// Since when or how far the age group fits, where that is in question.
    pub age_fit: Option<String>,
    /// Which jump was compared, where it is not the best alone.
    pub statistic: Option<String>,
    /// How the place is to be read.
    pub how_to_read: String,
    /// What to keep in mind.
    pub cautions: Vec<String>,
    /// The line that names the source.
    pub attribution: String,
    /// The language of that line, where it is not the reader's.
    pub attribution_language: Option<&'static str>,
}

impl StandingSaid {
    /// All that there is to know of the table and of the place in it, line by line.
    pub fn details(&self) -> Vec<String> {
        let [fit, method, statistic] = [&self.age_fit, &self.method, &self.statistic];
        let first = [fit, method, statistic].into_iter().flatten();
        let lines = first.chain([&self.how_to_read]).chain(&self.cautions);
        lines.filter(|line| !line.is_empty()).cloned().collect()
    }
}

/// The three wordings of a place: two lines of the tag and the sentence.
struct PlaceSaid {
    tag: String,
    second: String,
    sentence: String,
    how_to_read: String,
}

impl Words {
    /// Everything to be said of a place in a table.
    ///
    /// ```
    /// use std::sync::Arc;
    /// use two_marks::measure::TrendKey;
    /// use two_marks::norms::{Estimate, Score, place};
    /// use two_marks::quantity::{Age, Compare, Length, Sex, Unit};
    /// use two_marks::text::{EnglishLocale, Words};
    ///
    /// let best = Estimate { height: Length::from_mm(335), standard_error: Length::from_mm(15) };
    /// let girl = Age::Years { years: 11, maybe_one_more: false, months_to_birthday: 7 };
    /// let score = Score { best, mean: None };
    /// let all = place(TrendKey::USUAL, Compare::With(Sex::Female), girl, &score);
    /// let words = Words::english(Arc::new(EnglishLocale));
    /// let said = words.standing(&all.by_sex[0].standings[0], Unit::Centimetre);
    /// assert_eq!(said.tag, "Strip 3 to\u{a0}4 of\u{a0}5");
    /// assert_eq!(said.title, "Girls 10–12, Indonesia");
    /// ```
    pub fn standing(&self, standing: &Standing, unit: Unit) -> StandingSaid {
        let source = standing.source;
        let title = self.source_title(source, standing.cell);
        let place = match standing.position {
            Position::Percentile(range) => self.said_in_100(range, &title),
            Position::Band(range) => self.said_in_strips(range, standing.cell, &title, unit),
            Position::Average(range) => self.said_beside(range, source.layer, &title, unit),
        };
        // "Not stated" is a caution already, and times in the air are said to be like the person's.
        let other_way = source.comparability >= Comparability::Close
            && source.method != Method::NotStated
            && !is_flight_table(source);
        let statistic = match source.statistic {
            Statistic::Best => None,
            Statistic::BestOrMean => Some(self.norm_best_and_mean()),
        };
        StandingSaid {
            tag: place.tag,
            second: place.second,
            sentence: place.sentence,
            title,
            comparability: self.near_to_the_test(source),
            method: other_way.then(|| self.method(source.method)),
            age_fit: self.age_fit(standing),
            statistic,
            how_to_read: place.how_to_read,
            cautions: self.cautions(source),
            attribution: self.attribution(source),
            attribution_language: source.attribution.language(),
        }
    }

    /// Why another height than the big number was looked up; nothing where it is the same one.
    pub fn first_three_note(&self, best: Length, compared: Length, unit: Unit) -> Option<String> {
        (best != compared).then(|| self.norm_first_three(&self.length(compared, unit)))
    }

    /// Why no place is shown.
    pub fn no_position(&self, reason: NoPosition) -> String {
        match reason {
            NoPosition::NotAsked => self.norm_none_not_asked(),
            NoPosition::NoTrial => self.norm_none_no_trial(),
            NoPosition::NotComparable(why) => match why {
                NotComparable::Approach => self.result_no_table_approach(),
                NotComparable::OtherJump => self.norm_none_other_jump(),
                NotComparable::OwnWay => self.result_no_table_own_way(),
                NotComparable::OtherReachMethod => self.norm_none_other_reach(),
                NotComparable::OtherSurface => self.norm_none_other_ground(),
            },
            NoPosition::AgeUnknown => self.result_no_age(),
            NoPosition::NoTableForAge => self.result_no_table_age(),
            NoPosition::AgeGroupTooWide => self.norm_none_group(),
        }
    }

    fn said_in_100(&self, range: PercentileRange, whom: &str) -> PlaceSaid {
        use ShownPercentile::{About, Above, Below};
        let number = |percent: u8| self.whole(u32::from(percent));
        let (tag, sentence) = match (range.low.shown(), range.high.shown()) {
            (Above(low), _) => {
                let low = number(low);
                (self.norm_tag_above(&low), self.norm_say_above(whom, &low))
            }
            (_, Below(high)) => {
                let high = number(high);
                (self.norm_tag_below(&high), self.norm_say_below(whom, &high))
            }
            (Below(low), Above(high)) => {
                let (low, high) = (number(low), number(high));
                (self.norm_tag_wide(&low, &high), self.norm_say_wide(whom, &low, &high))
            }
            (Below(_), About(high)) => {
                let high = number(high);
                (self.norm_tag_up_to(&high), self.norm_say_up_to(whom, &high))
            }
            (About(low), Above(_)) => {
                let low = number(low);
                (self.norm_tag_from(&low), self.norm_say_from(whom, &low))
            }
            (About(low), About(high)) if low == high => {
                let at = number(low);
                (self.norm_tag_about(&at), self.norm_say_about(whom, &at))
            }
            (About(low), About(high)) => {
                let (low, high) = (number(low), number(high));
                (self.norm_tag_range(&low, &high), self.norm_say_range(whom, &low, &high))
            }
        };
        let (second, how_to_read) = (self.norm_tag_lower(), self.norm_range_rule());
        PlaceSaid { tag, second, sentence, how_to_read }
    }

    fn said_in_strips(&self, range: BandRange, cell: &Cell, whom: &str, unit: Unit) -> PlaceSaid {
        let number = |place: u8| self.whole(u32::from(place));
        let (low, high, count) = (number(range.low), number(range.high), number(range.count));
        let limits = self.strip_limits(&cell.norm, range.low, range.high, unit);
        let with_unit = self.with_unit(&limits, unit);
        let (tag, sentence) = if range.low == range.high {
            let sentence = self.norm_say_strip(whom, &low, &count, &with_unit);
            (self.norm_tag_strip(&low, &count), sentence)
        } else {
            let sentence = self.norm_say_strips(whom, &low, &high, &count, &with_unit);
            (self.norm_tag_strips(&low, &high, &count), sentence)
        };
        PlaceSaid { tag, second: limits, sentence, how_to_read: self.norm_strip_rule() }
    }

    fn said_beside(&self, range: AverageRange, layer: Layer, whom: &str, unit: Unit) -> PlaceSaid {
        use Nearness::{Above, Below, Near};
        let height = self.with_unit(&self.limit_number(range.average, unit), unit);
        let (tag, sentence) = match (range.low, range.high) {
            (Above, Above) => {
                (self.norm_tag_above_average(), self.norm_say_above_average(whom, &height))
            }
            (Near, Near) => {
                (self.norm_tag_near_average(), self.norm_say_near_average(whom, &height))
            }
            (Below, Below) => {
                (self.norm_tag_below_average(), self.norm_say_below_average(whom, &height))
            }
            (Near, Above) | (Above, Near) => {
                (self.norm_tag_near_or_above(), self.norm_say_near_or_above(whom, &height))
            }
            (Below, Near) | (Near, Below) => {
                (self.norm_tag_near_or_below(), self.norm_say_near_or_below(whom, &height))
            }
            (Below, Above) | (Above, Below) => {
                (self.norm_tag_any_average(), self.norm_say_any_average(whom, &height))
            }
        };
        let second = match layer {
            Layer::OwnEstimate => self.norm_tag_estimate(&height),
            _ => self.norm_tag_average(&height),
        };
        let near = self.with_unit(&self.limit_number(NEAR, unit), unit);
        PlaceSaid { tag, second, sentence, how_to_read: self.norm_near_rule(&near) }
    }

    /// How near a table's way of testing is to the test that is looked up in it.
    fn near_to_the_test(&self, source: &Source) -> String {
        match is_flight_table(source) {
            true => self.norm_near_flight(),
            false => self.comparability(source.comparability),
        }
    }

    fn age_fit(&self, standing: &Standing) -> Option<String> {
        match standing.age_fit {
            AgeFit::Today => None,
            AgeFit::MaybeToday => Some(self.norm_age_maybe()),
            AgeFit::NextMonth => Some(self.norm_age_next()),
            AgeFit::WholeGroup => Some(self.norm_age_whole_group()),
            AgeFit::PartOfGroup => Some(self.norm_age_part(&self.ages(standing.cell.ages))),
        }
    }

    /// The range of the strips from one place to another, counted from 1, without its unit. Printed
    /// limits are whole centimetres; in inches the limits are where whole centimetres change.
    pub(super) fn strip_limits(&self, norm: &Norm, low: u8, high: u8, unit: Unit) -> String {
        let from = strip_from(norm, low, unit).map(|from| self.limit_number(from, unit));
        let to = strip_to(norm, high, unit).map(|to| self.limit_number(to, unit));
        match (from, to) {
            (Some(from), Some(to)) => self.norm_strip_between(&from, &to),
            (None, Some(to)) => self.norm_strip_up_to(&to),
            (Some(from), None) => self.norm_strip_from(&from),
            (None, None) => String::new(),
        }
    }

    /// A printed limit: no decimals where it is a whole centimetre.
    pub(super) fn limit_number(&self, limit: Length, unit: Unit) -> String {
        let whole_cm = unit == Unit::Centimetre && limit == limit.rounded_to(WHOLE_CM);
        if whole_cm { self.tick_number(limit, unit) } else { self.length_number(limit, unit) }
    }
}

/// Percentiles of time in the air are looked up for times in the air alone.
fn is_flight_table(source: &Source) -> bool {
    source.method == Method::FlightTime && source.layer == Layer::Percentiles
}

const WHOLE_CM: Length = Length::from_mm(10);
/// Scores count in whole centimetres, halves up, so a strip begins half a centimetre lower than its
/// printed limit.
const HALF_CM: Length = Length::from_mm(5);

/// Where the strip at a place begins, for scores; `None` for the lowest.
pub(super) fn strip_edge(norm: &Norm, place: u8) -> Option<Length> {
    Some(WHOLE_CM.times(i64::from(lowest_cm(norm, place)?)) - HALF_CM)
}

fn lowest_cm(norm: &Norm, place: u8) -> Option<u8> {
    let Norm::Bands { bands, unassigned_cm, .. } = norm else { return None };
    bands.get(usize::from(place.checked_sub(1)?))?.lowest_counted_cm(*unassigned_cm)
}

fn strip_from(norm: &Norm, place: u8, unit: Unit) -> Option<Length> {
    match unit {
        Unit::Centimetre => Some(WHOLE_CM.times(i64::from(lowest_cm(norm, place)?))),
        Unit::Inch => strip_edge(norm, place),
    }
}

fn strip_to(norm: &Norm, place: u8, unit: Unit) -> Option<Length> {
    let next = place.checked_add(1)?;
    match unit {
        Unit::Centimetre => Some(WHOLE_CM.times(i64::from(lowest_cm(norm, next)?) - 1)),
        Unit::Inch => strip_edge(norm, next),
    }
}
