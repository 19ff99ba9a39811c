//! Programs of the machine: Debian packages and Node.

use crate::shell::{self, Outcome, problem};
use crate::versions::NODE_MAJOR_MIN;
use std::process::Command;

/// Programs with the Debian package that carries each.
pub const FOR_TESTS: &[(&str, &str)] = &[
    ("chromium", "chromium"),
    ("chromedriver", "chromium-driver"),
    ("brotli", "brotli"),
    ("zbarimg", "zbar-tools"),
    ("pdftotext", "poppler-utils"),
];

/// Installs the packages whose programs are missing.
pub fn programs(wanted: &[(&str, &str)]) -> Outcome {
    let missing: Vec<&str> = wanted
        .iter()
        .filter(|(program, _)| shell::find(program).is_none())
        .map(|(_, package)| *package)
        .collect();
    if missing.is_empty() { Ok(()) } else { install(&missing) }
}

/// Installs Debian packages.
pub fn install(packages: &[&str]) -> Outcome {
    let list = packages.join(" ");
    let by_hand = format!("sudo apt-get update && sudo apt-get install -y {list}");
    if shell::find("apt-get").is_none() {
        return Err(problem(format!(
            "these Debian packages are needed and this machine has no apt-get: {list}. \
             Install what they hold by your system's own means, then run this again."
        )));
    }
    if !is_root() {
        return Err(problem(format!(
            "system packages are missing and installing them needs root. Run: {by_hand}"
        )));
    }
    shell::step(&format!("installing {list}"));
    let apt = |arguments: &[&str]| {
        let mut command = Command::new("apt-get");
        command.env("DEBIAN_FRONTEND", "noninteractive").args(arguments);
        command
    };
    let offline = |why: String| {
        format!("{why} Is the network there? Once it is, run this again, or by hand: {by_hand}")
    };
    shell::run("apt-get update", &mut apt(&["update", "-q"])).map_err(offline)?;
    let mut arguments = vec!["install", "-y", "-q", "--no-install-recommends"];
    arguments.extend(packages);
    shell::run("apt-get install", &mut apt(&arguments)).map_err(offline)
}

fn is_root() -> bool {
    shell::read(Command::new("id").arg("-u")).as_deref() == Some("0")
}

/// Says what to do when Node or npm is missing or too old.
pub fn node() -> Outcome {
    let way_out = format!(
        "Install Node {NODE_MAJOR_MIN} or newer with npm (nodejs.org, or your system's packages), \
         then run this again."
    );
    let Some(version) = shell::read(Command::new("node").arg("--version")) else {
        return Err(problem(format!("Node is missing. {way_out}")));
    };
    if node_major(&version).is_none_or(|major| major < NODE_MAJOR_MIN) {
        return Err(problem(format!("Node is {version}, which is too old. {way_out}")));
    }
    if shell::find("npm").is_none() {
        return Err(problem(format!("npm is missing. {way_out}")));
    }
    Ok(())
}

fn node_major(version: &str) -> Option<u32> {
    version.trim_start_matches('v').split('.').next()?.parse().ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn node_version_is_read() {
        assert_eq!(node_major("v20.20.2"), Some(20));
        assert_eq!(node_major("nonsense"), None);
    }
}
