//! A person's season: which tests are in the trend, which are not and why, and what it shows.

use chrono::{Months, NaiveDate};

use super::Growing;
use super::learnt::{Kind, at, kind};
use super::reach::{ReachDoubt, reach_before, reach_doubt};
use super::season_bands::{AgeBands, BandChoice, age_bands};
use crate::history::{Id, Person, Test};
use crate::measure::TrendKey;
use crate::norms::{Score, Standing};
use crate::quantity::Length;
use crate::statistics::{TheilSen, median};
use crate::trend::model::{RIBBON_SDS, Season, SeasonTest, Verdict, Who, season};
use crate::trend::straight_line;

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
    /// One of the first tests, in which people learn the test itself; it counts with what was learnt.
    pub is_practice: bool,
    /// Whether the score may be too low.
    pub is_tired: bool,
    /// Under 18, an earlier day's reach stands for that day's.
    pub has_old_reach: bool,
    /// Whether the ± is wider than usual.
    pub is_rough: bool,
}

impl StoryTest {
    /// Whether the line runs through it.
    pub const fn counts(&self) -> bool {
        !self.is_tired && !self.has_old_reach
    }

    /// The highest touch from the floor: standing reach and best jump.
    pub fn touch(&self) -> Option<Length> {
        self.reach.map(|reach| reach + self.best)
    }
}

/// Why tests are not in the trend.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum LeftOutBecause {
    /// Noted as tired: drawn with a flag, outside the line.
    Tired,
    /// Under 18, an earlier day's reach: the arm may have grown since.
    OldReach,
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
    /// The level: growth is in it, what was still to be learnt is not.
    pub level: Length,
    /// Half of the ribbon: the level is inside about two times in three.
    pub half_width: Length,
    /// What learning the test still kept from this test; nought from the ninth on.
    pub learning: Length,
    /// Growth since the season's start; below zero before it.
    pub growth: Length,
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
    /// The line at every counted test of the span, oldest first.
    pub line: Vec<LinePoint>,
    /// How the person grows from the first test of the kind on.
    pub growing: Growing,
    /// Whose season it is.
    pub who: Who,
    /// Every counted test of the kind, those before the span too.
    pub(super) rows: Vec<SeasonTest>,
    /// The place in them of the first counted test of the span.
    pub(super) shown_from: usize,
    /// Published bands by the age at each date.
    pub bands: Vec<AgeBands>,
    /// What is wrong with some of the reaches.
    pub reach_doubts: Vec<(NaiveDate, ReachDoubt)>,
    /// The median standard error of the last five counted tests, cm: the person's own noise.
    pub typical_error_cm: Option<f64>,
    /// How many times the typical one this person's spread between days is; it is in every ±.
    pub day_factor: f64,
    /// Straight line through the counted tests of the span, from six tests over six weeks on.
    pub straight: Option<TheilSen>,
}

impl SeasonStory {
    /// The answer.
    pub fn verdict(&self) -> Verdict {
        self.season.as_ref().map_or(Verdict::TooFew, |season| season.verdict)
    }

    /// Whether there are enough tests for an answer.
    pub fn has_answer(&self) -> bool {
        !matches!(self.verdict(), Verdict::TooFew | Verdict::OnlyDrawn)
    }

    /// The days that the answer compares: of the season's start and of its last counted test.
    pub fn compared(&self) -> Option<(NaiveDate, NaiveDate)> {
        let (first, last) = self.compared_ends()?;
        Some((first.date, last.date))
    }

    /// The ends of the line that the answer compares.
    pub fn compared_ends(&self) -> Option<(&LinePoint, &LinePoint)> {
        let start = self.season.as_ref()?.start.checked_sub(self.shown_from)?;
        Some((self.line.get(start)?, self.line.last()?))
    }

    /// The growth to expect between the two days that the answer compares, where it is known.
    pub fn expected_growth(&self) -> Option<Length> {
        let start = self.rows.get(self.season.as_ref()?.start)?;
        let growth_cm = self.rows.last()?.growth_cm - start.growth_cm;
        matches!(self.who, Who::Growing { .. }).then(|| Length::from_cm(growth_cm))
    }

    /// How far the standing reach rose between the two days that the answer compares, by the first and
    /// the last reach that was read there.
    pub fn reach_change(&self) -> Option<Length> {
        let (first, last) = self.compared()?;
        let between = |test: &&StoryTest| first <= test.date && test.date <= last;
        let mut reaches = self.counted().filter(between).filter_map(|test| test.reach);
        let first = reaches.next()?;
        Some(reaches.next_back()? - first)
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

/// Reads the season of one kind of test from a person's tests, which come in any order.
///
/// One line is made of tests that share every field of the trend key; all others are listed with
/// the reason. Each test's ± is the one its own page shows. Under 18, or at an unknown age, a gain
/// is claimed only beyond growth ([`season`](crate::trend::model::season)). Tests before the span help
/// to know where it starts.
pub fn season_story(person: &Person, tests: &[Test], key: TrendKey, span: Span) -> SeasonStory {
    let mut own: Vec<&Test> = tests.iter().filter(|test| test.person == person.local).collect();
    own.sort_by_key(|test| at(test));
    let same: Vec<&Test> = own.iter().copied().filter(|test| test.session.key == key).collect();
    let since = since(&same, span);
    let kind = kind(person, &same);
    let (mut left_out, mut shown, mut shown_from) = (Vec::new(), Vec::new(), 0);
    for known in &kind.tests {
        let (test, counts) = match known {
            Ok(known) => (known.test, known.counts()),
            Err((_, test)) => (*test, false),
        };
        if since.is_some_and(|since| test.date < since) {
            leave_out(&mut left_out, LeftOutBecause::Earlier, test);
            shown_from += usize::from(counts);
            continue;
        }
        let story = match known {
            Ok(known) => known.story(kind.day_factor).ok_or(LeftOutBecause::NoTrial),
            Err((because, _)) => Err(*because),
        };
        match story {
            Err(because) => leave_out(&mut left_out, because, test),
            Ok(story) => {
                if story.is_tired {
                    leave_out(&mut left_out, LeftOutBecause::Tired, test);
                } else if story.has_old_reach {
                    leave_out(&mut left_out, LeftOutBecause::OldReach, test);
                }
                shown.push(story);
            }
        }
    }
    for test in own.iter().filter(|test| test.session.key != key) {
        leave_out(&mut left_out, difference(key, test.session.key), test);
    }
    let shown_tests: Vec<&Test> =
        same.iter().copied().filter(|test| since.is_none_or(|since| since <= test.date)).collect();
    let doubts = reach_doubts(person, &shown_tests);
    told(person, key, kind, Shown { tests: shown, from: shown_from, left_out, doubts })
}

/// What of a kind is in the span.
struct Shown {
    tests: Vec<StoryTest>,
    /// How many tests that count come before it.
    from: usize,
    left_out: Vec<LeftOut>,
    doubts: Vec<(NaiveDate, ReachDoubt)>,
}

fn told(person: &Person, key: TrendKey, kind: Kind<'_>, shown: Shown) -> SeasonStory {
    let Kind { rows, growing, who, day_factor, .. } = kind;
    let start = shown.from.max(growing.judged_from(&rows));
    let season = season(&rows, start, who);
    let counted = shown.tests.iter().filter(|test| test.counts());
    let drawn = season.iter().flat_map(|season| season.drawn.iter().skip(shown.from));
    let line = counted.zip(drawn).map(|(test, drawn)| LinePoint {
        date: test.date,
        level: Length::from_cm(drawn.mean_cm),
        half_width: Length::from_cm(RIBBON_SDS * drawn.sd_cm),
        learning: Length::from_cm(drawn.learning_cm),
        growth: Length::from_cm(drawn.growth_cm),
    });
    SeasonStory {
        key,
        left_out: shown.left_out,
        line: line.collect(),
        bands: age_bands(person, key, &shown.tests),
        reach_doubts: shown.doubts,
        typical_error_cm: typical_error_cm(&shown.tests),
        straight: straight_line(rows.get(shown.from..).unwrap_or_default()),
        season,
        growing,
        who,
        day_factor,
        rows,
        shown_from: shown.from,
        tests: shown.tests,
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

fn typical_error_cm(tests: &[StoryTest]) -> Option<f64> {
    let counted = tests.iter().rev().filter(|test| test.counts()).take(LATEST);
    let errors: Vec<f64> = counted.map(|test| test.error.as_cm()).collect();
    median(&errors)
}
