use leptos::prelude::*;

use two_marks::share::Route;
use two_marks::text::{Language, Words};

use super::{Later, Speech};

/// What the page asks of the browser before any record is read.
pub struct Near {
    /// The words of a language by its tag; nothing when they do not arrive.
    pub load_language: fn(&'static str) -> Later<Option<Speech>>,
    /// Writes a language on the document.
    pub show_language: fn(&Speech),
    /// Keeps the choice of a language for the next start.
    pub keep_language: fn(&str),
    /// Leads to an address.
    pub go: fn(&str),
    /// Replaces the address.
    pub replace: fn(&str),
    /// Moves the focus to an element.
    pub focus: fn(&str),
    /// Starts work that ends later.
    pub spawn: fn(Later<()>),
    /// Puts the newer version in place.
    pub apply_update: fn(),
}

/// What is known without any record: enough for who comes for the first time. A handle as
/// [`App`](super::App) is, which holds it; all that touches records is out of its reach, so that their
/// code can stay away until there are some.
#[derive(Clone, Copy)]
pub struct Front {
    /// The words and numbers of the reader's language.
    pub words: RwSignal<Words>,
    /// The tag of that language.
    pub language: RwSignal<&'static str>,
    /// The language whose words did not arrive.
    pub language_missing: RwSignal<Option<&'static Language>>,
    /// The page shown.
    pub route: RwSignal<Route>,
    /// A newer version of the page waits.
    pub update_waits: RwSignal<bool>,
    /// Whether what is saved outlives the page, as far as the start could see.
    pub keeps: bool,
    /// The browser's side.
    pub near: &'static Near,
}

impl Front {
    /// A page in a language.
    pub fn new(near: &'static Near, speech: Speech, route: Route, keeps: bool) -> Self {
        Self {
            words: RwSignal::new(speech.words),
            language: RwSignal::new(speech.tag),
            language_missing: RwSignal::new(None),
            route: RwSignal::new(route),
            update_waits: RwSignal::new(false),
            keeps,
            near,
        }
    }

    /// The words, and a wish to be told when they change.
    pub fn w(self) -> Words {
        self.words.get()
    }

    /// Leads to a page.
    pub fn go(self, route: &Route) {
        (self.near.go)(&route.to_string());
    }

    /// Chooses the language of the page. Until its words are there, the page stays as it is.
    pub fn choose_language(self, language: &'static Language) {
        let near = self.near;
        (near.keep_language)(language.tag);
        let loading = (near.load_language)(language.tag);
        (near.spawn)(Box::pin(async move {
            let Some(speech) = loading.await else {
                return self.language_missing.set(Some(language));
            };
            (near.show_language)(&speech);
            self.language_missing.set(None);
            self.language.set(speech.tag);
            self.words.set(speech.words);
        }));
    }
}
