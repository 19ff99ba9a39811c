use super::tables::stature_gain_per_year;
use crate::measure::REACH_PER_STATURE;
use crate::quantity::{AgeGroup, Length, Sex};

/// How an expected gain was come by.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum GrowthKind {
    /// The mean of what three wall series rise from one age to the next: Japan's schools in 1976 and
    /// Fukushima's in 1976 and 1977 (`docs/norms/jpn_school_sports_test_1976_1977.csv`). They are
    /// means of different children at each age, 50 years old, of one country.
    WallSeries,
    /// Chosen by us beside that series, where it says nothing.
    Chosen,
}

/// How much jump height rises in one year by growing up alone.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct YearlyGain {
    /// The expected gain from this birthday to the next, cm.
    pub mean_cm_per_year: f64,
    /// How it was come by.
    pub kind: GrowthKind,
}

/// How much a standing reach rises in one year by growing up alone.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ReachGrowth {
    /// The rise of the median stature in the year from this birthday.
    pub stature_per_year: Length,
    /// The rise of the standing reach, [`REACH_PER_STATURE`] times it.
    pub reach_per_year: Length,
}

/// Children's yearly gains differ by half of the gain itself. Design choice: no source at hand follows
/// single children over years.
pub const SPREAD_SHARE: f64 = 0.5;
/// The least spread of yearly gains, cm. Design choice: where the mean stands still, single children
/// still gain and lose.
pub const SPREAD_MIN_CM: f64 = 1.5;

/// From 8 to 17, cm a year.
const BOYS: [f64; 10] = [3.1, 3.5, 3.9, 5.4, 5.6, 5.8, 4.7, 2.6, 2.3, 1.2];
/// From 8 to 17, cm a year.
const GIRLS: [f64; 10] = [2.5, 2.9, 3.4, 3.2, 2.2, 1.4, 1.6, 0.6, 0.4, 0.2];
/// The first age with a gain.
const FROM_YEARS: u8 = 8;

/// The gain expected in the year from a birthday, 8 to 17; `None` at other ages.
///
/// 10 to 16 are measured ([`GrowthKind::WallSeries`]), the others chosen. All children of an age are
/// taken together, so that one child's fastest year is faster than this; [`SPREAD_SHARE`] allows for
/// it.
///
/// ```
/// use two_marks::norms::growth_expectation;
/// use two_marks::quantity::Sex;
/// let boys = growth_expectation(Sex::Male, 13).unwrap();
/// assert_eq!(boys.mean_cm_per_year, 5.8);
/// assert_eq!(growth_expectation(Sex::Male, 18), None);
/// ```
pub fn growth_expectation(sex: Sex, years: u8) -> Option<YearlyGain> {
    let table = match sex {
        Sex::Male => &BOYS,
        Sex::Female => &GIRLS,
    };
    let mean_cm_per_year = *table.get(usize::from(years.checked_sub(FROM_YEARS)?))?;
    let kind = if matches!(years, 10..=16) { GrowthKind::WallSeries } else { GrowthKind::Chosen };
    Some(YearlyGain { mean_cm_per_year, kind })
}

/// The gain to allow for in an age group: the largest of its years. `None` for grown-ups, and where
/// the age is unknown.
pub fn growth_expectation_of_group(sex: Sex, group: AgeGroup) -> Option<YearlyGain> {
    let ages = match group {
        AgeGroup::Under12 => 8..=11,
        AgeGroup::From12To14 => 12..=14,
        AgeGroup::From15To17 => 15..=17,
        AgeGroup::Adult => return None,
    };
    let all = ages.filter_map(|years| growth_expectation(sex, years));
    all.max_by(|a, b| a.mean_cm_per_year.total_cmp(&b.mean_cm_per_year))
}

/// The gains of every year of age from 8 to 17, in ascending order.
pub fn growth_by_year(sex: Sex) -> impl Iterator<Item = (u8, YearlyGain)> {
    (FROM_YEARS..18).filter_map(move |years| Some((years, growth_expectation(sex, years)?)))
}

/// The rise of a standing reach in the year from a birthday, 6 to 17; `None` at other ages.
///
/// Source: WHO growth reference 2007, medians by age, times 1.28 (our own reckoning).
///
/// ```
/// use two_marks::norms::reach_growth_expectation;
/// use two_marks::quantity::Sex;
/// let boy = reach_growth_expectation(Sex::Male, 13).unwrap();
/// assert_eq!(boy.reach_per_year.as_micrometres(), 91_392); // 7.14 cm * 1.28
/// ```
pub fn reach_growth_expectation(sex: Sex, years: u8) -> Option<ReachGrowth> {
    let stature_per_year = stature_gain_per_year(sex, years)?;
    let reach_per_year = Length::from_cm(stature_per_year.as_cm() * REACH_PER_STATURE);
    Some(ReachGrowth { stature_per_year, reach_per_year })
}
