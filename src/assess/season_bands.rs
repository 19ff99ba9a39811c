//! Published bands behind a season, by the person's age at each date.

use chrono::{Datelike, Months, NaiveDate};

use super::season::StoryTest;
use crate::history::{Born, Person};
use crate::measure::TrendKey;
use crate::norms::{AgeFit, Standing, place};
use crate::quantity::{Age, Compare, Sex};

/// One table of one sex: what stays the same while a child passes from age to age.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct BandChoice {
    /// The table's own name.
    pub source: &'static str,
    /// Whose half of it.
    pub sex: Sex,
}

impl BandChoice {
    /// The choice that a standing belongs to.
    pub fn of(standing: &Standing) -> Self {
        Self { source: standing.source.id, sex: standing.cell.sex }
    }
}

/// The tables that fit while a person has one age.
#[derive(Clone, Debug, PartialEq)]
pub struct AgeBands {
    /// The first day of that age in the season.
    pub since: NaiveDate,
    /// The first day of the next age.
    pub until: NaiveDate,
    /// The tables, best match first, with the place of the first test of that age.
    pub standings: Vec<Standing>,
}

impl AgeBands {
    /// The part of one table.
    pub fn of(&self, choice: BandChoice) -> Option<&Standing> {
        self.standings.iter().find(|standing| BandChoice::of(standing) == choice)
    }
}

/// The bands of every age between the first and the last test. Ages that only begin next month, or
/// may have begun, are not drawn.
pub(super) fn age_bands(person: &Person, key: TrendKey, tests: &[StoryTest]) -> Vec<AgeBands> {
    let (Some(first), Some(last)) = (tests.first(), tests.last()) else {
        return Vec::new();
    };
    let Some(end) = last.date.succ_opt() else {
        return Vec::new();
    };
    let compare = person.compare.unwrap_or(Compare::None);
    let mut bands = Vec::new();
    let mut since = first.date;
    while since < end {
        let age = age_on(person, since);
        let until = next_age(person, age, since).min(end);
        let test = tests.iter().find(|test| since <= test.date).unwrap_or(last);
        let standings = standings(key, compare, age, test);
        bands.push(AgeBands { since, until, standings });
        since = until;
    }
    bands
}

fn standings(key: TrendKey, compare: Compare, age: Age, test: &StoryTest) -> Vec<Standing> {
    let placed = place(key, compare, age, &test.score);
    let all = placed.by_sex.into_iter().flat_map(|placement| placement.standings);
    all.filter(|standing| !matches!(standing.age_fit, AgeFit::NextMonth | AgeFit::MaybeToday))
        .collect()
}

fn age_on(person: &Person, date: NaiveDate) -> Age {
    match person.born {
        Some(Born::Month(month)) => Age::on(month, date),
        Some(Born::Group(group)) => Age::Group(group),
        None => Age::Unknown,
    }
}

/// The first day on which the person surely has another age; ages change with a month.
fn next_age(person: &Person, age: Age, since: NaiveDate) -> NaiveDate {
    if age.youngest_years().is_none() {
        return NaiveDate::MAX;
    }
    let mut month = since.with_day(1).unwrap_or(since);
    for _ in 0..13 {
        let Some(next) = month.checked_add_months(Months::new(1)) else {
            return NaiveDate::MAX;
        };
        if age_on(person, next).youngest_years() != age.youngest_years() {
            return next;
        }
        month = next;
    }
    NaiveDate::MAX
}
