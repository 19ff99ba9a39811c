//! Running other programs: with progress while they take long, and a sentence when they fail.

use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Command, ExitStatus, Stdio};
use std::time::{Duration, Instant};

/// What every chore returns: nothing or a value, or the sentence that tells what is in the way.
pub type Outcome<T = ()> = Result<T, String>;

/// Makes the error of an [`Outcome`].
pub fn problem(sentence: impl Into<String>) -> String {
    sentence.into()
}

/// Silent programs get a line of progress this often.
const PROGRESS_EVERY: Duration = Duration::from_secs(30);

/// Announces a step.
pub fn step(what: &str) {
    println!("== {what}");
}

/// Runs the command to its end, with a line of progress now and then.
pub fn run(what: &str, command: &mut Command) -> Outcome {
    let status = watch(what, command, None)?;
    if status.success() { Ok(()) } else { Err(problem(format!("{what} failed ({status})."))) }
}

/// Runs the command for at most `limit`; `false` when it failed or had to be stopped.
pub fn try_within(what: &str, command: &mut Command, limit: Duration) -> bool {
    watch(what, command, Some(limit)).is_ok_and(|status| status.success())
}

fn watch(what: &str, command: &mut Command, limit: Option<Duration>) -> Outcome<ExitStatus> {
    let name = command.get_program().to_string_lossy().into_owned();
    let mut child =
        command.spawn().map_err(|error| format!("{what}: '{name}' did not start: {error}."))?;
    let start = Instant::now();
    let mut next = PROGRESS_EVERY;
    loop {
        if let Some(status) = child.try_wait().map_err(|error| format!("{what}: {error}."))? {
            return Ok(status);
        }
        let spent = start.elapsed();
        if limit.is_some_and(|limit| spent > limit) {
            let stopped = child.kill().and_then(|()| child.wait());
            return stopped.map_err(|error| format!("{what}: could not be stopped: {error}."));
        }
        if spent >= next {
            println!("   ... {what}: {} s so far", spent.as_secs());
            next += PROGRESS_EVERY;
        }
        std::thread::sleep(Duration::from_millis(50));
    }
}

/// Runs the command, passes its output on line by line, and shows each line to `see`.
pub fn run_reading(
    what: &str,
    command: &mut Command,
    mut see: impl FnMut(&str),
) -> Outcome<ExitStatus> {
    let name = command.get_program().to_string_lossy().into_owned();
    let mut child = command
        .stdout(Stdio::piped())
        .spawn()
        .map_err(|error| format!("{what}: '{name}' did not start: {error}."))?;
    if let Some(output) = child.stdout.take() {
        for line in BufReader::new(output).lines().map_while(Result::ok) {
            println!("{line}");
            see(&line);
        }
    }
    child.wait().map_err(|error| format!("{what}: {error}."))
}

/// What the command prints, trimmed; nothing when it is missing or fails.
pub fn read(command: &mut Command) -> Option<String> {
    let output = command.stderr(Stdio::null()).output().ok()?;
    let text = String::from_utf8(output.stdout).ok()?;
    output.status.success().then(|| text.trim().to_owned())
}

/// Where a program stands on the search path.
pub fn find(program: &str) -> Option<PathBuf> {
    let path = std::env::var_os("PATH")?;
    std::env::split_paths(&path).map(|folder| folder.join(program)).find(|file| is_program(file))
}

#[cfg(unix)]
fn is_program(file: &Path) -> bool {
    use std::os::unix::fs::PermissionsExt;
    file.metadata().is_ok_and(|meta| meta.is_file() && meta.permissions().mode() & 0o111 != 0)
}

#[cfg(not(unix))]
fn is_program(file: &Path) -> bool {
    file.is_file() || file.with_extension("exe").is_file()
}

/// Reads a text file, or says which one could not be read.
pub fn read_file(file: &Path) -> Outcome<String> {
    std::fs::read_to_string(file)
        .map_err(|error| format!("{} cannot be read: {error}.", file.display()))
}

/// Writes a file and the folders above it, or says which one could not be written.
pub fn write_file(file: &Path, content: impl AsRef<[u8]>) -> Outcome {
    let folder = file.parent().unwrap_or(Path::new("."));
    std::fs::create_dir_all(folder)
        .and_then(|()| std::fs::write(file, content))
        .map_err(|error| format!("{} cannot be written: {error}.", file.display()))
}

/// The files of a folder and of those in it, by their paths inside with `/` between, in order.
pub fn files_in(folder: &Path) -> Outcome<Vec<String>> {
    let mut files = Vec::new();
    let mut left = vec![folder.to_path_buf()];
    while let Some(path) = left.pop() {
        if path.is_dir() {
            let inside = path.read_dir().map_err(|why| format!("{}: {why}.", path.display()))?;
            left.extend(inside.flatten().map(|entry| entry.path()));
        } else if let Ok(inside) = path.strip_prefix(folder) {
            let parts: Vec<_> = inside.iter().map(|part| part.to_string_lossy()).collect();
            files.push(parts.join("/"));
        }
    }
    files.sort();
    Ok(files)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_what_a_program_prints() {
        assert_eq!(read(Command::new("cargo").arg("--version")).map(|v| v.is_empty()), Some(false));
        assert_eq!(read(Command::new("no-such-program-here").arg("x")), None);
    }

    #[test]
    fn failure_names_the_step() {
        let mut command = Command::new("cargo");
        let failed = run("asking cargo", command.arg("--no-such-flag").stderr(Stdio::null()));
        assert!(failed.is_err_and(|why| why.starts_with("asking cargo failed")));
    }
}
