//! The queue at the wall: who comes next, and for what.

use chrono::NaiveDate;

use crate::history::{CLASS_NUMBERS_MAX, Class, ClassResult, Id, MarkMethod};
use crate::measure::Reach;

/// In which order readings are taken.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Order {
    /// Everyone reaches, then everyone jumps, round by round: the rest between jumps comes by itself.
    #[default]
    ByRound,
    /// One pupil after the other.
    ByPupil,
}

/// What is read next.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Task {
    /// The standing reach, by its place from 1.
    Reach(usize),
    /// A trial, by its place from 1.
    Trial(usize),
}

/// The next reading.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Step {
    /// Whose.
    pub number: u8,
    /// Which.
    pub task: Task,
}

/// What the teacher said about the order today. Readings themselves stand in the records.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Queue {
    /// The order.
    pub order: Order,
    /// Numbers that come at the end of each round, in the order in which they were put off.
    pub later: Vec<u8>,
    /// Numbers that stop before all trials are done.
    pub stopped: Vec<u8>,
    /// A number that the teacher called up out of turn.
    pub called: Option<u8>,
}

impl Queue {
    /// The next reading, or none when everybody is done. `results` are those of the day.
    pub fn next(&self, class: &Class, results: &[ClassResult]) -> Option<Step> {
        let called = self.called.and_then(|number| step_of(class, results, number));
        if called.is_some() {
            return called;
        }
        let open = self.line(class).into_iter().filter(|number| !self.stopped.contains(number));
        let steps = open.filter_map(|number| step_of(class, results, number));
        match self.order {
            Order::ByPupil => steps.into_iter().next(),
            // Of equal rounds `min_by_key` gives the first in line.
            Order::ByRound => steps.min_by_key(|step| round_of(class, step.task)),
        }
    }

    /// Everybody in line: by number, those put off at the end.
    fn line(&self, class: &Class) -> Vec<u8> {
        let is_later = |number: &u8| self.later.contains(number);
        let (late, first): (Vec<u8>, Vec<u8>) = class.numbers().into_iter().partition(is_later);
        first.into_iter().chain(self.later.iter().copied().filter(|n| late.contains(n))).collect()
    }

    /// Puts a number to the end of the line.
    pub fn put_off(&mut self, number: u8) {
        self.later.retain(|other| *other != number);
        self.later.push(number);
        self.called = None;
    }

    /// Lets a number stop before all its trials.
    pub fn stop(&mut self, number: u8) {
        if !self.stopped.contains(&number) {
            self.stopped.push(number);
        }
        self.called = None;
    }

    /// Calls a number up, whatever was said of it before.
    pub fn call(&mut self, number: u8) {
        self.stopped.retain(|other| *other != number);
        self.called = Some(number);
    }
}

/// A station in a tab, so that a reload goes on: which class, which day, and what was said of the
/// order. Nothing of anybody's health has a place in it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StationDraft {
    /// The class.
    pub class: Id,
    /// The day it was written: on another day a station begins anew.
    pub written_on: NaiveDate,
    /// The day of the test.
    pub day: NaiveDate,
    /// The order.
    pub queue: Queue,
}

impl StationDraft {
    /// As text for the tab's own storage.
    pub fn to_text(&self) -> String {
        let list = |numbers: &[u8]| {
            let texts: Vec<String> = numbers.iter().map(u8::to_string).collect();
            texts.join(",")
        };
        let order = match self.queue.order {
            Order::ByRound => "rounds",
            Order::ByPupil => "pupils",
        };
        format!(
            "{} {} {} {order} later:{} stopped:{} called:{}",
            self.class,
            self.written_on,
            self.day,
            list(&self.queue.later),
            list(&self.queue.stopped),
            list(self.queue.called.as_slice()),
        )
    }

    /// From that text, where it is of this class and was written today; anything else is none.
    pub fn parse(text: &str, class: Id, today: NaiveDate) -> Option<Self> {
        let parts: Vec<&str> = text.split(' ').collect();
        let [id, written_on, day, order, later, stopped, called] = parts.as_slice() else {
            return None;
        };
        let list = |text: &str, name: &str| -> Option<Vec<u8>> {
            let texts = text.strip_prefix(name)?.split(',').filter(|text| !text.is_empty());
            texts.map(number).collect()
        };
        let order = match *order {
            "rounds" => Order::ByRound,
            "pupils" => Order::ByPupil,
            _ => return None,
        };
        let queue = Queue {
            order,
            later: list(later, "later:")?,
            stopped: list(stopped, "stopped:")?,
            called: list(called, "called:")?.first().copied(),
        };
        let draft = Self {
            class: Id::parse(id)?,
            written_on: written_on.parse().ok()?,
            day: day.parse().ok()?,
            queue,
        };
        (draft.class == class && draft.written_on == today && draft.day <= today).then_some(draft)
    }
}

/// The day that was typed for a class test; none for another text and for a day to come.
///
/// ```
/// use chrono::NaiveDate;
/// use two_marks::class::station_day;
/// let today = NaiveDate::from_ymd_opt(2026, 3, 2).unwrap();
/// assert_eq!(station_day("2026-02-27", today), NaiveDate::from_ymd_opt(2026, 2, 27));
/// assert_eq!(station_day("2026-03-03", today), None);
/// ```
pub fn station_day(text: &str, today: NaiveDate) -> Option<NaiveDate> {
    text.trim().parse().ok().filter(|day| *day <= today && *day >= FIRST_DAY)
}

/// Earlier days are slips of the pen. Design choice.
const FIRST_DAY: NaiveDate = match NaiveDate::from_ymd_opt(2000, 1, 1) {
    Some(day) => day,
    None => NaiveDate::MIN,
};

fn round_of(class: &Class, task: Task) -> usize {
    match task {
        Task::Reach(place) => place,
        Task::Trial(place) => reaches_of(class) + place,
    }
}

fn reaches_of(class: &Class) -> usize {
    match class.setup.marks {
        MarkMethod::FromFloor => usize::from(class.setup.reaches),
        MarkMethod::BetweenMarks => 0,
    }
}

/// The next reading of a number; none when it is done, or has another role.
fn step_of(class: &Class, results: &[ClassResult], number: u8) -> Option<Step> {
    if !class.numbers().contains(&number) {
        return None;
    }
    let own = results.iter().filter(|result| result.number == number);
    let result = own.max_by_key(|result| (result.stamp.edited_utc_ms, result.id));
    if result.is_some_and(|result| result.helps) {
        return None;
    }
    let reaches = result.map_or(0, |result| match &result.session.reach {
        Reach::Measured(readings) => readings.len(),
        Reach::Reused { .. } | Reach::MarkOnly => reaches_of(class),
    });
    if reaches < reaches_of(class) {
        return Some(Step { number, task: Task::Reach(reaches + 1) });
    }
    let trials = result.map_or(0, |result| result.session.trials.len());
    let task = Task::Trial(trials + 1);
    (trials < usize::from(class.setup.trials)).then_some(Step { number, task })
}

/// Reads a roster: numbers and ranges, such as `1-12, 15, 20-30`. None when there is none, or one is
/// out of range; what is not a number is passed over, since a pasted list may hold other words.
///
/// ```
/// use two_marks::class::roster_of;
/// assert_eq!(roster_of("1-3, 7\n5"), Some(vec![1, 2, 3, 5, 7]));
/// assert_eq!(roster_of("0, 4"), None);
/// ```
pub fn roster_of(text: &str) -> Option<Vec<u8>> {
    let mut numbers = Vec::new();
    let plain = text.replace(['\u{2013}', '\u{2014}'], "-").replace(" - ", "-");
    for part in plain.split(|sign: char| !(sign.is_ascii_digit() || sign == '-')) {
        let ends: Vec<&str> = part.split('-').filter(|end| !end.is_empty()).collect();
        let (first, last) = match ends.as_slice() {
            [] => continue,
            [one] => (*one, *one),
            [first, last] => (*first, *last),
            _ => return None,
        };
        let (first, last) = (number(first)?, number(last)?);
        if first > last {
            return None;
        }
        numbers.extend(first..=last);
    }
    numbers.sort_unstable();
    numbers.dedup();
    (!numbers.is_empty()).then_some(numbers)
}

fn number(text: &str) -> Option<u8> {
    text.parse().ok().filter(|number| (1..=CLASS_NUMBERS_MAX).contains(number))
}

#[cfg(test)]
mod tests {
    use super::super::class_id;
    use super::*;

    #[test]
    fn a_station_survives_a_reload_of_the_same_day_and_nothing_else() {
        let day = |day| NaiveDate::from_ymd_opt(2026, 3, day).unwrap();
        let queue =
            Queue { order: Order::ByPupil, later: vec![9, 2], stopped: vec![4], called: Some(30) };
        let class = class_id([3; 16]);
        let draft = StationDraft { class, written_on: day(5), day: day(2), queue };
        let text = draft.to_text();
        assert_eq!(StationDraft::parse(&text, class, day(5)), Some(draft.clone()));
        let plain = StationDraft { queue: Queue::default(), ..draft };
        assert_eq!(StationDraft::parse(&plain.to_text(), class, day(5)), Some(plain));
        assert_eq!(StationDraft::parse(&text, class, day(6)), None, "another day");
        assert_eq!(StationDraft::parse(&text, class_id([4; 16]), day(5)), None, "another class");
        for (from, to) in [("pupils", "any"), ("later:9", "later:0"), ("03-02", "03-06")] {
            assert!(text.contains(from));
            assert_eq!(StationDraft::parse(&text.replace(from, to), class, day(5)), None, "{to}");
        }
        for wrong in ["", "a b c d e f g", &"x ".repeat(999)] {
            assert_eq!(StationDraft::parse(wrong, class, day(5)), None);
        }
    }
}
