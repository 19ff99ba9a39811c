//! What may be depended on: licences, sources, banned packages and packages in two versions, over
//! the whole lock file with every feature. Advisories change without us, so they are no check but a
//! command that says when it could not ask.

use crate::browser;
use crate::places;
use crate::shell::{self, Outcome, problem};
use crate::toolchain::pinned;
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::process::Command;

/// Licences that go together with ours. All let the page be used and passed on with a notice.
const LICENCES: &[&str] = &[
    "Apache-2.0",
    "BSD-2-Clause",
    // The Boost licence asks for no notice in what is compiled.
    "BSL-1.0",
    // Given up to the public.
    "CC0-1.0",
    "MIT",
    // The data behind `char`.
    "Unicode-3.0",
    "Unlicense",
    "Zlib",
];

/// The only foreign source.
const SOURCE: &str = "registry+https://github.com/rust-lang/crates.io-index";

/// Packages that stand in two versions, and why that is not ours to mend.
const TWICE: &[(&str, &str)] = &[
    ("convert_case", "the framework's macro and its settings differ; both run while building"),
    ("cpufeatures", "xtask's hashes and the test libraries' random numbers; not in the page"),
    ("gloo-utils", "gloo-storage and the framework's own dependencies differ"),
    ("itertools", "the framework and the benches differ"),
    ("syn", "macros differ; it runs while building"),
    ("thiserror", "gloo-storage is older than the framework"),
    ("thiserror-impl", "comes with thiserror; it runs while building"),
];

/// Packages that must not come in, and why.
const BANNED: &[(&str, &str)] = &[
    ("leptos_router", "a fragment needs no router (DEVELOPERS.md)"),
    ("openssl-sys", "nothing here talks to a network"),
    ("reqwest", "nothing here talks to a network"),
    ("ureq", "nothing here talks to a network"),
];

/// The check: fails with every trouble on a line of its own.
pub fn check() -> Outcome {
    let mut cargo = pinned("cargo");
    cargo.args(["metadata", "--format-version", "1", "--locked", "--all-features"]);
    let text = shell::read(cargo.current_dir(places::root()));
    let text = text.ok_or_else(|| problem("cargo metadata failed."))?;
    let metadata: Value =
        serde_json::from_str(&text).map_err(|why| format!("cargo metadata: {why}."))?;
    let packages = metadata["packages"].as_array().map(Vec::as_slice).unwrap_or_default();
    if packages.is_empty() {
        return Err(problem("cargo metadata lists no packages."));
    }
    let wrong = troubles(packages);
    println!("   {} packages looked at", packages.len());
    if wrong.is_empty() { Ok(()) } else { Err(problem(wrong.join("\n   "))) }
}

fn troubles(packages: &[Value]) -> Vec<String> {
    let mut wrong = Vec::new();
    let mut versions: BTreeMap<&str, BTreeSet<&str>> = BTreeMap::new();
    for package in packages {
        let field = |name: &str| package[name].as_str().unwrap_or_default();
        let name = field("name");
        versions.entry(name).or_default().insert(field("version"));
        if !is_allowed(field("license")) {
            wrong.push(format!("{name}: its licence is '{}'", field("license")));
        }
        if !package["source"].is_null() && field("source") != SOURCE {
            wrong.push(format!("{name}: it comes from {}", field("source")));
        }
        if let Some((_, why)) = BANNED.iter().find(|(banned, _)| *banned == name) {
            wrong.push(format!("{name}: {why}"));
        }
    }
    let twice: BTreeSet<&str> =
        versions.iter().filter(|(_, all)| all.len() > 1).map(|(name, _)| *name).collect();
    let known: BTreeSet<&str> = TWICE.iter().map(|(name, _)| *name).collect();
    wrong.extend(twice.difference(&known).map(|name| format!("{name}: in two versions")));
    wrong.extend(known.difference(&twice).map(|name| format!("{name}: listed as twice, is not")));
    wrong
}

/// Whether an expression such as `(MIT OR Apache-2.0) AND Unicode-3.0` can be met by the list.
fn is_allowed(expression: &str) -> bool {
    let flat = expression.replace('/', " OR ").replace(['(', ')'], "");
    flat.split(" AND ")
        .all(|part| part.split(" OR ").any(|licence| LICENCES.contains(&licence.trim())))
}

/// The command: asks for published advisories, and says "not run" where it cannot.
pub fn advisories() -> Outcome<bool> {
    let mut cargo = pinned("cargo");
    cargo.args(["audit", "--quiet"]);
    let crates = match shell::read(pinned("cargo").args(["audit", "--version"])) {
        None => Asked::NotRun("cargo-audit is not installed".to_owned()),
        Some(_) => asked(&mut cargo, &["error: couldn't", "error: failed"])?,
    };
    let mut npm = Command::new("npm");
    npm.args(["audit", "--package-lock-only"]).current_dir(browser::folder());
    let packages = asked(&mut npm, &["npm error", "npm ERR!"])?;
    println!("\nadvisories, crates:       {crates}\nadvisories, npm packages: {packages}");
    Ok(!matches!((crates, packages), (Asked::Found, _) | (_, Asked::Found)))
}

/// What came of asking.
#[derive(Debug, PartialEq)]
enum Asked {
    Clean,
    Found,
    NotRun(String),
}

impl std::fmt::Display for Asked {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Clean => out.write_str("none known"),
            Self::Found => out.write_str("FOUND, see above"),
            Self::NotRun(why) => write!(out, "NOT RUN ({why})"),
        }
    }
}

fn asked(command: &mut Command, out_of_reach: &[&str]) -> Outcome<Asked> {
    let name = command.get_program().to_string_lossy().into_owned();
    let output = command.output().map_err(|why| format!("{name}: {why}."))?;
    let told = [output.stdout, output.stderr].map(|out| String::from_utf8_lossy(&out).into_owned());
    let told = told.concat();
    println!("{}", told.trim());
    Ok(judge(output.status.success(), &told, out_of_reach))
}

fn judge(success: bool, told: &str, out_of_reach: &[&str]) -> Asked {
    if success {
        return Asked::Clean;
    }
    let line = told.lines().find(|line| out_of_reach.iter().any(|start| line.starts_with(start)));
    line.map_or(Asked::Found, |line| Asked::NotRun(line.trim().to_owned()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn a_licence_is_met_by_one_of_several_and_by_all_that_are_joined() {
        assert!(is_allowed("MIT/Apache-2.0"));
        assert!(is_allowed("(MIT OR LGPL-2.1-or-later) AND Unicode-3.0"));
        assert!(!is_allowed("MIT AND GPL-3.0-only"));
        assert!(!is_allowed(""));
    }

    #[test]
    fn each_kind_of_trouble_is_found() {
        let mut packages: Vec<Value> = TWICE
            .iter()
            .flat_map(|(name, _)| ["1.0.0", "2.0.0"].map(|version| (*name, version)))
            .map(|(name, version)| json!({"name": name, "version": version, "license": "MIT"}))
            .collect();
        assert_eq!(troubles(&packages), Vec::<String>::new());
        packages.remove(0);
        packages.push(json!({"name": "reqwest", "version": "1.0.0", "license": "GPL-3.0-only",
                             "source": "git+https://example.org/x"}));
        packages.push(json!({"name": "reqwest", "version": "2.0.0", "license": "MIT"}));
        assert_eq!(troubles(&packages).len(), 6);
    }

    #[test]
    fn what_cannot_be_asked_is_not_passed() {
        assert_eq!(judge(true, "found 0 vulnerabilities", &["npm error"]), Asked::Clean);
        assert_eq!(judge(false, "3 high", &["npm error"]), Asked::Found);
        assert!(matches!(judge(false, "npm error code E404", &["npm error"]), Asked::NotRun(_)));
    }
}
