//! The languages beside English, as files that the page loads when somebody reads them: the words of
//! the program, and beside them those of the shell.

use crate::catalogue::Entry;
use crate::catalogues;
use crate::digest;
use crate::languages;
use crate::outside;
use crate::packing;
use crate::places;
use crate::shell::{self, Outcome, problem};
use std::path::Path;

/// The line of the page that tells which file holds which language.
const LINE: (&str, &str) = ("<meta name=\"languages\" content=\"", "\">");

/// Writes every language into the folder and returns the page that names them: `de=words-de-….txt`
/// for each, with a blank between. The words of the shell have the same name but for `shell` and
/// `.json`, so the hash in it stands for both.
pub fn write(folder: &Path, page: &str) -> Outcome<String> {
    let text = places::root().join("src/text");
    let english = read(&text.join("en"))?;
    let list = shell::read_file(&text.join("languages.txt"))?;
    let tongues = languages::tongues(&list)
        .ok_or_else(|| problem("src/text/languages.txt cannot be read."))?;
    let mut named = Vec::new();
    for tongue in &tongues {
        let translated = read(&text.join(&tongue.tag))?;
        let pack = packing::packed(&english, &translated, tongue.is_rtl);
        let around = outside::shell_words(&tongue.tag)?;
        let hash = digest::hex(format!("{pack}{around}").as_bytes());
        let name = format!("words-{}-{}.txt", tongue.tag, &hash[..16]);
        shell::write_file(&folder.join(&name), pack)?;
        shell::write_file(&folder.join(shell_of(&name)), around)?;
        named.push(format!("{}={name}", tongue.tag));
    }
    let page = outside::write(folder, page, &tongues)?;
    announce(&page, &named.join(" "))
}

fn read(folder: &Path) -> Outcome<Vec<Entry>> {
    let read = catalogues::read(folder).map_err(problem)?;
    Ok(read.into_iter().map(|(_, entry)| entry).collect())
}

fn announce(page: &str, named: &str) -> Outcome<String> {
    let (start, end) = LINE;
    let empty = format!("{start}{end}");
    if !page.contains(&empty) {
        return Err(problem("index.html has lost its line for the languages."));
    }
    Ok(page.replacen(&empty, &format!("{start}{named}{end}"), 1))
}

/// The words of the shell that belong to a pack, by its name.
fn shell_of(pack: &str) -> String {
    pack.replacen("words-", "shell-", 1).replace(".txt", ".json")
}

/// The files of languages that a finished page names, with those of the shell.
pub fn named(page: &str) -> Vec<String> {
    let content = page.split_once(LINE.0).and_then(|(_, rest)| rest.split(LINE.1).next());
    let names = content.unwrap_or_default().split(' ').filter_map(|pair| pair.split_once('='));
    names.flat_map(|(_, name)| [name.to_owned(), shell_of(name)]).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_shell_has_a_line_for_the_languages() {
        let page =
            announce(include_str!("../../index.html"), "de=words-de-1.txt fr=words-fr-2.txt");
        let all = ["words-de-1.txt", "shell-de-1.json", "words-fr-2.txt", "shell-fr-2.json"];
        assert_eq!(page.as_deref().map(named), Ok(all.map(str::to_owned).to_vec()));
        assert!(announce("<html>", "").is_err());
    }
}
