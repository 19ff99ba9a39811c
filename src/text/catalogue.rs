//! The form of a catalogue file, read at build time for English and on demand for a language pack.
//!
//! ```text
//! # a comment
//! start_test = Start a test
//! reach_agrees (reach: text) = They agree. {reach}, the middle one, counts.
//! jumps_left (n: count)
//!   one = {n} jump left today
//!   other = {n} jumps left today
//! ```
//!
//! A line that starts with two spaces gives a plural form, by the language's own category names.

/// The kind of an argument. A count also chooses the plural form.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Text put in as it is.
    Text,
    /// A whole number.
    Count,
}

/// One message of a catalogue file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entry {
    /// The message's name, which is its function's name.
    pub id: String,
    /// Arguments, in order.
    pub arguments: Vec<(String, Kind)>,
    /// Plural forms by category; a message without a count has one, named `other`.
    pub forms: Vec<(String, String)>,
}

/// What is wrong with a file, and on which line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// Line number from 1.
    pub line: usize,
    /// What is wrong, for the translator.
    pub what: &'static str,
}

/// Names a language may use for plural forms (Unicode CLDR's six).
pub const CATEGORIES: [&str; 6] = ["zero", "one", "two", "few", "many", "other"];

/// Reads a catalogue file; good messages and all faults together.
pub fn parse(file: &str) -> (Vec<Entry>, Vec<Fault>) {
    let mut entries: Vec<Entry> = Vec::new();
    let mut faults = Vec::new();
    for (at, text) in file.lines().enumerate() {
        let line = at + 1;
        if text.trim().is_empty() || text.starts_with('#') {
            continue;
        }
        let read = match text.strip_prefix("  ") {
            Some(form) => plural_form(form, entries.last_mut()),
            None => head(text).map(|entry| entries.push(entry)),
        };
        if let Err(what) = read {
            faults.push(Fault { line, what });
        }
    }
    for entry in &entries {
        if let Some(what) = fault_of(entry) {
            let line =
                file.lines().position(|text| text.split([' ', '=']).next() == Some(&entry.id));
            faults.push(Fault { line: line.map_or(0, |at| at + 1), what });
        }
    }
    (entries, faults)
}

fn plural_form(text: &str, entry: Option<&mut Entry>) -> Result<(), &'static str> {
    let (category, template) = text.split_once(" = ").ok_or("a plural form needs ' = '")?;
    if !CATEGORIES.contains(&category) {
        return Err("not a plural category");
    }
    let entry = entry.ok_or("a plural form before any message")?;
    entry.forms.push((category.to_owned(), template.to_owned()));
    Ok(())
}

fn head(text: &str) -> Result<Entry, &'static str> {
    let (left, template) = match text.split_once(" = ") {
        Some((left, template)) => (left, Some(template)),
        None => (text.trim_end(), None),
    };
    let (id, list) = match left.split_once(" (") {
        Some((id, rest)) => (id, rest.strip_suffix(')').ok_or("arguments need ')'")?),
        None => (left, ""),
    };
    let plain = |sign: char| sign.is_ascii_lowercase() || sign.is_ascii_digit() || sign == '_';
    if id.is_empty() || !id.chars().all(plain) {
        return Err("a message name has a-z, 0-9 and _ only");
    }
    let mut arguments = Vec::new();
    for argument in list.split(", ").filter(|argument| !argument.is_empty()) {
        let (name, kind) = argument.split_once(": ").ok_or("an argument needs ': kind'")?;
        let kind = match kind {
            "text" => Kind::Text,
            "count" => Kind::Count,
            _ => return Err("an argument is text or count"),
        };
        arguments.push((name.to_owned(), kind));
    }
    let forms = template.map(|template| ("other".to_owned(), template.to_owned()));
    Ok(Entry { id: id.to_owned(), arguments, forms: forms.into_iter().collect() })
}

/// A message must have an `other` form and use exactly its own arguments.
fn fault_of(entry: &Entry) -> Option<&'static str> {
    if !entry.forms.iter().any(|(category, _)| category == "other") {
        return Some("the form 'other' is missing");
    }
    for (category, template) in &entry.forms {
        let Some(used) = placeholders(template) else {
            return Some("a brace is not closed");
        };
        if used.iter().any(|name| !entry.arguments.iter().any(|(known, _)| known == name)) {
            return Some("a placeholder is not an argument");
        }
        let optional = category != "other";
        let missing = |(name, kind): &(String, Kind)| {
            !(used.contains(&name.as_str()) || (optional && *kind == Kind::Count))
        };
        if entry.arguments.iter().any(missing) {
            return Some("an argument is not used");
        }
    }
    None
}

/// The names in braces, in order; none when a brace is left open.
pub fn placeholders(template: &str) -> Option<Vec<&str>> {
    let mut names = Vec::new();
    let mut rest = template;
    while let Some((_, after)) = rest.split_once('{') {
        let (name, next) = after.split_once('}')?;
        names.push(name);
        rest = next;
    }
    Some(names)
}
