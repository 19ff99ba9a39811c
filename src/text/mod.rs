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

use std::sync::Arc;

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

    /// Message number `at` with its arguments in order. Its English line comes with the call, so that
    /// a page's words lie in the part of the program that says them.
    fn fill(&self, at: usize, english: &str, count: Option<u32>, values: &[&str]) -> String {
        let category = count.map_or("other", |count| self.locale.plural(count));
        let translated = self.pack.as_ref().and_then(|pack| pack.form(at, category));
        let template = translated.or_else(|| pack::form(english, category)).unwrap_or_default();
        if self.is_rtl() { fill_apart(template, values) } else { fill_template(template, values) }
    }

    fn is_rtl(&self) -> bool {
        self.pack.as_ref().is_some_and(|pack| pack.is_rtl())
    }

    /// In a language written from right to left, the text as a piece that nothing around it can
    /// reorder; in every other the text as it is.
    fn apart(&self, text: String) -> String {
        if self.is_rtl() { isolated(&text) } else { text }
    }
}

/// Between these signs a text has a direction of its own, that of its first letter, and is one sign
/// for what stands around it (FIRST STRONG ISOLATE and POP DIRECTIONAL ISOLATE; source: Unicode
/// Standard Annex 9, sections 2.4 and 2.5).
fn isolated(text: &str) -> String {
    format!("\u{2068}{text}\u{2069}")
}

/// A template filled for a language written from right to left: each value keeps its own order. A
/// template without a letter of its own, such as "{0} ± {1}", is no sentence but a formula, and
/// keeps the order of its values too.
fn fill_apart(template: &str, values: &[&str]) -> String {
    if values.is_empty() {
        return template.to_owned();
    }
    if !template.contains(char::is_alphabetic) {
        return isolated(&fill_template(template, values));
    }
    let values: Vec<String> = values.iter().map(|value| isolated(value)).collect();
    let values: Vec<&str> = values.iter().map(String::as_str).collect();
    fill_template(template, &values)
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

    /// Words of a language that has the English templates.
    fn words_in(direction: &str) -> Words {
        let text = include_str!(concat!(env!("OUT_DIR"), "/english.txt"));
        let pack = Pack::read(text.replacen("ltr", direction, 1)).unwrap();
        Words::with_pack(Arc::new(EnglishLocale), Arc::new(pack))
    }

    #[test]
    fn values_keep_their_order_in_a_language_from_right_to_left() {
        use crate::quantity::{Length, Unit};
        let (rtl, ltr) = (words_in("rtl"), words_in("ltr"));
        let [start, end] = ["\u{2068}", "\u{2069}"];
        let length = Length::from_mm(385);
        let said = rtl.length(length, Unit::Centimetre);
        assert_eq!(said, format!("{start}{start}38.5{end}\u{a0}cm{end}"));
        let kept = rtl.reach_keep_empty("2");
        assert_eq!(kept, format!("Keep reach {start}2{end}"));
        assert_eq!(
            rtl.jumps_left_today(3),
            format!("You have {start}3{end} hard jumps left today.")
        );
        // No sentence, so it stays together as a whole.
        assert_eq!(rtl.history_usual_error("38.5 cm", "1.2"), format!("{start}38.5 cm ± 1.2{end}"));
        assert_eq!(rtl.start_test(), "Start a test");
        // And not a sign more from left to right.
        assert_eq!(ltr.length(length, Unit::Centimetre), "38.5\u{a0}cm");
        assert_eq!(ltr.reach_keep_empty("2"), "Keep reach 2");
        assert_eq!(ltr.history_usual_error("38.5 cm", "1.2"), "38.5 cm ± 1.2");
    }

    #[test]
    fn a_value_with_braces_is_not_a_placeholder() {
        assert_eq!(fill_template("Hello {0}.", &["{0}"]), "Hello {0}.");
    }
}
