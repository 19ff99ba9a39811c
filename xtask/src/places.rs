//! Folders: the checkout, what is built from it, and the cache for tools outside of it.

use crate::versions;
use std::path::{Path, PathBuf};

/// The top of the checkout.
pub fn root() -> PathBuf {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    here.parent().unwrap_or(here).to_path_buf()
}

/// The finished page.
pub fn dist() -> PathBuf {
    root().join("dist")
}

/// Cargo's folder for what is built.
pub fn target() -> PathBuf {
    let chosen = std::env::var_os("CARGO_TARGET_DIR").map(PathBuf::from);
    root().join(chosen.unwrap_or_else(|| "target".into()))
}

/// The page's own build folder. Two different compilers may be at work (see `toolchain`), and in a
/// shared folder each would build the other's parts again.
pub fn wasm_target() -> PathBuf {
    target().join("wasm")
}

/// Where tools are kept, by version, so that a fresh checkout finds them again.
pub fn cache() -> PathBuf {
    let home = || std::env::home_dir().map(|home| home.join(".cache"));
    let base = std::env::var_os("XDG_CACHE_HOME").map(PathBuf::from).filter(|p| p.is_absolute());
    base.or_else(home).unwrap_or_else(|| target().join("cache")).join("two-marks")
}

/// The folder of one tool in one version.
pub fn tool(name: &str, version: &str) -> PathBuf {
    cache().join(format!("{name}-{version}"))
}

/// Where Trunk stands.
pub fn trunk() -> PathBuf {
    tool("trunk", versions::TRUNK)
}

/// Where the wasm-bindgen command stands.
pub fn wasm_bindgen() -> PathBuf {
    tool("wasm-bindgen-cli", versions::WASM_BINDGEN)
}

/// Where the tools from npm stand.
pub fn npm_tools() -> PathBuf {
    cache().join("npm-tools")
}

/// Cargo's home, where the sources of other packages are unpacked.
pub fn cargo_home() -> PathBuf {
    let default = || std::env::home_dir().unwrap_or_default().join(".cargo");
    std::env::var_os("CARGO_HOME").map_or_else(default, PathBuf::from)
}
