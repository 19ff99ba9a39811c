//! Takes off the main file and its glue what only cost bytes: names made unique by sixteen signs of a
//! hash, and what other packages offer to scripts that this page does not have.

use crate::shell::{Outcome, problem};
use std::collections::{BTreeMap, BTreeSet};

const IMPORTS: u8 = 2;
const EXPORTS: u8 = 7;

/// Signs of the hash that wasm-bindgen puts behind a name.
const HASH_LENGTH: usize = 16;

/// The glue and the main file, smaller. `parts` are the other files of the program, which take what
/// they need from the main file by name.
pub fn trim(glue: &str, main: &[u8], parts: &[Vec<u8>]) -> Outcome<(String, Vec<u8>)> {
    let glue = without_unused_classes(glue);
    let mut wanted: BTreeSet<String> = words(&glue).map(str::to_owned).collect();
    for part in parts {
        wanted.extend(imported(part)?);
    }
    let short = short_names(&glue);
    let main = renamed(main, &wanted, &short)?;
    Ok((with_names(&glue, &short), main))
}

/// Whether a sign belongs to a name.
const fn of_name(sign: char) -> bool {
    sign.is_ascii_alphanumeric() || sign == '_' || sign == '$'
}

fn words(text: &str) -> impl Iterator<Item = &str> {
    text.split(|sign| !of_name(sign)).filter(|word| !word.is_empty())
}

/// A name with a hash at its end, which a plain number may follow.
fn is_hashed(word: &str) -> bool {
    let number = |rest: &str| rest.chars().all(|sign| sign.is_ascii_digit());
    let word = match word.rsplit_once('_') {
        Some((before, rest)) if rest.len() < HASH_LENGTH && number(rest) => before,
        _ => word,
    };
    let hash = word.rsplit_once('_').map_or("", |(_, hash)| hash.trim_start_matches('h'));
    hash.len() == HASH_LENGTH && hash.chars().all(|sign| sign.is_ascii_hexdigit())
}

/// A short name for each hashed one. wasm-bindgen writes none that begin with this sign.
fn short_names(glue: &str) -> BTreeMap<&str, String> {
    let hashed: BTreeSet<&str> = words(glue).filter(|word| is_hashed(word)).collect();
    hashed.into_iter().enumerate().map(|(at, word)| (word, format!("${at:x}"))).collect()
}

fn with_names(text: &str, short: &BTreeMap<&str, String>) -> String {
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(start) = rest.find(of_name) {
        let (before, from) = rest.split_at(start);
        let (word, after) = from.split_at(from.find(|sign| !of_name(sign)).unwrap_or(from.len()));
        out.push_str(before);
        out.push_str(short.get(word).map_or(word, String::as_str));
        rest = after;
    }
    out + rest
}

/// Leaves out exported classes that nothing else in the glue names.
fn without_unused_classes(glue: &str) -> String {
    let mut glue = glue.to_owned();
    let classes: Vec<String> = glue
        .lines()
        .filter_map(|line| Some(line.strip_prefix("export class ")?.split_once(' ')?.0.to_owned()))
        .collect();
    for class in classes {
        let own = [
            (format!("export class {class} {{\n"), "\n}\n"),
            (format!("if (Symbol.dispose) {class}.prototype"), "\n"),
            (format!("const {class}Finalization = "), ";\n"),
        ];
        let mut left = glue.clone();
        for (start, end) in &own {
            let Some(at) = left.find(start) else { continue };
            let Some(length) = left[at..].find(end) else { continue };
            left.replace_range(at..at + length + end.len(), "");
        }
        let finalization = format!("{class}Finalization");
        if !words(&left).any(|word| word == class || word == finalization) {
            glue = left;
        }
    }
    glue
}

/// A wasm file being read.
struct Reader<'a> {
    bytes: &'a [u8],
}

impl<'a> Reader<'a> {
    fn take(&mut self, length: usize) -> Outcome<&'a [u8]> {
        let (taken, rest) = self
            .bytes
            .split_at_checked(length)
            .ok_or_else(|| problem("a wasm file is cut off."))?;
        self.bytes = rest;
        Ok(taken)
    }

    fn byte(&mut self) -> Outcome<u8> {
        Ok(self.take(1)?[0])
    }

    fn number(&mut self) -> Outcome<usize> {
        let mut number = 0;
        for at in 0..5 {
            let byte = self.byte()?;
            number |= usize::from(byte & 0x7f) << (7 * at);
            if byte & 0x80 == 0 {
                return Ok(number);
            }
        }
        Err(problem("a wasm file has a number that is too long."))
    }

    fn name(&mut self) -> Outcome<&'a str> {
        let length = self.number()?;
        std::str::from_utf8(self.take(length)?).map_err(|why| format!("a name in wasm: {why}."))
    }

    fn limits(&mut self) -> Outcome<()> {
        let has_most = self.byte()? & 1 == 1;
        self.number()?;
        if has_most {
            self.number()?;
        }
        Ok(())
    }

    /// Skips what an import is, after its name (WebAssembly core specification, "Import section").
    fn import_kind(&mut self) -> Outcome<()> {
        match self.byte()? {
            0 => self.number().map(drop),
            1 => {
                self.byte()?;
                self.limits()
            }
            2 => self.limits(),
            3 => self.take(2).map(drop),
            kind => Err(problem(format!("a wasm file imports something of kind {kind}."))),
        }
    }

    /// Sections in order: their numbers and their bytes.
    fn sections(mut self) -> Outcome<Vec<(u8, &'a [u8])>> {
        self.take(8)?;
        let mut sections = Vec::new();
        while !self.bytes.is_empty() {
            let id = self.byte()?;
            let length = self.number()?;
            sections.push((id, self.take(length)?));
        }
        Ok(sections)
    }
}

/// What a file takes from others, by name.
fn imported(wasm: &[u8]) -> Outcome<Vec<String>> {
    let mut names = Vec::new();
    for (id, bytes) in (Reader { bytes: wasm }).sections()? {
        if id != IMPORTS {
            continue;
        }
        let mut reader = Reader { bytes };
        for _ in 0..reader.number()? {
            reader.name()?;
            names.push(reader.name()?.to_owned());
            reader.import_kind()?;
        }
    }
    Ok(names)
}

/// The file with short names, and without exports that nobody wants.
fn renamed(
    wasm: &[u8],
    wanted: &BTreeSet<String>,
    short: &BTreeMap<&str, String>,
) -> Outcome<Vec<u8>> {
    let name = |old: &str| short.get(old).map_or_else(|| old.to_owned(), String::clone);
    let mut out = wasm.get(..8).unwrap_or_default().to_vec();
    for (id, bytes) in (Reader { bytes: wasm }).sections()? {
        let mut reader = Reader { bytes };
        let mut entries = Vec::new();
        if id == IMPORTS || id == EXPORTS {
            for _ in 0..reader.number()? {
                let mut entry = Vec::new();
                if id == IMPORTS {
                    put_name(&mut entry, reader.name()?);
                }
                let old = reader.name()?;
                put_name(&mut entry, &name(old));
                let before = reader.bytes;
                if id == IMPORTS {
                    reader.import_kind()?;
                } else {
                    reader.byte()?;
                    reader.number()?;
                }
                entry.extend_from_slice(&before[..before.len() - reader.bytes.len()]);
                if id == IMPORTS || wanted.contains(old) {
                    entries.push(entry);
                }
            }
            let mut section = Vec::new();
            put_number(&mut section, entries.len());
            section.extend(entries.concat());
            put_section(&mut out, id, &section);
        } else {
            put_section(&mut out, id, bytes);
        }
    }
    Ok(out)
}

fn put_section(out: &mut Vec<u8>, id: u8, bytes: &[u8]) {
    out.push(id);
    put_number(out, bytes.len());
    out.extend_from_slice(bytes);
}

fn put_name(out: &mut Vec<u8>, name: &str) {
    put_number(out, name.len());
    out.extend_from_slice(name.as_bytes());
}

fn put_number(out: &mut Vec<u8>, mut number: usize) {
    while number >= 0x80 {
        out.push((number & 0x7f) as u8 | 0x80);
        number >>= 7;
    }
    out.push(number as u8);
}

/// A script without comments, indentation and empty lines. Only lines that are nothing but a comment
/// go: a full reader of the language would be more than this is worth.
pub fn script(text: &str) -> Outcome<String> {
    let mut out = String::new();
    let mut in_comment = false;
    for line in text.lines() {
        // A text over several lines may hold anything.
        if line.matches('`').count() % 2 == 1 {
            return Err(problem(format!("a script has a text over several lines: {line}")));
        }
        let line = line.trim();
        if in_comment {
            in_comment = !line.ends_with("*/");
            continue;
        }
        if line.starts_with("/*") {
            in_comment = !line.ends_with("*/");
            continue;
        }
        if line.is_empty() || line.starts_with("//") {
            continue;
        }
        out.push_str(line);
        out.push('\n');
    }
    Ok(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    const GLUE: &str = "export class Unused {\n    free() {\n        wasm.unused_free(0);\n    }\n}\n\
        if (Symbol.dispose) Unused.prototype[Symbol.dispose] = Unused.prototype.free;\n\
        __wbg_now_0123456789abcdef: function(arg0) {\n},\n\
        const UnusedFinalization = (typeof X === 'undefined')\n    ? { register: () => {} }\n    : new X();\n\
        function wasm_bindgen__invoke__hfedcba9876543210_12(arg0) {\n\
        wasm.wasm_bindgen__invoke__hfedcba9876543210_12(arg0);\n}\n";

    #[test]
    fn hashed_names_are_known() {
        for name in ["__wbg_now_0123456789abcdef", "a__invoke__h0123456789abcdef_12"] {
            assert!(is_hashed(name), "{name}");
        }
        for name in ["__wbindgen_malloc", "getDataViewMemory0", "__wasm_split_shared12", "arg_12"] {
            assert!(!is_hashed(name), "{name}");
        }
    }

    /// A file that imports one function and exports three.
    fn wasm() -> Vec<u8> {
        let mut out = b"\0asm\x01\0\0\0".to_vec();
        let mut imports = vec![1];
        put_name(&mut imports, "./two-marks_bg.js");
        put_name(&mut imports, "__wbg_now_0123456789abcdef");
        imports.extend([0, 3]);
        put_section(&mut out, IMPORTS, &imports);
        let mut exports = vec![3];
        for name in ["unused_free", "wasm_bindgen__invoke__hfedcba9876543210_12", "shared1"] {
            put_name(&mut exports, name);
            exports.extend([0, 7]);
        }
        put_section(&mut out, EXPORTS, &exports);
        put_section(&mut out, 10, &[5; 200]);
        out
    }

    #[test]
    fn both_sides_get_the_same_short_names_and_what_nobody_wants_goes() {
        let mut part = b"\0asm\x01\0\0\0".to_vec();
        let mut imports = vec![1];
        put_name(&mut imports, "__wasm_split");
        put_name(&mut imports, "shared1");
        imports.extend([3, 0x7f, 0]);
        put_section(&mut part, IMPORTS, &imports);
        let (glue, main) = trim(GLUE, &wasm(), &[part]).unwrap_or_default();
        assert!(!glue.contains("Unused") && !glue.contains("0123456789abcdef"), "{glue}");
        assert_eq!(imported(&main), Ok(vec!["$0".to_owned()]));
        let text = String::from_utf8_lossy(&main);
        assert!(text.contains("$1") && text.contains("shared1"), "{text}");
        assert!(glue.contains("$0: function") && glue.contains("wasm.$1(arg0)"), "{glue}");
        assert!(!text.contains("unused_free"), "{text}");
        assert!(main.ends_with(&[5; 200]));
    }

    #[test]
    fn a_class_that_is_named_elsewhere_stays() {
        let glue = format!("{GLUE}new Unused();\n");
        assert!(trim(&glue, &wasm(), &[]).is_ok_and(|(glue, _)| glue.contains("class Unused")));
    }

    #[test]
    fn a_file_cut_off_is_refused() {
        let wasm = wasm();
        assert!(trim(GLUE, &wasm[..wasm.len() - 1], &[]).is_err());
    }

    #[test]
    fn scripts_lose_whole_comments_alone() {
        let text = "// a\n  let b = \"//c\"; // d\n/**\n * e\n */\n\n  f();\n";
        assert_eq!(script(text).as_deref(), Ok("let b = \"//c\"; // d\nf();\n"));
        assert!(script("let a = `\n// b`;").is_err());
    }
}
