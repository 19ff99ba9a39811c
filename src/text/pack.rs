use super::catalogue::{self, Entry};
use super::english;

/// The messages of one language, in the order of the English catalogue.
#[derive(Clone, Debug, Default)]
pub struct Pack {
    forms: Vec<Vec<(String, String)>>,
}

/// What keeps a pack from being whole.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum PackFault {
    /// A line cannot be read.
    Line(catalogue::Fault),
    /// The English catalogue has no such message.
    Unknown(String),
    /// A message is not translated.
    Missing(&'static str),
    /// A message uses other arguments than the English one.
    Arguments(String),
}

impl Pack {
    /// Reads a pack. What is good is kept, and every fault is returned.
    pub fn parse(file: &str) -> (Self, Vec<PackFault>) {
        let (entries, faults) = catalogue::parse(file);
        let mut faults: Vec<_> = faults.into_iter().map(PackFault::Line).collect();
        let mut forms = vec![Vec::new(); english().len()];
        for entry in entries {
            let at = english().iter().position(|message| message.id == entry.id);
            match at.and_then(|at| Some((english().get(at)?, forms.get_mut(at)?))) {
                None => faults.push(PackFault::Unknown(entry.id)),
                Some((message, _)) if !same_arguments(message.arguments, &entry) => {
                    faults.push(PackFault::Arguments(entry.id));
                }
                Some((_, slot)) => *slot = entry.forms,
            }
        }
        for (message, forms) in english().iter().zip(&forms) {
            if forms.is_empty() {
                faults.push(PackFault::Missing(message.id));
            }
        }
        (Self { forms }, faults)
    }

    /// The template of a message for a plural category, or its `other` form.
    pub(super) fn form(&self, at: usize, category: &str) -> Option<&str> {
        let forms = self.forms.get(at)?;
        let named = |name: &str| forms.iter().find(|(form, _)| form == name);
        named(category).or_else(|| named("other")).map(|(_, template)| template.as_str())
    }
}

fn same_arguments(english: &[&str], entry: &Entry) -> bool {
    let names: Vec<_> = entry.arguments.iter().map(|(name, _)| name.as_str()).collect();
    names == english
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_pack_names_what_is_missing_unknown_and_wrong() {
        let file = "start_test = Los\nno_such = x\njumps_left_today = Noch Sprünge\n";
        let (pack, faults) = Pack::parse(file);
        let at = english().iter().position(|message| message.id == "start_test").unwrap();
        assert_eq!(pack.form(at, "other"), Some("Los"));
        assert!(faults.contains(&PackFault::Unknown("no_such".to_owned())));
        assert!(faults.contains(&PackFault::Arguments("jumps_left_today".to_owned())));
        assert!(faults.iter().any(|fault| matches!(fault, PackFault::Missing(_))));
    }

    #[test]
    fn lines_that_cannot_be_read_are_named() {
        let (_, faults) = Pack::parse("Start = x\n  one = y\nopen (n: count) = {n\n");
        assert_eq!(faults.iter().filter(|fault| matches!(fault, PackFault::Line(_))).count(), 3);
    }
}
