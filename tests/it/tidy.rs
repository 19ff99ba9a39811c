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

/// What ships of a Rust file: its code without strings, comments and spaces, and its strings. Unit
/// tests stand at the foot and are left out.
fn shipped(text: &str) -> (String, Vec<String>) {
    let mut rest = text.split("#[cfg(test)]").next().unwrap_or_default();
    let (mut code, mut strings) = (String::new(), Vec::new());
    while let Some(sign) = rest.chars().next() {
        let raw = rest.strip_prefix('r').map(|after| after.trim_start_matches('#'));
        let is_word = code.ends_with(|sign: char| sign.is_alphanumeric() || sign == '_');
        if rest.starts_with("//") {
            rest = &rest[rest.find('\n').unwrap_or(rest.len())..];
        } else if let Some(inside) = raw.and_then(|raw| raw.strip_prefix('"')).filter(|_| !is_word)
        {
            let end = format!("\"{}", "#".repeat(rest.len() - inside.len() - 2));
            let (string, after) = inside.split_once(&end).unwrap_or((inside, ""));
            strings.push(string.to_owned());
            rest = after;
        } else if let Some(after) = rest.strip_prefix("'\"'") {
            rest = after;
        } else if rest.starts_with("'\\") {
            // The first sign after the bar belongs to it, a quote too.
            rest = &rest[rest[3..].find('\'').map_or(rest.len(), |at| at + 4)..];
        } else if let Some(inside) = rest.strip_prefix('"') {
            let mut is_escaped = false;
            let end = inside.find(|sign: char| {
                let ends = sign == '"' && !is_escaped;
                is_escaped = sign == '\\' && !is_escaped;
                ends
            });
            let end = end.unwrap_or(inside.len());
            strings.push(inside[..end].to_owned());
            rest = inside.get(end + 1..).unwrap_or_default();
        } else {
            if !sign.is_whitespace() {
                code.push(sign);
            }
            rest = &rest[sign.len_utf8()..];
        }
    }
    (code, strings)
}

#[test]
fn code_and_strings_are_told_apart() {
    let text = r###"
        // words.in_a_comment() "a comment"
        let a = "a \"quoted\" word"; let b = '"'; let c = r#"raw "x""#; let d = '\'';
        words
            .called(url) // "rest"
        #[cfg(test)] words.tested() "test"
    "###;
    let (code, strings) = shipped(text);
    assert_eq!(code, "leta=;letb=;letc=;letd=;words.called(url)");
    assert_eq!(strings, ["a \\\"quoted\\\" word", "raw \"x\""]);
}

fn shipped_sources() -> impl Iterator<Item = (PathBuf, String, Vec<String>)> {
    let sources = with_ending("rs").filter(|(path, _)| path.starts_with(root().join("src")));
    sources.map(|(path, text)| {
        let (code, strings) = shipped(&text);
        (path, code, strings)
    })
}

/// A name counts as worn where it stands in a string of what ships, or in a class of the pages and
/// scripts around the program; the same word as a variable or in a comment is none. Names put together
/// of a start and a role's colour or weight are worn when a string names that colour or weight.
#[test]
fn every_class_of_the_style_is_worn() {
    const PUT_TOGETHER: [&str; 3] = ["fill-", "stroke-", "t-"];
    let is_sign = |sign: char| sign.is_ascii_alphanumeric() || sign == '-' || sign == '_';
    let mut worn = std::collections::BTreeSet::new();
    let mut wear = |text: &str| {
        worn.extend(text.split(|sign| !is_sign(sign)).map(str::to_owned));
    };
    for (_, _, strings) in shipped_sources() {
        strings.iter().for_each(|string| wear(string));
    }
    for name in ["index.html", "public/paper.html", "public/crash.js", "public/early.js"] {
        let text = fs::read_to_string(root().join(name)).unwrap();
        for start in ["class=\"", "className = \"", "classList.add(\""] {
            for part in text.split(start).skip(1) {
                wear(part.split('"').next().unwrap_or_default());
            }
        }
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
                let role = PUT_TOGETHER.iter().find_map(|start| name.strip_prefix(start));
                if !worn.contains(name) && !role.is_some_and(|role| worn.contains(role)) {
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

/// Whether a call of this name is one on the catalogue. What comes before it in the code says so: the
/// names that the catalogue goes by, `Words` as a path, and `self` in the files of `impl Words`.
fn is_on_the_catalogue(before: &str, is_text_room: bool) -> bool {
    let called = ["words", "words()", "words.get()", "w", "w()"];
    let owner = |name: &&str| {
        let rest = before.strip_suffix('.').and_then(|before| before.strip_suffix(*name));
        rest.is_some_and(|rest| {
            !rest.ends_with(|sign: char| sign.is_ascii_alphanumeric() || sign == '_')
        })
    };
    let own = is_text_room && before.ends_with("self.");
    before.ends_with("Words::") || own || called.iter().any(owner)
}

/// A message is used where what ships calls it on the catalogue; a method or a module that happens to have
/// its name (`back`, `close`, `change`) is no use of it.
#[test]
fn every_english_message_is_used() {
    let mut used = std::collections::BTreeSet::new();
    for (path, code, _) in shipped_sources() {
        let is_text_room = path.starts_with(root().join("src/text"));
        let is_sign = |sign: char| sign.is_ascii_alphanumeric() || sign == '_';
        let mut at = 0;
        for word in code.split_inclusive(|sign| !is_sign(sign)) {
            let name = word.trim_end_matches(|sign| !is_sign(sign));
            let is_called = word.ends_with('(') || code[..at].ends_with("::");
            if is_called && is_on_the_catalogue(&code[..at], is_text_room) {
                used.insert(name.to_owned());
            }
            at += word.len();
        }
    }
    let unused: Vec<String> = two_marks::text::english()
        .iter()
        .filter(|message| !used.contains(message.id))
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
