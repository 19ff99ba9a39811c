use super::age_line::median;
use super::source::Source;
use super::table::{AgeSpan, Norm};
use super::tables::{CAN_CHMS_YOUTH_2016, KOR_NFA_2024_2026, stature_gain_per_year};
use crate::measure::REACH_PER_STATURE;
use crate::quantity::{Age, AgeGroup, Compare, Length, Sex};

/// How an expected gain was come by.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum GrowthKind {
    /// The difference of two neighbouring years' published medians.
    NeighbouringMedians,
    /// Our own reckoning: a straight line between the middles of two published age groups, since no
    /// table shipped is split by year there.
    LineBetweenGroups,
}

/// How much jump height rises in one year by growing up alone.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct YearlyGain {
    /// The expected gain from this birthday to the next, cm; never negative.
    pub mean_cm_per_year: f64,
    /// How much children of one age differ in it (one standard deviation), cm. Our own reckoning,
    /// see [`SPREAD_SHARE`].
    pub sd_cm_per_year: f64,
    /// Where the mean comes from.
    pub source: &'static Source,
    /// How.
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

/// Children's yearly gains differ by about three quarters of the gain itself. Design choice: no
/// table follows children over years. From 13 to 14 the spread of boys' heights widens as much as
/// gains with such a spread would widen it.
pub const SPREAD_SHARE: f64 = 0.75;
/// A straight line between groups hides the fast years, so its spread is as large as the gain.
/// Design choice: school averages of 1976, year by year, lie within one and a half such spreads.
pub const SPREAD_SHARE_OF_LINE: f64 = 1.0;
/// The least spread of yearly gains, cm. Design choice: where the median stands still, single
/// children still gain and lose.
pub const SPREAD_MIN_CM: f64 = 1.5;

/// The gain expected in the year from a birthday, 8 to 17; `None` at other ages: no table shipped
/// supports one.
///
/// 13 to 17: medians of [`KOR_NFA_2024_2026`], year by year; that they are flight heights moves the
/// level, hardly the gain. 8 to 12: between the means of [`CAN_CHMS_YOUTH_2016`]. Both are
/// cross-sections, so that one child's fastest year is faster than this.
///
/// ```
/// use two_marks::norms::growth_expectation;
/// use two_marks::quantity::Sex;
/// let boys = growth_expectation(Sex::Male, 13).unwrap();
/// assert!((boys.mean_cm_per_year - 4.2).abs() < 0.05);
/// assert_eq!(growth_expectation(Sex::Male, 18), None);
/// ```
pub fn growth_expectation(sex: Sex, years: u8) -> Option<YearlyGain> {
    let (mean, source, kind) = match years {
        8..=12 => (line_between_groups(sex)?, &CAN_CHMS_YOUTH_2016, GrowthKind::LineBetweenGroups),
        13..=17 => (
            (median_at(sex, years + 1)? - median_at(sex, years)?).as_cm(),
            &KOR_NFA_2024_2026,
            GrowthKind::NeighbouringMedians,
        ),
        _ => return None,
    };
    let mean_cm_per_year = mean.max(0.0);
    let share = match kind {
        GrowthKind::NeighbouringMedians => SPREAD_SHARE,
        GrowthKind::LineBetweenGroups => SPREAD_SHARE_OF_LINE,
    };
    let sd_cm_per_year = (mean_cm_per_year * share).max(SPREAD_MIN_CM);
    Some(YearlyGain { mean_cm_per_year, sd_cm_per_year, source, kind })
}

/// The gain to allow for when a gain is judged: of the sex chosen, or the larger of both; over the
/// whole of an age group the largest; for an unknown age the largest there is, since unknown ages
/// follow the rules for under 18. `None` for adults and where no table supports one.
pub fn growth_expectation_for(compare: Compare, age: Age) -> Option<YearlyGain> {
    let ages = match age {
        Age::Years { years, .. } => AgeSpan::new(years, years),
        Age::Group(AgeGroup::Under12) => AgeSpan::new(8, 11),
        Age::Group(AgeGroup::From12To14) => AgeSpan::new(12, 14),
        Age::Group(AgeGroup::From15To17) => AgeSpan::new(15, 17),
        Age::Group(AgeGroup::Adult) => return None,
        Age::Unknown => AgeSpan::new(8, 17),
    };
    let sexes: &[Sex] = match &compare {
        Compare::With(sex) => std::slice::from_ref(sex),
        Compare::Both | Compare::None => &[Sex::Female, Sex::Male],
    };
    let all = sexes.iter().flat_map(|sex| {
        (ages.from..=ages.to).filter_map(move |years| growth_expectation(*sex, years))
    });
    all.max_by(|a, b| a.mean_cm_per_year.total_cmp(&b.mean_cm_per_year))
}

/// The gains of every year of age a table supports, from 8 to 17 in ascending order: of the sex
/// chosen, or the larger of both.
pub fn growth_by_year(compare: Compare) -> impl Iterator<Item = (u8, YearlyGain)> {
    (0..AgeSpan::ADULT.from).filter_map(move |years| {
        let age = Age::Years { years, maybe_one_more: false, months_to_birthday: 6 };
        Some((years, growth_expectation_for(compare, age)?))
    })
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

fn median_at(sex: Sex, years: u8) -> Option<Length> {
    let mut cells = KOR_NFA_2024_2026.cells.iter();
    let cell = cells.find(|cell| cell.sex == sex && cell.ages.contains(years))?;
    median(cell)
}

/// From the middle of 6 to 10 to the middle of 11 to 14. Both groups end just before the next
/// birthday, so that half a year is left out on both sides.
fn line_between_groups(sex: Sex) -> Option<f64> {
    let middle = |ages: AgeSpan| (f64::from(ages.from) + f64::from(ages.to)) / 2.0;
    let at = |years: u8| {
        let mut cells = CAN_CHMS_YOUTH_2016.cells.iter();
        let cell = cells.find(|cell| cell.sex == sex && cell.ages.contains(years))?;
        let Norm::Average { average, .. } = cell.norm else { return None };
        Some((middle(cell.ages), average.as_cm()))
    };
    let ((x0, y0), (x1, y1)) = (at(6)?, at(11)?);
    Some((y1 - y0) / (x1 - x0))
}
