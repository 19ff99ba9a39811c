//! Every word a person sees, from one catalogue, and how numbers and dates are written.
//!
//! English is compiled from `src/text/en/*.txt` into one typed function per message on [`Words`].
//! Other languages are folders of the same form, which the build turns into packs; the page reads
//! one on demand. Numbers, dates and plural categories come from a [`Locale`] given from outside;
//! [`EnglishLocale`] is its native twin.

pub mod catalogue;
pub mod languages;
mod locale;
mod numbers;
mod pack;
pub mod packing;
mod picture;
mod said;
mod said_card;
mod said_clock;
mod said_data;
mod said_class;
mod said_info;
mod said_norms;
mod said_season;
mod said_records;
mod said_sources;
mod said_touch;
mod wall_labels;

use std::sync::{Arc, LazyLock};

pub use locale::{DateForm, EnglishLocale, Locale};
pub use pack::{Pack, PackFault};
pub use picture::{Picture, PictureFields};
pub use said_data::ConflictSaid;
pub use said_info::PartSaid;
pub use said_norms::StandingSaid;
pub use said_season::VerdictSaid;
pub use said_touch::NeedSaid;
pub use wall_labels::TapeSaid;

/// One message of the compiled English catalogue.
#[derive(Clone, Copy, Debug)]
pub struct Message {
    /// The file it stands in, which is the page it belongs to.
    pub page: &'static str,
    /// Its name.
    pub id: &'static str,
    /// Its arguments' names, in order.
    pub arguments: &'static [&'static str],
    /// Its forms by plural category.
    pub forms: &'static [(&'static str, &'static str)],
}

/// A language of the page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Language {
    /// Its tag (BCP 47).
    pub tag: &'static str,
    /// Its name in itself.
    pub name: &'static str,
    /// In itself, that no native speaker has checked it; empty when one has.
    pub note: &'static str,
}

include!(concat!(env!("OUT_DIR"), "/messages.rs"));

/// The English catalogue, for checks and for translators' tools. What the page itself reads is
/// the compact form, without names.
pub fn english() -> &'static [Message] {
    ENGLISH
}

/// All languages, English first.
pub fn languages() -> &'static [Language] {
    LANGUAGES
}

static COMPILED: LazyLock<Option<Pack>> = LazyLock::new(|| {
    let text = include_str!(concat!(env!("OUT_DIR"), "/english.txt"));
    Pack::read(text.to_owned()).ok()
});

/// The words of one language, with its way of writing numbers and dates.
#[derive(Clone)]
pub struct Words {
    locale: Arc<dyn Locale>,
    pack: Option<Arc<Pack>>,
}

impl Words {
    /// English, with numbers and dates by a locale.
    pub fn english(locale: Arc<dyn Locale>) -> Self {
        Self { locale, pack: None }
    }

    /// Another language; what its pack does not hold is said in English.
    pub fn with_pack(locale: Arc<dyn Locale>, pack: Arc<Pack>) -> Self {
        Self { locale, pack: Some(pack) }
    }

    /// How numbers and dates are written.
    pub fn locale(&self) -> &dyn Locale {
        &*self.locale
    }

    fn whole(&self, number: u32) -> String {
        self.locale.decimal(i64::from(number), 0)
    }

    /// Message number `at` with its arguments in order.
    fn fill(&self, at: usize, count: Option<u32>, values: &[&str]) -> String {
        let category = count.map_or("other", |count| self.locale.plural(count));
        let translated = self.pack.as_ref().and_then(|pack| pack.form(at, category));
        let english = || COMPILED.as_ref().and_then(|pack| pack.form(at, category));
        fill_template(translated.or_else(english).unwrap_or_default(), values)
    }
}

fn fill_template(template: &str, values: &[&str]) -> String {
    let mut text = String::with_capacity(template.len() + 16);
    let mut rest = template;
    while let Some((before, after)) = rest.split_once('{') {
        text.push_str(before);
        let Some((place, next)) = after.split_once('}') else {
            break;
        };
        let value = place.parse().ok().and_then(|at: usize| values.get(at));
        text.push_str(value.copied().unwrap_or_default());
        rest = next;
    }
    text.push_str(rest);
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    fn words() -> Words {
        Words::english(Arc::new(EnglishLocale))
    }

    #[test]
    fn counts_choose_the_plural_form() {
        assert_eq!(words().jumps_left_today(1), "You have 1 hard jump left today.");
        assert_eq!(words().jumps_left_today(3), "You have 3 hard jumps left today.");
    }

    #[test]
    fn a_value_with_braces_is_not_a_placeholder() {
        assert_eq!(fill_template("Hello {0}.", &["{0}"]), "Hello {0}.");
    }
}
