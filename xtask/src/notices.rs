//! The licences of other people's work in the page, as one text file.

use crate::places;
use crate::shell::{Outcome, problem};
use crate::toolchain::WASM;
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;
use std::process::Command;

/// The file's name in the finished page.
pub const NAME: &str = "notices.txt";

const HEAD: &str = "\
Two Marks contains work of other people. Each part is listed with its licence; where a part may be
used under one of several licences, it is used under the one whose text is printed here. The Rust
standard library is part of the page too: MIT OR Apache-2.0,
https://www.rust-lang.org/policies/licenses
";

struct Part {
    name: String,
    licence: String,
    home: String,
    text: String,
}

/// Collects the notices with `cargo metadata`.
pub fn text() -> Outcome<String> {
    // During a build this is the page's own compiler's cargo, which has all sources at hand.
    let cargo = std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into());
    let output = Command::new(cargo)
        .current_dir(places::root())
        .args(["metadata", "--format-version", "1", "--locked", "--features", "ui"])
        .args(["--filter-platform", WASM])
        .output()
        .map_err(|why| format!("cargo metadata: {why}."))?;
    if !output.status.success() {
        let why = String::from_utf8_lossy(&output.stderr).trim().to_owned();
        return Err(problem(format!("cargo metadata failed: {why}")));
    }
    let metadata: Value =
        serde_json::from_slice(&output.stdout).map_err(|why| format!("cargo metadata: {why}."))?;
    let parts = shipped(&metadata)?;
    Ok(write(&parts))
}

/// The packages whose code is in the page: reached from ours by ordinary dependencies, without
/// those that only run while building.
fn shipped(metadata: &Value) -> Outcome<Vec<Part>> {
    let packages: BTreeMap<&str, &Value> =
        items(&metadata["packages"]).filter_map(|p| Some((p["id"].as_str()?, p))).collect();
    let nodes: BTreeMap<&str, &Value> =
        items(&metadata["resolve"]["nodes"]).filter_map(|n| Some((n["id"].as_str()?, n))).collect();
    let is_ours = |package: &Value| package["source"].is_null();
    let start = packages.iter().find(|(_, p)| p["name"] == "two-marks").map(|(id, _)| *id);
    let mut waiting = vec![start.ok_or_else(|| problem("cargo metadata lists no two-marks."))?];
    let mut seen = BTreeSet::new();
    let mut parts = Vec::new();
    while let Some(id) = waiting.pop() {
        let Some(package) = packages.get(id) else { continue };
        if !seen.insert(id) || runs_while_building(package) {
            continue;
        }
        if !is_ours(package) {
            parts.push(part(package)?);
        }
        let needs = nodes.get(id).map(|node| &node["deps"]).unwrap_or(&Value::Null);
        let ordinary = items(needs)
            .filter(|need| items(&need["dep_kinds"]).any(|kind| kind["kind"].is_null()))
            .filter_map(|need| need["pkg"].as_str());
        waiting.extend(ordinary);
    }
    parts.sort_by(|a, b| a.name.cmp(&b.name));
    Ok(parts)
}

fn items(value: &Value) -> impl Iterator<Item = &Value> {
    value.as_array().into_iter().flatten()
}

fn runs_while_building(package: &Value) -> bool {
    items(&package["targets"]).any(|t| items(&t["kind"]).any(|kind| kind == "proc-macro"))
}

fn part(package: &Value) -> Outcome<Part> {
    let field = |name: &str| package[name].as_str().unwrap_or_default().to_owned();
    let name = format!("{} {}", field("name"), field("version"));
    let manifest = field("manifest_path");
    let folder = Path::new(&manifest).parent().unwrap_or(Path::new("."));
    let text = licence_text(folder).unwrap_or_default();
    let licence = field("license");
    if licence.is_empty() && text.is_empty() {
        return Err(problem(format!("{name} names no licence.")));
    }
    Ok(Part { name, licence, home: field("repository"), text })
}

/// One licence text of a package; the shortest, since one of several is enough.
fn licence_text(folder: &Path) -> Option<String> {
    let is_licence = |name: &str| {
        let name = name.to_ascii_uppercase();
        ["LICENSE", "LICENCE", "COPYING", "UNLICENSE"].iter().any(|start| name.starts_with(start))
    };
    let files = folder.read_dir().ok()?.flatten();
    let texts = files
        .filter(|entry| is_licence(&entry.file_name().to_string_lossy()))
        .filter_map(|entry| std::fs::read_to_string(entry.path()).ok())
        .filter(|text| text.len() > 200);
    texts.min_by_key(|text| (text.len(), text.clone())).map(|text| text.trim().to_owned())
}

/// Parts that share the very same text share one copy of it.
fn write(parts: &[Part]) -> String {
    let mut by_text: BTreeMap<String, Vec<&Part>> = BTreeMap::new();
    for part in parts {
        by_text.entry(without_carriage_returns(&part.text)).or_default().push(part);
    }
    let mut groups: Vec<_> = by_text.into_iter().collect();
    groups.sort_by(|(_, a), (_, b)| a[0].name.cmp(&b[0].name));
    let mut notices = HEAD.to_owned();
    for (text, parts) in groups {
        notices.push_str(&format!("\n{}\n", "-".repeat(80)));
        for Part { name, licence, home, .. } in parts {
            notices.push_str(&format!("{name}: {licence} {home}\n"));
        }
        if !text.is_empty() {
            notices.push_str(&format!("\n{text}\n"));
        }
    }
    notices
}

fn without_carriage_returns(text: &str) -> String {
    text.replace('\r', "")
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn only_what_is_in_the_page_is_listed() {
        let package = |id: &str, kind: &str, source: Value| {
            json!({"id": id, "name": id, "version": "1.0.0", "license": "MIT", "source": source,
                   "manifest_path": "/nowhere/Cargo.toml", "targets": [{"kind": [kind]}]})
        };
        let need = |id: &str, kind: Value| json!({"pkg": id, "dep_kinds": [{"kind": kind}]});
        let metadata = json!({
            "packages": [package("two-marks", "lib", Value::Null), package("used", "lib", json!("r")),
                package("macro", "proc-macro", json!("r")), package("tester", "lib", json!("r")),
                package("deep", "lib", json!("r"))],
            "resolve": {"nodes": [
                {"id": "two-marks", "deps": [need("used", Value::Null), need("macro", Value::Null),
                    need("tester", json!("dev"))]},
                {"id": "used", "deps": [need("deep", Value::Null)]}]}
        });
        let names: Vec<_> =
            shipped(&metadata).unwrap_or_default().into_iter().map(|part| part.name).collect();
        assert_eq!(names, ["deep 1.0.0", "used 1.0.0"]);
    }

    #[test]
    fn a_shared_text_stands_once() {
        let part = |name: &str| Part {
            name: name.into(),
            licence: "MIT".into(),
            home: String::new(),
            text: "the text".into(),
        };
        let notices = write(&[part("a 1"), part("b 2")]);
        assert_eq!(notices.matches("the text").count(), 1);
        assert!(notices.contains("a 1: MIT") && notices.contains("b 2: MIT"));
    }
}
