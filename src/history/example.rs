//! An invented family and season, to show what the page can do. It is made for memory only: whoever
//! calls this puts it on a shelf of its own, never on the one with real records.

use chrono::{Datelike, NaiveDate, TimeDelta};

use super::clean::{NICKNAME_MAX, NOTE_MAX, TAG_MAX, clean_line, clean_note};
use super::record::{Born, HardDay, Person, Record, Tired};
use super::record::{Stamp, Test};
use super::{Id, LocalId};
use crate::measure::{FoulReason, Hand, Reach, Session, TrendKey, Trial};
use crate::quantity::{BirthMonth, Compare, Division, Moment, Reading, Sex};
use crate::trend::PRACTICE_SESSIONS;

/// What is written into the invented records, in the reader's language.
#[derive(Clone, Copy, Debug)]
pub struct ExampleWords<'a> {
    /// The nickname of the younger child: an animal's, so that it is nobody's.
    pub younger: &'a str,
    /// The nickname of the older child.
    pub older: &'a str,
    /// The tag of the day on which the older child began to practise.
    pub practice_began: &'a str,
    /// The note on the first test after a break.
    pub after_break: &'a str,
}

/// The season of one child. All of it is invented; the true height is what the trials scatter about.
struct Story {
    age_years: i32,
    sex: Sex,
    hand: Hand,
    /// The standing reach at the start, and how much it grows until the last test.
    reach_mm: (i32, i32),
    /// The true height at the start.
    height_mm: i32,
    /// What the child gains in all, and from which day on; steadily until the last test.
    gain_mm: i32,
    gain_from_day: i32,
    /// Days of the tests after the first one.
    days: [i32; 15],
    /// The test after hard legs, the one with a foul, and the one with a tag or note.
    tired_at: usize,
    foul_at: usize,
    marked_at: usize,
}

/// Thirteen, and only growing: about 4 cm a year.
const YOUNGER: Story = Story {
    age_years: 13,
    sex: Sex::Male,
    hand: Hand::Right,
    reach_mm: (2_040, 35),
    height_mm: 330,
    gain_mm: 30,
    gain_from_day: 0,
    days: [0, 16, 36, 54, 75, 117, 136, 153, 171, 190, 208, 227, 240, 254, 270],
    tired_at: 8,
    foul_at: 3,
    marked_at: 5,
};

/// Sixteen, grown up, and 6 cm higher after four months of practice.
const OLDER: Story = Story {
    age_years: 16,
    sex: Sex::Female,
    hand: Hand::Left,
    reach_mm: (2_150, 0),
    height_mm: 355,
    gain_mm: 60,
    gain_from_day: 110,
    days: [0, 19, 37, 58, 76, 93, 112, 131, 150, 169, 187, 206, 228, 247, 268],
    tired_at: 4,
    foul_at: 9,
    marked_at: 6,
};

/// Days from the first test of the season to the last; the last one is two days ago.
const SEASON_DAYS: i32 = 270;
const LAST_DAYS_AGO: i64 = 2;
/// The spread of the trials of a day and of the days about the true height, in millimetres (SD).
const TRIAL_SPREAD_MM: i32 = 11;
const DAY_SPREAD_MM: i32 = 8;
/// Chosen among forty so that what is drawn lies near the truth above: three tests at the end of a
/// season are few, and an example is there to be understood.
const SEED: u64 = 0x7477_6f6d_6172_6b24;
/// Half past five in the afternoon.
const MINUTE_OF_DAY: u16 = 17 * 60 + 30;

/// Two invented children and thirty tests over the nine months up to a moment: one child only grows,
/// the other one gains by practice. The same moment gives the same records.
pub fn example(words: ExampleWords<'_>, now: Moment) -> Vec<Record> {
    let mut draw = Draw(SEED);
    let mut records = Vec::new();
    for (story, nickname) in [(&YOUNGER, words.younger), (&OLDER, words.older)] {
        let person = person(story, nickname, now, &mut draw);
        for (at, day) in story.days.into_iter().enumerate() {
            let test = test(story, &person.local, at, day, now, &mut draw);
            records.push(Record::Test(marked(story, at, words, test)));
        }
        records.push(Record::Person(person));
    }
    records
}

fn person(story: &Story, nickname: &str, now: Moment, draw: &mut Draw) -> Person {
    let today = now.date();
    // Turned that age half a year before the season began.
    let born = today - TimeDelta::days(i64::from(story.age_years) * 365 + 460);
    let month = u8::try_from(born.month()).unwrap_or(1);
    let born = u16::try_from(born.year()).ok().and_then(|year| BirthMonth::new(year, month));
    let id = draw.id();
    let local = LocalId::shortest(id, |_| false);
    Person {
        born: born.map(Born::Month),
        compare: Some(Compare::With(story.sex)),
        hand: story.hand,
        ..Person::new(id, local, clean_line(nickname, NICKNAME_MAX), now.utc_ms)
    }
}

fn test(
    story: &Story,
    person: &LocalId,
    at: usize,
    day: i32,
    now: Moment,
    draw: &mut Draw,
) -> Test {
    let reach_mm = story.reach_mm.0 + story.reach_mm.1 * day / SEASON_DAYS;
    let gained =
        story.gain_mm * (day - story.gain_from_day).max(0) / (SEASON_DAYS - story.gain_from_day);
    let today_mm = story.height_mm + gained + draw.about(DAY_SPREAD_MM);
    let mut session = Session::new(TrendKey::USUAL, story.hand, Division::CmHalf);
    let reaches = [(); 3].map(|()| read(reach_mm + draw.about(2)));
    session.reach = Reach::Measured(reaches.to_vec());
    let marks = [(); 4].map(|()| read(reach_mm + today_mm + draw.about(TRIAL_SPREAD_MM)));
    session.trials = marks.map(Trial::FloorMark).to_vec();
    if at == story.foul_at {
        session.trials.insert(1, Trial::Foul(FoulReason::Step));
    }
    let on = date_of(day, now);
    let moment = Moment::from_civil(on, MINUTE_OF_DAY, now.offset_minutes);
    let mut test = Test::new(draw.id(), person.clone(), moment, session);
    test.stamp = Stamp::first(moment.utc_ms);
    test.practice = at < PRACTICE_SESSIONS;
    test
}

fn marked(story: &Story, at: usize, words: ExampleWords<'_>, mut test: Test) -> Test {
    if at == story.tired_at {
        test.tired = Tired { leg_work: Some((HardDay::LegSession, 26)), stretch: None };
    }
    if at == story.marked_at && story.gain_from_day > 0 {
        // A language may have a longer word than a tag has room for.
        test.tags = vec![clean_line(words.practice_began, TAG_MAX)];
    } else if at == story.marked_at {
        test.note = clean_note(words.after_break, NOTE_MAX);
    }
    test
}

fn date_of(day: i32, now: Moment) -> NaiveDate {
    now.date() - TimeDelta::days(LAST_DAYS_AGO + i64::from(SEASON_DAYS - day))
}

/// To the half centimetre, as the tape is read.
fn read(mm: i32) -> Reading {
    Reading { count: (mm + 2).div_euclid(5) * 5, division: Division::CmHalf }
}

/// Numbers that look drawn and are always the same (SplitMix64: Steele GL, Lea D, Flood CH, 2014,
/// doi 10.1145/2660193.2660195).
struct Draw(u64);

impl Draw {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A whole number about 0: the sum of three even draws of -`spread` to `spread`, whose standard
    /// deviation is `spread`, or a little more for small ones.
    fn about(&mut self, spread: i32) -> i32 {
        let width = i64::from(spread) * 2 + 1;
        let mut sum = 0;
        for _ in 0..3 {
            let drawn = i64::try_from(self.next() >> 33).unwrap_or(0);
            sum += i32::try_from(drawn % width).unwrap_or(0) - spread;
        }
        sum
    }

    fn id(&mut self) -> Id {
        let mut bytes = [0; 16];
        for half in bytes.chunks_exact_mut(8) {
            half.copy_from_slice(&self.next().to_be_bytes());
        }
        Id::from_bytes(bytes)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::history::{Memory, Store};

    const WORDS: ExampleWords<'_> =
        ExampleWords { younger: "A", older: "B", practice_began: "c", after_break: "d" };
    /// 17:30 on 14 June 2026 in UTC.
    const NOW: Moment = Moment { utc_ms: 1_781_458_200_000, offset_minutes: 120 };

    #[test]
    fn words_of_any_length_can_be_kept() {
        let long = "long ".repeat(200);
        let words = ExampleWords {
            younger: &long,
            older: &format!("older {long}"),
            practice_began: &long,
            after_break: &long,
        };
        let records = example(words, NOW);
        let (store, _) = Store::open(Memory::new()).unwrap();
        store.keep_all(&records).unwrap();
        assert_eq!(records.len(), example(WORDS, NOW).len());
    }

    fn tests_of(nickname: &str) -> Vec<Test> {
        let records = example(WORDS, NOW);
        let local = records.iter().find_map(|record| match record {
            Record::Person(person) if person.nickname == nickname => Some(person.local.clone()),
            _ => None,
        });
        let tests = records.into_iter().filter_map(|record| match record {
            Record::Test(test) if Some(&test.person) == local.as_ref() => Some(test),
            _ => None,
        });
        tests.collect()
    }

    #[test]
    fn two_children_thirty_tests_nine_months_and_always_the_same() {
        let (younger, older) = (tests_of("A"), tests_of("B"));
        assert_eq!((younger.len(), older.len()), (15, 15));
        let days = younger.last().unwrap().date - younger.first().unwrap().date;
        assert_eq!(days.num_days(), 270);
        assert!(younger.iter().chain(&older).all(|test| test.date < NOW.date()));
        assert_eq!(example(WORDS, NOW), example(WORDS, NOW));
    }

    #[test]
    fn every_reach_agrees_and_every_test_is_whole() {
        for test in tests_of("A").iter().chain(&tests_of("B")) {
            let check = test.session.reach_check();
            assert!(matches!(check, crate::measure::ReachCheck::Agree { .. }), "{check:?}");
            assert_eq!(test.session.counted().len(), 4);
        }
    }

    #[test]
    fn the_grown_up_child_gains_more_than_the_growing_one() {
        let gain = |tests: &[Test]| {
            let mean = |tests: &[Test]| {
                let heights = tests.iter().filter_map(|test| test.session.usual());
                let sum: i64 = heights.map(|usual| usual.height.0.as_micrometres()).sum();
                sum / i64::try_from(tests.len()).unwrap() / 1000
            };
            mean(&tests[12..]) - mean(&tests[2..5])
        };
        let (younger, older) = (gain(&tests_of("A")), gain(&tests_of("B")));
        assert!((10..35).contains(&younger), "{younger} mm");
        assert!((45..75).contains(&older), "{older} mm");
    }
}
