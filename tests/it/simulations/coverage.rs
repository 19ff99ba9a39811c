//! How often a person's true usual height lies within one standard error of a session's mean.

use std::fmt::Write;

use super::draw::Draw;
use super::judged::Judge;
use super::people::{ADULT, BOY_OF_13, CHILD, GIRL_OF_10, GIRL_OF_16, Kind, Person};

const RUNS: u32 = 6_000;
const SEED: u64 = 20_260_301;
/// The ± is shown in steps of half a centimetre.
const SHOWN_STEP_CM: f64 = 0.5;

pub(super) struct Coverage {
    pub(super) name: String,
    factor: f64,
    /// Share with the standard error as computed.
    pub(super) exact: f64,
    /// Share with the standard error rounded as shown.
    pub(super) shown: f64,
    se_cm_mean: f64,
}

impl Coverage {
    pub(super) fn is_prior_true(&self) -> bool {
        (self.factor - 1.0).abs() < 1e-9
    }
}

/// The person has done `earlier` sessions; the next one is judged.
fn coverage(name: &str, kind: Kind, earlier: usize, factor: f64, seed: u64) -> Coverage {
    let mut draw = Draw::new(seed);
    let (mut exact, mut shown, mut se_sum) = (0_u32, 0_u32, 0.0);
    for _ in 0..RUNS {
        let person = Person::draw(kind, factor, &mut draw);
        let mut judge = Judge::new(kind.age_years);
        for session in 0..earlier {
            judge.judge(&person.session(session, person.usual_cm, &mut draw));
        }
        let judged = judge.judge(&person.session(earlier, person.usual_cm, &mut draw));
        let off = (judged.height_cm - person.usual_cm).abs();
        let rounded = (judged.se_cm / SHOWN_STEP_CM).round() * SHOWN_STEP_CM;
        exact += u32::from(off <= judged.se_cm);
        shown += u32::from(off <= rounded);
        se_sum += judged.se_cm;
    }
    let share = |count: u32| f64::from(count) / f64::from(RUNS);
    Coverage {
        name: name.to_owned(),
        factor,
        exact: share(exact),
        shown: share(shown),
        se_cm_mean: se_sum / f64::from(RUNS),
    }
}

pub(super) fn all() -> Vec<Coverage> {
    let people = [
        ("child of 8, second session", CHILD, 1),
        ("girl of 10, second session", GIRL_OF_10, 1),
        ("boy of 13, first session", BOY_OF_13, 0),
        ("boy of 13, sixth session", BOY_OF_13, 5),
        ("girl of 16, sixth session", GIRL_OF_16, 5),
        ("adult, first session", ADULT, 0),
        ("adult, second session", ADULT, 1),
        ("adult, tenth session", ADULT, 9),
    ];
    let mut coverages = Vec::new();
    for (factor, seed) in [(1.0, SEED), (0.5, SEED + 100), (2.0, SEED + 200)] {
        for ((name, kind, earlier), step) in people.into_iter().zip(0..) {
            coverages.push(coverage(name, kind, earlier, factor, seed + step));
        }
    }
    coverages
}

pub(super) fn page(coverages: &[Coverage]) -> String {
    let mut page = String::from(
        "# Simulated rates\n\n\
         This page is written by the test suite and checked by it. To write it anew:\n\
         `UPDATE_EXPECT=1 cargo test --test it simulations`\n\n\
         Everything here is our own reckoning with invented people, not a finding about real ones.\n\n\
         ## How often the usual jump lies in the hatched part\n\n\
         The page says \"about 2 times in 3\". The hatched part is the mean of the first three \
         trials,\nplus and minus one standard error. It is about the person's long-run usual \
         height.\n",
    );
    write!(
        page,
        "{RUNS} people per row, seed {SEED}. Three reaches and three marks are read to half a \
         centimetre.\nBound in the test: 60 to 75 in 100 where the assumed spreads are true.\n\n\
         | person | spreads half the assumed | as assumed | as assumed, ± shown to 0.5 cm | twice \
         the assumed | mean ± (cm) |\n|---|---|---|---|---|---|\n"
    )
    .unwrap();
    let find = |name: &str, factor: f64| {
        coverages.iter().find(|c| c.name == name && (c.factor - factor).abs() < 1e-9).unwrap()
    };
    for true_prior in coverages.iter().filter(|coverage| coverage.is_prior_true()) {
        let name = &true_prior.name;
        writeln!(
            page,
            "| {name} | {:.0} | {:.0} | {:.0} | {:.0} | {:.1} |",
            find(name, 0.5).exact * 100.0,
            true_prior.exact * 100.0,
            true_prior.shown * 100.0,
            find(name, 2.0).exact * 100.0,
            true_prior.se_cm_mean,
        )
        .unwrap();
    }
    page.push_str("\nNumbers are people in 100.\n");
    page
}
