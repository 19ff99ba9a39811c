//! Long runs of damaged files through every reader. Each input grows from a file that is kept under
//! `corpus/`, by a fixed seed; what once went wrong is kept there too. A short run is part of every
//! check, a long one is made by hand:
//!
//! `FUZZ_ROUNDS=1000000 cargo test --release --test it fuzzed`

use std::fs;
use std::path::{Path, PathBuf};

use chrono::NaiveDate;
use two_marks::class::{Slip, read_link, write_link};
use two_marks::history::{Draft, Read, Record, Settings, read, read_backup, to_text, write_backup};
use two_marks::quantity::{JUMP_HEIGHT_POSSIBLE, Moment};
use two_marks::share::csv::read_results;

use crate::samples::{NOW, id, local, wall_test};

/// Inputs made of each reader's corpus in a check; `FUZZ_ROUNDS` asks for another number.
const ROUNDS: u32 = 3_000;

/// Pieces that mean something to one of the readers.
const PIECES: [&str; 26] = [
    "\"",
    "\\",
    "{",
    "}",
    "[",
    "]",
    ",",
    ";",
    ":",
    "\n",
    "\r\n",
    "\u{feff}",
    "\u{202e}",
    "\0",
    "-",
    "1e308",
    "0.1",
    "2147483648",
    "-9223372036854775809",
    "null",
    "true",
    "{\"foul\":1}",
    "\"v\":1",
    "2026-02-30",
    "\t",
    "\u{1f600}",
];

/// The generator of the published `SplitMix64` (Steele, Lea and Flood 2014).
struct Random(u64);

impl Random {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    fn below(&mut self, limit: usize) -> usize {
        usize::try_from(self.next() % u64::try_from(limit.max(1)).unwrap()).unwrap()
    }
}

/// A corpus file with one to six changes, some of them taken from another file.
fn damaged(random: &mut Random, corpus: &[Vec<u8>]) -> String {
    let mut bytes = corpus[random.below(corpus.len())].clone();
    for _ in 0..=random.below(6) {
        let at = random.below(bytes.len() + 1);
        let to = (at + random.below(40)).min(bytes.len());
        match random.below(7) {
            0 if at < bytes.len() => bytes[at] ^= 1 << random.below(8),
            1 => drop(bytes.drain(at..to)),
            2 => drop(bytes.splice(at..at, bytes[at..to].to_vec())),
            3 => bytes.truncate(at),
            4 => {
                let other = &corpus[random.below(corpus.len())];
                let from = random.below(other.len() + 1);
                let end = (from + random.below(80)).min(other.len());
                drop(bytes.splice(at..to, other[from..end].iter().copied()));
            }
            _ => drop(bytes.splice(at..at, PIECES[random.below(PIECES.len())].bytes())),
        }
    }
    String::from_utf8_lossy(&bytes).into_owned()
}

fn folder(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/it").join(name)
}

fn files(name: &str) -> Vec<Vec<u8>> {
    let mut paths: Vec<PathBuf> =
        fs::read_dir(folder(name)).unwrap().map(|entry| entry.unwrap().path()).collect();
    paths.sort();
    paths.iter().map(|path| fs::read(path).unwrap()).collect()
}

fn lines(name: &str) -> Vec<Vec<u8>> {
    let text = fs::read_to_string(folder(name)).unwrap();
    // The other lines say what a code holds.
    text.lines()
        .filter(|line| !line.is_empty() && !line.contains('{'))
        .map(|line| line.as_bytes().to_vec())
        .collect()
}

/// Feeds a reader; tells how many inputs it took as good. None or all would prove nothing.
fn feed(corpus: &[Vec<u8>], mut is_good: impl FnMut(&str) -> bool) {
    for text in corpus {
        is_good(&String::from_utf8_lossy(text));
    }
    let rounds = std::env::var("FUZZ_ROUNDS").ok().and_then(|text| text.parse().ok());
    let rounds: u32 = rounds.unwrap_or(ROUNDS);
    let mut random = Random(20_261_126);
    let mut good = 0;
    for _ in 0..rounds {
        let text = damaged(&mut random, corpus);
        good += u32::from(is_good(&text));
    }
    assert!(0 < good && good < rounds, "{good} of {rounds} inputs were taken as good");
}

#[test]
fn damaged_records_are_refused_or_read_for_good() {
    feed(&files("records/v1"), |text| match read(text) {
        Read::Good(record) => {
            assert_eq!(read(&to_text(&record)), Read::Good(record), "{text}");
            true
        }
        Read::Newer { .. } | Read::Unreadable { .. } => false,
    });
}

#[test]
fn damaged_backups_are_refused_or_give_records_that_can_be_kept() {
    feed(&files("corpus/backup"), |text| {
        let Ok(backup) = read_backup(text) else { return false };
        let texts: Vec<String> =
            backup.records.clone().into_versions().map(|r| to_text(&r)).collect();
        let again = read_backup(&write_backup(&texts, 0)).unwrap();
        assert!(again.unreadable.is_empty() && again.newer.is_empty(), "{text}");
        assert_eq!(again.records, backup.records, "{text}");
        true
    });
}

#[test]
fn damaged_tables_give_only_tests_that_can_be_kept() {
    let (id, person) = (id(1), local(2));
    let now = Moment { utc_ms: NOW, offset_minutes: 120 };
    feed(&files("corpus/table"), |text| {
        let Ok(import) = read_results(text) else { return false };
        let found = !import.tests.is_empty();
        for row in import.tests {
            let height = row.session.best();
            assert!(height.is_none_or(|best| JUMP_HEIGHT_POSSIBLE.contains(best.0)), "{text}");
            let record = Record::Test(row.into_test(id, person.clone(), now));
            assert_eq!(read(&to_text(&record)), Read::Good(Box::new(record)), "{text}");
        }
        found
    });
}

#[test]
fn damaged_settings_and_drafts_are_refused_or_read_for_good() {
    let settings = Settings::default().to_text().into_bytes();
    feed(&[settings], |text| {
        let Ok(settings) = Settings::parse(text) else { return false };
        assert_eq!(Settings::parse(&settings.to_text()), Ok(settings), "{text}");
        true
    });
    let session = wall_test(1, &local(2), &[2655, 2665, 2675]).session;
    let draft = Draft::new(id(1), "jumps".to_owned(), session, 1).to_text().into_bytes();
    feed(&[draft], |text| {
        let Ok(draft) = Draft::parse(text) else { return false };
        assert_eq!(Draft::parse(&draft.to_text()), Ok(draft), "{text}");
        true
    });
}

#[test]
fn damaged_links_and_slips_are_refused_or_say_what_they_said() {
    let whole = lines("class_v1/links.txt");
    feed(&whole, |text| {
        let Ok(invitation) = read_link(text) else { return false };
        let code = write_link(&invitation).unwrap();
        assert_eq!(read_link(&code), Ok(invitation), "{text}");
        true
    });
    let today = NaiveDate::from_ymd_opt(2026, 11, 26).unwrap();
    feed(&lines("class_v1/slips.txt"), |text| {
        let Ok(slip) = Slip::read(text, today) else { return false };
        assert_eq!(Slip::read(&slip.write().unwrap(), today), Ok(slip), "{text}");
        true
    });
}
