//! The ledger of sizes: what the first load weighs, compared with the last entry that somebody
//! has given a reason for. Bytes do not wobble, so a check can hold them; times do, so it cannot.
//!
//! Compilers differ, so each has entries of its own. A compiler without any is reported and not
//! judged.

use crate::packs;
use crate::page;
use crate::places;
use crate::shell::{self, Outcome, problem};
use crate::system;
use crate::toolchain::Wasm;
use std::path::{Path, PathBuf};
use std::process::Command;

const HEADER: &str = "toolchain\traw_bytes\tbrotli_bytes\tgzip_bytes\treason";

/// Growth beyond this needs an entry with a reason. Design choice.
const GROWTH_PERCENT_MAX: u64 = 2;

const NEEDED: &[(&str, &str)] = &[("brotli", "brotli"), ("gzip", "gzip")];

/// What the files of the first load weigh together.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Sizes {
    raw: u64,
    brotli: u64,
    gzip: u64,
}

/// The command: builds, compares, and with `--accept REASON` enters the new sizes.
pub fn command(rest: &[String]) -> Outcome {
    let reason = match rest {
        [] => None,
        [flag, reason] if flag == "--accept" && !reason.trim().is_empty() => Some(reason.trim()),
        _ => return Err(problem("usage: cargo xtask sizes [--accept REASON]")),
    };
    page::build()?;
    match reason {
        None => check(),
        Some(reason) => accept(reason),
    }
}

/// Compares the finished page with the ledger.
pub fn check() -> Outcome {
    let toolchain = Wasm::find()?.name()?;
    let now = measure()?;
    let ledger = std::fs::read_to_string(ledger()).unwrap_or_default();
    let Some(before) = last_entry(&ledger, &toolchain)? else {
        println!("   no entry for {toolchain} in docs/sizes.tsv: growth is not judged here");
        return Ok(());
    };
    println!("   last entry: {} raw, {} brotli, {} gzip", before.raw, before.brotli, before.gzip);
    if grew(before.raw, now.raw) || grew(before.brotli, now.brotli) {
        return Err(problem(format!(
            "the page grew by more than {GROWTH_PERCENT_MAX} %: from {} to {} bytes, with Brotli \
             from {} to {}. If it is worth it, say why: cargo xtask sizes --accept \"the reason\"",
            before.raw, now.raw, before.brotli, now.brotli
        )));
    }
    Ok(())
}

fn accept(reason: &str) -> Outcome {
    if reason.contains(['\t', '\n']) {
        return Err(problem("the reason has to be one line without tabs."));
    }
    let toolchain = Wasm::find()?.name()?;
    let Sizes { raw, brotli, gzip } = measure()?;
    let before = std::fs::read_to_string(ledger()).unwrap_or_default();
    let before = if before.is_empty() { format!("{HEADER}\n") } else { before };
    let entry = format!("{toolchain}\t{raw}\t{brotli}\t{gzip}\t{reason}\n");
    shell::write_file(&ledger(), before + &entry)?;
    println!("   entered in docs/sizes.tsv: {}", entry.trim_end());
    Ok(())
}

fn ledger() -> PathBuf {
    places::root().join("docs/sizes.tsv")
}

/// The last entry of a compiler.
fn last_entry(ledger: &str, toolchain: &str) -> Outcome<Option<Sizes>> {
    let mine = |line: &&str| line.split('\t').next() == Some(toolchain);
    let Some(line) = ledger.lines().rfind(mine) else { return Ok(None) };
    let numbers: Vec<u64> =
        line.split('\t').skip(1).map_while(|field| field.parse().ok()).collect();
    match numbers[..] {
        [raw, brotli, gzip] => Ok(Some(Sizes { raw, brotli, gzip })),
        _ => Err(problem(format!("docs/sizes.tsv has a line that cannot be read: {line}"))),
    }
}

fn grew(before: u64, now: u64) -> bool {
    now * 100 > before * (100 + GROWTH_PERCENT_MAX)
}

fn measure() -> Outcome<Sizes> {
    system::programs(NEEDED)?;
    let dist = places::dist();
    let page = shell::read_file(&dist.join("index.html"))?;
    let mut total = Sizes { raw: 0, brotli: 0, gzip: 0 };
    for name in first_load(&page) {
        let file = dist.join(name);
        let raw = file.metadata().map_err(|why| format!("{}: {why}.", file.display()))?.len();
        let brotli = packed("brotli", &["--best", "--stdout"], &file)?;
        let gzip = packed("gzip", &["-9", "-n", "--stdout"], &file)?;
        println!("   {raw:>8} raw {brotli:>7} brotli {gzip:>7} gzip  {name}");
        total.raw += raw;
        total.brotli += brotli;
        total.gzip += gzip;
    }
    let Sizes { raw, brotli, gzip } = total;
    println!("   {raw:>8} raw {brotli:>7} brotli {gzip:>7} gzip  first load");
    for name in packs::named(&page) {
        let brotli = packed("brotli", &["--best", "--stdout"], &dist.join(&name))?;
        println!("   {brotli:>27} brotli only for its readers  {name}");
    }
    for name in parts(&dist)? {
        let brotli = packed("brotli", &["--best", "--stdout"], &dist.join(&name))?;
        println!("   {brotli:>27} brotli only with its pages  {name}");
    }
    Ok(total)
}

/// The page and the files it names as needed to start: style, scripts and preloads.
fn first_load(page: &str) -> Vec<&str> {
    let mut names = vec!["index.html"];
    for tag in page.split('<').filter(|tag| tag.starts_with("script ") || tag.starts_with("link "))
    {
        let starts = ["rel=\"stylesheet\"", "rel=\"modulepreload\"", "rel=\"preload\"", "src="];
        if starts.iter().any(|word| tag.contains(word)) {
            let name = tag.split_once("=\"./").and_then(|(_, rest)| rest.split('"').next());
            names.extend(name);
        }
    }
    names
}

/// The files of the cut program that are fetched with the pages that need them.
fn parts(dist: &Path) -> Outcome<Vec<String>> {
    let files = std::fs::read_dir(dist).map_err(|why| format!("{}: {why}.", dist.display()))?;
    let names = files.filter_map(|file| file.ok()?.file_name().into_string().ok());
    let mut found: Vec<String> =
        names.filter(|name| name.starts_with("part-") || name.starts_with("shared-")).collect();
    found.sort();
    Ok(found)
}

fn packed(program: &str, arguments: &[&str], file: &Path) -> Outcome<u64> {
    let output = Command::new(program).args(arguments).arg(file).output();
    let output = output.map_err(|why| format!("{program}: {why}."))?;
    if !output.status.success() {
        return Err(problem(format!("{program} failed on {}.", file.display())));
    }
    Ok(output.stdout.len() as u64)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_last_entry_of_the_same_compiler_counts() {
        let ledger = format!("{HEADER}\na\t1\t2\t3\tx\nb\t4\t5\t6\ty\na\t7\t8\t9\tz\n");
        assert_eq!(last_entry(&ledger, "a"), Ok(Some(Sizes { raw: 7, brotli: 8, gzip: 9 })));
        assert_eq!(last_entry(&ledger, "c"), Ok(None));
        assert!(last_entry("a\t1\tx", "a").is_err());
    }

    #[test]
    fn two_percent_is_the_limit() {
        assert!(!grew(100_000, 102_000));
        assert!(grew(100_000, 102_001));
        assert!(!grew(100_000, 90_000));
    }

    #[test]
    fn first_load_is_what_the_page_names() {
        let page = "<link rel=\"icon\" href=\"./i.svg\"><script src=\"./a.js\"></script>\
                    <link rel=\"preload\" href=\"./b.wasm\" as=\"fetch\"><a href=\"./c\">";
        assert_eq!(first_load(page), ["index.html", "a.js", "b.wasm"]);
    }
}
