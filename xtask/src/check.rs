//! Every check, in the order in which a mistake shows soonest. One that fails does not keep the
//! others from running; the last line counts.

use crate::browser;
use crate::dependencies;
use crate::page;
use crate::shell::{self, Outcome, problem};
use crate::sizes;
use crate::toolchain::{WASM, Wasm, pinned};
use crate::tools;
use std::process::Command;
use std::time::{Duration, Instant};

/// What has been found so far.
#[derive(Default)]
struct Tally {
    passed: u64,
    failed: u64,
    /// Steps that failed, in words.
    troubles: Vec<String>,
    times: Vec<(&'static str, Duration)>,
}

/// Runs everything; `true` when nothing failed.
pub fn run() -> Outcome<bool> {
    browser::ready()?;
    let wasm = Wasm::find()?;
    tools::ready()?;
    let mut tally = Tally::default();
    tally.step("format", |_| cargo("format", &["fmt", "--all", "--check"]));
    tally.step("dependencies", |_| dependencies::check());
    tally.step("clippy", |_| {
        cargo("clippy", &["clippy", "--workspace", "--all-targets", "--", "-D", "warnings"])
    });
    tally.step("clippy of the page", |_| {
        let page = ["--features", "ui", "--bin", "two-marks-web"];
        cargo("clippy", &[&["clippy"], &page[..], &["--", "-D", "warnings"]].concat())
    });
    tally.step("native tests", |tally| {
        let mut test = pinned("cargo");
        test.args(["test", "--workspace", "--no-fail-fast"]);
        tally.count("cargo test", &mut test)
    });
    let built = tally.step("page", |_| page::build());
    if built {
        tally.step("sizes", |_| sizes::check());
        tally.step("browser tests", |tally| {
            tally.count("browser tests", &mut browser::script("run.mjs")?)
        });
    }
    report_wasm_clippy(&wasm);
    Ok(tally.finish())
}

impl Tally {
    fn step(&mut self, name: &'static str, run: impl FnOnce(&mut Self) -> Outcome) -> bool {
        shell::step(name);
        let start = Instant::now();
        let before = self.failed;
        let outcome = run(self);
        self.times.push((name, start.elapsed()));
        if let Err(why) = &outcome {
            println!("   FAILED: {why}");
            self.troubles.push(format!("{name}: {why}"));
            // A step that failed as a whole counts once; failed tests have counted themselves.
            self.failed = self.failed.max(before + 1);
        }
        outcome.is_ok()
    }

    /// Runs a program whose output tells how many tests passed and failed.
    fn count(&mut self, what: &str, command: &mut Command) -> Outcome {
        let (mut passed, mut failed) = (0, 0);
        let status = shell::run_reading(what, command, |line| {
            if let Some((more_passed, more_failed)) = counts(line) {
                passed += more_passed;
                failed += more_failed;
            }
        })?;
        self.passed += passed;
        self.failed += failed;
        if !status.success() || failed > 0 {
            return Err(problem(format!("{failed} failed ({status}).")));
        }
        if passed == 0 {
            return Err(problem("no test was run."));
        }
        Ok(())
    }

    /// Prints the summary, whose last line counts; `true` when nothing failed.
    fn finish(&self) -> bool {
        println!();
        for (name, time) in &self.times {
            println!("{:>6} s  {name}", time.as_secs());
        }
        for trouble in &self.troubles {
            println!("FAILED  {trouble}");
        }
        println!("{} passed, {} failed", self.passed, self.failed);
        self.failed == 0
    }
}

/// Reads `test result: ok. 3 passed; 0 failed; ...` and `browser tests: 3 passed, 0 failed`.
fn counts(line: &str) -> Option<(u64, u64)> {
    let rest =
        line.strip_prefix("test result: ").or_else(|| line.strip_prefix("browser tests: "))?;
    let before = |word: &str| {
        let mut words = rest.split([' ', ',', ';']).filter(|part| !part.is_empty());
        let mut last = None;
        words.find_map(|part| {
            let number = if part == word { last } else { None };
            last = part.parse().ok();
            number
        })
    };
    Some((before("passed")?, before("failed")?))
}

fn cargo(what: &str, arguments: &[&str]) -> Outcome {
    shell::run(what, pinned("cargo").args(arguments))
}

/// The page's own target is linted by another compiler on some machines, whose newer lints should
/// not fail a build: this only reports.
fn report_wasm_clippy(wasm: &Wasm) {
    let mut clippy = match wasm {
        Wasm::Pinned => pinned("cargo"),
        Wasm::Debian { .. } if std::path::Path::new("/usr/bin/clippy-driver").is_file() => {
            let mut cargo = pinned("/usr/bin/cargo");
            cargo.env_remove("CLIPPY_CONF_DIR");
            cargo
        }
        Wasm::Debian { .. } => return,
    };
    shell::step("clippy for wasm32 (reports only)");
    clippy.args(["clippy", "--target", WASM, "--features", "ui", "--bin", "two-marks-web"]);
    let ran = wasm
        .prepare(&mut clippy, Vec::new())
        .and_then(|()| shell::run("clippy for wasm32", &mut clippy));
    if let Err(why) = ran {
        println!("   report: {why}");
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn counts_are_read_from_both_kinds_of_line() {
        let cargo = "test result: FAILED. 12 passed; 3 failed; 0 ignored; 0 measured";
        assert_eq!(counts(cargo), Some((12, 3)));
        assert_eq!(counts("browser tests: 7 passed, 0 failed"), Some((7, 0)));
        assert_eq!(counts("test a ... ok"), None);
    }

    #[test]
    fn a_failed_step_counts_and_a_failed_test_counts_once() {
        let mut tally = Tally::default();
        assert!(tally.step("a", |_| Ok(())));
        assert!(!tally.step("b", |_| Err("broken".into())));
        assert!(!tally.step("c", |tally| {
            tally.failed += 2;
            Err("two tests failed".into())
        }));
        assert_eq!((tally.failed, tally.troubles.len()), (3, 2));
        assert!(!tally.finish());
    }
}
