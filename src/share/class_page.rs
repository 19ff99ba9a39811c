use std::fmt;

/// Every page of class mode, as the fragment of its address names it.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum ClassPage {
    /// All classes.
    List,
    /// Prepare a class.
    New,
    /// What a lesson takes, and what to say.
    Lesson,
    /// One class, by its id.
    Of(String),
    /// Its link and code for the whole hall.
    Show(String),
    /// Its wall for the whole hall.
    Wall(String),
    /// The queue at the wall.
    Station(String),
    /// Result slips that arrive.
    Collect(String),
    /// The sheet to print, blank or filled.
    Sheet(String),
    /// Its set-up once more.
    Setup(String),
    /// A pupil opens the link of a class: its code.
    Join(String),
    /// A result slip: its code.
    Slip(String),
}

/// Longest code an address may carry: more than any class or slip has.
const CODE_MAX: usize = 200;

impl ClassPage {
    /// Reads the path of a fragment.
    pub(super) fn parse(path: &str) -> Option<Self> {
        let parts: Vec<&str> = path.split('/').collect();
        let plain = |sign: char| sign.is_ascii_alphanumeric() || sign == '-' || sign == '_';
        if path.len() > CODE_MAX || !parts.iter().all(|part| part.chars().all(plain)) {
            // A code that is damaged or far too long is refused in words by its own page.
            let (kind, _) = path.split_once('/')?;
            return (kind == "c")
                .then(|| Self::Join(path.chars().skip(2).take(CODE_MAX + 1).collect()));
        }
        let owned = |part: &str| part.to_owned();
        Some(match parts.as_slice() {
            ["class"] => Self::List,
            ["class", "new"] => Self::New,
            ["class", "lesson"] => Self::Lesson,
            ["class", id] if !id.is_empty() => Self::Of(owned(id)),
            ["class", id, "show"] => Self::Show(owned(id)),
            ["class", id, "wall"] => Self::Wall(owned(id)),
            ["class", id, "station"] => Self::Station(owned(id)),
            ["class", id, "collect"] => Self::Collect(owned(id)),
            ["class", id, "sheet"] => Self::Sheet(owned(id)),
            ["class", id, "setup"] => Self::Setup(owned(id)),
            // Without a code, the page says what is missing.
            ["c"] => Self::Join(String::new()),
            ["c", code] => Self::Join(owned(code)),
            ["slip", code] => Self::Slip(owned(code)),
            _ => return None,
        })
    }

    /// The page of a class that this one belongs to, for the way back.
    pub fn parent(&self) -> Self {
        match self {
            Self::Show(id)
            | Self::Wall(id)
            | Self::Station(id)
            | Self::Collect(id)
            | Self::Setup(id)
            | Self::Sheet(id) => Self::Of(id.clone()),
            _ => Self::List,
        }
    }
}

impl fmt::Display for ClassPage {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::List => formatter.write_str("#/class"),
            Self::New => formatter.write_str("#/class/new"),
            Self::Lesson => formatter.write_str("#/class/lesson"),
            Self::Of(id) => write!(formatter, "#/class/{id}"),
            Self::Show(id) => write!(formatter, "#/class/{id}/show"),
            Self::Wall(id) => write!(formatter, "#/class/{id}/wall"),
            Self::Station(id) => write!(formatter, "#/class/{id}/station"),
            Self::Collect(id) => write!(formatter, "#/class/{id}/collect"),
            Self::Sheet(id) => write!(formatter, "#/class/{id}/sheet"),
            Self::Setup(id) => write!(formatter, "#/class/{id}/setup"),
            Self::Join(code) => write!(formatter, "#/c/{code}"),
            Self::Slip(code) => write!(formatter, "#/slip/{code}"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::Route;
    use super::*;

    #[test]
    fn every_page_of_a_class_reads_back_from_its_own_address() {
        let id = || "BwcHBwcHAAAAAAAAAAAAAA".to_owned();
        let pages = [
            ClassPage::List,
            ClassPage::New,
            ClassPage::Lesson,
            ClassPage::Of(id()),
            ClassPage::Show(id()),
            ClassPage::Wall(id()),
            ClassPage::Station(id()),
            ClassPage::Collect(id()),
            ClassPage::Sheet(id()),
            ClassPage::Setup(id()),
            ClassPage::Join("C2345".to_owned()),
            ClassPage::Join(String::new()),
            ClassPage::Slip("J2345".to_owned()),
        ];
        for page in pages {
            let route = Route::Class(page);
            assert_eq!(Route::parse(&route.to_string()), route);
        }
    }

    #[test]
    fn a_hostile_code_reaches_the_page_that_refuses_it_and_is_cut() {
        let Route::Class(ClassPage::Join(code)) =
            Route::parse(&format!("#/c/{}", "C".repeat(9_999)))
        else {
            panic!("another page");
        };
        assert_eq!(code.len(), 201);
        let script = Route::parse("#/c/<script>");
        assert_eq!(script, Route::Class(ClassPage::Join("<script>".to_owned())));
        assert_eq!(Route::parse("#/class/a/b/c"), Route::Lost);
        assert_eq!(Route::parse("#/slip/<b>"), Route::Lost);
    }
}
