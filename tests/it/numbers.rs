//! Every number on a screen has a source, or says that it is our own reckoning, or is a person's own.
//!
//! `docs/numbers.tsv` lists every message that holds a number or is given one. A message that is not
//! on the list fails, and so does a line whose message holds none any more. For what was published and
//! for what we reckoned, some message that says so stands on each screen which shows the number, or on
//! a screen that it links to: read from the code of the pages, since no browser is needed for it.
//!
//! What this does not show: that such a sentence is drawn in every state of its screen.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

use two_marks::text::Message;

use crate::languages::every_message;

const LIST: &str = include_str!("../../docs/numbers.tsv");

/// Arguments that are words, names or days; every other argument counts as a number.
const WORD_ARGUMENTS: [&str; 37] = [
    "app", "authors", "book", "by", "column", "commit", "date", "division", "first", "ground",
    "kind", "label", "line", "list", "name", "names", "page", "part", "piece", "place", "said",
    "second", "sheet", "sign", "since", "table", "take_off", "unit", "until", "verdict", "version",
    "wall", "weekday", "what", "when", "whom", "why",
];

/// Numbers written out. "One" is left out: English uses it as an article.
const NUMBER_WORDS: [&str; 19] = [
    "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
    "fifteen", "twenty", "thirty", "hundred", "half", "quarter", "twice", "dozen",
];

struct Line {
    message: &'static str,
    class: &'static str,
    says: Vec<&'static str>,
    key: &'static str,
}

fn list() -> Vec<Line> {
    let lines = LIST.lines().filter(|line| !line.starts_with('#')).skip(1);
    lines
        .map(|line| {
            let columns: Vec<&str> = line.split('\t').collect();
            let [_, message, class, says, key] = columns[..] else { panic!("{line}") };
            let says = says.split('|').filter(|id| *id != "-").collect();
            Line { message, class, says, key }
        })
        .collect()
}

fn without_placeholders(template: &str) -> String {
    let mut text = String::new();
    let mut rest = template;
    while let Some((before, after)) = rest.split_once('{') {
        text.push_str(before);
        rest = after.split_once('}').unwrap().1;
    }
    text + rest
}

fn literal_number(form: &str) -> bool {
    let text = without_placeholders(form).to_lowercase();
    let mut words = text.split(|sign: char| !sign.is_alphanumeric());
    text.contains(|sign: char| sign.is_ascii_digit())
        || words.any(|word| NUMBER_WORDS.contains(&word))
}

fn holds_a_number(message: &Message) -> bool {
    let literal = message.forms.iter().any(|(_, form)| literal_number(form));
    literal || message.arguments.iter().any(|name| !WORD_ARGUMENTS.contains(name))
}

fn template(id: &str) -> String {
    let all = every_message();
    let message = all.iter().find(|message| message.id == id);
    let message = message.unwrap_or_else(|| panic!("{id}: English has no such message"));
    message.forms.iter().map(|(_, form)| *form).collect::<Vec<_>>().join(" ")
}

#[test]
fn every_message_with_a_number_is_on_the_list_once_and_no_other_is() {
    let wanted: BTreeSet<&str> =
        every_message().iter().filter(|message| holds_a_number(message)).map(|m| m.id).collect();
    let listed: Vec<&str> = list().iter().map(|line| line.message).collect();
    let known: BTreeSet<&str> = listed.iter().copied().collect();
    let missing: Vec<_> = wanted.difference(&known).collect();
    let stale: Vec<_> = known.difference(&wanted).collect();
    assert!(missing.is_empty(), "docs/numbers.tsv does not say where these come from: {missing:?}");
    assert!(stale.is_empty(), "docs/numbers.tsv still lists: {stale:?}");
    assert_eq!(listed.len(), known.len(), "a message stands twice");
}

#[test]
fn what_says_so_really_says_so() {
    for line in list() {
        let said: Vec<String> = line.says.iter().map(|id| template(id)).collect();
        let id = line.message;
        match line.class {
            "own" => {
                assert!(!said.is_empty() && line.key != "-", "{id}: who says that it is our own?");
                for text in said {
                    let ours = text.contains("our own") || text.contains("our tables");
                    assert!(ours, "{id}: {text}");
                }
            }
            "source" => {
                assert!(!said.is_empty() && line.key != "-", "{id}: who names the source?");
                for text in said {
                    assert!(names_a_source(&text), "{id}: {text}");
                }
            }
            "practice" => assert!(line.key != "-", "{id}: why is it said?"),
            "yours" | "count" | "rule" | "meaning" => assert!(said.is_empty(), "{id}"),
            other => panic!("{id}: {other}"),
        }
    }
}

/// A year of publication, an institution, or the place where a citation is filled in.
fn names_a_source(text: &str) -> bool {
    let years = text.split(|sign: char| !sign.is_ascii_digit());
    let year =
        years.filter_map(|digits| digits.parse::<u16>().ok()).any(|n| (1960..2030).contains(&n));
    year || ["{authors}", "{book}", "Source:"].iter().any(|mark| text.contains(mark))
}

fn folder(path: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(path)
}

fn texts(path: &Path, found: &mut BTreeMap<String, String>) {
    for entry in fs::read_dir(path).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            texts(&path, found);
        } else if path.extension().is_some_and(|end| end == "rs") {
            let stem = path.file_stem().unwrap().to_str().unwrap();
            let parent = path.parent().unwrap().file_name().unwrap().to_str().unwrap();
            let name = if stem == "mod" { parent } else { stem };
            let text = fs::read_to_string(&path).unwrap();
            found.entry(name.to_owned()).or_default().push_str(&text);
        }
    }
}

fn calls(code: &str, name: &str) -> bool {
    code.contains(&format!(".{name}(")) || code.contains(&format!("::{name}"))
}

/// The sentences put together in `src/text`: each function with its code.
fn sayings() -> Vec<(String, String)> {
    let mut files = BTreeMap::new();
    for entry in fs::read_dir(folder("src/text")).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_some_and(|end| end == "rs") {
            files.insert(path.clone(), fs::read_to_string(&path).unwrap());
        }
    }
    let mut all = Vec::new();
    for text in files.values() {
        let shipped = text.split("#[cfg(test)]").next().unwrap();
        for part in shipped.split("fn ").skip(1) {
            let name: String =
                part.chars().take_while(|sign| sign.is_alphanumeric() || *sign == '_').collect();
            all.push((name, part.to_owned()));
        }
    }
    all
}

/// Every screen by the name of its file: what it can say, and the screens it links to.
struct Screens {
    code: BTreeMap<String, String>,
    links: BTreeMap<String, BTreeSet<String>>,
}

impl Screens {
    fn read() -> Self {
        let mut files = BTreeMap::new();
        texts(&folder("src/ui/pages"), &mut files);
        let routes = files.remove("pages").unwrap() + &files.remove("parts").unwrap();
        // "Route::Sure => super::sure::page(app),"
        let mut page_of: BTreeMap<String, String> = BTreeMap::new();
        for line in routes.lines() {
            if let Some((left, right)) = line.split_once("=>")
                && let Some(file) = right
                    .trim()
                    .split("::")
                    .find(|f| *f != "super")
                    .filter(|f| files.contains_key(*f))
            {
                for route in left.split("Route::").skip(1) {
                    let name: String =
                        route.chars().take_while(char::is_ascii_alphanumeric).collect();
                    page_of.insert(name, file.to_owned());
                }
            }
        }
        let (mut code, mut links) = (BTreeMap::new(), BTreeMap::new());
        for page in page_of.values() {
            let mut names = BTreeSet::from([page.clone()]);
            loop {
                let more: Vec<String> = files
                    .keys()
                    .filter(|file| !names.contains(*file))
                    .filter(|file| names.iter().any(|n| files[n].contains(&format!("{file}::"))))
                    .cloned()
                    .collect();
                if more.is_empty() {
                    break;
                }
                names.extend(more);
            }
            let text: String = names.iter().map(|name| files[name].as_str()).collect();
            let to = page_of.iter().filter(|(route, _)| text.contains(&format!("Route::{route}")));
            links.insert(page.clone(), to.map(|(_, page)| page.clone()).collect());
            code.insert(page.clone(), text);
        }
        // The pages outside the program: the words that they have places for.
        for name in ["public/paper.html", "index.html"] {
            let text = fs::read_to_string(folder(name)).unwrap();
            code.insert(name.to_owned(), text.replace('{', ".").replace('}', "("));
            links.insert(name.to_owned(), BTreeSet::new());
        }
        let said = sayings();
        for text in code.values_mut() {
            let mut taken = vec![false; said.len()];
            loop {
                let next = (0..said.len()).find(|at| !taken[*at] && calls(text, &said[*at].0));
                let Some(at) = next else { break };
                taken[at] = true;
                text.push_str(&said[at].1);
            }
        }
        Self { code, links }
    }

    /// The screens that can show a message.
    fn of(&self, message: &str) -> Vec<&str> {
        let all = self.code.iter().filter(|(_, code)| calls(code, message));
        all.map(|(name, _)| name.as_str()).collect()
    }

    fn says(&self, screen: &str, message: &str) -> bool {
        let near = self.links[screen].iter().map(String::as_str).chain([screen]);
        near.into_iter().any(|name| calls(&self.code[name], message))
    }
}

#[test]
fn a_screen_with_a_figure_of_others_or_our_own_says_so_or_links_to_where_it_is_said() {
    let screens = Screens::read();
    assert!(
        screens.code.len() > 20,
        "{} screens: the pages are no longer seen",
        screens.code.len()
    );
    let (mut wrong, mut checked) = (Vec::new(), 0);
    for line in list().iter().filter(|line| ["own", "source"].contains(&line.class)) {
        for screen in screens.of(line.message) {
            checked += 1;
            if !line.says.iter().any(|says| screens.says(screen, says)) {
                wrong.push(format!("{screen}: {} without {:?}", line.message, line.says));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(checked > 150, "{checked} pairs: the check no longer sees them");
}

/// The check sees a screen that has lost its sentence.
#[test]
fn a_screen_without_its_sentence_is_found() {
    let mut screens = Screens::read();
    assert!(screens.says("ready", "ready_source"));
    let ready = screens.code.get_mut("ready").unwrap();
    *ready = ready.replace(".ready_source(", ".ready_lost(");
    for code in screens.code.values_mut() {
        *code = code.replace(".ready_source(", ".ready_lost(");
    }
    assert!(!screens.says("ready", "ready_source"));
}

#[test]
fn numbers_in_digits_and_in_words_are_seen() {
    for text in ["At most 10 jumps.", "Six trials count.", "Read to half a step.", "1.28 times"] {
        assert!(literal_number(text), "{text}");
    }
    for text in ["Land softly.", "One more.", "Often enough", "The {day2} of it", "Tension"] {
        assert!(!literal_number(text), "{text}");
    }
}
