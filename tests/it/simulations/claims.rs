//! How often a season claims what is not so.

use std::fmt::Write;

use two_marks::quantity::Sex::{self, Female, Male};
use two_marks::trend::model::Verdict;

use super::draw::Draw;
use super::lived::{Dates, Habit, Lived, Scenario};
use super::people::{
    ADULT, BOY_OF_11, BOY_OF_12, BOY_OF_13, GIRL_OF_10, GIRL_OF_11, GIRL_OF_12, GIRL_OF_13, Kind,
};
use super::truth::{Course, Growth, NO_LEARNING_CM, SLOW_LEARNING_CM};

pub(super) const RUNS: u32 = 2_000;
const SEED: u64 = 20_261_201;
/// Spread of growth between children of an age, cm a year. Nobody printed one: it is made up here,
/// wide enough that one child in twenty of the slow ages gets lower.
const GROWTH_SD: f64 = 2.0;

/// What is asked of a row.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Bound {
    /// At most so many gains, and so many losses.
    Most(f64, f64),
    /// Nothing: here the model is at its limit, and the page of rates says how far beyond.
    Limit,
    /// A truth that must fall outside.
    Wrong,
}
use Bound::{Limit, Most, Wrong};

/// Seasons in 100.
pub(super) struct Claims {
    pub(super) name: &'static str,
    pub(super) bound: Bound,
    pub(super) gain: f64,
    pub(super) loss: f64,
    pub(super) clear: f64,
}

type Row = (&'static str, Bound, Scenario);

fn adult() -> Scenario {
    Scenario::new(ADULT, Growth::None)
}

fn child(kind: Kind, sex: Sex) -> Scenario {
    Scenario::new(kind, Growth::WallSeries { sex, sd: GROWTH_SD })
}

fn between(kind: Kind, sex: Sex, from: f64, to: f64) -> Scenario {
    Scenario::new(kind, Growth::Between { sex, from, to })
}

/// With two practice tests before, as the page asks for.
fn back(sign: f64) -> Scenario {
    let dates = Dates::PracticeThenIrregular { tests: 28, days: 270.0 };
    Scenario { course: Course::LostAndWonBack { sign }, dates, ..adult() }
}

fn days(day_factor: f64) -> Scenario {
    Scenario { day_factor, ..adult() }
}

fn bounded() -> Vec<Row> {
    let slow = Scenario { learning_cm: SLOW_LEARNING_CM, ..adult() };
    let grows = Most(10.0, 5.0);
    vec![
        ("adult, nothing changes", Most(5.0, 5.0), adult()),
        (
            "adult, no learning at all",
            Most(5.0, 5.0),
            Scenario { learning_cm: NO_LEARNING_CM, ..adult() },
        ),
        ("adult, slow learner (3, 2, 1.3 … cm)", Most(10.0, 5.0), slow),
        ("adult, day spread 1.5 times the typical", Most(8.0, 8.0), days(1.5)),
        ("adult, day spread twice the typical", Most(15.0, 14.0), days(2.0)),
        (
            "adult, a day's luck lasts 14 days",
            Most(8.0, 8.0),
            Scenario { luck_days: 14.0, ..adult() },
        ),
        ("adult, 4 to 5 cm lost and won back; after it", Most(5.0, 5.0), back(1.0)),
        ("adult, 4 to 5 cm gained and lost again; after it", Most(5.0, 5.0), back(-1.0)),
        ("boy of 11, grows as the wall series", grows, child(BOY_OF_11, Male)),
        ("boy of 12, grows as the wall series", grows, child(BOY_OF_12, Male)),
        ("boy of 13, grows as the wall series", grows, child(BOY_OF_13, Male)),
        ("boy of 13, grows 4 to 8 cm a year", grows, between(BOY_OF_13, Male, 4.0, 8.0)),
        ("girl of 10, grows as the wall series", grows, child(GIRL_OF_10, Female)),
        ("girl of 11, grows as the wall series", grows, child(GIRL_OF_11, Female)),
        ("girl of 12, grows as the wall series", grows, child(GIRL_OF_12, Female)),
        ("girl of 13, grows as the wall series", grows, child(GIRL_OF_13, Female)),
    ]
}

/// What the bounds do not name; held to the bounds of an adult whose jump does not change.
fn untried() -> Vec<Row> {
    let habit = |habit| Scenario { habit, ..adult() };
    vec![
        ("adult, one test in five tired", Most(5.0, 5.0), habit(Habit::SomeTired)),
        ("adult, one to three jumps a test", Most(5.0, 5.0), habit(Habit::MissingTrials)),
        ("adult, tenths, halves and quarter inches", Most(5.0, 5.0), habit(Habit::MixedDivisions)),
    ]
}

/// Where the model does not hold what it holds elsewhere.
fn limits() -> Vec<Row> {
    let early = Dates::Irregular { tests: 30, days: 270.0 };
    let slid = Scenario { course: Course::SlidAndWonBack, ..back(1.0) };
    vec![
        (
            "adult, lost and won back, no practice before; after it",
            Limit,
            Scenario { dates: early, ..back(1.0) },
        ),
        (
            "adult, gained and lost again, no practice before; after it",
            Limit,
            Scenario { dates: early, ..back(-1.0) },
        ),
        ("adult, lost bit by bit from day 0 on, won back; after it", Limit, slid),
    ]
}

/// Truths that must leave the bounds.
fn wrong() -> Vec<Row> {
    let stays = Scenario { course: Course::Rise { cm: 4.0, days: 56.0 }, ..adult() };
    vec![
        ("adult, really 4 cm higher from week 8 on", Wrong, stays),
        ("boy of 13, grows 16 cm a year", Wrong, between(BOY_OF_13, Male, 15.0, 17.0)),
        ("adult, day spread four times the typical", Wrong, days(4.0)),
    ]
}

fn claims((name, bound, scenario): &Row, runs: u32, seed: u64) -> Claims {
    let mut draw = Draw::new(seed);
    let (mut gains, mut losses, mut clears) = (0_u32, 0_u32, 0_u32);
    for _ in 0..runs {
        let lived = Lived::draw(scenario, &mut draw);
        let from = match scenario.course {
            Course::LostAndWonBack { .. } | Course::SlidAndWonBack => {
                lived.until(lived.life.counted_from_day()) + 1
            }
            _ => 2,
        };
        let (mut gain, mut loss, mut clear) = (false, false, false);
        for tests in from.max(2)..=lived.tests.len() {
            match lived.look(tests).1 {
                Verdict::Higher { clear: is_clear } => (gain, clear) = (true, clear || is_clear),
                Verdict::Lower { clear: is_clear } => (loss, clear) = (true, clear || is_clear),
                _ => {}
            }
        }
        gains += u32::from(gain);
        losses += u32::from(loss);
        clears += u32::from(clear);
    }
    let share = |count: u32| 100.0 * f64::from(count) / f64::from(runs);
    let (gain, loss, clear) = (share(gains), share(losses), share(clears));
    Claims { name, bound: *bound, gain, loss, clear }
}

pub(super) fn all() -> Vec<Claims> {
    let rows = bounded().into_iter().chain(untried()).chain(limits()).chain(wrong());
    let mut all: Vec<Claims> =
        rows.zip(SEED..).map(|(row, seed)| claims(&row, RUNS, seed)).collect();
    let weekly = Scenario { dates: Dates::Every { gap_days: 7, until_day: 728 }, ..adult() };
    let weekly = ("adult, every week for two years", Most(5.0, 5.0), weekly);
    all.push(claims(&weekly, WEEKLY_RUNS, SEED + 100));
    all
}

/// A hundred looks a season: fewer seasons.
const WEEKLY_RUNS: u32 = 300;

/// The old rule's figures, any look, gain and loss in 100, as printed or found on 1 December 2026; the
/// rule itself is gone.
const OLD: [(&str, &str, &str); 12] = [
    ("adult, nothing changes", "3.8", "2.9"),
    ("adult, no learning at all", "4.2", "2.7"),
    ("adult, slow learner (3, 2, 1.3 … cm)", "14.1", "0.7"),
    ("adult, day spread 1.5 times the typical", "12.3", "11.5"),
    ("adult, day spread twice the typical", "24.7", "22.1"),
    ("adult, a day's luck lasts 14 days", "7.7", "9.5"),
    ("adult, 4 to 5 cm lost and won back; after it", "55–85", "0–2"),
    ("adult, 4 to 5 cm gained and lost again; after it", "0–1", "73–75"),
    ("boy of 11, grows as the wall series", "7.5", "0–0.5"),
    ("boy of 12, grows as the wall series", "8.9", "0–0.5"),
    ("boy of 13, grows 4 to 8 cm a year", "1.8", "0.3"),
    ("girl of 10, grows as the wall series", "7.4", "0–0.8"),
];

pub(super) fn page(claims: &[Claims]) -> String {
    let mut page = format!(
        "\n## How often a season claims what is not so\n\n\
         {RUNS} seasons per row ({WEEKLY_RUNS} of the weekly one), seed {SEED}. Thirty tests in 270 \
         days, at irregular dates,\nand a look after every test. People lack 1.5 and 0.7 cm in their \
         first two tests unless the row says otherwise.\nChildren grow as the three wall series are \
         printed, each faster or slower by an SD of {GROWTH_SD} cm a year (made up).\n\"Most\" is \
         the bound in the test for a gain and for a loss. At a \"limit\" none is held: a fall right \
         after the first\ntests is taken in part for a low start. A \"wrong\" truth must leave the \
         bounds. How much days differ is drawn for\neach person, around the typical. Won back and \
         lost again have two practice tests before, ten and five days early.\n\
         The old rule (a smooth line without trend, two practice tests outside) \
         was judged by another generator on 1 December 2026;\nits figures are copied once.\n\n\
         | truth | most | a gain | a loss | either, clear | old rule: gain | loss |\n\
         |---|---|---|---|---|---|---|\n"
    );
    for row in claims {
        let old = OLD.iter().find(|old| old.0 == row.name);
        let (old_gain, old_loss) = old.map_or(("", ""), |old| (old.1, old.2));
        let most = match row.bound {
            Most(gain, loss) => format!("{gain} / {loss}"),
            Limit => "limit".to_owned(),
            Wrong => "wrong".to_owned(),
        };
        let (name, gain, loss, clear) = (row.name, row.gain, row.loss, row.clear);
        writeln!(
            page,
            "| {name} | {most} | {gain:.1} | {loss:.1} | {clear:.1} | {old_gain} | {old_loss} |"
        )
        .unwrap();
    }
    page.push_str("\nNumbers are seasons in 100, at any look.\n");
    page
}
