//! Chores of Two Marks, run as `cargo xtask <command>`.
//!
//! Modules stand in reading order: a module uses only those above it, apart from `finish`, which
//! Trunk calls back through the same program while `page` waits for it.

mod versions;

mod shell;

mod places;

mod system;

mod toolchain;

mod tools;

mod digest;

mod notices;

// What the program's own build reads of the words, the packs are made of too.
#[path = "../../src/text/catalogue.rs"]
mod catalogue;
mod catalogues;
#[path = "../../src/text/languages.rs"]
mod languages;
#[path = "../../src/text/packing.rs"]
mod packing;

mod outside;

mod packs;
mod trim;
mod parts;

mod finish;

mod page;

mod host;

mod sizes;

mod browser;

mod dependencies;

mod check;

mod shots;

mod bench;

mod release;

use shell::{Outcome, problem};
use std::process::ExitCode;

const USAGE: &str = "\
cargo xtask <command>

  serve [--lan] [--port N]   build the page and serve it; --lan also to other devices
  test                       run every check
  build                      leave the finished page in dist/
  dev [--port N]             serve, and build again on each save
  shots                      pictures of every route and state, under target/shots/
  bench                      measure the page by hand and write docs/speed.md
  release                    build twice, compare, and pack the page with the sums of its files
  advisories                 published advisories on what is depended on, as far as they can be asked
  sizes [--accept REASON]    compare the page's size with docs/sizes.tsv, or enter it there

  host FOLDER [--lan] [--port N] [--prefix PATH] [--log FILE]
                             serve a folder as it is (port 0: any free one)
  finish                     called by Trunk during a build";

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    match run(&arguments) {
        Ok(true) => ExitCode::SUCCESS,
        Ok(false) => ExitCode::FAILURE,
        Err(why) => {
            eprintln!("\nxtask: {why}");
            ExitCode::FAILURE
        }
    }
}

/// Runs a command; `false` when it has told by itself that something failed.
fn run(arguments: &[String]) -> Outcome<bool> {
    let Some((command, rest)) = arguments.split_first() else {
        println!("{USAGE}");
        return Ok(true);
    };
    match command.as_str() {
        "test" => return check::run(),
        "advisories" => return dependencies::advisories(),
        "serve" => {
            let options = host::Options::parse(rest, places::dist())?;
            page::build()?;
            host::serve(&options)
        }
        "host" => {
            let Some((folder, rest)) = rest.split_first() else {
                return Err(problem("host needs the folder to serve, for example: host dist"));
            };
            host::serve(&host::Options::parse(rest, folder.into())?)
        }
        "build" => page::build(),
        "dev" => page::dev(rest),
        "shots" => shots::run(),
        "bench" => bench::run(),
        "release" => release::run(),
        "sizes" => sizes::command(rest),
        "finish" => finish::run(),
        "help" | "--help" | "-h" => {
            println!("{USAGE}");
            Ok(())
        }
        other => Err(problem(format!("there is no command '{other}'.\n\n{USAGE}"))),
    }
    .map(|()| true)
}
