//! Whether a stated probability is a true one, and whether the hatch holds the level.

use std::fmt::Write;

use two_marks::quantity::Sex::Male;

use super::draw::Draw;
use super::lived::{Dates, Lived, Scenario};
use super::people::{ADULT, BOY_OF_13, BOY_OF_16, Kind};
use super::truth::{Course, Growth};

pub(super) const RUNS: u32 = 2_000;
const SEED: u64 = 20_261_401;
const GROWTH_SD: f64 = 2.0;
/// Fewest seasons in a bin that is judged.
const BIN_LEAST: usize = 200;
/// What is worth naming, cm.
const WORTH_CM: f64 = 1.5;

/// Seasons that state about the same.
#[derive(Clone, Copy, Debug)]
pub(super) struct Bin {
    seasons: usize,
    /// Mean of the stated probabilities, and how often it was so; in 100.
    stated: f64,
    pub(super) is_so: f64,
}

pub(super) struct Stated {
    pub(super) name: &'static str,
    /// Points that stated and true may differ; `None` for a truth that must differ more.
    pub(super) most: Option<f64>,
    bins: Vec<Bin>,
}

impl Stated {
    /// The largest difference of a bin that is judged.
    pub(super) fn worst(&self) -> f64 {
        self.bins.iter().map(|bin| (bin.stated - bin.is_so).abs()).fold(0.0, f64::max)
    }
}

/// Seasons in 100 whose level is in the hatch at the first and the last test, look by look.
pub(super) struct Hatch {
    pub(super) name: &'static str,
    /// Least share at the last test.
    pub(super) least_at_last: f64,
    /// By week of the look: first and last test.
    pub(super) held: Vec<(u32, [f64; 2])>,
    /// Whether the bounds hold for its last test too.
    pub(super) is_bounded: bool,
}

fn who(kind: Kind) -> Scenario {
    let series = Growth::WallSeries { sex: Male, sd: GROWTH_SD };
    let growth = if kind.age_years < 18 { series } else { Growth::None };
    Scenario::new(kind, growth)
}

fn stated(name: &'static str, scenario: &Scenario, most: Option<f64>, seed: u64) -> Stated {
    let mut draw = Draw::new(seed);
    let mut seen: Vec<(f64, bool)> = Vec::new();
    for _ in 0..RUNS {
        let lived = Lived::draw(scenario, &mut draw);
        let is_so = lived.life.own_cm(1_000.0) > WORTH_CM;
        seen.push((lived.look(lived.tests.len()).0.p_own_higher, is_so));
    }
    seen.sort_by(|a, b| a.0.total_cmp(&b.0));
    // Tenths of the stated probability; a tenth with too few joins the next one.
    let (mut bins, mut from) = (Vec::new(), 0);
    for upper in 1..=10 {
        let to = seen.partition_point(|one| one.0 < f64::from(upper) / 10.0);
        let to = if upper == 10 { seen.len() } else { to };
        let left = seen.len() - to;
        if to - from >= BIN_LEAST && (left == 0 || left >= BIN_LEAST) || upper == 10 {
            bins.push(bin(&seen[from..to]));
            from = to;
        }
    }
    Stated { name, most, bins }
}

fn bin(seen: &[(f64, bool)]) -> Bin {
    let share = |sum: f64| 100.0 * sum / seen.len() as f64;
    let stated = share(seen.iter().map(|one| one.0).sum());
    let is_so = share(seen.iter().filter(|one| one.1).count() as f64);
    Bin { seasons: seen.len(), stated, is_so }
}

pub(super) fn all_stated() -> Vec<Stated> {
    let to = |kind, until_day| Scenario {
        course: Course::DrawnRise { mean_cm: 2.0, sd_cm: 2.5, days: 56.0 },
        dates: Dates::PracticeThenEvery { gap_days: 14, until_day },
        ..who(kind)
    };
    let wrong = Scenario {
        course: Course::DrawnRise { mean_cm: -1.0, sd_cm: 1.2, days: 56.0 },
        ..to(ADULT, 70)
    };
    vec![
        stated("adult, week 10", &to(ADULT, 70), Some(12.0), SEED),
        stated("adult, week 26", &to(ADULT, 182), Some(12.0), SEED + 1),
        stated("boy of 13, week 10", &to(BOY_OF_13, 70), Some(14.0), SEED + 2),
        stated("boy of 13, week 26", &to(BOY_OF_13, 182), Some(14.0), SEED + 3),
        stated("boy of 16, week 10", &to(BOY_OF_16, 70), Some(17.0), SEED + 4),
        stated("boy of 16, week 26", &to(BOY_OF_16, 182), Some(17.0), SEED + 5),
        stated("adult, gains from N(−1, 1.2), week 10", &wrong, None, SEED + 6),
    ]
}

fn hatch(
    name: &'static str,
    scenario: &Scenario,
    least_at_last: f64,
    weeks: &[u32],
    seed: u64,
) -> Hatch {
    let mut draw = Draw::new(seed);
    let mut held = vec![[0_u32; 2]; weeks.len()];
    for _ in 0..RUNS {
        let lived = Lived::draw(scenario, &mut draw);
        for (held, week) in held.iter_mut().zip(weeks) {
            let tests = lived.until(f64::from(7 * week));
            for (count, is_in) in held.iter_mut().zip(lived.is_in_hatch(tests)) {
                *count += u32::from(is_in);
            }
        }
    }
    let share = |count: u32| 100.0 * f64::from(count) / f64::from(RUNS);
    let held = weeks.iter().zip(held).map(|(week, held)| (*week, held.map(share))).collect();
    Hatch { name, least_at_last, held, is_bounded: true }
}

pub(super) fn all_hatches() -> Vec<Hatch> {
    let of = |course| Scenario { course, ..who(ADULT) };
    let gain = of(Course::Rise { cm: 5.0, days: 270.0 });
    let dip = Scenario {
        dates: Dates::PracticeThenIrregular { tests: 28, days: 270.0 },
        ..of(Course::LostAndWonBack { sign: 1.0 })
    };
    // Six tests before; the fall comes right before the test a week later.
    let fall = Scenario {
        course: Course::Sudden { cm: -5.0, day: 63.0 },
        dates: Dates::PracticeThenEvery { gap_days: 14, until_day: 70 },
        ..who(ADULT)
    };
    vec![
        hatch("adult, nothing changes", &of(Course::Unchanged), 55.0, &[10, 20, 39], SEED + 20),
        hatch("adult, + 5 cm, evenly", &gain, 55.0, &[10, 20, 39], SEED + 21),
        hatch("adult, 4 to 5 cm lost and won back", &dip, 50.0, &[10, 20, 39], SEED + 22),
        Hatch {
            is_bounded: false,
            ..hatch("adult, the week after 5 cm are lost at once", &fall, 55.0, &[10], SEED + 23)
        },
    ]
}

pub(super) fn page(stated: &[Stated], hatches: &[Hatch]) -> String {
    let mut page = format!(
        "\n## How true the stated chances are\n\n\
         {RUNS} seasons per row, seed {SEED}. Gains are drawn from N(2, 2.5) and come over weeks 0 \
         to 8. Two practice tests,\nthen a test every two weeks. Seasons that state about the same \
         chance of \"more than 1.5 cm higher, beyond what\nthe age brings\" are put together, at \
         least {BIN_LEAST} of them; each cell says stated → true, in 100.\n\n\
         | truth | most apart | worst | stated → true |\n|---|---|---|---|\n"
    );
    for row in stated {
        let cells: Vec<String> = row
            .bins
            .iter()
            .map(|bin| format!("{:.0} → {:.0} ({})", bin.stated, bin.is_so, bin.seasons))
            .collect();
        let most = row.most.map_or("none".to_owned(), |most| most.to_string());
        writeln!(page, "| {} | {most} | {:.0} | {} |", row.name, row.worst(), cells.join(", "))
            .unwrap();
    }
    page.push_str(
        "\nThe number of seasons stands in brackets. The old rule said 20 where 63 in 100 were true \
         (found on 1 December 2026).\n\n\
         ## How often the level lies in the season's hatch\n\n\
         The page says \"about 2 times in 3\". Bound in the test: 55 to 83 at the first and the \
         last test of each look,\n50 to 83 at the last one of a dip.\n\n\
         | truth | look in week | first test | last test |\n|---|---|---|---|\n",
    );
    for row in hatches {
        for (week, [first, last]) in &row.held {
            writeln!(page, "| {} | {week} | {first:.0} | {last:.0} |", row.name).unwrap();
        }
    }
    page.push_str(
        "\nNumbers are seasons in 100. After a sudden fall the hatch lags: no bound is held \
         there.\n",
    );
    page
}
