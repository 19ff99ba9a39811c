//! Compiles the English catalogue (`src/text/en/*.txt`) into typed functions: a message that is
//! missing, or called with the wrong arguments, fails the build.

#[path = "src/text/catalogue.rs"]
mod catalogue;
#[path = "xtask/src/catalogues.rs"]
mod catalogues;
#[path = "src/text/languages.rs"]
mod languages;
#[path = "src/text/packing.rs"]
mod packing;

use std::{env, error::Error, fmt::Write as _, fs, path::Path};

use catalogue::{Entry, Kind};

fn main() -> Result<(), Box<dyn Error>> {
    println!("cargo::rerun-if-changed=src/text");
    println!("cargo::rerun-if-changed=xtask/src/catalogues.rs");
    println!("cargo::rerun-if-changed=build.rs");
    println!("cargo::rerun-if-env-changed=TWO_MARKS_COMMIT");
    let entries = catalogues::read(Path::new("src/text/en"))?;
    let list = fs::read_to_string("src/text/languages.txt")?;
    let tongues = languages::tongues(&list).ok_or("src/text/languages.txt cannot be read")?;
    let messages: Vec<Entry> = entries.iter().map(|(_, entry)| entry.clone()).collect();
    let out = env::var("OUT_DIR")?;
    let write = |name: &str, text: String| fs::write(Path::new(&out).join(name), text);
    let english = packing::packed(&messages, &messages, false);
    write("shape.rs", shape(&messages))?;
    write("messages.rs", generated(&entries, &tongues, &english)?)?;
    // Read by tests alone: English as a pack, such as every other language is.
    write("english.txt", english)?;
    Ok(())
}

fn shape(messages: &[Entry]) -> String {
    let shape = packing::shape(messages);
    format!("const SHAPE: &str = \"{shape:016x}\";\nconst MESSAGES: usize = {};\n", messages.len())
}

fn generated(
    entries: &[(String, Entry)],
    tongues: &[languages::Tongue],
    english: &str,
) -> Result<String, std::fmt::Error> {
    let mut code = String::new();
    writeln!(code, "static LANGUAGES: &[Language] = &[")?;
    let line = |tag: &str, name: &str, note: &str| {
        format!("    Language {{ tag: {tag:?}, name: {name:?}, note: {note:?} }},")
    };
    writeln!(code, "{}", line("en", "English", ""))?;
    for tongue in tongues {
        writeln!(code, "{}", line(&tongue.tag, &tongue.name, &tongue.note))?;
    }
    writeln!(code, "];\n\nstatic ENGLISH: &[Message] = &[")?;
    for (page, entry) in entries {
        writeln!(
            code,
            "    Message {{ page: {page:?}, id: {:?}, arguments: &{:?}, forms: &{:?} }},",
            entry.id,
            names(entry),
            entry.forms
        )?;
    }
    writeln!(code, "];\n\nimpl Words {{")?;
    for (at, ((_, entry), line)) in entries.iter().zip(english.lines().skip(1)).enumerate() {
        function(&mut code, at, entry, line)?;
    }
    writeln!(code, "}}")?;
    Ok(code)
}

fn names(entry: &Entry) -> Vec<&str> {
    entry.arguments.iter().map(|(name, _)| name.as_str()).collect()
}

fn function(code: &mut String, at: usize, entry: &Entry, english: &str) -> std::fmt::Result {
    let doc = entry.forms.last().map_or("", |(_, template)| template);
    let mut parameters = String::new();
    let mut values = String::new();
    let mut count = "None".to_owned();
    for (name, kind) in &entry.arguments {
        match kind {
            Kind::Text => {
                write!(parameters, ", {name}: &str")?;
                write!(values, "{name}, ")?;
            }
            Kind::Count => {
                write!(parameters, ", {name}: u32")?;
                write!(values, "&self.whole({name}), ")?;
                count = format!("Some({name})");
            }
        }
    }
    writeln!(code, "    /// {doc}\n    #[must_use]")?;
    writeln!(code, "    pub fn {}(&self{parameters}) -> String {{", entry.id)?;
    writeln!(code, "        self.fill({at}, {english:?}, {count}, &[{values}])\n    }}")
}
