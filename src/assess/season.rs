//! A person's season: which tests are in the trend, which are not and why, and what it shows.

use chrono::{Months, NaiveDate};

use super::practice::is_practice;
use super::reach::{ReachDoubt, reach_before, reach_doubt};
use super::season_bands::{AgeBands, BandChoice, age_bands};
use super::{
    Growing, age_on_day, conditions, growing, own_heights_cm, rough, score_of, spread_from,
};
use crate::history::{Id, Person, Test};
use crate::measure::TrendKey;
use crate::norms::{Score, Standing};
use crate::quantity::{Length, days_between};
use crate::reliability::session_error;
use crate::statistics::median;
use crate::trend::{Season, SeasonTest, SeasonVerdict, WORTHWHILE_CM, Who, season, season_power};

/// The gain whose chance of being seen is told, cm. Design choice: what a season of practice may
/// bring.
pub const POWER_GAIN_CM: f64 = 3.0;
/// How many of the latest counted tests the typical ± is taken from. Design choice.
const LATEST: usize = 5;

/// How far back a season reaches.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Span {
    /// Every test there is.
    #[default]
    All,
    /// So many months before the last test of the kind.
    Months(u32),
}

/// One test of the season's kind, as the picture and the table show it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct StoryTest {
    /// Its id.
    pub id: Id,
    /// The calendar day.
    pub date: NaiveDate,
    /// The mean of the first three counted trials.
    pub usual: Length,
    /// One standard error of it.
    pub error: Length,
    /// The best counted trial.
    pub best: Length,
    /// What published tables compare.
    pub score: Score,
    /// That day's standing reach, where heights from the floor were read.
    pub reach: Option<Length>,
    /// One of the first tests, in which people learn the test itself.
    pub is_practice: bool,
    /// Whether the score may be too low.
    pub is_tired: bool,
    /// Whether the ± is wider than usual.
    pub is_rough: bool,
}

impl StoryTest {
    /// Whether the line runs through it.
    pub const fn counts(&self) -> bool {
        !self.is_practice && !self.is_tired
    }

    /// The highest touch from the floor: standing reach and best jump.
    pub fn touch(&self) -> Option<Length> {
        self.reach.map(|reach| reach + self.best)
    }
}

/// Why tests are not in the trend.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum LeftOutBecause {
    /// Practice: drawn hollow, outside the line.
    Practice,
    /// Noted as tired: drawn with a flag, outside the line.
    Tired,
    /// Only the highest mark is known, so there is no usual jump.
    TopMarkOnly,
    /// No trial counts.
    NoTrial,
    /// Filmed with fewer than 120 frames a second.
    FewFrames,
    /// Before the span that is shown.
    Earlier,
    /// Another jump.
    OtherJump,
    /// Another way of measuring.
    OtherDevice,
    /// Another way of taking the reach.
    OtherReachMethod,
    /// Another ground.
    OtherSurface,
    /// The person's own way of testing against the usual one.
    OwnWay,
}

/// Tests that are left out for one reason.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LeftOut {
    /// The reason.
    pub because: LeftOutBecause,
    /// The kind of these tests.
    pub key: TrendKey,
    /// How many.
    pub count: usize,
    /// The day of the first.
    pub first: NaiveDate,
    /// The day of the last.
    pub last: NaiveDate,
}

/// The smoothed line on one day.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LinePoint {
    /// The calendar day.
    pub date: NaiveDate,
    /// The level.
    pub level: Length,
    /// Its standard error.
    pub error: Length,
}

/// Everything there is to say of a season of one kind of test.
#[derive(Clone, Debug, PartialEq)]
pub struct SeasonStory {
    /// The kind of test.
    pub key: TrendKey,
    /// Its tests in the span, oldest first.
    pub tests: Vec<StoryTest>,
    /// The others, and why; by reason.
    pub left_out: Vec<LeftOut>,
    /// Line, probabilities and verdict; `None` without a counted test.
    pub season: Option<Season>,
    /// The line by day, from two counted days on.
    pub line: Vec<LinePoint>,
    /// Growth to expect from the first counted test on; `None` for a grown-up.
    pub growing: Option<Growing>,
    /// Published bands by the age at each date.
    pub bands: Vec<AgeBands>,
    /// What is wrong with some of the reaches.
    pub reach_doubts: Vec<(NaiveDate, ReachDoubt)>,
    /// The median standard error of the last five counted tests, cm: the person's own noise.
    pub typical_error_cm: Option<f64>,
    /// The chance that a season like this shows a real gain of [`POWER_GAIN_CM`].
    pub power: Option<f64>,
}

impl SeasonStory {
    /// The answer.
    pub fn verdict(&self) -> SeasonVerdict {
        self.season.as_ref().map_or(SeasonVerdict::TooFew, |season| season.verdict)
    }

    /// Whether there are enough tests for an answer.
    pub fn has_answer(&self) -> bool {
        self.verdict() != SeasonVerdict::TooFew
    }

    /// The tests that the line runs through, oldest first.
    pub fn counted(&self) -> impl DoubleEndedIterator<Item = &StoryTest> {
        self.tests.iter().filter(|test| test.counts())
    }

    /// How many there are.
    pub fn counted_len(&self) -> usize {
        self.counted().count()
    }

    /// The smallest difference of two single tests that noise alone exceeds only one time in
    /// twenty: 1.96 sqrt(2) times the typical ± (Hopkins 2000, Sports Med 30:1).
    pub fn hidden_between_two(&self) -> Option<Length> {
        let typical = self.typical_error_cm?;
        crate::reliability::mdc95_cm(typical, 1, 1).map(Length::from_cm)
    }

    /// The place of the first and the last counted test of every age in one published table.
    pub fn places(&self, choice: BandChoice) -> Vec<(NaiveDate, Standing)> {
        let mut places = Vec::new();
        for age in &self.bands {
            let mut tests =
                self.counted().filter(|test| age.since <= test.date && test.date < age.until);
            let ends = [tests.next(), tests.next_back()];
            places.extend(
                ends.into_iter()
                    .flatten()
                    .filter_map(|test| Some((test.date, age.of(choice)?.for_score(&test.score)))),
            );
        }
        places
    }

    /// The first and the last day of its tests.
    pub fn days(&self) -> Option<(NaiveDate, NaiveDate)> {
        Some((self.tests.first()?.date, self.tests.last()?.date))
    }
}

/// The kinds of test a person did, the one of the latest test first.
pub fn keys(tests: &[Test]) -> Vec<TrendKey> {
    let mut newest_first: Vec<&Test> = tests.iter().collect();
    newest_first.sort_by_key(|test| std::cmp::Reverse(at(test)));
    let mut keys = Vec::new();
    for test in newest_first {
        if !keys.contains(&test.session.key) {
            keys.push(test.session.key);
        }
    }
    keys
}

fn at(test: &Test) -> (NaiveDate, Option<u16>, Id) {
    (test.date, test.minute_of_day, test.id)
}

/// Reads the season of one kind of test from a person's tests, which come in any order.
///
/// One line is made of tests that share every field of the trend key; all others are listed with
/// the reason. Each test's ± is the one its own page shows. Under 18, or at an unknown age, a gain
/// is claimed only beyond growth and noise ([`season`](crate::trend::season())).
pub fn season_story(person: &Person, tests: &[Test], key: TrendKey, span: Span) -> SeasonStory {
    let mut own: Vec<&Test> = tests.iter().filter(|test| test.person == person.local).collect();
    own.sort_by_key(|test| at(test));
    let same: Vec<&Test> = own.iter().copied().filter(|test| test.session.key == key).collect();
    let since = since(&same, span);
    let mut left_out = Vec::new();
    let mut shown = Vec::new();
    for (test, story) in same.iter().zip(story_tests(person, &same)) {
        match story {
            _ if since.is_some_and(|since| test.date < since) => {
                leave_out(&mut left_out, LeftOutBecause::Earlier, test);
            }
            Err(because) => leave_out(&mut left_out, because, test),
            Ok(story) => {
                if story.is_practice {
                    leave_out(&mut left_out, LeftOutBecause::Practice, test);
                } else if story.is_tired {
                    leave_out(&mut left_out, LeftOutBecause::Tired, test);
                }
                shown.push(story);
            }
        }
    }
    for test in own.iter().filter(|test| test.session.key != key) {
        leave_out(&mut left_out, difference(key, test.session.key), test);
    }
    told(person, key, shown, left_out, &same)
}

fn told(
    person: &Person,
    key: TrendKey,
    tests: Vec<StoryTest>,
    left_out: Vec<LeftOut>,
    same: &[&Test],
) -> SeasonStory {
    let first = tests.iter().find(|test| test.counts()).map(|test| test.date);
    let growing = first.and_then(|first| growing(person, first));
    let rows = season_tests(&tests);
    let who = growing
        .as_ref()
        .map_or(Who::Adult, |growing| Who::UnderEighteen(growing.as_under_eighteen()));
    let read = season(&rows, who, WORTHWHILE_CM);
    let line = read.as_ref().map(|season| line(season, &tests)).unwrap_or_default();
    let power = season_power(&rows, who, POWER_GAIN_CM, WORTHWHILE_CM);
    let shown = |test: &&&Test| tests.first().is_some_and(|first| first.date <= test.date);
    let shown_tests: Vec<&Test> = same.iter().filter(shown).copied().collect();
    SeasonStory {
        key,
        left_out,
        line,
        bands: age_bands(person, key, &tests),
        reach_doubts: reach_doubts(person, &shown_tests),
        typical_error_cm: typical_error_cm(&tests),
        power,
        season: read,
        growing,
        tests,
    }
}

/// The tests come oldest first, so that only the nearest one with a reach of its own is looked at before
/// each: a long season is read in one pass.
fn reach_doubts(person: &Person, tests: &[&Test]) -> Vec<(NaiveDate, ReachDoubt)> {
    let doubt = |(place, test): (usize, &&Test)| {
        let mut before = tests.iter().take(place).rev().copied();
        let nearest = before.find(|other| reach_before(test, [*other]).is_some());
        Some((test.date, reach_doubt(test, person, nearest)?))
    };
    tests.iter().enumerate().filter_map(doubt).collect()
}

/// The first day of a span.
fn since(same: &[&Test], span: Span) -> Option<NaiveDate> {
    match span {
        Span::All => None,
        Span::Months(months) => same.last()?.date.checked_sub_months(Months::new(months)),
    }
}

fn leave_out(left_out: &mut Vec<LeftOut>, because: LeftOutBecause, test: &Test) {
    let key = test.session.key;
    match left_out.iter_mut().find(|group| group.because == because && group.key == key) {
        Some(group) => {
            group.count += 1;
            group.last = test.date;
        }
        None => {
            left_out.push(LeftOut { because, key, count: 1, first: test.date, last: test.date })
        }
    }
}

/// The first field in which two kinds of test differ.
fn difference(key: TrendKey, other: TrendKey) -> LeftOutBecause {
    if other.variant != key.variant {
        LeftOutBecause::OtherJump
    } else if other.device != key.device {
        LeftOutBecause::OtherDevice
    } else if other.reach_method != key.reach_method {
        LeftOutBecause::OtherReachMethod
    } else if other.surface != key.surface {
        LeftOutBecause::OtherSurface
    } else {
        LeftOutBecause::OwnWay
    }
}

/// Every test of one kind, oldest first, with its ±, or why it has none.
///
/// The own scatter behind each ± grows test by test, so that a long season is read in one pass.
fn story_tests(person: &Person, same: &[&Test]) -> Vec<Result<StoryTest, LeftOutBecause>> {
    let mut own = Vec::with_capacity(same.len());
    let mut all = Vec::with_capacity(same.len());
    for (earlier, test) in same.iter().enumerate() {
        own.extend(own_heights_cm(test));
        let is_practice = is_practice(test, earlier);
        all.push(story_test(person, test, earlier, &own, is_practice));
    }
    all
}

fn story_test(
    person: &Person,
    test: &Test,
    earlier: usize,
    own: &[Vec<f64>],
    is_practice: bool,
) -> Result<StoryTest, LeftOutBecause> {
    let session = &test.session;
    if session.is_too_coarse_for_trend() {
        return Err(LeftOutBecause::FewFrames);
    }
    let best = session.best().ok_or(LeftOutBecause::NoTrial)?;
    let usual = session.usual().ok_or(LeftOutBecause::TopMarkOnly)?;
    let spread = spread_from(test, age_on_day(person, test), earlier, own);
    let parts = spread.and_then(|spread| session_error(&conditions(test, spread)?));
    let score = score_of(session, spread, parts).ok_or(LeftOutBecause::NoTrial)?;
    let error = score.mean.ok_or(LeftOutBecause::TopMarkOnly)?.standard_error;
    Ok(StoryTest {
        id: test.id,
        date: test.date,
        usual: usual.height.0,
        error,
        score,
        best: best.0,
        reach: session.standing_reach().map(|reach| reach.0),
        is_practice,
        is_tired: test.tired.is_noted(),
        is_rough: !rough(session).is_empty(),
    })
}

fn season_tests(tests: &[StoryTest]) -> Vec<SeasonTest> {
    let Some(first) = tests.first().map(|test| test.date) else {
        return Vec::new();
    };
    let row = |test: &StoryTest| SeasonTest {
        day: i32::try_from(days_between(first, test.date)).map_or(f64::NAN, f64::from),
        height_cm: test.usual.as_cm(),
        se_cm: test.error.as_cm(),
        practice: !test.counts(),
    };
    tests.iter().map(row).collect()
}

fn line(season: &Season, tests: &[StoryTest]) -> Vec<LinePoint> {
    let steps = season.line.steps.iter().zip(&season.counted);
    let points = steps.filter_map(|(step, place)| {
        Some(LinePoint {
            date: tests.get(*place)?.date,
            level: Length::from_cm(step.smoothed_cm),
            error: Length::from_cm(step.smoothed_variance_cm2.max(0.0).sqrt()),
        })
    });
    points.collect()
}

fn typical_error_cm(tests: &[StoryTest]) -> Option<f64> {
    let counted = tests.iter().rev().filter(|test| test.counts()).take(LATEST);
    let errors: Vec<f64> = counted.map(|test| test.error.as_cm()).collect();
    median(&errors)
}
