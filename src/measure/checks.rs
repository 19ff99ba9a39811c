use chrono::NaiveDate;

use super::Variant;
use crate::quantity::{
    Age, AgeGroup, Bounds, Division, JUMP_HEIGHT_POSSIBLE, JumpHeight, JumpReach, Length,
    MARK_POSSIBLE, REACH_POSSIBLE, Reading, StandingReach, Unit, days_between,
};

/// A reading that deserves a question. Only [`Doubt::refuses`] ones cannot be kept as they are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Doubt {
    /// No wall, arm or leg gives this.
    Impossible(Bounds),
    /// The jump mark is at or below the reach mark.
    MarkBelowReach,
    /// Unusual for the age.
    UnusualForAge(Bounds),
    /// The reach is lower than last time by this much.
    ReachFell(Length),
    /// The reach is higher than last time by more than growing explains.
    ReachRose(Length),
    /// This trial lies farther from the others than trials of that age do.
    FarFromOthers(Length),
}

/// A one-tap way to mend a doubtful reading.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Remedy {
    /// The person probably meant this reading (a slipped point, a missing digit, the other unit).
    ReadAs(Reading),
    /// Reach and jump mark were probably exchanged.
    SwapWithReach,
}

impl Doubt {
    /// Whether the reading cannot be kept.
    pub const fn refuses(self) -> bool {
        matches!(self, Self::Impossible(_) | Self::MarkBelowReach)
    }
}

/// What is known when a reach is typed.
#[derive(Clone, Copy, Debug)]
pub struct ReachContext {
    /// Age on the day.
    pub age: Age,
    /// The day of the test.
    pub today: NaiveDate,
    /// The last reach of the same person and method, with its day.
    pub last: Option<(StandingReach, NaiveDate)>,
}

/// What is known when a jump mark or a mark distance is typed.
#[derive(Clone, Copy, Debug)]
pub struct MarkContext<'a> {
    /// Age on the day.
    pub age: Age,
    /// The jump.
    pub variant: Variant,
    /// The standing reach, when marks are heights from the floor.
    pub reach: Option<StandingReach>,
    /// Heights of the other counted trials.
    pub others: &'a [JumpHeight],
    /// Trial-to-trial SD to expect of this person, cm.
    pub trial_sd_cm: f64,
}

/// A reach may fall by this much between two days without a question. Design choice
/// (measurement.md 7.2).
const REACH_CHANGE_FLOOR: Length = Length::from_mm(15);
/// Fastest growth of a reach that is not asked about, under 18: 12 cm of stature a year is the top of
/// the clinical range (measurement.md 7.1), times 1.28, by day. Design choice.
const REACH_GROWTH_PER_DAY: Length = Length::from_micrometres(421);
/// A trial range this small is never questioned. Design choice (measurement.md, decided since).
const TRIAL_RANGE_FLOOR_CM: f64 = 1.5;
/// 95 % points of the range of n standard normal values, n = 2 to 6. Our own reckoning; a test below
/// integrates the density of the range to check each.
const RANGE_95: [f64; 5] = [2.772, 3.314, 3.633, 3.858, 4.030];

/// Questions about a standing reach, and the mends that suggest themselves.
pub fn doubts_about_reach(reading: Reading, context: ReachContext) -> (Vec<Doubt>, Vec<Remedy>) {
    let length = reading.length();
    let window = reach_window(context.age);
    let mut doubts = Vec::new();
    if !REACH_POSSIBLE.contains(length) {
        doubts.push(Doubt::Impossible(REACH_POSSIBLE));
    } else if !window.contains(length) {
        doubts.push(Doubt::UnusualForAge(window));
    }
    if let Some((last, day)) = context.last.filter(|_| doubts.is_empty()) {
        let days = days_between(day, context.today).max(0);
        let growth =
            if context.age.is_adult() { Length::ZERO } else { REACH_GROWTH_PER_DAY.times(days) };
        if length + REACH_CHANGE_FLOOR < last.0 {
            doubts.push(Doubt::ReachFell(last.0 - length));
        } else if last.0 + REACH_CHANGE_FLOOR + growth < length {
            doubts.push(Doubt::ReachRose(length - last.0));
        }
    }
    let remedies = if doubts.iter().any(|doubt| window_doubt(*doubt)) {
        slips(reading, window)
    } else {
        Vec::new()
    };
    (doubts, remedies)
}

/// Questions about a jump mark above the floor, or about a distance between marks when `reach` is
/// none, and the mends that suggest themselves.
pub fn doubts_about_mark(reading: Reading, context: MarkContext<'_>) -> (Vec<Doubt>, Vec<Remedy>) {
    let length = reading.length();
    let window = jump_window(context.age, context.variant);
    let base = context.reach.map_or(Length::ZERO, |reach| reach.0);
    let height = JumpReach(length).above(StandingReach(base)).0;
    let marks = Bounds { min: window.min + base, max: window.max + base };
    let possible = match context.reach {
        Some(_) => MARK_POSSIBLE,
        None => JUMP_HEIGHT_POSSIBLE,
    };
    let mut doubts = Vec::new();
    let mut remedies = Vec::new();
    if !possible.contains(length) || height > JUMP_HEIGHT_POSSIBLE.max {
        doubts.push(Doubt::Impossible(Bounds { min: base, max: base + JUMP_HEIGHT_POSSIBLE.max }));
    } else if height <= Length::ZERO {
        doubts.push(Doubt::MarkBelowReach);
        let swapped = context.reach.is_some() && context.others.is_empty();
        if swapped && window.contains(height.magnitude()) {
            remedies.push(Remedy::SwapWithReach);
        }
    } else if !window.contains(height) {
        doubts.push(Doubt::UnusualForAge(window));
    } else if let Some(range) = too_far_from_others(JumpHeight(height), context) {
        doubts.push(Doubt::FarFromOthers(range));
    }
    if doubts.iter().any(|doubt| window_doubt(*doubt)) {
        remedies.extend(slips(reading, marks));
    }
    (doubts, remedies)
}

/// Questions about a height from time in the air. The usual heights are those of the wall, which
/// reads about 10 cm more in adults (measurement.md 3), so the lower end lies that much lower.
pub fn doubts_about_flight(height: JumpHeight, context: MarkContext<'_>) -> Vec<Doubt> {
    let wall = jump_window(context.age, context.variant);
    let window = Bounds { min: (wall.min - WALL_READS_MORE).max(Length::ZERO), max: wall.max };
    if !JUMP_HEIGHT_POSSIBLE.contains(height.0) {
        return vec![Doubt::Impossible(JUMP_HEIGHT_POSSIBLE)];
    }
    if !window.contains(height.0) {
        return vec![Doubt::UnusualForAge(window)];
    }
    too_far_from_others(height, context).map(Doubt::FarFromOthers).into_iter().collect()
}

/// How much more a wall reads than time in the air: median of 17 pairs of published groups.
const WALL_READS_MORE: Length = Length::from_mm(100);

/// Whether a doubt is about where the value lies, so that a slip of the pen may explain it.
const fn window_doubt(doubt: Doubt) -> bool {
    matches!(doubt, Doubt::Impossible(_) | Doubt::UnusualForAge(_) | Doubt::MarkBelowReach)
}

/// Readings the person may have meant: a forgotten decimal sign, a missing last digit, the other
/// unit. Only those that land in the window are offered.
fn slips(reading: Reading, window: Bounds) -> Vec<Remedy> {
    let Reading { count, division } = reading;
    let other = match division.unit() {
        Unit::Centimetre => {
            let inches = Division::InEighth;
            // 88.5 typed as centimetres: 885 counts of 1 mm were 708 eighths of an inch.
            Reading { count: count.saturating_mul(8) / 10, division: inches }
        }
        Unit::Inch => Reading { count: count.saturating_mul(10) / 8, division: Division::CmTenth },
    };
    let tenth = (count % 10 == 0).then_some(Reading { count: count / 10, division });
    let ten = Some(Reading { count: count.saturating_mul(10), division });
    let candidates = [tenth, ten, Some(other)].into_iter().flatten();
    let fitting = candidates.filter(|reading| window.contains(reading.length()));
    fitting.map(Remedy::ReadAs).collect()
}

/// The range of all trials, when it is wider than 19 in 20 tests of such a jumper show.
fn too_far_from_others(height: JumpHeight, context: MarkContext<'_>) -> Option<Length> {
    let lowest = context.others.iter().copied().min()?.min(height);
    let highest = context.others.iter().copied().max()?.max(height);
    let trials = context.others.len() + 1;
    let factor = RANGE_95.get(trials.saturating_sub(2)).or(RANGE_95.last())?;
    let limit_cm = (factor * context.trial_sd_cm).max(TRIAL_RANGE_FLOOR_CM);
    let range = highest.0 - lowest.0;
    (range > Length::from_cm(limit_cm)).then_some(range)
}

/// Ages at which the reach window below is tabulated.
const REACH_WINDOW_AGES: [u8; 7] = [6, 8, 10, 12, 14, 16, 18];
/// Reach windows in cm, girls' lower and boys' upper ends (measurement.md 7.3, design choice from
/// WHO stature: mean - 3 SD times 1.18 to mean + 3 SD times 1.40).
const REACH_WINDOW_CM: [(i64, i64); 7] =
    [(118, 183), (129, 202), (140, 220), (151, 238), (164, 261), (168, 275), (169, 278)];

/// Where a standing reach usually lies at an age; the widest window where the age is unknown.
pub fn reach_window(age: Age) -> Bounds {
    let (first, last) = age_span(age);
    let row = |years: u8| {
        let at = REACH_WINDOW_AGES.iter().rposition(|start| *start <= years).unwrap_or(0);
        REACH_WINDOW_CM.get(at).copied().unwrap_or((118, 278))
    };
    // The next row's upper end: a child between two rows may be as tall as the older one.
    let (low, high) = (row(first).0, row(last.saturating_add(2)).1);
    let low = if first < 6 { 90 } else { low };
    Bounds { min: Length::from_mm(low * 10), max: Length::from_mm(high * 10) }
}

/// Soft windows of a standing jump by wall, cm, by lowest age (measurement.md 7.3, design choice).
const JUMP_WINDOW_CM: [(u8, i64, i64); 9] = [
    (0, 3, 30),
    (7, 10, 38),
    (9, 12, 45),
    (11, 14, 55),
    (13, 16, 65),
    (15, 18, 78),
    (17, 18, 90),
    (40, 12, 75),
    (60, 6, 55),
];

/// Where a jump usually lies at an age: outside it the page asks, and never refuses. A run-up reaches
/// a quarter higher (measurement.md 7.3).
pub fn jump_window(age: Age, variant: Variant) -> Bounds {
    let (first, last) = age_span(age);
    let rows = JUMP_WINDOW_CM.iter().enumerate().filter(|(at, (start, _, _))| {
        let end = JUMP_WINDOW_CM.get(at + 1).map_or(u8::MAX, |next| next.0 - 1);
        *start <= last && end >= first
    });
    let (mut low, mut high) = (i64::MAX, 0);
    for (_, (_, row_low, row_high)) in rows {
        low = low.min(*row_low);
        high = high.max(*row_high);
    }
    let high = match variant {
        Variant::Approach { .. } => high * 5 / 4,
        Variant::Standing | Variant::HandsOnHips | Variant::HeldSquat => high,
    };
    Bounds { min: Length::from_mm(low * 10), max: Length::from_mm(high * 10) }
}

/// The youngest and oldest age a person may have.
const fn age_span(age: Age) -> (u8, u8) {
    match age {
        Age::Years { years, maybe_one_more, .. } => (years, years + maybe_one_more as u8),
        Age::Group(AgeGroup::Under12) => (5, 11),
        Age::Group(AgeGroup::From12To14) => (12, 14),
        Age::Group(AgeGroup::From15To17) => (15, 17),
        Age::Group(AgeGroup::Adult) => (18, 100),
        Age::Unknown => (5, 100),
    }
}

const _: () = assert!(REACH_WINDOW_AGES.len() == REACH_WINDOW_CM.len());

#[cfg(test)]
mod tests {
    use super::*;

    fn mm(count: i32) -> Reading {
        Reading { count, division: Division::CmTenth }
    }

    fn years(years: u8) -> Age {
        Age::Years { years, maybe_one_more: false, months_to_birthday: 6 }
    }

    fn reach(count: i32, age: Age, last: Option<(i64, i64)>) -> (Vec<Doubt>, Vec<Remedy>) {
        let today = NaiveDate::from_ymd_opt(2026, 6, 14).unwrap();
        let last = last.map(|(mm, days)| {
            (StandingReach(Length::from_mm(mm)), today - chrono::TimeDelta::days(days))
        });
        doubts_about_reach(mm(count), ReachContext { age, today, last })
    }

    fn mark(
        reading: Reading,
        reach_mm: Option<i64>,
        others_mm: &[i64],
    ) -> (Vec<Doubt>, Vec<Remedy>) {
        let others: Vec<_> = others_mm.iter().map(|h| JumpHeight(Length::from_mm(*h))).collect();
        let context = MarkContext {
            age: years(14),
            variant: Variant::Standing,
            reach: reach_mm.map(|mm| StandingReach(Length::from_mm(mm))),
            others: &others,
            trial_sd_cm: 1.6,
        };
        doubts_about_mark(reading, context)
    }

    #[test]
    fn a_usual_reach_raises_no_question() {
        assert_eq!(reach(2100, years(14), None), (vec![], vec![]));
        assert_eq!(reach(2100, years(14), Some((2090, 30))), (vec![], vec![]));
    }

    #[test]
    fn inches_typed_as_centimetres_are_offered_back_as_inches() {
        let (doubts, remedies) = reach(885, years(14), None);
        assert!(matches!(doubts[..], [Doubt::UnusualForAge(_)]));
        let inches = Reading { count: 708, division: Division::InEighth };
        assert_eq!(remedies, vec![Remedy::ReadAs(inches)]);
    }

    #[test]
    fn a_forgotten_point_and_a_missing_digit_are_offered_back() {
        let (doubts, remedies) = mark(mm(26_800), Some(2245), &[]);
        assert!(doubts.iter().all(|doubt| doubt.refuses()));
        assert_eq!(remedies, vec![Remedy::ReadAs(mm(2680))]);
        let (_, remedies) = reach(224, years(14), None);
        assert!(remedies.contains(&Remedy::ReadAs(mm(2240))));
    }

    #[test]
    fn exchanged_marks_are_offered_back_exchanged() {
        let (doubts, remedies) = mark(mm(2245), Some(2680), &[]);
        assert_eq!(doubts, vec![Doubt::MarkBelowReach]);
        assert_eq!(remedies, vec![Remedy::SwapWithReach]);
    }

    #[test]
    fn a_reach_that_fell_or_outgrew_growing_is_asked_about() {
        let fell = reach(2240, years(14), Some((2260, 30))).0;
        assert_eq!(fell, vec![Doubt::ReachFell(Length::from_mm(20))]);
        let grew = reach(2280, years(14), Some((2260, 30))).0;
        assert_eq!(grew, vec![]);
        let rose = reach(2310, years(14), Some((2260, 30))).0;
        assert_eq!(rose, vec![Doubt::ReachRose(Length::from_mm(50))]);
        let adult = reach(2310, years(30), Some((2290, 300))).0;
        assert_eq!(adult, vec![Doubt::ReachRose(Length::from_mm(20))]);
    }

    #[test]
    fn a_trial_far_from_the_others_is_asked_about_and_never_refused() {
        assert_eq!(mark(mm(2680), Some(2245), &[420, 430]).0, vec![]);
        let (doubts, _) = mark(mm(2745), Some(2245), &[420, 430]);
        assert_eq!(doubts, vec![Doubt::FarFromOthers(Length::from_mm(80))]);
        assert!(!doubts[0].refuses());
    }

    #[test]
    fn the_range_points_leave_one_in_twenty_outside() {
        use statrs::distribution::{Continuous, ContinuousCDF, Normal};
        let normal = Normal::standard();
        for (at, width) in RANGE_95.iter().enumerate() {
            let n = i32::try_from(at).unwrap() + 2;
            // P(range < w) = n ∫ φ(x) (Φ(x + w) - Φ(x))^(n-1) dx, by the midpoint rule.
            let step = 0.001;
            let inside: f64 = (-8_000..8_000)
                .map(|k| (f64::from(k) + 0.5) * step)
                .map(|x| {
                    let between = normal.cdf(x + width) - normal.cdf(x);
                    f64::from(n) * normal.pdf(x) * between.powi(n - 1) * step
                })
                .sum();
            assert!((inside - 0.95).abs() < 2e-4, "n {n}: {inside}");
        }
    }

    #[test]
    fn windows_by_age_only_ask() {
        let (doubts, _) = mark(mm(2245 + 700), Some(2245), &[]);
        assert!(matches!(doubts[..], [Doubt::UnusualForAge(_)]));
        assert!(!doubts[0].refuses());
    }

    #[test]
    fn an_unknown_age_has_the_widest_window() {
        let unknown = jump_window(Age::Unknown, Variant::Standing);
        for age in 5..100 {
            let known = jump_window(years(age), Variant::Standing);
            assert!(unknown.min <= known.min && known.max <= unknown.max);
            assert!(reach_window(Age::Unknown).max >= reach_window(years(age)).max);
        }
    }
}
