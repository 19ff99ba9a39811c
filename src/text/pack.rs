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
        let line = self.text.get(start as usize..end as usize)?;
        let mut forms = line.split('\t');
        let other = forms.next()?;
        let found = forms.find_map(|form| form.strip_prefix(category)?.strip_prefix('='));
        Some(found.unwrap_or(other)).filter(|template| !template.is_empty())
    }
}
