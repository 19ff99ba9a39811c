//! The files of a language, read from its folder: for the build of the program (`build.rs` takes this
//! file too) and for the packs.

use super::catalogue::{self, Entry};
use std::fs;
use std::path::Path;

/// The messages of one language, each with the name of its file without the ending, in the order
/// of the files' names.
///
/// # Errors
/// What is wrong, with file and line.
pub fn read(folder: &Path) -> Result<Vec<(String, Entry)>, String> {
    let unread = |why: std::io::Error| format!("{}: {why}", folder.display());
    let mut files = Vec::new();
    for file in fs::read_dir(folder).map_err(unread)? {
        files.push(file.map_err(unread)?.path());
    }
    files.sort();
    let mut entries: Vec<(String, Entry)> = Vec::new();
    for file in files.iter().filter(|file| file.extension().is_some_and(|end| end == "txt")) {
        let (read, faults) = catalogue::parse(&fs::read_to_string(file).map_err(unread)?);
        if let Some(fault) = faults.first() {
            return Err(format!("{}:{}: {}", file.display(), fault.line, fault.what));
        }
        let page = file.file_stem().and_then(|stem| stem.to_str()).unwrap_or_default();
        for entry in read {
            if entries.iter().any(|(_, earlier)| earlier.id == entry.id) {
                return Err(format!("{}: {} stands twice", file.display(), entry.id));
            }
            entries.push((page.to_owned(), entry));
        }
    }
    Ok(entries)
}
