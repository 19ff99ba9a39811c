//! Which room may use which, checked on every `use crate::` line and every path.

use std::fs;
use std::path::{Path, PathBuf};

/// The rooms of the core in reading order: each may use itself and those before it.
const ROOMS: [&str; 16] = [
    "quantity",
    "statistics",
    "measure",
    "ready",
    "reliability",
    "norms",
    "trend",
    "history",
    "assess",
    "share",
    "class",
    "card",
    "flow",
    "chart",
    "text",
    "season",
];

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

fn files(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    let mut open = vec![folder.to_path_buf()];
    while let Some(folder) = open.pop() {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                open.push(path);
            } else if path.extension().is_some_and(|end| end == "rs") {
                found.push(path);
            }
        }
    }
    found.sort();
    found
}

/// The part of a file that ships: unit tests may look further.
fn shipped(path: &Path) -> String {
    let text = fs::read_to_string(path).unwrap();
    text.split("#[cfg(test)]").next().unwrap_or_default().to_owned()
}

/// The rooms named by `crate::ROOM` in a text, comments left out.
fn named_rooms(text: &str) -> Vec<String> {
    let code: String = text
        .lines()
        .filter(|line| !line.trim_start().starts_with("//"))
        .collect::<Vec<_>>()
        .join("\n");
    let mut named = Vec::new();
    for part in code.split("crate::").skip(1) {
        if let Some(group) = part.strip_prefix('{') {
            let group = group.split('}').next().unwrap_or_default();
            named.extend(group.split(',').map(|name| first_word(name.trim())));
        } else {
            named.push(first_word(part));
        }
    }
    named
}

fn first_word(text: &str) -> String {
    text.chars().take_while(|sign| sign.is_alphanumeric() || *sign == '_').collect()
}

#[test]
fn the_core_declares_its_rooms_in_reading_order() {
    let lib = fs::read_to_string(root().join("src/lib.rs")).unwrap();
    let declared: Vec<&str> =
        lib.lines().filter_map(|line| line.strip_prefix("pub mod ")?.strip_suffix(';')).collect();
    let expected: Vec<&str> = ROOMS.into_iter().filter(|room| declared.contains(room)).collect();
    assert_eq!(declared, expected);
}

#[test]
fn a_room_uses_only_rooms_before_it() {
    let mut wrong = Vec::new();
    for (place, room) in ROOMS.iter().enumerate() {
        let folder = root().join("src").join(room);
        if !folder.exists() {
            continue;
        }
        for file in files(&folder) {
            for named in named_rooms(&shipped(&file)) {
                let later = ROOMS.iter().position(|other| *other == named);
                if later.is_some_and(|later| later > place) {
                    wrong.push(format!("{} uses {named}", file.display()));
                }
            }
        }
    }
    assert_eq!(wrong, Vec::<String>::new());
}

/// What each part of the page may not name.
const PAGE_BANS: [(&str, &[&str]); 4] = [
    ("src/ui/pages", &["web_sys", "js_sys", "wasm_bindgen", "ui::browser", "super::browser"]),
    ("src/ui/components", &["web_sys", "js_sys", "ui::browser", "ui::state", "use_context"]),
    (
        "src/ui/tree",
        &["inner_html", "outer_html", "ui::browser", "ui::state", "ui::pages", "two_marks::"],
    ),
    ("src/ui/state", &["web_sys", "js_sys", "wasm_bindgen", "ui::browser", "ui::pages", "view!"]),
];

#[test]
fn the_page_keeps_its_own_layers() {
    let mut wrong = Vec::new();
    for (folder, bans) in PAGE_BANS {
        for file in files(&root().join(folder)) {
            let text = shipped(&file);
            let code = text.lines().filter(|line| !line.trim_start().starts_with("//"));
            for line in code {
                for ban in bans.iter().filter(|ban| line.contains(**ban)) {
                    wrong.push(format!("{}: {ban}", file.display()));
                }
            }
        }
    }
    assert_eq!(wrong, Vec::<String>::new());
}

#[test]
fn the_core_knows_no_page_no_browser_and_no_clock() {
    let bans = [
        "leptos",
        "web_sys",
        "js_sys",
        "wasm_bindgen",
        "gloo",
        "cfg(feature",
        "Utc::now",
        "Local::now",
        "SystemTime",
        "Instant::now",
        "std::fs",
        "std::net",
        "println!",
    ];
    let mut wrong = Vec::new();
    for file in files(&root().join("src")) {
        let path = file.strip_prefix(root()).unwrap();
        if path.starts_with("src/ui") || path == Path::new("src/main.rs") {
            continue;
        }
        let text = shipped(&file);
        for line in text.lines().filter(|line| !line.trim_start().starts_with("//")) {
            for ban in bans.iter().filter(|ban| line.contains(**ban)) {
                wrong.push(format!("{}: {ban}", path.display()));
            }
        }
    }
    assert_eq!(wrong, Vec::<String>::new());
}

/// The traits and attributes by which a type gets a stored form of its own, however they are written.
fn stored_forms(text: &str) -> usize {
    let code = text.lines().filter(|line| !line.trim_start().starts_with("//"));
    let code: String = code.collect::<Vec<_>>().join(" ");
    let derives = code.split("derive(").skip(1).filter(|part| {
        let names = part.split(')').next().unwrap_or_default().split([',', ':']).map(str::trim);
        names.into_iter().any(|name| ["Serialize", "Deserialize"].contains(&name))
    });
    let by_hand = code.match_indices("Serialize for ").count()
        + code.match_indices("Deserialize<'de> for ").count();
    derives.count() + by_hand + code.match_indices("#[serde(").count()
}

#[test]
fn serde_stays_at_the_rim() {
    let (mut wrong, mut at_the_rim) = (Vec::new(), 0);
    for file in files(&root().join("src")) {
        let path = file.strip_prefix(root()).unwrap();
        let rim = ["src/history/format", "src/share"].iter().any(|rim| path.starts_with(rim));
        let found = stored_forms(&shipped(&file));
        if rim {
            at_the_rim += found;
        } else if found > 0 {
            wrong.push(path.display().to_string());
        }
    }
    assert_eq!(wrong, Vec::<String>::new());
    assert!(at_the_rim >= 10, "{at_the_rim} stored forms: the check no longer sees them");
}
