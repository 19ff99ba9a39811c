//! The words outside the program: those of the shell in `index.html` and of the paper form, which must
//! be there when the program cannot run. They stand in `src/text/TAG/outside/`, and the build fills
//! them in: English into both pages, every other language into a paper form and a small file of the
//! shell's words of its own.

use crate::catalogue::Entry;
use crate::catalogues;
use crate::languages::Tongue;
use crate::places;
use crate::shell::{self, Outcome, problem};
use std::path::{Path, PathBuf};

/// The paper form: in English under this name, and the build's template before.
const FORM: &str = "paper.html";
/// The file of the shell's words, without its ending.
const SHELL: &str = "shell";

/// The words of one language, each with the name of its file.
type Said = Vec<(String, Entry)>;

/// A file of the shell's words in a language: names and words as JSON, for `public/crash.js`.
pub fn shell_words(tag: &str) -> Outcome<String> {
    let said = read(tag)?;
    let own = said.iter().filter(|(file, _)| file == SHELL);
    let own: serde_json::Map<_, _> =
        own.map(|(_, entry)| (entry.id.clone(), words_of(entry).into())).collect();
    Ok(serde_json::Value::from(own).to_string())
}

/// Writes the paper form in every language and returns the page with the shell's words in English.
pub fn write(folder: &Path, page: &str, tongues: &[Tongue]) -> Outcome<String> {
    let template = shell::read_file(&folder.join(FORM))?;
    let mut all = vec![("en", "English", false, read("en")?)];
    for tongue in tongues {
        all.push((&tongue.tag, &tongue.name, tongue.is_rtl, read(&tongue.tag)?));
    }
    for (tag, _, is_rtl, said) in &all {
        let others = all.iter().filter(|(other, ..)| other != tag);
        let links = others.map(|(tag, name, ..)| {
            let file = form_of(tag);
            format!("<a href=\"{file}\" lang=\"{tag}\" hreflang=\"{tag}\">{}</a>", escaped(name))
        });
        let links = links.collect::<Vec<_>>().join(" ");
        let own =
            [("lang", *tag), ("dir", if *is_rtl { "rtl" } else { "ltr" }), ("languages", &links)];
        shell::write_file(&folder.join(form_of(tag)), fill(FORM, &template, &own, said)?)?;
    }
    // Without script nothing can choose a language, so each has its line.
    let lines = all.iter().map(|(tag, _, is_rtl, said)| {
        let direction = if *is_rtl { " dir=\"rtl\"" } else { "" };
        let line = format!(
            "<p class=\"pad\" lang=\"{tag}\"{direction}>{{no_script}} \
             <a href=\"{}\">{{no_script_paper}}</a></p>",
            form_of(tag)
        );
        fill("the line without script", &line, &[], said)
    });
    let lines = lines.collect::<Outcome<Vec<_>>>()?.join("\n    ");
    let english = all.first().map_or(&[][..], |(.., said)| said);
    fill("index.html", page, &[("no_script_lines", &lines)], english)
}

/// The paper form of a language.
fn form_of(tag: &str) -> String {
    if tag == "en" { FORM.to_owned() } else { FORM.replace('.', &format!("-{tag}.")) }
}

fn folder_of(tag: &str) -> PathBuf {
    places::root().join("src/text").join(tag).join("outside")
}

fn read(tag: &str) -> Outcome<Said> {
    catalogues::read(&folder_of(tag)).map_err(problem)
}

/// The words of a message; outside the program nothing is counted, so it has one form.
fn words_of(entry: &Entry) -> &str {
    entry.forms.last().map_or("", |(_, words)| words)
}

/// A template with words for its names in braces. `own` is put in as it is.
fn fill(
    name: &str,
    template: &str,
    own: &[(&str, &str)],
    said: &[(String, Entry)],
) -> Outcome<String> {
    let mut filled = String::with_capacity(template.len() * 2);
    let mut rest = template;
    while let Some((before, after)) = rest.split_once('{') {
        let (id, next) = after
            .split_once('}')
            .ok_or_else(|| problem(format!("{name}: a brace is not closed.")))?;
        filled.push_str(before);
        let ready = own.iter().find(|(its, _)| *its == id).map(|(_, text)| (*text).to_owned());
        let found = said.iter().find(|(_, entry)| entry.id == id);
        let words = ready.or_else(|| found.map(|(_, entry)| escaped(words_of(entry))));
        filled.push_str(&words.ok_or_else(|| problem(format!("{name}: no words for '{id}'.")))?);
        rest = next;
    }
    filled.push_str(rest);
    Ok(filled)
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue;

    const PAGES: [(&str, &str); 2] = [
        (FORM, include_str!("../../public/paper.html")),
        ("index.html", include_str!("../../index.html")),
    ];

    fn said(file: &str) -> Said {
        let (entries, faults) = catalogue::parse(file);
        assert_eq!(faults, []);
        entries.into_iter().map(|entry| (SHELL.to_owned(), entry)).collect()
    }

    #[test]
    fn words_are_put_in_as_text_and_what_is_ready_as_it_is() {
        let said = said("a = <b> & \"c\"\nd (n: text) = {n} d\n");
        let filled = fill("x", "1 {a} 2 {d} 3 {e}", &[("e", "<i>")], &said);
        assert_eq!(filled.as_deref(), Ok("1 &lt;b&gt; &amp; &quot;c&quot; 2 {n} d 3 <i>"));
        for (template, wrong) in
            [("{f}", "x: no words for 'f'."), ("{a", "x: a brace is not closed.")]
        {
            assert_eq!(fill("x", template, &[], &said).as_deref(), Err(&wrong.to_owned()));
        }
    }

    #[test]
    fn every_word_outside_the_program_has_its_place_on_a_page() {
        let all = read("en").unwrap_or_default();
        let unused: Vec<&str> = all
            .iter()
            .map(|(_, entry)| entry.id.as_str())
            .filter(|id| !id.starts_with("no_script"))
            .filter(|id| !PAGES.iter().any(|(_, page)| page.contains(&format!("{{{id}}}"))))
            .collect();
        assert_eq!(unused, [""; 0]);
        assert!(all.len() > 60, "{} words were read", all.len());
    }

    #[test]
    fn the_shell_marks_each_of_its_words_for_other_languages() {
        let (_, shell) = PAGES[1];
        for part in shell.split("data-say=\"").skip(1) {
            let id = part.split('"').next().unwrap_or_default();
            assert!(part.contains(&format!(">{{{id}}}</")), "{id}");
        }
        for id in shell.split("{shell_").skip(1).filter_map(|part| part.split('}').next()) {
            assert!(shell.contains(&format!("data-say=\"shell_{id}\"")), "shell_{id}");
        }
    }
}
