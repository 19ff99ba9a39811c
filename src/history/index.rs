//! Which tests a person has in a season. The lists only speed up reading: every entry is checked
//! against the record it names, and the lists can be rebuilt from the records.

use std::collections::BTreeSet;

use chrono::{Datelike, NaiveDate};

use super::{KeyValue, LocalId, StoreError, keys};

/// Largest list under one key, in bytes; a longer list goes on under another key.
pub const INDEX_BYTES_MAX: usize = 20_000;

/// Twelve months from the first of August, so that autumn to summer is one season. Design choice.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Season {
    /// The year it starts in.
    pub first_year: i32,
}

/// August. Design choice.
const FIRST_MONTH: u32 = 8;

impl Season {
    /// The season a day belongs to.
    ///
    /// ```
    /// use chrono::NaiveDate;
    /// use two_marks::history::Season;
    /// let may = NaiveDate::from_ymd_opt(2026, 5, 1).unwrap();
    /// assert_eq!(Season::of(may), Season { first_year: 2025 });
    /// ```
    pub fn of(date: NaiveDate) -> Self {
        let early = date.month() < FIRST_MONTH;
        Self { first_year: if early { date.year().saturating_sub(1) } else { date.year() } }
    }
}

/// The names in one list; what is no name is left out.
fn names(list: &str) -> impl Iterator<Item = &str> {
    list.split(' ').filter(|name| keys::is_test_name(name))
}

/// Every page of a person's season, with its key.
fn pages(
    storage: &impl KeyValue,
    person: &LocalId,
    season: Season,
) -> Result<Vec<(String, String)>, StoreError> {
    let mut pages = Vec::new();
    loop {
        let key = keys::index_page(person, season, pages.len());
        match storage.get(&key)? {
            Some(list) => pages.push((key, list)),
            None => return Ok(pages),
        }
    }
}

/// The names of the tests of a person's season.
pub(super) fn listed(
    storage: &impl KeyValue,
    person: &LocalId,
    season: Season,
) -> Result<BTreeSet<String>, StoreError> {
    let pages = pages(storage, person, season)?;
    Ok(pages.iter().flat_map(|(_, list)| names(list)).map(str::to_owned).collect())
}

/// Every list under a prefix, with its key.
pub(super) fn lists(
    storage: &impl KeyValue,
    prefix: &str,
) -> Result<Vec<(String, String)>, StoreError> {
    let mut lists = Vec::new();
    for key in storage.keys_with_prefix(prefix)? {
        if let Some(list) = storage.get(&key)? {
            lists.push((key, list));
        }
    }
    Ok(lists)
}

/// The names in several lists.
pub(super) fn names_in(lists: &[(String, String)]) -> BTreeSet<String> {
    lists.iter().flat_map(|(_, list)| names(list)).map(str::to_owned).collect()
}

/// Adds a name to the first page with room.
pub(super) fn add(
    storage: &impl KeyValue,
    person: &LocalId,
    season: Season,
    name: &str,
) -> Result<(), StoreError> {
    let pages = pages(storage, person, season)?;
    if pages.iter().any(|(_, list)| names(list).any(|listed| listed == name)) {
        return Ok(());
    }
    let room = |list: &str| list.len() + name.len() < INDEX_BYTES_MAX;
    match pages.iter().find(|(_, list)| room(list)) {
        Some((key, list)) if !list.is_empty() => storage.set(key, &format!("{list} {name}")),
        Some((key, _)) => storage.set(key, name),
        None => storage.set(&keys::index_page(person, season, pages.len()), name),
    }
}

/// Takes a name off the lists of a person's season.
pub(super) fn remove(
    storage: &impl KeyValue,
    person: &LocalId,
    season: Season,
    name: &str,
) -> Result<(), StoreError> {
    let pages = pages(storage, person, season)?;
    without(storage, &pages, |listed| listed == name)
}

/// Takes names off lists; an empty list stays, so that its later pages are still found.
pub(super) fn without(
    storage: &impl KeyValue,
    lists: &[(String, String)],
    gone: impl Fn(&str) -> bool,
) -> Result<(), StoreError> {
    for (key, list) in lists {
        let kept: Vec<&str> = names(list).filter(|name| !gone(name)).collect();
        if kept.len() < list.split(' ').count() && !list.is_empty() {
            storage.set(key, &kept.join(" "))?;
        }
    }
    Ok(())
}
