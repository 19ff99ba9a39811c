//! Every version that the chores depend on, in one place.

/// Bundles the page. Newer ones ask for a newer compiler than `rust-toolchain.toml` pins.
pub const TRUNK: &str = "0.21.14";

/// Must equal the `wasm-bindgen` of `Cargo.lock` (a test below compares them).
pub const WASM_BINDGEN: &str = "0.2.130";

/// The npm package that carries `wasm-opt`; Debian's own is too old for what the compiler emits.
pub const BINARYEN: &str = "132.0.0";

/// Measures the start of the page in `cargo xtask bench`; 13 asks for a newer Node.
pub const LIGHTHOUSE: &str = "12.8.2";

/// The oldest Node that the browser tests' driver accepts.
pub const NODE_MAJOR_MIN: u32 = 20;

/// The oldest compiler that Leptos accepts, as the minor number of Rust 1.x.
pub const RUST_MINOR_MIN: u32 = 88;

#[cfg(test)]
mod tests {
    use super::*;

    fn lock_version(package: &str) -> Option<String> {
        let lock = include_str!("../../Cargo.lock");
        let start = lock.find(&format!("name = \"{package}\"\nversion = \""))?;
        lock[start..].split('"').nth(3).map(str::to_owned)
    }

    #[test]
    fn wasm_bindgen_command_matches_the_library() {
        assert_eq!(lock_version("wasm-bindgen").as_deref(), Some(WASM_BINDGEN));
    }
}
