//! The compact form of a language: what the page loads, written by the build.
//!
//! ```text
//! two-marks words 1 ltr 0123456789abcdef
//! Start a test
//! {0} jumps left today⇥one={0} jump left today
//!
//! end
//! ```
//!
//! One line per message in the order of the English catalogue, without names: the form `other`,
//! then further forms after tabs. Placeholders are the places of the arguments. An empty line is a
//! message that is not translated. The number in the head stands for the English catalogue's names
//! and arguments, so that a pack of another version is refused.

use super::catalogue::Entry;

/// What a pack begins with.
pub const KIND: &str = "two-marks words 1";
/// What it ends with: a file that broke off is not taken for a whole one.
pub const END: &str = "end";

/// Stands for the names and arguments of the English catalogue, in order (FNV-1a, 64 bits).
pub fn shape(english: &[Entry]) -> u64 {
    let mut hash = 0xcbf2_9ce4_8422_2325_u64;
    let mut add = |text: &str| {
        for byte in text.bytes().chain([0]) {
            hash = (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3);
        }
    };
    for entry in english {
        add(&entry.id);
        for (name, _) in &entry.arguments {
            add(name);
        }
    }
    hash
}

/// The compact form of a translation, or of English itself.
pub fn packed(english: &[Entry], translated: &[Entry], is_rtl: bool) -> String {
    let direction = if is_rtl { "rtl" } else { "ltr" };
    let mut text = format!("{KIND} {direction} {:016x}\n", shape(english));
    for entry in english {
        let found = translated.iter().find(|other| other.id == entry.id);
        text.extend(found.map(|found| line(found, entry)));
        text.push('\n');
    }
    text.push_str(END);
    text.push('\n');
    text
}

fn line(translated: &Entry, english: &Entry) -> String {
    let form = |wanted: &str| translated.forms.iter().find(|(category, _)| category == wanted);
    let mut line =
        form("other").map(|(_, template)| numbered(template, english)).unwrap_or_default();
    for (category, template) in &translated.forms {
        if category != "other" {
            line.push_str(&format!("\t{category}={}", numbered(template, english)));
        }
    }
    line
}

/// A template with the places of its arguments for their names.
fn numbered(template: &str, english: &Entry) -> String {
    let names = english.arguments.iter().enumerate();
    names.fold(template.to_owned(), |text, (at, (name, _))| {
        text.replace(&format!("{{{name}}}"), &format!("{{{at}}}"))
    })
}
