//! Which words the page speaks, from the browser's side: loaded, kept, and written on the document.

use std::sync::Arc;

use two_marks::history::KeyValue;
use two_marks::text::{Language, Pack, Words, languages};

use super::browser::language;
use super::browser::local_storage::LocalStorage;
use super::browser::locale::BrowserLocale;
use super::state::{Later, Speech};

/// Where the choice is kept: `public/early.js` reads both before the first paint.
const LANGUAGE_KEY: &str = "two-marks/language";
const DIRECTION_KEY: &str = "two-marks/direction";
/// Both, which are no records.
pub const KEYS: [&str; 2] = [LANGUAGE_KEY, DIRECTION_KEY];

/// English, whose words are part of the program. Their numbers and dates follow the person's own
/// kind of English.
fn english() -> Speech {
    Speech {
        tag: "en",
        is_rtl: false,
        words: Words::english(Arc::new(BrowserLocale::for_language("en-GB"))),
    }
}

/// Starts with the language on the document; in English, and with the language that is missing,
/// when its words do not arrive.
pub fn start(open: impl FnOnce(Speech, Option<&'static Language>) + 'static) {
    let tag = language::of_page();
    let wanted = languages().iter().find(|language| language.tag == tag);
    let Some(wanted) = wanted.filter(|language| language.tag != "en") else {
        return open(english(), None);
    };
    language::run(async move {
        match load(wanted.tag).await {
            Some(speech) => {
                show(&speech);
                open(speech, None);
            }
            None => {
                let speech = english();
                show(&speech);
                open(speech, Some(wanted));
            }
        }
    });
}

/// The words of a language; none when its file does not arrive or is of another version.
pub fn load(tag: &'static str) -> Later<Option<Speech>> {
    Box::pin(async move {
        if tag == "en" {
            return Some(english());
        }
        let pack = Pack::read(language::words(tag).await?).ok()?;
        let is_rtl = pack.is_rtl();
        let locale = Arc::new(BrowserLocale::for_language(tag));
        Some(Speech { tag, is_rtl, words: Words::with_pack(locale, Arc::new(pack)) })
    })
}

/// Writes the language on the document, and its direction where the next start finds it.
pub fn show(speech: &Speech) {
    language::set_of_page(speech.tag, speech.is_rtl);
    if let Ok(storage) = LocalStorage::open() {
        let _ = match speech.is_rtl {
            true => storage.set_choice(DIRECTION_KEY, "rtl"),
            false => storage.remove(DIRECTION_KEY),
        };
    }
}

/// Keeps the choice. Without room it holds until the page is closed.
pub fn keep(tag: &str) {
    if let Ok(storage) = LocalStorage::open() {
        let _ = storage.set_choice(LANGUAGE_KEY, tag);
    }
}
