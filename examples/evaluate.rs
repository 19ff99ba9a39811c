//! What the pages say of every test of a backup file, as JSON:
//! `cargo run --example evaluate < backup.json`. `docs/evaluate.md` describes the output.
//!
//! Exit code 0: evaluated, perhaps with warnings on standard error. 1: the input is no backup that
//! can be read; one sentence on standard error says why. 2: reading or writing failed, or there was
//! an argument.

use std::io::{Read, Write};
use std::process::ExitCode;

use two_marks::history::BACKUP_BYTES_MAX;

#[path = "evaluate/report.rs"]
mod report;

fn main() -> ExitCode {
    if std::env::args().nth(1).is_some() {
        return stop(2, "This takes no arguments: give the backup file on standard input.");
    }
    let mut input = Vec::new();
    // One byte more than is allowed shows that a file is too large without reading all of it.
    let most = u64::try_from(BACKUP_BYTES_MAX).unwrap_or(u64::MAX).saturating_add(1);
    if std::io::stdin().lock().take(most).read_to_end(&mut input).is_err() {
        return stop(2, "Standard input could not be read.");
    }
    let evaluation = match report::evaluate(&input) {
        Ok(evaluation) => evaluation,
        Err(refusal) => return stop(1, &refusal.to_string()),
    };
    for warning in &evaluation.warnings {
        tell(&format!("warning: {warning}"));
    }
    let mut out = std::io::stdout().lock();
    let written = writeln!(out, "{:#}", evaluation.json).and_then(|()| out.flush());
    match written {
        Ok(()) => ExitCode::SUCCESS,
        Err(_) => stop(2, "Standard output could not be written."),
    }
}

fn stop(code: u8, sentence: &str) -> ExitCode {
    tell(sentence);
    ExitCode::from(code)
}

/// Writes a line to standard error. When even that fails nobody is there to be told.
fn tell(line: &str) {
    let _ = writeln!(std::io::stderr(), "{line}");
}
