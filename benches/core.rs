//! Times the core on invented records, by hand: `cargo bench`. `cargo xtask bench` runs it too and
//! enters the middle times in docs/speed.md.

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use two_marks::assess::{Span, assess, season_story};
use two_marks::history::{Person, Record, Test, read_backup};
use two_marks::trend::model::{self, SeasonTest, Who};

const TESTS: u32 = 10_000;
const SEASON: usize = 300;

/// A grown-up and a test on each of the first 27 days of every month, as backup text.
fn backup() -> String {
    let mut lines = vec![
        r#"{"v":1,"k":"p","i":"BsRdGIAJRU_4i7iockyB7A","l":"BsRd","r":1,"e":1,"name":"Wren","born":197501,"cmp":"both","u":"cm/2"}"#
            .to_owned(),
    ];
    for n in 0..TESTS {
        let (year, month, day) = (1994 + n / 324, 1 + n / 27 % 12, 1 + n % 27);
        let date = year * 10_000 + month * 100 + day;
        let marks = [2700, 2710, 2705].map(|mark| mark + n * 7 % 61);
        lines.push(format!(
            r#"{{"v":1,"k":"t","i":"bench{n:016}A","p":"BsRd","r":1,"e":1,"d":{date},"m":1020,"o":120,"u":"cm/2","reach":[2240,2250,2245],"trials":{marks:?}}}"#
        ));
    }
    format!(r#"{{"kind":"two-marks backup","version":1,"records":[{}]}}"#, lines.join(","))
}

/// The person and the tests of a backup; nothing unless all of them could be read, because a bench
/// over fewer records than it says would look fast.
fn read(text: &str) -> Option<(Person, Vec<Test>)> {
    let backup = read_backup(text).ok()?;
    let mut person = None;
    let mut tests = Vec::new();
    for record in backup.records.counting() {
        match record {
            Record::Person(one) => person = Some(one.clone()),
            Record::Test(test) => tests.push(test.clone()),
            _ => {}
        }
    }
    Some((person?, tests)).filter(|(_, tests)| tests.len() == TESTS as usize)
}

fn core(bench: &mut Criterion) {
    let text = backup();
    let Some((person, tests)) = read(&text) else {
        eprintln!("the bench's own backup cannot be read in full");
        std::process::exit(1);
    };
    let Some(test) = tests.first() else { return };

    bench.bench_function("parse_10000", |b| b.iter(|| read_backup(black_box(&text))));
    // The whole story looks back from every test, so it grows with the square of their number:
    // nobody has 10,000 tests, and the model alone is timed at that length below.
    let season = tests.get(..SEASON).unwrap_or_default();
    bench.bench_function("season_300", |b| {
        let key = test.session.key;
        b.iter(|| season_story(black_box(&person), black_box(season), key, Span::All));
    });
    bench.bench_function("percentiles_of_one_test", |b| {
        b.iter(|| assess(black_box(test), black_box(&person), &[]));
    });

    let line: Vec<SeasonTest> = (0..TESTS)
        .map(|n| SeasonTest {
            day: f64::from(n),
            height_cm: 45.0 + f64::from(n * 7 % 61) / 20.0,
            rest_variance_cm2: 0.9,
            day_sd_cm: 1.0,
            earlier: n,
            growth_cm: 0.0,
        })
        .collect();
    bench.bench_function("season_model_10000", |b| {
        b.iter(|| model::season(black_box(&line), 0, Who::Adult));
    });
}

criterion_group! {
    name = benches;
    config = Criterion::default().sample_size(20);
    targets = core
}
criterion_main!(benches);
