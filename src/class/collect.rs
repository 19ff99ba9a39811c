//! Slips that arrive at the teacher's device: looked at first, taken over when told to.

use chrono::NaiveDate;

use super::find::{Found, find_slips};
use super::slip::{Slip, SlipProblem, class_tag};
use crate::history::{Class, ClassResult, Id};
use crate::measure::Session;

/// What a slip means for the class.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// The first result of this number on this day.
    New,
    /// The same result is here already, or stands earlier in the same text.
    Double,
    /// The same device sent another result of this number and day: a retake.
    Retake,
    /// Another device sent a result of this number and day: perhaps two pupils with one number.
    OtherDevice,
    /// It belongs to another class.
    WrongClass,
    /// The class has no such number.
    NoSuchNumber,
    /// It cannot be read.
    Unreadable(SlipProblem),
}

impl Verdict {
    /// Whether there is something to take over, by some rule.
    pub const fn may_be_taken(self) -> bool {
        matches!(self, Self::New | Self::Retake | Self::OtherDevice)
    }
}

/// One slip of a text, looked at.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Arrival {
    /// The code as it was found.
    pub text: String,
    /// What it says, where it can be read.
    pub slip: Option<Slip>,
    /// What it means.
    pub verdict: Verdict,
}

/// What to do with a second result of a number on one day.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Rule {
    /// Leave it out.
    #[default]
    LeaveOut,
    /// Put it in place of the earlier one.
    Replace,
    /// Keep both; the newer one counts.
    KeepBoth,
}

/// One change to the store.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Change {
    /// A new result.
    Add(ClassResult),
    /// An edit of a stored one.
    Edit(ClassResult),
}

/// Finds the slips of a text and says what each means. Nothing is stored.
pub fn preview(
    class: &Class,
    results: &[ClassResult],
    text: &str,
    today: NaiveDate,
) -> Vec<Arrival> {
    let tag = class_tag(class.id);
    let mut known: Vec<Slip> = results.iter().filter(|one| !one.helps).map(Slip::of).collect();
    let mut arrivals = Vec::new();
    for found in find_slips(text, today) {
        let verdict = match &found.slip {
            Err(problem) => Verdict::Unreadable(*problem),
            Ok(slip) if slip.class_tag != tag => Verdict::WrongClass,
            Ok(slip) if !class.numbers().contains(&slip.number) => Verdict::NoSuchNumber,
            Ok(slip) => verdict_of(slip, &known),
        };
        let slip = found.slip.ok();
        if let Some(slip) = &slip
            && matches!(verdict, Verdict::New | Verdict::Retake | Verdict::OtherDevice)
        {
            known.push(slip.clone());
        }
        arrivals.push(Arrival { text: found.text, slip, verdict });
    }
    arrivals
}

/// What the camera has read, against the slips collected so far.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum CodeSeen {
    /// A slip that was not there: the text with its code on a line of its own.
    New(String),
    /// Its slips stand in the text already.
    Known,
    /// It is the code of something else.
    NoSlip,
}

/// Adds what the camera has read to a text of slips, each slip once. What a slip means for the class
/// is for [`preview`] to say.
pub fn code_seen(text: &str, seen: &str, today: NaiveDate) -> CodeSeen {
    let found = find_slips(seen, today);
    if found.is_empty() {
        return CodeSeen::NoSlip;
    }
    let known = find_slips(text, today);
    let is_known = |one: &Found| {
        let same = |other: &Found| other.slip.is_ok() && other.slip == one.slip;
        known.iter().any(|other| other.text == one.text || same(other))
    };
    let mut all = text.trim_end().to_owned();
    for fresh in found.iter().filter(|one| !is_known(one)) {
        if !all.is_empty() {
            all.push('\n');
        }
        all.push_str(&fresh.text);
    }
    if all == text.trim_end() { CodeSeen::Known } else { CodeSeen::New(all) }
}

fn verdict_of(slip: &Slip, known: &[Slip]) -> Verdict {
    let same_day = |other: &&Slip| other.number == slip.number && other.date == slip.date;
    // Compared as slips, since a stored result may hold more than a slip says.
    let written = slip.write();
    if known.iter().filter(same_day).any(|other| other.write() == written) {
        return Verdict::Double;
    }
    match known.iter().rev().find(same_day) {
        None => Verdict::New,
        Some(other) if other.device_tag == slip.device_tag => Verdict::Retake,
        Some(_) => Verdict::OtherDevice,
    }
}

/// The changes that take arrivals over. `new_id` gives random ids; without one a slip is left out.
pub fn changes(
    class: &Class,
    results: &[ClassResult],
    arrivals: &[Arrival],
    rule: Rule,
    now_utc_ms: i64,
    mut new_id: impl FnMut() -> Option<Id>,
) -> Vec<Change> {
    let mut changes: Vec<Change> = Vec::new();
    for arrival in arrivals {
        let Some(slip) = &arrival.slip else { continue };
        let second = matches!(arrival.verdict, Verdict::Retake | Verdict::OtherDevice);
        let taken = match arrival.verdict {
            Verdict::New => true,
            _ => second && rule != Rule::LeaveOut,
        };
        if !taken {
            continue;
        }
        if second && rule == Rule::Replace && replace(&mut changes, results, slip) {
            continue;
        }
        if let Some(id) = new_id() {
            changes.push(Change::Add(slip.to_result(id, class, now_utc_ms)));
        }
    }
    changes
}

/// Puts a slip in place of an earlier result: of one in the same text, or of the newest stored one.
fn replace(changes: &mut Vec<Change>, results: &[ClassResult], slip: &Slip) -> bool {
    let same = |one: &ClassResult| one.number == slip.number && one.date == slip.date && !one.helps;
    let put = |one: &mut ClassResult| {
        one.session = Session { key: one.session.key, ..slip.session.clone() };
        one.device_tag = slip.device_tag;
        one.tired = slip.tired;
    };
    for change in changes.iter_mut().rev() {
        let (Change::Add(one) | Change::Edit(one)) = change;
        if same(one) {
            put(one);
            return true;
        }
    }
    let stored = results.iter().filter(|one| same(one)).max_by_key(|one| (one.stamp, one.id));
    if let Some(stored) = stored {
        let mut edited = stored.clone();
        put(&mut edited);
        changes.push(Change::Edit(edited));
        return true;
    }
    false
}
