//! The last part of a release build, called by Trunk's hook on the folder it has just filled:
//! the program cut into parts, one style sheet instead of ten, the languages, the notices of other
//! people's work, and the worker that keeps the page for use offline.

use crate::digest;
use crate::notices;
use crate::packs;
use crate::parts;
use crate::shell::{self, Outcome, problem};
use crate::trim;
use std::path::{Path, PathBuf};

const WORKER: &str = include_str!("../templates/sw.js");
const WORKER_NAME: &str = "sw.js";

/// Reads what Trunk tells through the environment and finishes the folder.
pub fn run() -> Outcome {
    let is_release = std::env::var("TRUNK_PROFILE").as_deref() == Ok("release");
    let folder = std::env::var_os("TRUNK_STAGING_DIR").map(PathBuf::from);
    let folder = folder.ok_or_else(|| problem("finish is called by Trunk during a build."))?;
    let index = folder.join("index.html");
    let page = packs::write(&folder, &shell::read_file(&index)?)?;
    let page = parts::cut(&folder, &page, is_release)?;
    if !is_release {
        // While developing, a worker would keep showing the build before.
        return shell::write_file(&index, page);
    }
    shell::write_file(&folder.join(notices::NAME), notices::text()?)?;
    let page = merge_styles(&folder, &page)?;
    let page = without_parts(&slim_scripts(&folder, &page)?, "<!--", "-->");
    let page = plain_scripts_last(&announce_worker(&page)?)?;
    shell::write_file(&index, page)?;
    write_worker(&folder)
}

/// Puts the plain scripts at the end of the head: first the one that the browser waits for. Until it has
/// arrived the browser reads no further, and behind a content policy of the page it does not look ahead
/// either: whatever stands below it is asked for one round trip later. That suits the script for crashes,
/// which would take the sixth and last connection that a browser opens to a host by HTTP/1.1.
fn plain_scripts_last(page: &str) -> Outcome<String> {
    let is_plain = |line: &&str| {
        let tag = line.trim_start();
        tag.starts_with("<script src=") && !tag.contains("type=\"module\"")
    };
    let (plain, mut lines): (Vec<&str>, Vec<&str>) = page.lines().partition(is_plain);
    let end = lines.iter().position(|line| line.trim() == "</head>");
    let end = end.filter(|_| !plain.is_empty());
    let end = end.ok_or_else(|| problem("index.html has no plain script in its head."))?;
    lines.splice(end..end, plain);
    Ok(lines.join("\n") + "\n")
}

/// Puts all style sheets into one, at the place of the first, and returns the changed page.
fn merge_styles(folder: &Path, page: &str) -> Outcome<String> {
    let mut merged = String::new();
    let mut lines = Vec::new();
    let mut place = None;
    for line in page.lines() {
        let Some(name) = style_name(line) else {
            lines.push(line.to_owned());
            continue;
        };
        place.get_or_insert(lines.len());
        let file = folder.join(name);
        merged.push_str(&without_comments(&shell::read_file(&file)?));
        std::fs::remove_file(&file).map_err(|why| format!("{}: {why}.", file.display()))?;
    }
    let place = place.ok_or_else(|| problem("index.html links no style sheet."))?;
    let hash = digest::hex(merged.as_bytes());
    let name = format!("style-{}.css", &hash[..16]);
    let integrity = digest::integrity(merged.as_bytes());
    let link = format!("  <link rel=\"stylesheet\" href=\"./{name}\" integrity=\"{integrity}\">");
    lines.insert(place, link);
    shell::write_file(&folder.join(name), merged)?;
    // Trunk leaves an empty line for each of its own links.
    lines.retain(|line| !line.trim().is_empty());
    Ok(lines.join("\n") + "\n")
}

/// The file that a line of the page links as a style sheet.
fn style_name(line: &str) -> Option<&str> {
    let rest = line.trim().strip_prefix("<link rel=\"stylesheet\" href=\"./")?;
    rest.split_once('"').map(|(name, _)| name)
}

/// Writes the scripts that the page names without their comments, and returns the changed page.
fn slim_scripts(folder: &Path, page: &str) -> Outcome<String> {
    let mut changed = page.to_owned();
    for tag in page.split('<').filter(|tag| tag.starts_with("script src=\"./")) {
        let attribute =
            |name: &str| tag.split_once(name).and_then(|(_, rest)| rest.split('"').next());
        let (Some(name), Some(integrity)) = (attribute("src=\"./"), attribute("integrity=\""))
        else {
            return Err(problem(format!("a script of the page has no hash: {tag}")));
        };
        let file = folder.join(name);
        let slim = trim::script(&shell::read_file(&file)?)?;
        std::fs::remove_file(&file).map_err(|why| format!("{}: {why}.", file.display()))?;
        let stem = name.split('-').next().unwrap_or(name);
        let new = format!("{stem}-{}.js", &digest::hex(slim.as_bytes())[..16]);
        changed =
            changed.replace(name, &new).replace(integrity, &digest::integrity(slim.as_bytes()));
        shell::write_file(&folder.join(&new), slim)?;
    }
    Ok(changed)
}

/// A text without what stands between two marks, and without these.
fn without_parts(text: &str, start: &str, end: &str) -> String {
    let mut kept = String::new();
    let mut rest = text;
    while let Some((before, after)) = rest.split_once(start) {
        kept.push_str(before);
        rest = after.split_once(end).map_or("", |(_, after)| after);
    }
    kept + rest
}

/// A style sheet without comments, indentation and empty lines. Our sheets have no strings that
/// look like a comment.
fn without_comments(style: &str) -> String {
    let kept = without_parts(style, "/*", "*/");
    let lines = kept.lines().map(str::trim).filter(|line| !line.is_empty());
    lines.fold(String::new(), |text, line| text + line + "\n")
}

fn announce_worker(page: &str) -> Outcome<String> {
    let (off, on) =
        ("name=\"offline-worker\" content=\"no\"", "name=\"offline-worker\" content=\"yes\"");
    if !page.contains(off) {
        return Err(problem("index.html has lost its offline-worker line."));
    }
    Ok(page.replacen(off, on, 1))
}

fn write_worker(folder: &Path) -> Outcome {
    let mut files = shell::files_in(folder)?;
    files.sort_by_key(|name| (asked_for(name), name.clone()));
    let mut entries = Vec::new();
    for name in &files {
        let file = folder.join(name);
        let bytes = std::fs::read(&file).map_err(|why| format!("{}: {why}.", file.display()))?;
        // A host shows index.html under the folder's own address.
        let address = if name == "index.html" { "./" } else { name };
        entries.push((address, digest::integrity(&bytes)));
    }
    shell::write_file(&folder.join(WORKER_NAME), worker(&entries))
}

/// When a file is likely to be asked for. The worker fetches in the order of its list, over six lines at
/// best, and on the first visit a person goes on at the same time: a test first, all else after it.
fn asked_for(name: &str) -> u8 {
    let of_a_test = ["part-kept-", "part-test-", "shared-"];
    if of_a_test.iter().any(|start| name.starts_with(start)) {
        0
    } else {
        1 + u8::from(!name.starts_with("part-"))
    }
}

fn worker(entries: &[(&str, String)]) -> String {
    let lines = entries.iter().map(|(name, hash)| format!("  [\"{name}\", \"{hash}\"],\n"));
    let files = format!("[\n{}]", lines.collect::<String>());
    let version = &digest::hex(format!("{WORKER}{files}").as_bytes())[..16];
    WORKER.replace("@VERSION@", version).replace("@FILES@", &files)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn style_links_are_recognised() {
        let line = "  <link rel=\"stylesheet\" href=\"./base-4a.css\" integrity=\"x\"/>";
        assert_eq!(style_name(line), Some("base-4a.css"));
        assert_eq!(style_name("<link rel=\"icon\" href=\"./icon.svg\">"), None);
    }

    #[test]
    fn plain_scripts_come_last_in_the_head() {
        let [waited, later] = ["<script src=\"./e.js\">", "<script src=\"./c.js\" defer>"];
        let boot = "<script src=\"./b.js\" type=\"module\">";
        let page = format!("<head>\n{waited}\n<link>\n{later}\n{boot}\n</head>\n<body>\n");
        let moved = format!("<head>\n<link>\n{boot}\n{waited}\n{later}\n</head>\n<body>\n");
        assert_eq!(plain_scripts_last(&page).unwrap(), moved);
        assert!(plain_scripts_last(&format!("<head>\n{boot}\n</head>")).is_err());
    }

    #[test]
    fn styles_lose_comments_and_keep_rules() {
        let style = "/* a */\n.b { c: d; } /* e\n f */\n\n  .g { h: i; }\n";
        assert_eq!(without_comments(style), ".b { c: d; }\n.g { h: i; }\n");
    }

    #[test]
    fn the_worker_fetches_what_a_test_needs_first() {
        let mut names = ["icon.svg", "part-tests-1.wasm", "shared-5-2.wasm", "part-test-3.wasm"];
        names.sort_by_key(|name| asked_for(name));
        assert_eq!(names, ["shared-5-2.wasm", "part-test-3.wasm", "part-tests-1.wasm", "icon.svg"]);
    }

    #[test]
    fn worker_lists_files_and_its_version_follows_them() {
        let first = worker(&[("./", "sha256-a".into())]);
        let second = worker(&[("./", "sha256-b".into())]);
        assert!(first.contains("[\"./\", \"sha256-a\"],"));
        assert!(!first.contains('@'));
        assert_ne!(
            first.lines().find(|l| l.contains("VERSION =")),
            second.lines().find(|l| l.contains("VERSION ="))
        );
    }

    #[test]
    fn header_files_carry_the_policy_of_the_page() {
        let shell = include_str!("../../index.html");
        let policy = shell.split_once("Content-Security-Policy\" content=\"");
        let policy = policy.and_then(|(_, rest)| rest.split('"').next()).unwrap_or_default();
        assert!(policy.starts_with("default-src 'none'; script-src 'self' 'wasm-unsafe-eval'"));
        for file in [
            include_str!("../../docs/hosting/headers.txt"),
            include_str!("../../docs/hosting/nginx.conf"),
            include_str!("../../docs/hosting/apache.htaccess"),
        ] {
            assert!(file.contains(&format!("{policy}; frame-ancestors 'none'")), "{file}");
        }
    }

    #[test]
    fn the_shell_has_a_line_for_the_worker() {
        let shell = include_str!("../../index.html");
        assert!(announce_worker(shell).is_ok_and(|page| page.contains("content=\"yes\"")));
        assert!(announce_worker("<html>").is_err());
    }
}
