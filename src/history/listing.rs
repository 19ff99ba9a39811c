//! The list of a person's tests: what it is narrowed to, and the part of it that a page holds.

use std::collections::{HashMap, HashSet};

use super::MarkMethod;
use super::record::Test;
use crate::measure::{Device, Reach, Surface, TrendKey, Trial, Variant};
use crate::quantity::JumpHeight;

/// How a test was measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Method {
    /// Marks on a wall, read from the floor or between them.
    Marks(MarkMethod),
    /// Time in the air, from a video or a mat.
    Air(Device),
}

impl Method {
    /// The method of a test.
    pub fn of(test: &Test) -> Self {
        let session = &test.session;
        if session.key.device != Device::Wall {
            return Self::Air(session.key.device);
        }
        let distance = |trial: &Trial| matches!(trial, Trial::MarkDistance(_));
        let between = session.reach == Reach::MarkOnly || session.trials.iter().any(distance);
        Self::Marks(if between { MarkMethod::BetweenMarks } else { MarkMethod::FromFloor })
    }
}

/// What a list is narrowed to; nothing chosen shows all.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Filter {
    /// One jump.
    pub variant: Option<Variant>,
    /// One way of measuring.
    pub method: Option<Method>,
    /// One ground.
    pub surface: Option<Surface>,
    /// Only tests noted as tired, or only the others.
    pub tired: Option<bool>,
    /// Only tests with this tag.
    pub tag: Option<String>,
}

impl Filter {
    /// Whether a test is shown.
    pub fn shows(&self, test: &Test) -> bool {
        let key = test.session.key;
        self.variant.is_none_or(|variant| variant == key.variant)
            && self.method.is_none_or(|method| method == Method::of(test))
            && self.surface.is_none_or(|surface| surface == key.surface)
            && self.tired.is_none_or(|tired| tired == test.tired.is_noted())
            && self.tag.as_ref().is_none_or(|tag| test.tags.contains(tag))
    }
}

/// What there is to choose from: every value that some test has, in the order met.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Choices {
    /// The jumps.
    pub variants: Vec<Variant>,
    /// The ways of measuring.
    pub methods: Vec<Method>,
    /// The grounds.
    pub surfaces: Vec<Surface>,
    /// Whether some tests are noted as tired and some are not.
    pub has_both_tired: bool,
    /// The tags, in alphabetical order.
    pub tags: Vec<String>,
}

impl Choices {
    /// The choices of a person's tests.
    pub fn of(tests: &[Test]) -> Self {
        fn add<T: PartialEq>(list: &mut Vec<T>, value: T) {
            if !list.contains(&value) {
                list.push(value);
            }
        }
        let mut choices = Self::default();
        let mut tags = HashSet::new();
        for test in tests {
            add(&mut choices.variants, test.session.key.variant);
            add(&mut choices.methods, Method::of(test));
            add(&mut choices.surfaces, test.session.key.surface);
            for tag in &test.tags {
                if tags.insert(tag) {
                    choices.tags.push(tag.clone());
                }
            }
        }
        choices.tags.sort_unstable();
        let tired = tests.iter().filter(|test| test.tired.is_noted()).count();
        choices.has_both_tired = tired > 0 && tired < tests.len();
        choices
    }
}

/// One row of the list.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Row {
    /// Place of the test in the tests given.
    pub at: usize,
    /// No test of its kind is higher, shown or not.
    pub is_best: bool,
    /// No test of its kind is newer, shown or not.
    pub is_last: bool,
}

/// The rows of one kind of test.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Group {
    /// The kind.
    pub key: TrendKey,
    /// The rows, newest first.
    pub rows: Vec<Row>,
}

/// The part of a list that a page holds.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Listing {
    /// By kind of test, the kind tested last first.
    pub groups: Vec<Group>,
    /// How many tests the filter shows.
    pub total: usize,
    /// How many newer ones are left out before the first row.
    pub from: usize,
    /// How many rows there are.
    pub shown: usize,
}

/// Most rows in the page at once: a season or two, and few enough for a slow phone. Design choice.
pub const ROWS_MAX: usize = 60;

/// The rows of a page. The tests are given newest first; `from` is the first one shown, of those that
/// the filter shows, and is moved back to the last page where there are fewer.
pub fn list(tests: &[Test], filter: &Filter, from: usize) -> Listing {
    let mut best: HashMap<TrendKey, JumpHeight> = HashMap::new();
    let mut last: HashMap<TrendKey, usize> = HashMap::new();
    let heights: Vec<Option<JumpHeight>> = tests.iter().map(|test| test.session.best()).collect();
    for (at, (test, height)) in tests.iter().zip(&heights).enumerate() {
        last.entry(test.session.key).or_insert(at);
        if let Some(height) = height {
            let highest = best.entry(test.session.key).or_insert(*height);
            *highest = (*highest).max(*height);
        }
    }
    let all: Vec<usize> =
        tests.iter().enumerate().filter(|(_, test)| filter.shows(test)).map(|(at, _)| at).collect();
    let last_page = all.len().saturating_sub(1) / ROWS_MAX * ROWS_MAX;
    let from = from.min(last_page);
    let mut groups: Vec<Group> = Vec::new();
    let mut shown = 0;
    for at in all.iter().copied().skip(from).take(ROWS_MAX) {
        let Some(test) = tests.get(at) else { continue };
        let key = test.session.key;
        let height = heights.get(at).copied().flatten();
        let row = Row {
            at,
            is_best: height.is_some() && height == best.get(&key).copied(),
            is_last: last.get(&key) == Some(&at),
        };
        shown += 1;
        match groups.iter_mut().find(|group| group.key == key) {
            Some(group) => group.rows.push(row),
            None => groups.push(Group { key, rows: vec![row] }),
        }
    }
    Listing { groups, total: all.len(), from, shown }
}
