//! Building the page with Trunk.

use crate::parts;
use crate::places;
use crate::shell::{self, Outcome};
use crate::toolchain::{WASM, Wasm, pinned};
use crate::tools;
use std::process::Command;

/// Builds the release page into `dist/`.
pub fn build() -> Outcome {
    let wasm = Wasm::find()?;
    shell::step("building the page");
    let mut trunk = trunk(&wasm)?;
    trunk.args(["build", "--release"]);
    shell::run("building the page", &mut trunk)?;
    println!("   the page is in {}", places::dist().display());
    Ok(())
}

/// Builds on each save and serves; reload the browser's page to see it.
pub fn dev(rest: &[String]) -> Outcome {
    let wasm = Wasm::find()?;
    let mut trunk = trunk(&wasm)?;
    let dist = places::target().join("dev");
    trunk.arg("serve").arg("--dist").arg(dist).args(rest);
    shell::stay("serving while developing", &mut trunk)
}

/// A call of Trunk with its tools and compiler in place.
pub fn trunk(wasm: &Wasm) -> Outcome<Command> {
    let path = tools::ready()?;
    let program = std::env::current_exe().map_err(|why| format!("xtask's own path: {why}."))?;
    let mut trunk = Command::new(path[0].join("trunk"));
    trunk.current_dir(places::root()).env("TWO_MARKS_XTASK", program);
    trunk.env(parts::PROGRAM, places::wasm_target().join(WASM));
    // Trunk takes this common switch for one of its own and refuses its usual value.
    trunk.env_remove("NO_COLOR");
    if let Some(commit) = commit() {
        trunk.env("TWO_MARKS_COMMIT", commit);
    }
    wasm.prepare(&mut trunk, path)?;
    Ok(trunk)
}

/// The commit of the checkout, with a plus when files differ from it; nothing outside of git.
fn commit() -> Option<String> {
    let hash = shell::read(pinned("git").args(["rev-parse", "--short=12", "HEAD"]))?;
    let changes = shell::read(pinned("git").args(["status", "--porcelain"]))?;
    Some(if changes.is_empty() { hash } else { hash + "+" })
}
