//! The page's build tools, kept outside the checkout by version.

use crate::places;
use crate::shell::{self, Outcome};
use crate::system;
use crate::toolchain::pinned;
use crate::versions::{BINARYEN, TRUNK, WASM_BINDGEN};
use std::path::{Path, PathBuf};
use std::process::Command;

/// Installs what is missing and returns the folders to put in front of the search path.
pub fn ready() -> Outcome<Vec<PathBuf>> {
    Ok(vec![trunk()?, wasm_bindgen()?, wasm_opt()?])
}

fn trunk() -> Outcome<PathBuf> {
    let features = ["--locked", "--no-default-features", "--features", "rustls"];
    cargo_tool("trunk", "trunk", TRUNK, &places::trunk(), &features)
}

fn wasm_bindgen() -> Outcome<PathBuf> {
    // Not `--locked`: its lock file names a package version that not every registry mirror serves.
    cargo_tool("wasm-bindgen", "wasm-bindgen-cli", WASM_BINDGEN, &places::wasm_bindgen(), &[])
}

/// The folder of a tool: the search path's, when that has just this version, else our cache's.
fn cargo_tool(
    program: &str,
    package: &str,
    version: &str,
    home: &Path,
    extra: &[&str],
) -> Outcome<PathBuf> {
    let matches = |file: &Path| {
        let told = shell::read(Command::new(file).arg("--version"));
        told.is_some_and(|told| told.split(' ').nth(1) == Some(version))
    };
    let folder = home.join("bin");
    if matches(&folder.join(program)) {
        return Ok(folder);
    }
    if let Some(file) = shell::find(program).filter(|file| matches(file)) {
        return Ok(file.parent().map(Path::to_path_buf).unwrap_or_default());
    }
    shell::step(&format!("building {package} {version}, once for this machine (2 to 10 minutes)"));
    let mut install = pinned("cargo");
    install.args(["install", "--quiet", package, "--version", version, "--force", "--root"]);
    install.arg(home).args(extra).env_remove("CARGO_TARGET_DIR");
    // The tool's own speed hardly matters; its optimised build would take half as long again.
    install
        .env("CARGO_PROFILE_RELEASE_OPT_LEVEL", "1")
        .env("CARGO_PROFILE_RELEASE_LTO", "off")
        .env("CARGO_PROFILE_RELEASE_CODEGEN_UNITS", "16");
    shell::run(package, &mut install).map_err(|why| {
        format!("{why} {package} {version} could not be built: is the package registry in reach?")
    })?;
    Ok(folder)
}

fn wasm_opt() -> Outcome<PathBuf> {
    let home = places::npm_tools();
    let manifest = home.join("node_modules/binaryen/package.json");
    let installed = std::fs::read_to_string(manifest).ok();
    let wanted = format!("\"version\": \"{BINARYEN}\"");
    if !installed.is_some_and(|text| text.contains(&wanted)) {
        system::node()?;
        shell::step(&format!("installing wasm-opt (binaryen {BINARYEN}) with npm"));
        std::fs::create_dir_all(&home).map_err(|why| format!("{}: {why}.", home.display()))?;
        let mut npm = Command::new("npm");
        npm.args(["install", "--no-audit", "--no-fund", "--no-update-notifier", "--prefix"]);
        npm.arg(&home).arg(format!("binaryen@{BINARYEN}"));
        shell::run("npm install", &mut npm).map_err(|why| {
            format!("{why} wasm-opt comes from npm's registry: is the network there?")
        })?;
    }
    Ok(home.join("node_modules/.bin"))
}
