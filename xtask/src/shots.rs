//! Pictures of every state of the page, for people to look at.

use crate::browser;
use crate::page;
use crate::places;
use crate::shell::{self, Outcome};

/// Builds the page and takes the pictures.
pub fn run() -> Outcome {
    browser::ready()?;
    page::build()?;
    shell::step("taking pictures");
    let folder = places::target().join("shots");
    let mut script = browser::script("shots.mjs")?;
    shell::run("taking pictures", script.arg(&folder))?;
    println!("   the pictures are in {}", folder.display());
    Ok(())
}
