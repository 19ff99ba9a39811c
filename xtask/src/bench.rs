//! Measures the finished page and writes docs/speed.md. Times wobble, so this is no check: it runs
//! by hand, on a machine that does nothing else.

use crate::browser;
use crate::page;
use crate::places;
use crate::shell::{self, Outcome, problem};
use crate::toolchain::{self, Wasm, pinned};
use crate::versions::LIGHTHOUSE;
use std::path::{Path, PathBuf};
use std::process::Command;

/// Builds the page and the floor, measures both, and writes the table.
pub fn run() -> Outcome {
    browser::ready()?;
    let lighthouse = lighthouse();
    if let Err(why) = &lighthouse {
        println!("   Lighthouse will be reported as not run: {why}");
    }
    page::build()?;
    let floor = floor()?;
    core()?;
    shell::step("measuring in the browser");
    let mut script = browser::script("bench/run.mjs")?;
    script
        .arg(places::dist())
        .arg(floor)
        .arg(criterion())
        .arg(places::root().join("docs/speed.md"));
    if let Ok(command) = lighthouse {
        script.arg(command);
    }
    shell::run("measuring in the browser", &mut script)?;
    println!("   written: docs/speed.md");
    Ok(())
}

/// The bare page of the framework, built with the page's own profile and lock file.
fn floor() -> Outcome<PathBuf> {
    shell::step("building the floor");
    let dist = places::target().join("bench/floor");
    let wasm = Wasm::find()?;
    let mut trunk = page::trunk(&wasm)?;
    toolchain::in_one_piece(&mut trunk);
    trunk.arg("--config").arg(bench().join("floor/Trunk.toml"));
    trunk.args(["build", "--release", "--dist"]).arg(&dist).arg(bench().join("floor/index.html"));
    shell::run("building the floor", &mut trunk)?;
    Ok(dist)
}

/// The core's own benches, whose results the script reads from their folder.
fn core() -> Outcome {
    shell::step("benches of the core");
    let mut benches = pinned("cargo");
    benches.args(["bench", "--bench", "core", "--", "--noplot"]);
    shell::run("benches of the core", &mut benches)
}

fn criterion() -> PathBuf {
    places::target().join("criterion")
}

fn bench() -> PathBuf {
    places::root().join("tests/browser/bench")
}

/// Installs Lighthouse by its lock file outside the checkout and returns its command's script.
fn lighthouse() -> Outcome<PathBuf> {
    let home = places::tool("lighthouse", LIGHTHOUSE);
    let command = home.join("node_modules/lighthouse/cli/index.js");
    let lock = shell::read_file(&bench().join("package-lock.json"))?;
    let note = home.join("installed-by-lock.json");
    if command.is_file() && std::fs::read_to_string(&note).is_ok_and(|before| before == lock) {
        return Ok(command);
    }
    shell::step("installing Lighthouse with npm");
    for name in ["package.json", "package-lock.json"] {
        shell::write_file(&home.join(name), shell::read_file(&bench().join(name))?)?;
    }
    install(&home)?;
    if !command.is_file() {
        return Err(problem(format!("{} is missing after npm ci.", command.display())));
    }
    shell::write_file(&note, lock)?;
    Ok(command)
}

fn install(home: &Path) -> Outcome {
    let mut npm = Command::new("npm");
    npm.current_dir(home).args(["ci", "--ignore-scripts", "--no-audit", "--no-fund"]);
    shell::run("npm ci", &mut npm)
        .map_err(|why| format!("{why} It comes from npm's registry: is the network there?"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_lock_file_holds_the_version_that_is_named() {
        let package = shell::read_file(&bench().join("package.json")).unwrap_or_default();
        let lock = shell::read_file(&bench().join("package-lock.json")).unwrap_or_default();
        let wanted = format!("\"lighthouse\": \"{LIGHTHOUSE}\"");
        assert!(package.contains(&wanted) && lock.contains(&wanted));
    }
}
