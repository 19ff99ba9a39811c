//! What a season shows, in words.

use chrono::NaiveDate;

use super::{DateForm, Words};
use crate::assess::{
    BandChoice, LeftOut, LeftOutBecause, NEEDED_GAIN, Needed, Pair, Prospect, ReachDoubt,
    SeasonStory, StoryTest,
};
use crate::measure::{ReachMethod, TrendKey};
use crate::quantity::{Length, Unit, days_between};
use crate::trend::model::{Change, Missing, RIBBON_SDS, Verdict, WORTH_NAMING_CM, Who};

/// A month alone names a day for so long; after that its year is said too.
const MONTH_ALONE_DAYS: i64 = 300;
/// Days in the month that a slope is told for.
const MONTH_DAYS: f64 = 30.0;

/// A reach that grew by less is not named. Design choice: three reaches of one day lie as far apart.
const REACH_WORTH_NAMING: Length = Length::from_mm(10);
/// A gain that mostly goes untold with one test a month (`docs/season-rates.md`).
const HIDDEN_GAIN: Length = Length::from_mm(30);

/// A verdict: its head and the sentences under it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct VerdictSaid {
    /// The answer.
    pub head: String,
    /// Its chances, growth, and what to keep in mind.
    pub lines: Vec<String>,
}

/// What a verdict rests on.
struct Grounds {
    verdict: Verdict,
    change: Change,
    /// Growth to expect, where it is known.
    growth: Option<Length>,
}

impl Words {
    /// The verdict of the season so far: what is so, how sure that is, and what to do next.
    pub fn season_verdict(&self, story: &SeasonStory, unit: Unit) -> VerdictSaid {
        let verdict = story.verdict();
        let (first, last) = story.compared().or_else(|| story.days()).unwrap_or_default();
        let head = self.verdict_head(verdict, &self.since(first, last));
        let change = story.season.as_ref().and_then(|season| season.change);
        let Some(change) = change.filter(|_| story.has_answer()) else {
            let lines = match verdict {
                Verdict::OnlyDrawn => vec![self.season_only_drawn_note()],
                _ => vec![self.season_one_test_note(), self.season_practice_first()],
            };
            return VerdictSaid { head, lines };
        };
        let grounds = Grounds { verdict, change, growth: story.expected_growth() };
        let mut lines = vec![self.change_line(change, unit)];
        let arm = story.reach_change().filter(|grew| *grew >= REACH_WORTH_NAMING);
        let arm = arm.filter(|_| grounds.growth.is_some());
        lines.extend(arm.map(|grew| self.season_reach_grew(&self.length(grew, unit))));
        lines.extend(self.ground_lines(&grounds, unit));
        lines.extend(self.next_line(verdict));
        VerdictSaid { head, lines }
    }

    /// What would tell, where nothing is told yet.
    pub fn season_needs(&self, needed: Option<Needed>, unit: Unit) -> Vec<String> {
        let length = |length: Length| self.length(length, unit);
        let tells = match needed {
            Some(Needed { gain, tests, by }) => {
                let by = self.date(by, DateForm::DayAndMonth);
                self.season_next_tell(&length(gain), &by, tests)
            }
            None => self.season_next_hard(&length(NEEDED_GAIN)),
        };
        vec![tells, self.season_next_three(&length(HIDDEN_GAIN))]
    }

    /// The verdict on two chosen tests.
    pub fn pair_verdict(&self, pair: &Pair, unit: Unit) -> VerdictSaid {
        let head = self.verdict_head(pair.verdict, &self.since(pair.earlier.date, pair.later.date));
        let mut lines = vec![self.change_line(pair.change, unit)];
        if pair.verdict != Verdict::OnlyDrawn {
            let grounds =
                Grounds { verdict: pair.verdict, change: pair.change, growth: pair.growth };
            lines.extend(self.ground_lines(&grounds, unit));
        }
        VerdictSaid { head, lines }
    }

    /// The answer in one line; never "no change".
    fn verdict_head(&self, verdict: Verdict, since: &str) -> String {
        match verdict {
            Verdict::TooFew => self.season_one_test(),
            Verdict::OnlyDrawn => self.season_only_drawn(),
            Verdict::MayBeGrowing => self.season_growing_maybe(since),
            Verdict::MissingAnswer(_) => self.season_growing_unknown(since),
            Verdict::Higher { clear: true } => self.season_higher_clear(since),
            Verdict::Higher { clear: false } => self.season_higher(since),
            Verdict::NotToldYet => self.season_not_told(),
            Verdict::Lower { clear: false } => self.season_lower(since),
            Verdict::Lower { clear: true } => self.season_lower_clear(since),
        }
    }

    /// The change with its range, as wide as the picture's ribbon.
    fn change_line(&self, change: Change, unit: Unit) -> String {
        let half_cm = RIBBON_SDS * change.total_sd_cm;
        let said = |cm: f64| self.signed(Length::from_cm(cm), unit);
        let (low, high) = (change.total_cm - half_cm, change.total_cm + half_cm);
        self.season_change(&said(change.total_cm), &said(low), &said(high))
    }

    /// The chance that it rests on, after what growing explains of it.
    fn ground_lines(&self, grounds: &Grounds, unit: Unit) -> Vec<String> {
        let Grounds { verdict, change, growth } = *grounds;
        let more = self.exact_number(Length::from_cm(WORTH_NAMING_CM), unit);
        let more = self.with_unit(&more, unit);
        let p_beyond = change.p_own_higher.min(change.p_total_higher);
        let is_fall = match verdict {
            Verdict::Lower { .. } => true,
            Verdict::NotToldYet => change.p_lower > p_beyond,
            _ => false,
        };
        let mut lines = Vec::new();
        lines.extend(growth.map(|rise| self.season_jumps_grow(&self.length(rise, unit))));
        lines.push(match growth {
            _ if is_fall => self.season_p_lower(&more, &self.in_100(change.p_lower)),
            Some(_) => self.season_p_beyond(&more, &self.in_100(p_beyond)),
            None => self.season_p_higher(&more, &self.in_100(change.p_total_higher)),
        });
        lines
    }

    fn next_line(&self, verdict: Verdict) -> Option<String> {
        match verdict {
            Verdict::Higher { clear: true } => Some(self.season_next_same()),
            Verdict::Higher { clear: false } => Some(self.season_next_again()),
            Verdict::Lower { .. } => Some(self.season_next_fall()),
            Verdict::MayBeGrowing => Some(self.season_next_growing()),
            Verdict::MissingAnswer(Missing::Age) => Some(self.season_missing_age()),
            Verdict::MissingAnswer(Missing::Sex) => Some(self.season_missing_sex()),
            Verdict::NotToldYet | Verdict::TooFew | Verdict::OnlyDrawn => None,
        }
    }

    /// What growing alone brings in a season of somebody under 18, or the answer missing for it.
    pub fn season_growing(&self, story: &SeasonStory, unit: Unit) -> Option<String> {
        match (story.expected_growth(), story.who) {
            (Some(rise), _) => Some(self.season_jumps_grow(&self.length(rise, unit))),
            (None, Who::Unknown(Missing::Age)) => Some(self.season_missing_age()),
            (None, Who::Unknown(Missing::Sex)) => Some(self.season_missing_sex()),
            (None, Who::Adult | Who::Growing { .. } | Who::UnderEight) => None,
        }
    }

    /// Whom one table is about, at every age of a season.
    pub fn season_tables(&self, story: &SeasonStory, choice: BandChoice) -> Option<String> {
        let mut titles: Vec<String> = Vec::new();
        for standing in story.bands.iter().filter_map(|age| age.of(choice)) {
            let title = self.source_title(standing.source, standing.cell);
            if !titles.contains(&title) {
                titles.push(title);
            }
        }
        titles.into_iter().reduce(|all, next| self.two_things(&all, &next))
    }

    /// From a month to a month.
    pub fn months(&self, first: NaiveDate, last: NaiveDate) -> String {
        let (first, last) = (self.date(first, DateForm::Month), self.date(last, DateForm::Month));
        if first == last { first } else { self.season_period(&first, &last) }
    }

    /// What stands behind the verdict: the line's ends and a straight line.
    pub fn season_facts(&self, story: &SeasonStory, unit: Unit) -> Vec<String> {
        let mut facts = Vec::new();
        if let Some((first, last)) = story.compared_ends().filter(|_| story.has_answer()) {
            let (from, to) = (self.length(first.level, unit), self.length(last.level, unit));
            facts.push(self.season_line(&from, &to));
        }
        if let Some(line) = story.straight {
            let a_month = |slope: f64| {
                let length = Length::from_cm(slope * MONTH_DAYS);
                let number = self.exact_number(length, unit);
                let number = if slope > 0.0 { self.season_plus(&number) } else { number };
                self.with_unit(&number, unit)
            };
            let (low, high) = (a_month(line.slope_low), a_month(line.slope_high));
            facts.push(self.season_straight(&a_month(line.slope), &low, &high));
        }
        facts.push(self.season_reckoning());
        facts
    }

    /// The whole picture in one breath, for readers.
    pub fn season_description(&self, story: &SeasonStory, name: &str, unit: Unit) -> String {
        let said = self.season_verdict(story, unit);
        let count = u32::try_from(story.tests.len()).unwrap_or(u32::MAX);
        let label = self.season_label(name, count, &said.head);
        said.lines.iter().fold(label, |all, line| self.two_sentences(&all, line))
    }

    /// Tests that are left out, with their days.
    pub fn season_left_out(&self, group: &LeftOut) -> String {
        let n = u32::try_from(group.count).unwrap_or(u32::MAX);
        let what = match group.because {
            LeftOutBecause::Tired => self.season_left_tired(n),
            LeftOutBecause::OldReach => self.season_left_old_reach(n),
            LeftOutBecause::TopMarkOnly => self.season_left_top(n),
            LeftOutBecause::NoTrial => self.season_left_no_trial(n),
            LeftOutBecause::FewFrames => self.season_left_frames(n),
            LeftOutBecause::Earlier => self.season_left_earlier(n),
            LeftOutBecause::OtherJump => {
                self.season_left_jump(n, &self.test_kind_in_full(group.key))
            }
            LeftOutBecause::OtherDevice => self.season_left_device(n),
            LeftOutBecause::OtherReachMethod => self.season_left_reach(n),
            LeftOutBecause::OtherSurface => {
                self.season_left_ground(n, &self.surface(group.key.surface))
            }
            LeftOutBecause::OwnWay => self.season_left_own_way(n),
        };
        self.two_things(&what, &self.period(group.first, group.last))
    }

    /// The kind of a test with all that sets it apart from others, so that no two read alike.
    pub fn test_kind_in_full(&self, key: TrendKey) -> String {
        let reach = (key.reach_method == ReachMethod::Other).then(|| self.season_kind_reach());
        let kind = self.test_kind(key);
        reach.map(|reach| self.two_things(&kind, &reach)).unwrap_or(kind)
    }

    /// One day, or the first and the last of several.
    pub fn period(&self, first: NaiveDate, last: NaiveDate) -> String {
        let date = |date| self.date(date, DateForm::Full);
        if first == last { date(first) } else { self.season_period(&date(first), &date(last)) }
    }

    /// Why a reach makes a height too large.
    pub fn reach_doubt(&self, doubt: ReachDoubt, unit: Unit) -> String {
        match doubt {
            ReachDoubt::Old { measured_on, false_gain } => {
                let date = self.date(measured_on, DateForm::Full);
                match false_gain {
                    Some(gain) => self.reach_old(&date, &self.spread(gain, unit)),
                    None => self.reach_old_unknown(&date),
                }
            }
            ReachDoubt::Fell(by) => self.reach_fell(&self.length(by, unit)),
        }
    }

    /// The notes on a test in the table.
    pub fn story_notes(&self, test: &StoryTest) -> String {
        let notes = [
            (test.is_practice, self.history_practice()),
            (test.is_tired, self.history_tired()),
            (test.is_rough, self.history_rough()),
        ];
        let notes = notes.into_iter().filter_map(|(is_so, note)| is_so.then_some(note));
        notes.reduce(|all, next| self.two_things(&all, &next)).unwrap_or_default()
    }

    /// How likely a season is to tell a gain.
    pub fn prospect_chance(&self, prospect: &Prospect, is_adult: bool, unit: Unit) -> String {
        let (gain, p) = (self.length(prospect.gain, unit), self.in_100(prospect.chance));
        if is_adult { self.season_power(&gain, &p) } else { self.season_power_child(&gain, &p) }
    }

    /// How many tests a gain needs.
    pub fn prospect_tests(&self, prospect: &Prospect, unit: Unit) -> String {
        let gain = self.length(prospect.gain, unit);
        match prospect.tests_each_side {
            Some(sessions) => self.season_plan_sessions(&gain, sessions),
            None => self.season_plan_never(&gain),
        }
    }

    /// A change with its sign and unit.
    pub fn signed(&self, change: Length, unit: Unit) -> String {
        self.with_unit(&self.signed_number(change, unit), unit)
    }

    /// The same without the unit.
    pub fn signed_number(&self, change: Length, unit: Unit) -> String {
        let number = self.length_number(change, unit);
        let is_up = change.rounded_to(unit.shown_step()) > Length::ZERO;
        if is_up { self.season_plus(&number) } else { number }
    }

    /// A probability as so many in 100; never 0 and never 100, which would claim certainty.
    fn in_100(&self, p: f64) -> String {
        let whole = (1_u32..99).take_while(|percent| f64::from(*percent) + 0.5 <= p * 100.0);
        self.whole(whole.last().map_or(1, |percent| percent + 1))
    }

    /// "March", or "March 2025" where the month alone is too long ago.
    fn since(&self, first: NaiveDate, last: NaiveDate) -> String {
        let is_near = days_between(first, last) < MONTH_ALONE_DAYS;
        self.date(first, if is_near { DateForm::MonthName } else { DateForm::Month })
    }
}
