//! A pupil's visit: the class that a link named, and the number they chose.

use super::link::{Invitation, read_link, write_link};
use super::slip::DEVICE_TAGS;
use crate::history::{ClassSetup, MarkMethod};
use crate::measure::{Hand, Reach, Session};

/// A pupil on their way through a class test. It lives in the tab alone.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Visit {
    /// The class and its set-up.
    pub invitation: Invitation,
    /// The number chosen.
    pub number: u8,
    /// The mark of this device for this class and tab.
    pub device_tag: u16,
}

impl Visit {
    /// As text for the tab's own storage, so that a reload goes on.
    pub fn to_text(&self) -> Option<String> {
        let code = write_link(&self.invitation)?;
        Some(format!("{code} {} {}", self.number, self.device_tag))
    }

    /// From that text; anything else is none.
    pub fn parse(text: &str) -> Option<Self> {
        let parts: Vec<&str> = text.split(' ').collect();
        let [code, number, device_tag] = parts.as_slice() else {
            return None;
        };
        let invitation = read_link(code).ok()?;
        let number = number.parse().ok()?;
        let device_tag = device_tag.parse().ok().filter(|tag| *tag < DEVICE_TAGS)?;
        let in_class = (1..=invitation.setup.numbers).contains(&number);
        in_class.then_some(Self { invitation, number, device_tag })
    }
}

/// A mark of a device from random bytes; never that of the teacher's own.
pub fn device_tag(random: [u8; 16]) -> u16 {
    let [first, second, ..] = random;
    1 + u16::from_be_bytes([first, second]) % (DEVICE_TAGS - 1)
}

/// An empty test as a class does it.
pub fn new_session(setup: &ClassSetup) -> Session {
    let mut session = Session::new(setup.key(), Hand::Right, setup.division);
    if setup.marks == MarkMethod::BetweenMarks {
        session.reach = Reach::MarkOnly;
    }
    session
}

#[cfg(test)]
mod tests {
    use super::super::class_id;
    use super::*;
    use crate::quantity::Division;

    #[test]
    fn a_visit_survives_a_reload_and_anything_else_is_none() {
        let setup = ClassSetup::usual("8B".to_owned(), Division::CmHalf);
        let invitation = Invitation { class: class_id([3; 16]), setup };
        let visit = Visit { invitation, number: 17, device_tag: 5 };
        let text = visit.to_text().unwrap();
        assert_eq!(Visit::parse(&text), Some(visit));
        for wrong in ["", "C2345 1 5", &text.replace(" 17 ", " 31 "), &text.replace(" 5", " 529")] {
            assert_eq!(Visit::parse(wrong), None, "{wrong}");
        }
    }

    #[test]
    fn no_device_has_the_mark_of_the_teachers_own() {
        for first in 0..=255 {
            let tag = device_tag([first; 16]);
            assert!((1..DEVICE_TAGS).contains(&tag));
        }
    }
}
