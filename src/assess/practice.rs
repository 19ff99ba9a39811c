//! Which tests are practice. It is worked out from the history each time it is read, so that an older
//! test that is added, changed, moved or deleted puts all later ones right.

use std::collections::HashMap;

use super::PRACTICE_SESSIONS;
use crate::history::{Origin, Test};
use crate::measure::TrendKey;

/// Whether a test with so many earlier ones of its kind is practice. What a file said of its own tests
/// stands beside that: it knows of tests that are not here.
pub(super) fn is_practice(test: &Test, earlier: usize) -> bool {
    earlier < PRACTICE_SESSIONS || (test.origin == Origin::Imported && test.practice)
}

/// Marks the first tests of each kind as practice and all others as not, whatever was stored. The tests
/// stand in any order and may be of several people; their order stays.
pub fn mark_practice(tests: &mut [Test]) {
    let mut order: Vec<usize> = (0..tests.len()).collect();
    let at = |place: &usize| tests.get(*place).map(|test| (test.date, test.minute_of_day, test.id));
    order.sort_by_key(at);
    let mut seen: HashMap<(String, TrendKey), usize> = HashMap::new();
    for place in order {
        let Some(test) = tests.get_mut(place) else { continue };
        let earlier = seen.entry((test.person.as_str().to_owned(), test.session.key)).or_default();
        test.practice = is_practice(test, *earlier);
        *earlier += 1;
    }
}
