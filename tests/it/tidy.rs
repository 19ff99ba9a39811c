//! Rules of form that a compiler does not know.

use std::fs;
use std::path::{Path, PathBuf};

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

fn all_files() -> Vec<PathBuf> {
    let mut found = Vec::new();
    let mut open = ["src", "tests", "xtask/src", "style", "docs"].map(|f| root().join(f)).to_vec();
    while let Some(folder) = open.pop() {
        let Ok(entries) = fs::read_dir(&folder) else {
            continue;
        };
        for entry in entries {
            let path = entry.unwrap().path();
            if path.ends_with("node_modules") || path.ends_with("target") {
                continue;
            }
            if path.is_dir() {
                open.push(path);
            } else {
                found.push(path);
            }
        }
    }
    found.sort();
    found
}

fn with_ending(ending: &str) -> impl Iterator<Item = (PathBuf, String)> {
    let files = all_files().into_iter();
    let files = files.filter(move |path| path.extension().is_some_and(|end| end == ending));
    files.map(|path| {
        let text = fs::read_to_string(&path).unwrap();
        (path, text)
    })
}

#[track_caller]
fn none(wrong: &[String]) {
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn no_markers_are_left_over() {
    // Put together here, so that this list does not find itself.
    let markers =
        [["TO", "DO"], ["FIX", "ME"], ["XX", "X"], ["#[ig", "nore"], ["should_", "panic"]];
    let mut wrong = Vec::new();
    for (path, text) in with_ending("rs").chain(with_ending("css")).chain(with_ending("mjs")) {
        for [start, end] in markers {
            if text.contains(&format!("{start}{end}")) {
                wrong.push(format!("{}: {start}{end}", path.display()));
            }
        }
    }
    none(&wrong);
}

#[test]
fn files_stay_short_enough_to_read() {
    let mut wrong = Vec::new();
    for (path, text) in with_ending("rs") {
        let lines = text.lines().count();
        if lines > 650 {
            wrong.push(format!("{}: {lines} lines", path.display()));
        }
    }
    none(&wrong);
}

#[test]
fn every_style_file_is_linked_and_every_link_has_its_file() {
    let index = fs::read_to_string(root().join("index.html")).unwrap();
    let mut wrong = Vec::new();
    for (path, _) in with_ending("css") {
        let name = path.strip_prefix(root()).unwrap().display().to_string();
        if name.starts_with("style/") && !index.contains(&format!("href=\"{name}\"")) {
            wrong.push(format!("{name} is not linked"));
        }
    }
    for part in index.split("href=\"style/").skip(1) {
        let name = part.split('"').next().unwrap_or_default();
        if !root().join("style").join(name).exists() {
            wrong.push(format!("style/{name} does not exist"));
        }
    }
    none(&wrong);
}

/// The program's own names, and those it puts together from a role's colour or weight.
#[test]
fn every_class_of_the_style_is_worn() {
    const PUT_TOGETHER: [&str; 3] = ["fill-", "stroke-", "t-"];
    let is_sign = |sign: char| sign.is_ascii_alphanumeric() || sign == '-' || sign == '_';
    let mut worn = std::collections::BTreeSet::new();
    let mut sources: Vec<String> = with_ending("rs").map(|(_, text)| text).collect();
    for name in ["index.html", "public/paper.html", "public/crash.js", "public/early.js"] {
        sources.push(fs::read_to_string(root().join(name)).unwrap());
    }
    for text in &sources {
        worn.extend(text.split(|sign| !is_sign(sign)).filter(|word| !word.is_empty()));
    }
    let (mut wrong, mut checked) = (Vec::new(), 0);
    for (path, text) in with_ending("css") {
        let rules =
            text.split("/*").map(|part| part.split_once("*/").map_or(part, |(_, rest)| rest));
        for rule in rules.flat_map(|part| part.split('}')) {
            for name in rule.split('{').next().unwrap().split('.').skip(1) {
                let name = name.split(|sign| !is_sign(sign)).next().unwrap();
                if !name.starts_with(|sign: char| sign.is_ascii_alphabetic()) {
                    continue;
                }
                checked += 1;
                let composed = PUT_TOGETHER.iter().any(|start| name.starts_with(start));
                if !composed && !worn.contains(name) {
                    wrong.push(format!("{}: .{name}", path.display()));
                }
            }
        }
    }
    none(&wrong);
    assert!(checked > 300, "{checked} names: the check no longer sees them");
}

#[test]
fn raw_colours_stand_in_the_tokens_only() {
    let mut wrong = Vec::new();
    for (path, text) in with_ending("css") {
        if path.ends_with("tokens.css") || !path.starts_with(root().join("style")) {
            continue;
        }
        for (at, line) in text.lines().enumerate() {
            let colour = line.split('#').skip(1).any(|after| {
                after.len() >= 3 && after.chars().take(3).all(|sign| sign.is_ascii_hexdigit())
            });
            if colour {
                wrong.push(format!("{}:{}", path.display(), at + 1));
            }
        }
    }
    none(&wrong);
}

#[test]
fn the_changelog_is_headed_by_this_version() {
    let text = fs::read_to_string(root().join("CHANGELOG.md")).unwrap();
    let version = env!("CARGO_PKG_VERSION");
    let head = text.lines().find(|line| line.starts_with("## ")).unwrap_or_default();
    assert!(head.contains(version), "{head}");
}

#[test]
fn every_english_message_is_used() {
    let mut code = String::new();
    for (path, text) in with_ending("rs") {
        if path.starts_with(root().join("src")) {
            code.push_str(&text);
        }
    }
    let unused: Vec<String> = two_marks::text::english()
        .iter()
        .filter(|message| !code.contains(&format!(".{}(", message.id)))
        .map(|message| format!("{}: {}", message.page, message.id))
        .collect();
    none(&unused);
}

#[test]
fn no_machine_and_no_host_is_named() {
    // Put together here, so that this list does not find itself.
    let parts = [
        ["/wo", "rk/"],
        ["/ro", "ot/"],
        ["/ho", "me/"],
        ["index.crates", ".io"],
        ["registry.np", "mjs"],
    ];
    let bans = parts.map(|parts| parts.concat());
    let mut wrong = Vec::new();
    for (path, text) in with_ending("rs").chain(with_ending("md")) {
        for ban in bans.iter().filter(|ban| text.contains(ban.as_str())) {
            wrong.push(format!("{}: {ban}", path.display()));
        }
    }
    none(&wrong);
}

/// Comments cite the science by section: the page is in the repository, and the section is on it.
#[test]
fn every_cited_section_of_the_science_exists() {
    // Put together here, so that this check does not find itself.
    let name = ["measurement", ".md"].concat();
    let page = fs::read_to_string(root().join("docs").join(&name)).unwrap();
    let heads = page.lines().filter_map(|line| {
        let number = line.trim_start_matches('#').strip_prefix(' ')?.split(' ').next()?;
        line.starts_with("##").then(|| number.trim_end_matches('.').to_owned())
    });
    let heads: Vec<String> = heads.collect();
    let (mut wrong, mut cited) = (Vec::new(), 0);
    for (path, text) in with_ending("rs") {
        // A comment may break anywhere between words.
        let words = text.split_whitespace().filter(|word| !word.starts_with("//"));
        let flat = words.collect::<Vec<_>>().join(" ");
        let parts: Vec<&str> = flat.split(name.as_str()).collect();
        for (before, after) in parts.iter().zip(parts.iter().skip(1)) {
            let section = after.strip_prefix(" §").unwrap_or_default();
            let section = section.split(|sign: char| !sign.is_ascii_digit() && sign != '.');
            let section = section.map(|number| number.trim_end_matches('.')).next().unwrap();
            let known = heads.iter().any(|head| head == section);
            cited += 1;
            if !before.ends_with("docs/") || !known {
                wrong.push(format!(
                    "{}: §{section} {}",
                    path.display(),
                    after.chars().take(40).collect::<String>()
                ));
            }
        }
    }
    none(&wrong);
    assert!(cited >= 25, "{cited} citations: the check no longer sees them");
}

#[test]
fn the_two_licences_are_there() {
    for name in ["LICENSE-MIT", "LICENSE-APACHE"] {
        assert!(Path::new(&root()).join(name).exists(), "{name}");
    }
}
