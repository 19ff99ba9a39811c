//! Result slips in any text: a chat, a mail, a typed code, a link.

use chrono::NaiveDate;

use super::code;
use super::slip::{KIND, Slip, SlipProblem};

/// Longest text searched, in bytes. Design choice: a long chat.
pub const TEXT_BYTES_MAX: usize = 200_000;
/// Fewest signs of a slip: kind, class, number and day, checks. Shorter words are words.
const SIGNS_MIN: usize = 11;
/// Most groups of a slip. Design choice: six trials read to a millimetre come to nine.
const GROUPS_MAX: usize = 12;
/// Signs of a whole group.
const GROUP: usize = 4;

/// What looked like a slip, and what it came to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Found {
    /// The text as it was found.
    pub text: String,
    /// The slip, or why it is none.
    pub slip: Result<Slip, SlipProblem>,
}

/// A run of letters and digits, and whether nothing but one separator stands before it.
#[derive(Clone, Copy)]
struct Word<'a> {
    text: &'a str,
    joined: bool,
    hyphen: bool,
}

/// Finds every slip of a text, in order. A run that is grouped like a slip and does not check is
/// found too, so that a wrong sign is said and not passed over; other words are passed over.
pub fn find_slips(text: &str, today: NaiveDate) -> Vec<Found> {
    let end = text.char_indices().map(|(at, _)| at).take_while(|at| *at <= TEXT_BYTES_MAX).last();
    let words = words(if text.len() > TEXT_BYTES_MAX {
        text.get(..end.unwrap_or(0)).unwrap_or_default()
    } else {
        text
    });
    let mut found = Vec::new();
    let mut at = 0;
    while at < words.len() {
        let rest = words.get(at..).unwrap_or_default();
        match slip_at(rest, today) {
            Some((slip, used)) => {
                found.push(slip);
                at += used;
            }
            None => at += 1,
        }
    }
    found
}

/// The slip that starts at the first word, and how many words it takes.
fn slip_at(words: &[Word<'_>], today: NaiveDate) -> Option<(Found, usize)> {
    let first = words.first()?;
    if !first.text.starts_with(|sign: char| sign.eq_ignore_ascii_case(&KIND))
        || first.text.len() < GROUP
    {
        return None;
    }
    let groups = groups_at(words);
    // The longest that reads, since a right code may be followed by other words of four letters.
    for used in (1..=groups).rev() {
        let text = joined(words.get(..used)?);
        if let Ok(slip) = Slip::read(&text, today) {
            return Some((Found { text, slip: Ok(slip) }, used));
        }
    }
    let text = joined(words.get(..groups)?);
    let signs = text.chars().filter(|sign| !code::is_separator(*sign)).count();
    let hyphens = words.get(1..groups)?.iter().filter(|word| word.hyphen).count();
    let looks_like_one = signs >= SIGNS_MIN
        && (groups == 1 || hyphens >= 2)
        && first.text.chars().any(|sign| sign.is_ascii_digit() || sign.is_ascii_uppercase());
    let slip = Slip::read(&text, today);
    looks_like_one.then_some((Found { text, slip }, groups))
}

/// How many words could be groups of one slip.
fn groups_at(words: &[Word<'_>]) -> usize {
    let first_is_whole = words.first().is_some_and(|word| word.text.len() == GROUP);
    if !first_is_whole {
        return 1;
    }
    let mut groups = 1;
    for word in words.iter().skip(1).take(GROUPS_MAX - 1) {
        if !word.joined || word.text.len() > GROUP {
            break;
        }
        groups += 1;
        if word.text.len() < GROUP {
            break;
        }
    }
    groups
}

fn joined(words: &[Word<'_>]) -> String {
    let texts: Vec<&str> = words.iter().map(|word| word.text).collect();
    texts.join("-")
}

fn words(text: &str) -> Vec<Word<'_>> {
    let mut words = Vec::new();
    let mut start = None;
    let mut gap = String::new();
    for (at, sign) in text.char_indices().chain([(text.len(), ' ')]) {
        if sign.is_ascii_alphanumeric() && at < text.len() {
            start.get_or_insert(at);
            continue;
        }
        if let Some(start) = start.take() {
            let joined = gap.trim_matches([' ', '\r', '\n']).chars().count() <= 1
                && gap.chars().count() <= 3
                && gap.chars().all(code::is_separator);
            let hyphen = joined && gap.contains('-');
            let text = text.get(start..at).unwrap_or_default();
            words.push(Word { text, joined, hyphen });
            gap.clear();
        }
        if gap.len() < 16 {
            gap.push(sign);
        }
    }
    words
}
