//! A compiler that can build for wasm32, found by probing and never forced on a machine that has
//! its own:
//!
//! 1. the pinned toolchain already has the target;
//! 2. Debian's compiler with the standard library's source, if an earlier run installed it;
//! 3. `rustup target add`;
//! 4. that Debian compiler, installed now.
//!
//! Debian's way rests on environment variables of the one build command alone, so nothing of it
//! reaches the manifest or anybody else's build.

use crate::places;
use crate::shell::{self, Outcome, problem};
use crate::system;
use crate::versions::RUST_MINOR_MIN;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Duration;

/// The target of the page.
pub const WASM: &str = "wasm32-unknown-unknown";

const DEBIAN_PACKAGES: &[&str] = &["rustc-web", "cargo-web", "rust-web-src"];
const DEBIAN_RUSTC: &str = "/usr/bin/rustc";
const DEBIAN_CARGO: &str = "/usr/bin/cargo";

/// Enough for a download of 20 MB on a slow line, short enough for a closed network.
const RUSTUP_LIMIT: Duration = Duration::from_secs(180);

/// The compiler chosen for the page.
pub enum Wasm {
    /// The pinned toolchain, with the target's standard library installed.
    Pinned,
    /// Debian's compiler, which builds the standard library from source.
    Debian {
        /// The linker, borrowed from the pinned toolchain.
        linker: PathBuf,
    },
}

/// The compiler's flags for a page that is not cut into parts, whose relocations nobody would take out.
pub fn in_one_piece(command: &mut Command) {
    flags(command, "");
}

fn flags(command: &mut Command, more: &str) {
    // The panic messages of other packages name their files: without this the path of this machine's
    // home would be in the page, and two machines would build different bytes.
    let sources = places::cargo_home().join("registry/src");
    let flags = format!("--remap-path-prefix={}=crates{more}", sources.display());
    command.env("CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_RUSTFLAGS", flags);
}

impl Wasm {
    /// Finds a compiler, or installs what is missing.
    pub fn find() -> Outcome<Self> {
        if has_target() {
            return Ok(Self::Pinned);
        }
        if debian_is_ready() {
            return Self::debian();
        }
        if rustup_adds_target() && has_target() {
            return Ok(Self::Pinned);
        }
        println!("   rustup could not add {WASM}; building its standard library from source.");
        system::install(DEBIAN_PACKAGES).map_err(|why| {
            format!("the compiler cannot build for {WASM}. Try: rustup target add {WASM}. {why}")
        })?;
        if debian_is_ready() { Self::debian() } else { Err(no_way()) }
    }

    fn debian() -> Outcome<Self> {
        let linker =
            shell::read(pinned("rustc").args(["--print", "sysroot"])).and_then(|sysroot| {
                let libraries = Path::new(&sysroot).join("lib/rustlib");
                let linker = libraries.join(host_triple()?).join("bin/rust-lld");
                linker.is_file().then_some(linker)
            });
        linker.map(|linker| Self::Debian { linker }).ok_or_else(no_way)
    }

    /// A short name for the size ledger: sizes differ from compiler to compiler.
    pub fn name(&self) -> Outcome<String> {
        let (mut rustc, suffix) = match self {
            Self::Pinned => (pinned("rustc"), ""),
            Self::Debian { .. } => (Command::new(DEBIAN_RUSTC), "-std-from-source"),
        };
        let version = shell::read(rustc.arg("--version"))
            .and_then(|line| line.split(' ').nth(1).map(str::to_owned))
            .ok_or_else(|| problem("rustc does not tell its version."))?;
        Ok(format!("{version}{suffix}"))
    }

    /// Prepares a command (Trunk or Cargo) so that it builds the page with this compiler.
    pub fn prepare(&self, command: &mut Command, mut path: Vec<PathBuf>) -> Outcome {
        command.env("CARGO_TARGET_DIR", places::wasm_target());
        // The relocations let `parts` move functions and data into other files; they are not shipped.
        flags(command, " -Clink-args=--emit-relocs");
        if let Self::Debian { linker } = self {
            // The shims of rustup would otherwise come first.
            path.push("/usr/bin".into());
            command
                .env("RUSTC", DEBIAN_RUSTC)
                .env("CARGO", DEBIAN_CARGO)
                .env("RUSTC_BOOTSTRAP", "1")
                .env("CARGO_UNSTABLE_BUILD_STD", "std,panic_abort")
                .env("CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_LINKER", linker)
                // Cargo points these at the pinned toolchain while it runs xtask.
                .env_remove("LD_LIBRARY_PATH")
                .env_remove("RUSTUP_TOOLCHAIN");
        }
        let rest = std::env::var_os("PATH").unwrap_or_default();
        path.extend(std::env::split_paths(&rest));
        let path = std::env::join_paths(path).map_err(|error| format!("PATH: {error}."))?;
        command.env("PATH", path);
        Ok(())
    }
}

/// A program of the pinned toolchain: run in the checkout, whose toolchain file rustup obeys.
pub fn pinned(program: &str) -> Command {
    let mut command = Command::new(program);
    command.current_dir(places::root());
    command
}

fn no_way() -> String {
    problem(format!(
        "no compiler for {WASM} was found. Run: rustup target add {WASM}; \
         or, where rustup's server is out of reach, use rustup's toolchain on Debian 12 or newer \
         and run: apt-get install {}",
        DEBIAN_PACKAGES.join(" ")
    ))
}

fn has_target() -> bool {
    let libraries =
        shell::read(pinned("rustc").args(["--print", "target-libdir", "--target", WASM]));
    libraries.is_some_and(|folder| holds_core(Path::new(&folder)))
}

fn holds_core(folder: &Path) -> bool {
    let Ok(entries) = folder.read_dir() else { return false };
    entries.flatten().any(|entry| entry.file_name().to_string_lossy().starts_with("libcore-"))
}

fn host_triple() -> Option<String> {
    let about = shell::read(pinned("rustc").arg("-vV"))?;
    about.lines().find_map(|line| line.strip_prefix("host: ")).map(str::to_owned)
}

fn rustup_adds_target() -> bool {
    if shell::find("rustup").is_none() {
        return false;
    }
    shell::step(&format!("rustup target add {WASM}"));
    let mut command = pinned("rustup");
    command.args(["target", "add", WASM]).env("RUSTUP_MAX_RETRIES", "0").stdin(Stdio::null());
    shell::try_within("rustup", &mut command, RUSTUP_LIMIT)
}

fn debian_is_ready() -> bool {
    let version = shell::read(Command::new(DEBIAN_RUSTC).arg("--version"));
    let recent = version.as_deref().and_then(minor).is_some_and(|minor| minor >= RUST_MINOR_MIN);
    let source = shell::read(Command::new(DEBIAN_RUSTC).args(["--print", "sysroot"]))
        .map(|sysroot| Path::new(&sysroot).join("lib/rustlib/src/rust/library/std/Cargo.toml"));
    recent && source.is_some_and(|file| file.is_file()) && Path::new(DEBIAN_CARGO).is_file()
}

fn minor(version: &str) -> Option<u32> {
    version.split(' ').nth(1)?.split('.').nth(1)?.parse().ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn compiler_version_is_read() {
        assert_eq!(minor("rustc 1.96.0 (ac68faa20 2026-05-25)"), Some(96));
        assert_eq!(minor("rustc"), None);
    }

    #[test]
    fn an_empty_folder_holds_no_standard_library() {
        assert!(!holds_core(&places::root().join("xtask/src")));
        assert!(!holds_core(Path::new("/no/such/folder")));
    }
}
