//! Every language beside English: whole, with the right arguments and the plural forms it needs.
//! What is found names file and message, so that a translator needs nothing else.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use two_marks::norms::ALL_SOURCES;
use two_marks::text::catalogue::{self, Entry, placeholders};
use two_marks::text::languages::{Tongue, tongues};
use two_marks::text::packing::packed;
use two_marks::text::{EnglishLocale, Message, Pack, Words, english, languages};

type Files = Vec<(String, String)>;

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("src/text")
}

fn list() -> Vec<Tongue> {
    tongues(&fs::read_to_string(folder().join("languages.txt")).unwrap())
        .expect("src/text/languages.txt: a line has the form 'tag = name | note | plural forms'")
}

/// The files of a language's program by name, sorted.
fn files(tag: &str) -> Files {
    files_in(tag, "")
}

/// Those of the pages outside the program.
fn files_outside(tag: &str) -> Files {
    files_in(tag, "outside/")
}

fn files_in(tag: &str, place: &str) -> Files {
    let Ok(entries) = fs::read_dir(folder().join(tag).join(place)) else {
        return Vec::new();
    };
    let texts = entries.map(|entry| entry.unwrap().path());
    let texts = texts.filter(|path| path.extension().is_some_and(|end| end == "txt"));
    let mut files: Files = texts
        .map(|path| {
            let name = path.file_name().unwrap().to_str().unwrap();
            (format!("{place}{name}"), fs::read_to_string(&path).unwrap())
        })
        .collect();
    files.sort();
    files
}

/// Every English message: those of the program and those of the pages outside it, for the checks
/// that hold for all words.
pub fn every_message() -> Vec<Message> {
    let mut all = english().to_vec();
    for (name, text) in files_outside("en") {
        let page: &'static str = name.trim_end_matches(".txt").to_owned().leak();
        for entry in catalogue::parse(&text).0 {
            let names = entry.arguments.into_iter().map(|(name, _)| &*name.leak());
            let forms = entry.forms.into_iter().map(|(form, said)| (&*form.leak(), &*said.leak()));
            all.push(Message {
                page,
                id: entry.id.leak(),
                arguments: names.collect::<Vec<_>>().leak(),
                forms: forms.collect::<Vec<_>>().leak(),
            });
        }
    }
    all
}

fn entries(files: &Files) -> Vec<Entry> {
    files.iter().flat_map(|(_, text)| catalogue::parse(text).0).collect()
}

/// All that keeps a translation from being whole, one line each.
fn faults(tongue: &Tongue, english: &Files, translated: &Files) -> Vec<String> {
    let mut found = Vec::new();
    for (name, text) in english {
        let at = format!("src/text/{}/{name}", tongue.tag);
        let (wanted, _) = catalogue::parse(text);
        let Some((_, own)) = translated.iter().find(|(its, _)| its == name) else {
            found.push(format!("{at}: the file is missing ({} messages)", wanted.len()));
            continue;
        };
        let (entries, broken) = catalogue::parse(own);
        found.extend(broken.iter().map(|fault| format!("{at}:{}: {}", fault.line, fault.what)));
        let mut seen = BTreeSet::new();
        for entry in &entries {
            if !seen.insert(&entry.id) {
                found.push(format!("{at}: {}: stands twice", entry.id));
            }
            match wanted.iter().find(|message| message.id == entry.id) {
                None => found.push(format!("{at}: {}: English has no such message", entry.id)),
                Some(message) => {
                    let faults = faults_of(tongue, message, entry);
                    found.extend(faults.iter().map(|what| format!("{at}: {}: {what}", entry.id)));
                }
            }
        }
        let missing = wanted.iter().filter(|message| !seen.contains(&message.id));
        found.extend(missing.map(|message| {
            let (_, template) = message.forms.last().unwrap();
            format!("{at}: {}: is missing; English: {template}", message.id)
        }));
    }
    for (name, _) in translated {
        if !english.iter().any(|(known, _)| known == name) {
            found.push(format!("src/text/{}/{name}: English has no such file", tongue.tag));
        }
    }
    found
}

fn faults_of(tongue: &Tongue, english: &Entry, own: &Entry) -> Vec<String> {
    let mut found = Vec::new();
    if own.arguments != english.arguments {
        found.push("the part in round brackets differs from English".to_owned());
    }
    let own_forms: Vec<&str> = own.forms.iter().map(|(category, _)| category.as_str()).collect();
    for (at, category) in own_forms.iter().enumerate() {
        if !tongue.categories.iter().any(|known| known == category) {
            found.push(format!("the language has no plural form '{category}'"));
        }
        if own_forms[..at].contains(category) {
            found.push(format!("the plural form '{category}' stands twice"));
        }
    }
    let is_counted = english.forms.len() > 1;
    for category in &tongue.categories {
        if is_counted && !own_forms.contains(&category.as_str()) {
            found.push(format!("the plural form '{category}' is missing"));
        }
    }
    for (category, template) in &own.forms {
        let used = placeholders(template).unwrap_or_default();
        let all = own.arguments.iter().all(|(name, _)| used.contains(&name.as_str()));
        if category == "one" && tongue.one_is_wide && !all {
            found.push("'one' also stands for 0 here, so it must show its number".to_owned());
        }
        if template.contains('\t') || template.trim() != template || template.is_empty() {
            found.push("is empty, or has a tab or a blank at an end".to_owned());
        }
    }
    found
}

#[test]
fn every_language_is_whole() {
    let (english, outside) = (files("en"), files_outside("en"));
    assert!(english.len() > 20 && outside.len() == 3, "the English files were not read");
    let mut all = Vec::new();
    for tongue in list() {
        all.extend(faults(&tongue, &english, &files(&tongue.tag)));
        all.extend(faults(&tongue, &outside, &files_outside(&tongue.tag)));
    }
    assert!(all.is_empty(), "{} to mend:\n{}", all.len(), all.join("\n"));
}

#[test]
fn every_folder_is_a_language_and_the_list_says_what_the_page_shows() {
    let mut folders: Vec<String> = fs::read_dir(folder())
        .unwrap()
        .map(|entry| entry.unwrap())
        .filter(|entry| entry.path().is_dir())
        .map(|entry| entry.file_name().to_str().unwrap().to_owned())
        .collect();
    folders.sort();
    let mut known: Vec<&str> = languages().iter().map(|language| language.tag).collect();
    assert_eq!(known.first(), Some(&"en"));
    known.sort_unstable();
    assert_eq!(folders, known, "a folder needs its line in src/text/languages.txt");
    for language in languages().iter().skip(1) {
        assert!(!language.note.is_empty(), "{} has been checked by nobody yet", language.tag);
    }
}

#[test]
fn every_pack_is_read_by_the_program_and_says_its_own_words() {
    let english = entries(&files("en"));
    for tongue in list() {
        let translated = entries(&files(&tongue.tag));
        let pack = Pack::read(packed(&english, &translated, tongue.is_rtl)).unwrap();
        assert_eq!(pack.is_rtl(), tongue.is_rtl);
        let words = Words::with_pack(Arc::new(EnglishLocale), Arc::new(pack));
        let own = |id: &str, category: &str| {
            let entry = translated.iter().find(|entry| entry.id == id).unwrap();
            let form = entry.forms.iter().find(|(its, _)| its == category);
            form.or(entry.forms.last()).unwrap().1.clone()
        };
        assert_eq!(words.start_test(), own("start_test", "other"), "{}", tongue.tag);
        let three = own("jumps_left_today", "other").replace("{n}", "3");
        assert_eq!(words.jumps_left_today(3), three, "{}", tongue.tag);
        let one = own("jumps_left_today", "one").replace("{n}", "1");
        assert_eq!(words.jumps_left_today(1), one, "{}", tongue.tag);
    }
}

/// Names and titles are the same everywhere; what has none is described in the reader's language.
#[test]
fn a_source_is_named_by_its_title_or_described_in_the_language() {
    let english_words = Words::english(Arc::new(EnglishLocale));
    let english = entries(&files("en"));
    let mut described = 0;
    for tongue in list() {
        let pack = packed(&english, &entries(&files(&tongue.tag)), tongue.is_rtl);
        let pack = Arc::new(Pack::read(pack).unwrap());
        let words = Words::with_pack(Arc::new(EnglishLocale), pack);
        for source in ALL_SOURCES {
            let (own, in_english) = (words.attribution(source), english_words.attribution(source));
            let is_named = source.attribution.language() == Some("en");
            assert_eq!(own == in_english, is_named, "{}: {own}", tongue.tag);
            described += usize::from(!is_named);
        }
    }
    assert_eq!(described, 7 * list().len());
}

/// A small invented language, to see that each kind of fault is found and named.
#[test]
fn each_kind_of_fault_is_named_with_its_file_and_message() {
    let tongue = Tongue {
        tag: "xx".to_owned(),
        name: String::new(),
        note: String::new(),
        categories: vec!["one".to_owned(), "few".to_owned(), "other".to_owned()],
        one_is_wide: true,
        is_rtl: false,
    };
    let file = |text: &str| vec![("a.txt".to_owned(), text.to_owned())];
    let english =
        file("x = X\ny (n: count)\n  one = {n} y\n  other = {n} ys\nz (a: text) = Z {a}\n");
    let whole = "x = Q\ny (n: count)\n  one = {n} q\n  few = {n} qu\n  other = {n} qs\nz (a: text) = {a} Q\n";
    assert_eq!(faults(&tongue, &english, &file(whole)), Vec::<String>::new());
    let cases = [
        ("x = Q\n", "", "a.txt: x: is missing; English: X"),
        ("z (a", "w = W\nz (a", "a.txt: w: English has no such message"),
        ("{a} Q", "Q", "a.txt:6: an argument is not used"),
        ("{a} Q", "{a} {b}", "a.txt:6: a placeholder is not an argument"),
        ("{a} Q", "{a Q", "a.txt:6: a brace is not closed"),
        (
            "z (a: text)",
            "z (a: count)",
            "a.txt: z: the part in round brackets differs from English",
        ),
        ("  few = {n} qu\n", "", "a.txt: y: the plural form 'few' is missing"),
        ("  few", "  many", "a.txt: y: the language has no plural form 'many'"),
        (
            "  few = {n} qu\n",
            "  few = {n}\n  few = {n}\n",
            "a.txt: y: the plural form 'few' stands twice",
        ),
        (
            "one = {n} q",
            "one = a q",
            "a.txt: y: 'one' also stands for 0 here, so it must show its number",
        ),
        ("x = Q\n", "x = Q\nx = Q\n", "a.txt: x: stands twice"),
        ("x = Q\n", "x = Q \n", "a.txt: x: is empty, or has a tab or a blank at an end"),
    ];
    for (good, bad, expected) in cases {
        let found = faults(&tongue, &english, &file(&whole.replacen(good, bad, 1)));
        let expected = format!("src/text/xx/{expected}");
        assert!(found.contains(&expected), "{expected} is not in {found:?}");
    }
    let none = faults(&tongue, &english, &Vec::new());
    assert_eq!(none, ["src/text/xx/a.txt: the file is missing (3 messages)"]);
}
