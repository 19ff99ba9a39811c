//! Compiles the English catalogue (`src/text/en/*.txt`) into typed functions: a message that is
//! missing, or called with the wrong arguments, fails the build.

#[path = "src/text/catalogue.rs"]
mod catalogue;

use std::{env, error::Error, fmt::Write as _, fs, path::Path};

use catalogue::{Entry, Kind};

fn main() -> Result<(), Box<dyn Error>> {
    println!("cargo::rerun-if-changed=src/text/en");
    println!("cargo::rerun-if-changed=src/text/catalogue.rs");
    println!("cargo::rerun-if-changed=build.rs");
    println!("cargo::rerun-if-env-changed=TWO_MARKS_COMMIT");
    let mut files: Vec<_> = fs::read_dir("src/text/en")?
        .map(|file| Ok(file?.path()))
        .collect::<Result<_, std::io::Error>>()?;
    files.sort();
    let mut entries = Vec::new();
    for file in files.iter().filter(|file| file.extension().is_some_and(|end| end == "txt")) {
        let (read, faults) = catalogue::parse(&fs::read_to_string(file)?);
        if let Some(fault) = faults.first() {
            return Err(format!("{}:{}: {}", file.display(), fault.line, fault.what).into());
        }
        let page = file.file_stem().and_then(|stem| stem.to_str()).unwrap_or_default().to_owned();
        entries.extend(read.into_iter().map(|entry| (page.clone(), entry)));
    }
    for (at, (_, entry)) in entries.iter().enumerate() {
        if entries.iter().take(at).any(|(_, earlier)| earlier.id == entry.id) {
            return Err(format!("the message {} stands twice", entry.id).into());
        }
    }
    let target = Path::new(&env::var("OUT_DIR")?).join("messages.rs");
    fs::write(target, generated(&entries)?)?;
    Ok(())
}

fn generated(entries: &[(String, Entry)]) -> Result<String, std::fmt::Error> {
    let mut code = String::new();
    writeln!(code, "pub(super) static ENGLISH: &[Message] = &[")?;
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
    for (at, (_, entry)) in entries.iter().enumerate() {
        function(&mut code, at, entry)?;
    }
    writeln!(code, "}}")?;
    Ok(code)
}

fn names(entry: &Entry) -> Vec<&str> {
    entry.arguments.iter().map(|(name, _)| name.as_str()).collect()
}

fn function(code: &mut String, at: usize, entry: &Entry) -> std::fmt::Result {
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
    writeln!(code, "        self.fill({at}, {count}, &[{values}])\n    }}")
}
