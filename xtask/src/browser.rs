//! Node scripts under `tests/browser/` that drive a real Chromium.

use crate::places;
use crate::shell::{self, Outcome};
use crate::system;
use std::path::PathBuf;
use std::process::Command;

/// Installs what the scripts need: system programs and the driver's packages by their lock file.
pub fn ready() -> Outcome {
    system::node()?;
    system::programs(system::FOR_TESTS)?;
    let folder = folder();
    let lock = shell::read_file(&folder.join("package-lock.json"))?;
    // A copy of the lock file beside what was installed by it tells whether it is still right.
    let note = folder.join("node_modules/.installed-by-lock.json");
    if std::fs::read_to_string(&note).is_ok_and(|installed| installed == lock) {
        return Ok(());
    }
    shell::step("installing the browser tests' packages");
    let mut npm = Command::new("npm");
    npm.current_dir(&folder).args(["ci", "--ignore-scripts", "--no-audit", "--no-fund"]);
    shell::run("npm ci", &mut npm).map_err(|why| {
        format!("{why} The driver comes from npm's registry: is the network there?")
    })?;
    shell::write_file(&note, lock)
}

/// A command that runs one of the scripts.
pub fn script(name: &str) -> Outcome<Command> {
    let program = std::env::current_exe().map_err(|why| format!("xtask's own path: {why}."))?;
    let mut node = Command::new("node");
    node.current_dir(places::root()).arg(folder().join(name)).env("TWO_MARKS_XTASK", program);
    Ok(node)
}

/// Where the scripts and their lock file stand.
pub fn folder() -> PathBuf {
    places::root().join("tests/browser")
}
