//! What is published: the finished page as one archive, with the sum of every file, after a second build
//! of the same commit has given the same bytes.
//!
//! The second build starts from a clone in another folder with nothing compiled before, so that neither
//! the place of the checkout nor what was left from earlier builds can be in the page.

use crate::digest;
use crate::page;
use crate::places;
use crate::shell::{self, Outcome, problem};
use crate::system;
use crate::toolchain::pinned;
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::process::Command;

const NEEDED: &[(&str, &str)] = &[("git", "git"), ("gzip", "gzip"), ("tar", "tar")];

/// The sum of each file of a folder, by its path inside.
type Sums = BTreeMap<String, String>;

/// Builds twice, compares, and leaves archive and sums under `target/archive/`.
pub fn run() -> Outcome {
    system::programs(NEEDED)?;
    let commit = page::commit().filter(|commit| !commit.ends_with('+')).ok_or_else(|| {
        problem("a release is made of a commit: this checkout has changes, or is not one of git.")
    })?;
    page::build()?;
    let sums = sums(&places::dist())?;
    let folder = places::target().join("archive");
    let again = build_again(&folder)?;
    let differing = differing(&sums, &again);
    if !differing.is_empty() {
        return Err(problem(format!(
            "two builds of {commit} differ, so there is no archive: {}.",
            differing.join(", ")
        )));
    }
    println!("   two builds of {commit} gave the same {} files", sums.len());
    let name = format!("two-marks-{}-{commit}.tar.gz", env!("CARGO_PKG_VERSION"));
    let archive = folder.join(&name);
    pack(&places::dist(), &archive)?;
    let bytes = fs::read(&archive).map_err(|why| format!("{}: {why}.", archive.display()))?;
    shell::write_file(&folder.join("SHA256SUMS"), listed(&name, &digest::hex(&bytes), &sums))?;
    println!("   {} ({} bytes) and SHA256SUMS beside it", archive.display(), bytes.len());
    Ok(())
}

/// The sums of the page that a clone of the checkout builds.
fn build_again(folder: &Path) -> Outcome<Sums> {
    shell::step("building the page once more, elsewhere");
    if folder.exists() {
        fs::remove_dir_all(folder).map_err(|why| format!("{}: {why}.", folder.display()))?;
    }
    let clone = folder.join("clone");
    let mut git = Command::new("git");
    git.args(["clone", "--quiet"]).arg(places::root()).arg(&clone);
    shell::run("git clone", &mut git)?;
    let mut build = Command::new("cargo");
    build.args(["xtask", "build"]).current_dir(&clone);
    build.env("CARGO_TARGET_DIR", clone.join("target"));
    shell::run("the second build", &mut build)?;
    let again = sums(&clone.join("dist"))?;
    fs::remove_dir_all(&clone).map_err(|why| format!("{}: {why}.", clone.display()))?;
    Ok(again)
}

fn sums(folder: &Path) -> Outcome<Sums> {
    let sum = |name: String| {
        let file = folder.join(&name);
        let bytes = fs::read(&file).map_err(|why| format!("{}: {why}.", file.display()))?;
        Ok((name, digest::hex(&bytes)))
    };
    shell::files_in(folder)?.into_iter().map(sum).collect()
}

/// The files that stand in one of the two only, or differ.
fn differing(first: &Sums, second: &Sums) -> Vec<String> {
    let mut names: Vec<String> = first.keys().chain(second.keys()).cloned().collect();
    names.sort();
    names.dedup();
    names.retain(|name| first.get(name) != second.get(name));
    names
}

/// Packs the folder so that the same files give the same archive: in the order of their names, with the
/// commit's time for all and nobody's name as owner.
fn pack(folder: &Path, archive: &Path) -> Outcome {
    let time = shell::read(pinned("git").args(["log", "-1", "--format=%ct"]));
    let time = time.ok_or_else(|| problem("git does not tell the commit's time."))?;
    let mut tar = Command::new("tar");
    tar.args(["--sort=name", "--owner=0", "--group=0", "--numeric-owner", "--mode=go=rX,u=rwX"]);
    tar.arg(format!("--mtime=@{time}")).args(["--use-compress-program", "gzip -n -9"]);
    tar.arg("--directory").arg(folder).arg("--create").arg("--file").arg(archive).arg(".");
    shell::run("tar", &mut tar).map_err(|why| format!("{why} It has to be GNU tar."))
}

/// The lines that `sha256sum --check` reads: the archive, then each file in it.
fn listed(archive: &str, sum: &str, sums: &Sums) -> String {
    let files = sums.iter().map(|(name, sum)| format!("{sum}  {name}\n"));
    format!("{sum}  {archive}\n") + &files.collect::<String>()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(files: &[(&str, &str)]) -> Sums {
        files.iter().map(|(name, sum)| ((*name).to_owned(), (*sum).to_owned())).collect()
    }

    #[test]
    fn a_file_that_differs_or_is_missing_is_named() {
        let first = of(&[("a", "1"), ("b", "2"), ("c", "3")]);
        let second = of(&[("a", "1"), ("b", "0"), ("d", "4")]);
        assert_eq!(differing(&first, &second), ["b", "c", "d"]);
        assert!(differing(&first, &first).is_empty());
    }

    #[test]
    fn every_file_of_a_folder_has_its_sum() {
        let sums = sums(&places::root().join("docs/hosting")).unwrap();
        let off = include_bytes!("../../docs/hosting/sw-off.js");
        assert_eq!(sums.get("sw-off.js"), Some(&digest::hex(off)));
        let lines = listed("page.tar.gz", "00", &sums);
        assert!(lines.starts_with("00  page.tar.gz\n"));
        assert_eq!(lines.lines().count(), sums.len() + 1);
    }
}
