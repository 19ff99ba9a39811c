//! What the pages say of one test: height, usual jump, how sure, and where it stands.
//!
//! The page and the command line both come through here, so there is one path from a record to a
//! claim.

pub mod effort;
mod gains;
mod growing;
mod learnt;
mod pair;
mod plan;
mod practice;
mod prospect;
mod reach;
mod rulers;
mod season;
mod season_bands;
pub mod spurt;
pub mod touch;

pub use gains::{Gain, Gains, gains};
pub use growing::{Growing, GrowthPath, JUDGED_FROM_YEARS, growing};
pub use learnt::learnt_day_factor;
pub use pair::{Pair, compare_tests};
pub use plan::{Plan, PlanQuestion, Skip, plan};
pub use practice::mark_practice;
pub use prospect::{
    NEEDED_GAIN, Needed, PLANNED_GAINS, Prospect, SEASON_TEST_DAYS, SEASON_WEEKS, TRAINING_WEEKS,
    needed, prospects,
};
pub use reach::{ReachDoubt, reach_before};
pub use rulers::{BothRulers, both_rulers};
pub use season::{
    LeftOut, LeftOutBecause, LinePoint, SeasonStory, Span, StoryTest, keys, season_story,
};
pub use season_bands::{AgeBands, BandChoice};

use chrono::NaiveDate;

use crate::history::{Born, HardDay, Person, Test};
use crate::measure::{COUNTED_TRIALS_MIN, Device, Reach, Session, Trial, Usual};
use crate::norms::{self, AdultsOnly, Estimate, NoPosition, Placements, Score, Standing};
use crate::quantity::{Age, AgeGroup, Compare, JumpHeight, Length, Sex};
use crate::reliability::{
    AgeBand, Experience, MarksKnown, ReachReadings, Reading, SessionConditions, SessionError,
    TypicalSpread, pooled_within_sd, session_error, typical_spread, usual_from_best_cm,
};
use crate::statistics::best_of_n;
pub use crate::trend::PRACTICE_SESSIONS;

/// Hours after a hard session in which legs still recover although the score counts:
/// docs/measurement.md §5 widens the standard error between 36 and 60 h.
const RECOVERING_HOURS: std::ops::Range<u16> = 36..60;

/// Why a result's ± is wider than usual.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rough {
    /// Fewer than three reaches were taken.
    FewReaches,
    /// The tape was read to a wide step.
    CoarseDivision,
    /// Only the top mark is known.
    TopMarkOnly,
    /// Fewer than three trials count.
    FewTrials,
    /// Filmed with fewer than 120 frames a second.
    FewFrames,
}

/// Everything there is to say of one test.
#[derive(Clone, Debug, PartialEq)]
pub struct Assessment {
    /// Age on the day.
    pub age: Age,
    /// The best counted trial.
    pub best: Option<JumpHeight>,
    /// The best of the first three counted trials, which published tables compare.
    pub best_of_first_three: Option<JumpHeight>,
    /// The mean of the first three counted trials.
    pub usual: Option<Usual>,
    /// One standard error of the usual jump, and of what a lone top mark says about it.
    pub standard_error: Option<Length>,
    /// What it is made of.
    pub parts: Option<SessionError>,
    /// The spreads it rests on: the age's own, mixed with the person's.
    pub spread: Option<TypicalSpread>,
    /// Where the test stands in published tables.
    pub placements: Placements,
    /// Why the ± is wider.
    pub rough: Vec<Rough>,
    /// Whether the score may be too low.
    pub is_tired: bool,
    /// Whether it is a practice test: one of the first of its kind, as the history stands now.
    pub is_practice: bool,
    /// What makes the reach doubtful, and the height with it.
    pub reach_doubt: Option<ReachDoubt>,
}

/// A person's age on the day of a test.
pub fn age_on_day(person: &Person, test: &Test) -> Age {
    age_on(person, test.date)
}

/// A person's age on a day.
pub fn age_on(person: &Person, date: NaiveDate) -> Age {
    match person.born {
        Some(Born::Month(month)) => Age::on(month, date),
        Some(Born::Group(group)) => Age::Group(group),
        None => Age::Unknown,
    }
}

/// Assesses a test among the person's other tests of the same kind (the rest is passed over): earlier
/// ones tell of the person's scatter, all of them of how much the person's days differ.
pub fn assess(test: &Test, person: &Person, others: &[Test]) -> Assessment {
    let same = |other: &&Test| {
        other.person == test.person && other.session.key == test.session.key && other.id != test.id
    };
    let mut all: Vec<&Test> = others.iter().filter(same).chain([test]).collect();
    all.sort_by_key(|test| learnt::at(test));
    let day_factor = learnt::kind(person, &all).day_factor;
    assess_with(test, person, others, day_factor)
}

/// The same where the spread between days is known already ([`learnt_day_factor`]): for many tests of
/// one kind.
pub fn assess_with(test: &Test, person: &Person, others: &[Test], day_factor: f64) -> Assessment {
    let age = age_on_day(person, test);
    let earlier: Vec<&Test> = others.iter().filter(|other| comes_before(other, test)).collect();
    let session = &test.session;
    let spread = spread_for(test, age, &earlier);
    let parts = spread.and_then(|spread| session_error(&conditions(test, spread)?));
    let parts = parts.map(|parts| parts.with_day_factor(day_factor));
    let standard_error = parts.map(|parts| Length::from_cm(parts.total_cm()));
    let compare = person.compare.unwrap_or(Compare::None);
    let score = score_of(session, spread, parts);
    let placements = match &score {
        Some(score) => norms::place(session.key, compare, age, score),
        None => nothing_to_place(session, age),
    };
    Assessment {
        age,
        best: session.best(),
        best_of_first_three: session.best_of_first_three(),
        usual: session.usual(),
        standard_error,
        parts,
        spread,
        placements,
        rough: rough(session),
        is_tired: test.tired.is_noted(),
        is_practice: practice::is_practice(test, earlier.len()),
        reach_doubt: reach::reach_doubt(test, person, others),
    }
}

/// Where an adult's test stands among athletes of one sex: only for who asks, and never a goal.
pub fn among_athletes(
    adult: AdultsOnly,
    session: &Session,
    assessed: &Assessment,
    sex: Sex,
) -> Vec<Standing> {
    let score = score_of(session, assessed.spread, assessed.parts);
    let place = |score| norms::athlete_context(adult, session.key, sex, &score);
    score.map(place).unwrap_or_default()
}

/// Trial-to-trial SD to expect of a person, before there is anything but an age: cm.
pub fn expected_trial_sd_cm(age: Age, earlier_tests: usize, height: Length) -> f64 {
    let experience = Experience::of_earlier_sessions(earlier_tests);
    typical_spread(age_band(age), experience, height.as_cm().max(0.0))
        .map_or(0.0, |spread| spread.trial_sd_cm)
}

fn nothing_to_place(session: &Session, age: Age) -> Placements {
    let zero = Estimate { height: Length::ZERO, standard_error: Length::ZERO };
    let placed = norms::place(session.key, Compare::None, age, &Score { best: zero, mean: None });
    let none_because = match placed.none_because {
        Some(NoPosition::NotAsked) if session.best().is_none() => Some(NoPosition::NoTrial),
        other => other,
    };
    Placements { none_because, ..placed }
}

/// An earlier test that may be compared: same kind, not tired, before this one.
fn comes_before(other: &Test, test: &Test) -> bool {
    use learnt::at;
    other.person == test.person
        && other.session.key == test.session.key
        && other.id != test.id
        && at(other) < at(test)
}

/// The row of typical spreads for an age; of a group, the one with the widest spread.
fn age_band(age: Age) -> AgeBand {
    match age {
        Age::Years { years, .. } => AgeBand::of_completed_years(Some(years)),
        Age::Group(AgeGroup::Under12) => AgeBand::From9To11,
        Age::Group(AgeGroup::From12To14) => AgeBand::From12To14,
        Age::Group(AgeGroup::From15To17) => AgeBand::From15To18,
        Age::Group(AgeGroup::Adult) => AgeBand::From19,
        Age::Unknown => AgeBand::Unknown,
    }
}

fn spread_for(test: &Test, age: Age, earlier: &[&Test]) -> Option<TypicalSpread> {
    let own = earlier.iter().copied().chain([test]).filter_map(own_heights_cm);
    spread_from(test, age, earlier.len(), &own.collect::<Vec<_>>())
}

/// The heights of a test that tell of the person's own scatter: two trials or more.
fn own_heights_cm(test: &Test) -> Option<Vec<f64>> {
    let heights = counted_cm(&test.session);
    (!test.session.top_mark_only && heights.len() > 1).then_some(heights)
}

/// The spreads of a test after so many `earlier` ones; `own` are the heights of them and of itself.
fn spread_from(test: &Test, age: Age, earlier: usize, own: &[Vec<f64>]) -> Option<TypicalSpread> {
    let height = usual_cm(&test.session).or_else(|| Some(test.session.best()?.0.as_cm()))?;
    let experience = Experience::of_earlier_sessions(earlier);
    let typical = typical_spread(age_band(age), experience, height)?;
    typical.with_own_trials(pooled_within_sd(own)).or(Some(typical))
}

fn counted_cm(session: &Session) -> Vec<f64> {
    session.counted().into_iter().map(|height| height.0.as_cm()).collect()
}

fn usual_cm(session: &Session) -> Option<f64> {
    session.usual().map(|usual| usual.height.0.as_cm())
}

/// What the standard error is computed from.
fn conditions(test: &Test, spread: TypicalSpread) -> Option<SessionConditions> {
    let session = &test.session;
    let counted = session.counted().len();
    let trials = u32::try_from(session.usual().map_or(counted, |usual| usual.trials)).ok()?;
    let height_cm = match session.usual() {
        Some(usual) => usual.height.0.as_cm(),
        None => usual_from_best_cm(session.best()?.0.as_cm(), spread.trial_sd_cm, trials)?,
    };
    let step_cm = session.division.step().as_cm();
    let from_floor = session.trials.iter().any(|trial| matches!(trial, Trial::FloorMark(_)));
    let reading = match session.key.device {
        Device::Wall if from_floor => Reading::TwoHeights { step_cm },
        Device::Wall => Reading::OneDistance { step_cm },
        Device::Video | Device::TimingMat | Device::ForcePlate | Device::LightBarrier => {
            Reading::PerTrial { sd_cm: session.frame_sd_cm() }
        }
    };
    let still_recovering = matches!(
        test.tired.leg_work,
        Some((HardDay::LegSession | HardDay::Match, hours)) if RECOVERING_HOURS.contains(&hours)
    );
    Some(SessionConditions {
        height_cm: height_cm.max(0.0),
        trials,
        marks: if session.top_mark_only { MarksKnown::TopOnly } else { MarksKnown::Each },
        trial_sd_cm: spread.trial_sd_cm,
        day_sd_cm: spread.day_sd_cm,
        reach: reaches(session, from_floor),
        reading,
        other_clock: false,
        still_recovering,
    })
}

/// The reaches behind the heights: those read from the floor, or one mark on the wall.
fn reaches(session: &Session, from_floor: bool) -> Option<ReachReadings> {
    if session.key.device != Device::Wall {
        return None;
    }
    match &session.reach {
        Reach::Measured(readings) if from_floor => {
            let lengths = readings.iter().map(|reading| reading.length());
            let spread = lengths.clone().max()? - lengths.min()?;
            let count = u32::try_from(readings.len()).ok()?;
            Some(ReachReadings { count, spread_cm: spread.as_cm() })
        }
        // Three reaches were made and the middle mark left on the wall; their spread is not known.
        Reach::Measured(_) | Reach::MarkOnly => Some(ReachReadings { count: 3, spread_cm: 0.0 }),
        // One earlier reach stands for today's.
        Reach::Reused { .. } => Some(ReachReadings { count: 1, spread_cm: 0.0 }),
    }
}

/// The statistics that tables compare, each with its own standard error: a best of three rests on
/// one trial, so its trial part is larger than that of a mean.
fn score_of(
    session: &Session,
    spread: Option<TypicalSpread>,
    parts: Option<SessionError>,
) -> Option<Score> {
    let (spread, parts) = (spread?, parts?);
    let best = session.best_of_first_three()?;
    let counted = session.counted().len().min(COUNTED_TRIALS_MIN);
    let share = best_of_n(u32::try_from(counted).ok()?).map_or(1.0, |best| best.spread_sd);
    let best_parts = SessionError { trials_cm: share * spread.trial_sd_cm, ..parts };
    let estimate = |height: JumpHeight, error_cm: f64| Estimate {
        height: height.0,
        standard_error: Length::from_cm(error_cm),
    };
    let mean = session.usual().map(|usual| estimate(usual.height, parts.total_cm()));
    Some(Score { best: estimate(best, best_parts.total_cm()), mean })
}

/// Why the ± of a session is wider.
pub fn rough(session: &Session) -> Vec<Rough> {
    let from_floor = session.trials.iter().any(|trial| matches!(trial, Trial::FloorMark(_)));
    let few_reaches = match &session.reach {
        Reach::Measured(readings) => from_floor && readings.len() < 3,
        Reach::Reused { .. } | Reach::MarkOnly => false,
    };
    let counted = session.counted().len();
    let few_trials = !session.top_mark_only && counted > 0 && counted < COUNTED_TRIALS_MIN;
    let reasons = [
        (few_reaches, Rough::FewReaches),
        (session.division.is_coarse(), Rough::CoarseDivision),
        (session.top_mark_only, Rough::TopMarkOnly),
        (few_trials, Rough::FewTrials),
        (session.is_too_coarse_for_trend(), Rough::FewFrames),
    ];
    reasons.into_iter().filter(|(holds, _)| *holds).map(|(_, reason)| reason).collect()
}
