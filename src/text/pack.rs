use super::packing::{END, KIND};

include!(concat!(env!("OUT_DIR"), "/shape.rs"));

/// The messages of one language, in the order of the English catalogue.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pack {
    text: Box<str>,
    /// Where each line begins and ends.
    lines: Vec<(u32, u32)>,
    is_rtl: bool,
}

/// Why a text is not taken for a language of this version.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PackFault {
    /// It is nothing of ours, or of another version of the page.
    Head,
    /// Some of it is missing, or there is more than there should be.
    Length,
}

impl Pack {
    /// Reads the compact form (see [`packing`](super::packing)); any text at all may be given.
    ///
    /// # Errors
    /// [`PackFault`] when the text is not whole or belongs to another English catalogue.
    pub fn read(text: String) -> Result<Self, PackFault> {
        // Places in the text are kept as 32 bits.
        let size = u32::try_from(text.len()).map_err(|_| PackFault::Length)?;
        let (head, body) = text.split_once('\n').ok_or(PackFault::Head)?;
        let rest = head.strip_prefix(KIND).ok_or(PackFault::Head)?;
        let (direction, shape) = rest.trim_start().split_once(' ').ok_or(PackFault::Head)?;
        if shape != SHAPE {
            return Err(PackFault::Head);
        }
        let is_rtl = direction == "rtl";
        let mut at = size - u32::try_from(body.len()).unwrap_or(size);
        let mut lines = Vec::with_capacity(MESSAGES + 1);
        let body = body.strip_suffix('\n').ok_or(PackFault::Length)?;
        for line in body.split('\n') {
            let end = at + u32::try_from(line.len()).unwrap_or_default();
            lines.push((at, end));
            at = end + 1;
        }
        if lines.len() != MESSAGES + 1 || !body.ends_with(END) {
            return Err(PackFault::Length);
        }
        Ok(Self { text: text.into(), lines, is_rtl })
    }

    /// Whether the language is written from right to left.
    pub fn is_rtl(&self) -> bool {
        self.is_rtl
    }

    /// The template of a message for a plural category, or its `other` form; none when the message
    /// is not translated.
    pub(super) fn form(&self, at: usize, category: &str) -> Option<&str> {
        let (start, end) = *self.lines.get(at)?;
        form(self.text.get(start as usize..end as usize)?, category)
    }
}

/// The template of a line of the compact form for a plural category, or its `other` form; none when it
/// is empty.
pub(super) fn form<'line>(line: &'line str, category: &str) -> Option<&'line str> {
    let mut forms = line.split('\t');
    let other = forms.next()?;
    let found = forms.find_map(|form| form.strip_prefix(category)?.strip_prefix('='));
    Some(found.unwrap_or(other)).filter(|template| !template.is_empty())
}

#[cfg(test)]
mod tests {
    use super::super::{EnglishLocale, Words, english};
    use super::*;
    use proptest::prelude::*;
    use std::sync::Arc;

    /// A pack whose every message says its own number.
    fn text() -> String {
        let mut text = format!("{KIND} ltr {SHAPE}\n");
        text.extend((0..MESSAGES).map(|at| format!("m{at}\tone=one{at}\n")));
        text + END + "\n"
    }

    #[test]
    fn forms_stand_in_the_order_of_the_english_catalogue() {
        let pack = Pack::read(text()).unwrap();
        assert_eq!(english().len(), MESSAGES);
        assert_eq!(pack.form(0, "other"), Some("m0"));
        assert_eq!(pack.form(7, "one"), Some("one7"));
        assert_eq!(pack.form(7, "few"), Some("m7"));
        assert_eq!(pack.form(MESSAGES - 1, "one"), Some(format!("one{}", MESSAGES - 1).as_str()));
        assert!(!pack.is_rtl());
        assert!(Pack::read(text().replacen("ltr", "rtl", 1)).unwrap().is_rtl());
    }

    #[test]
    fn a_pack_of_another_catalogue_is_refused() {
        let other = text().replacen(SHAPE, "0123456789abcdef", 1);
        assert_eq!(Pack::read(other), Err(PackFault::Head));
        assert_eq!(Pack::read("<!doctype html>\n".to_owned()), Err(PackFault::Head));
        let longer = text().replacen("m0\t", "m0\nm0\t", 1);
        assert_eq!(Pack::read(longer), Err(PackFault::Length));
    }

    #[test]
    fn a_pack_that_broke_off_anywhere_is_refused() {
        let whole = text();
        for end in 0..whole.len() {
            assert!(Pack::read(whole[..end].to_owned()).is_err(), "cut at {end}");
        }
    }

    #[test]
    fn what_is_not_translated_is_said_in_english() {
        let at = english().iter().position(|message| message.id == "start_test").unwrap();
        let text = text().replacen(&format!("m{at}\tone=one{at}\n"), "\n", 1);
        let pack = Arc::new(Pack::read(text).unwrap());
        let words = Words::with_pack(Arc::new(EnglishLocale), pack);
        assert_eq!(words.start_test(), "Start a test");
        assert!(words.home_purpose().starts_with('m'));
    }

    proptest! {
        #[test]
        fn any_text_is_read_or_refused(
            line in "\\PC{0,40}", place in 0..MESSAGES, category in "[a-z=]{0,6}",
        ) {
            let _ = Pack::read(line.clone());
            let text = text().replacen(&format!("m{place}\t"), &format!("{line}\t"), 1);
            if let Ok(pack) = Pack::read(text) {
                let words = Words::with_pack(Arc::new(EnglishLocale), Arc::new(pack.clone()));
                let _ = (pack.form(place, &category), words.fill(place, "b", None, &["a"]));
            }
        }
    }
}
