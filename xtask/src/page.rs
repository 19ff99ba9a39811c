//! Building the page with Trunk.

use crate::host;
use crate::parts;
use crate::places;
use crate::shell::{self, Outcome, problem};
use crate::toolchain::{WASM, Wasm, pinned};
use crate::tools;
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::thread;
use std::time::{Duration, SystemTime};

/// What the page is built from, for [`dev`].
const SOURCES: [&str; 8] =
    ["src", "markup", "style", "public", "index.html", "build.rs", "Cargo.toml", "Trunk.toml"];

/// How often [`dev`] looks for saved files.
const LOOK_EVERY: Duration = Duration::from_millis(500);

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

/// Serves the page, and builds it again when a file of it is saved; reload the browser's page to see it.
///
/// Trunk can do both, but its watch ends the program when the system drops an event, which a busy
/// checkout brings about at once.
pub fn dev(rest: &[String]) -> Outcome {
    let folder = places::target().join("dev");
    let options = host::Options::parse(rest, folder.clone())?;
    let wasm = Wasm::find()?;
    let mut seen = state_of_sources();
    // Without a first page there is nothing to serve.
    build_for_dev(&wasm, &folder)?;
    let server = thread::spawn(move || host::serve(&options));
    while !server.is_finished() {
        let now = state_of_sources();
        if now != seen {
            seen = now;
            if let Err(why) = build_for_dev(&wasm, &folder) {
                println!("   {why} The page before is still served; save again when it is mended.");
            }
        }
        thread::sleep(LOOK_EVERY);
    }
    server.join().unwrap_or_else(|_| Err(problem("the server stopped.")))
}

fn build_for_dev(wasm: &Wasm, folder: &Path) -> Outcome {
    shell::step("building the page for a look");
    let mut trunk = trunk(wasm)?;
    trunk.arg("build").arg("--dist").arg(folder);
    shell::run("building the page", &mut trunk)?;
    println!("   built: reload the page to see it");
    Ok(())
}

/// When each file that goes into the page was last saved.
fn state_of_sources() -> BTreeMap<PathBuf, SystemTime> {
    let mut state = BTreeMap::new();
    let mut left: Vec<PathBuf> = SOURCES.iter().map(|name| places::root().join(name)).collect();
    while let Some(path) = left.pop() {
        if let Ok(inside) = fs::read_dir(&path) {
            left.extend(inside.flatten().map(|entry| entry.path()));
        } else if let Ok(saved) = fs::metadata(&path).and_then(|file| file.modified()) {
            state.insert(path, saved);
        }
    }
    state
}

/// A call of Trunk with its tools and compiler in place.
pub fn trunk(wasm: &Wasm) -> Outcome<Command> {
    let path = tools::ready()?;
    fetch()?;
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

/// Brings the packages that the page is built from: Trunk works without the network, and so does the
/// compiler it calls.
fn fetch() -> Outcome {
    shell::run("cargo fetch", pinned("cargo").args(["fetch", "--quiet", "--locked"])).map_err(|why| {
        format!("{why} The page's packages are not all on this machine: is the package registry in reach?")
    })
}

/// The commit of the checkout, with a plus when files differ from it; nothing outside of git.
pub fn commit() -> Option<String> {
    let hash = shell::read(pinned("git").args(["rev-parse", "--short=12", "HEAD"]))?;
    let changes = shell::read(pinned("git").args(["status", "--porcelain"]))?;
    Some(if changes.is_empty() { hash } else { hash + "+" })
}
