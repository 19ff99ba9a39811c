//! What a season shows, in words.

use chrono::NaiveDate;

use super::{DateForm, Words};
use crate::assess::{
    BandChoice, Growing, LeftOut, LeftOutBecause, Pair, Prospect, ReachDoubt, SeasonStory,
    StoryTest,
};
use crate::measure::{ReachMethod, TrendKey};
use crate::quantity::{Length, Unit, days_between};
use crate::trend::model::{Change, Verdict, Who};

/// A month alone names a day for so long; after that its year is said too.
const MONTH_ALONE_DAYS: i64 = 300;
/// Days in the month that a slope is told for.
const MONTH_DAYS: f64 = 30.0;

/// A verdict: its head and the sentences under it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct VerdictSaid {
    /// The answer.
    pub head: String,
    /// Its chances, growth, and what to keep in mind.
    pub lines: Vec<String>,
}

/// The numbers behind a verdict.
struct Numbers {
    change: Change,
    /// Growth to expect and its SD.
    growth: Option<(Length, Length)>,
    is_adult: bool,
}

impl Words {
    /// The verdict of the season so far.
    pub fn season_verdict(&self, story: &SeasonStory, unit: Unit) -> VerdictSaid {
        let verdict = story.verdict();
        let (first, last) = story.compared().or_else(|| story.days()).unwrap_or_default();
        let head = self.verdict_head(verdict, &self.since(first, last));
        let change = story.season.as_ref().and_then(|season| season.change);
        let Some(change) = change.filter(|_| story.has_answer()) else {
            let mut lines = Vec::new();
            if verdict == Verdict::TooFew {
                let missing = 2_usize.saturating_sub(story.counted_len());
                let missing = u32::try_from(missing).unwrap_or(u32::MAX);
                lines = vec![self.season_too_few_note(missing), self.result_first_practice()];
            }
            return VerdictSaid { head, lines };
        };
        let numbers = Numbers {
            change,
            growth: story.expected_growth().map(|mean| (mean, growth_sd(story, first, last))),
            is_adult: story.growing == Growing::Adult,
        };
        let mut lines = self.verdict_lines(verdict, &numbers, unit);
        if verdict == Verdict::NotToldYet {
            lines.extend(
                story
                    .hidden_between_two()
                    .map(|hidden| self.season_hidden(&self.length(hidden, unit))),
            );
        }
        VerdictSaid { head, lines }
    }

    /// The verdict on two chosen tests.
    pub fn pair_verdict(&self, story: &SeasonStory, pair: &Pair, unit: Unit) -> VerdictSaid {
        let (first, last) = (pair.earlier.date, pair.later.date);
        let head = self.verdict_head(pair.verdict, &self.since(first, last));
        let difference = self.signed(Length::from_cm(pair.change.total_cm), unit);
        let error = self.spread(Length::from_cm(pair.change.total_sd_cm), unit);
        let mut lines = vec![self.season_pair_difference(&difference, &error)];
        if pair.verdict != Verdict::OnlyDrawn {
            let numbers = Numbers {
                change: pair.change,
                growth: pair.growth.map(|mean| (mean, growth_sd(story, first, last))),
                is_adult: story.growing == Growing::Adult,
            };
            lines.extend(self.verdict_lines(pair.verdict, &numbers, unit));
        }
        VerdictSaid { head, lines }
    }

    /// The answer in one line; never "no change".
    fn verdict_head(&self, verdict: Verdict, since: &str) -> String {
        match verdict {
            Verdict::TooFew => self.season_too_few(),
            Verdict::OnlyDrawn => self.season_only_drawn(),
            Verdict::MayBeGrowing => self.season_maybe_growth(since),
            Verdict::MissingAnswer(_) => self.season_growth_unknown(since),
            Verdict::Higher { clear: true } => self.season_gain_clear(since),
            Verdict::Higher { clear: false } => self.season_gain_probable(since),
            Verdict::NotToldYet => self.season_not_shown(),
            Verdict::Lower { clear: false } => self.season_loss_probable(since),
            Verdict::Lower { clear: true } => self.season_loss_clear(since),
        }
    }

    fn verdict_lines(&self, verdict: Verdict, numbers: &Numbers, unit: Unit) -> Vec<String> {
        let is_fall = matches!(verdict, Verdict::Lower { .. });
        let change = numbers.change;
        let mut lines = Vec::new();
        if is_fall {
            lines.push(self.season_p_loss(&self.in_100(change.p_lower)));
            lines.push(if numbers.is_adult {
                self.season_loss_adult()
            } else {
                self.season_loss_child()
            });
        } else {
            lines.push(self.season_p_gain(&self.in_100(change.p_total_higher)));
        }
        if !is_fall && numbers.growth.is_some() {
            lines.push(self.season_p_beyond(&self.in_100(change.p_own_higher)));
        }
        if matches!(verdict, Verdict::Higher { clear: false } | Verdict::Lower { clear: false }) {
            lines.push(self.season_probable_note());
        }
        if !numbers.is_adult {
            lines.push(self.growth_line(numbers.growth, unit));
        }
        lines
    }

    fn growth_line(&self, growth: Option<(Length, Length)>, unit: Unit) -> String {
        match growth {
            Some((mean, error)) => {
                self.season_growth(&self.length(mean, unit), &self.spread(error, unit))
            }
            None => self.season_growth_none(),
        }
    }

    /// What growing up alone brings in a season of somebody under 18, or of unknown age.
    pub fn season_growing(&self, story: &SeasonStory, unit: Unit) -> Option<String> {
        if story.growing == Growing::Adult {
            return None;
        }
        let (first, last) = story.compared()?;
        let growth = story.expected_growth().map(|mean| (mean, growth_sd(story, first, last)));
        Some(self.growth_line(growth, unit))
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

    /// What stands under the verdict: the line's ends and a straight line.
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
        if !facts.is_empty() {
            facts.push(self.season_reckoning());
        }
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

/// How much growth differs between people like this one from day to day, one SD.
fn growth_sd(story: &SeasonStory, first: NaiveDate, last: NaiveDate) -> Length {
    let Who::Growing { sd_cm_per_year } = story.who else { return Length::ZERO };
    let days = i32::try_from(days_between(first, last)).map_or(0.0, f64::from);
    Length::from_cm(sd_cm_per_year * days / 365.25)
}
