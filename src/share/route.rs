use std::fmt;

use super::ClassPage;

/// Every page, as the fragment of its address names it.
///
/// Anything shared rides in the fragment, which browsers never send to a server.
///
/// ```
/// use two_marks::share::Route;
/// assert_eq!(Route::parse("#/jumps"), Route::Jumps);
/// assert_eq!(Route::Jumps.to_string(), "#/jumps");
/// ```
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Route {
    /// The wall with all tests of a person.
    Home,
    /// Who is testing: the first person of a device, or one of those who are here.
    Who,
    /// Somebody new.
    AddPerson,
    /// Somebody who is here, by their id.
    Person(String),
    /// Fit to jump, and a look around.
    Ready,
    /// The warm-up.
    WarmUp,
    /// Which jump, and how it is measured.
    Setup,
    /// The standing reach.
    Reach,
    /// The trials.
    Jumps,
    /// Time in the air: which clock, which jump, and what it is.
    Clock,
    /// Frames of a film, for one trial.
    Film,
    /// The same person's tests at the wall and in the air.
    Rulers,
    /// All readings once more before saving.
    Check,
    /// One saved test, by its id.
    Result(String),
    /// A saved test being changed, by its id.
    Change(String),
    /// An earlier result, added by hand.
    Add,
    /// All tests of a person.
    History,
    /// The season of a person.
    Season,
    /// The season as a picture.
    SeasonPicture,
    /// Where the bands come from.
    Bands,
    /// How sure is this?
    Sure,
    /// What the trade's words mean.
    Glossary,
    /// Backup, restore, units, looks.
    Data,
    /// Forms and a wall scale to print.
    Paper,
    /// The wall scale.
    Strip,
    /// How to jump, in moving and still pictures.
    Technique,
    /// One saved test as a picture, by its id.
    Picture(String),
    /// One saved test as a card to hand on, by its id.
    HandOn(String),
    /// A card that somebody opened: its code.
    Card(String),
    /// An invented family, to look around.
    Example,
    /// Version, licences, what leaves this device.
    About,
    /// What can I reach?
    Touch,
    /// Power behind a jump, adults only.
    Power,
    /// Before, around or after the growth spurt.
    Growth,
    /// Tables of athletes, adults only.
    Athletes,
    /// A page of class mode.
    Class(ClassPage),
    /// An address that names no page.
    Lost,
}

/// Pages without anything in their address but a name.
const PLAIN: &[(Route, &str)] = &[
    (Route::Home, ""),
    (Route::Who, "who"),
    (Route::AddPerson, "add-person"),
    (Route::Ready, "ready"),
    (Route::WarmUp, "warm-up"),
    (Route::Setup, "test"),
    (Route::Reach, "reach"),
    (Route::Jumps, "jumps"),
    (Route::Clock, "clock"),
    (Route::Film, "clock-film"),
    (Route::Rulers, "clock-and-wall"),
    (Route::Check, "check"),
    (Route::Add, "add"),
    (Route::History, "tests"),
    (Route::Season, "season"),
    (Route::SeasonPicture, "season-picture"),
    (Route::Bands, "bands"),
    (Route::Sure, "sure"),
    (Route::Glossary, "words"),
    (Route::Data, "data"),
    (Route::Paper, "paper"),
    (Route::Strip, "strip"),
    (Route::Technique, "technique"),
    (Route::Example, "example"),
    (Route::About, "about"),
    (Route::Touch, "touch"),
    (Route::Power, "power"),
    (Route::Growth, "growth"),
    (Route::Athletes, "athletes"),
];

/// Longest id an address may carry.
const ID_MAX: usize = 32;
/// Signs of a code that reach its page: more than any code has, so that one too long is refused in words.
const CODE_MAX: usize = 201;

impl Route {
    /// Every page that needs nothing but its name, home first.
    pub fn plain() -> impl Iterator<Item = Self> {
        PLAIN.iter().map(|(route, _)| route.clone())
    }

    /// Reads a fragment, or a whole address pasted from any host: only what follows `#` counts.
    pub fn parse(address: &str) -> Self {
        let fragment = address.split_once('#').map_or("", |(_, fragment)| fragment);
        let path = fragment.trim_start_matches('/').trim_end_matches('/');
        if let Some((route, _)) = PLAIN.iter().find(|(_, name)| *name == path) {
            return route.clone();
        }
        match path.split_once('/') {
            Some(("result", id)) if is_id(id) => Self::Result(id.to_owned()),
            Some(("person", id)) if is_id(id) => Self::Person(id.to_owned()),
            Some(("picture", id)) if is_id(id) => Self::Picture(id.to_owned()),
            Some(("change", id)) if is_id(id) => Self::Change(id.to_owned()),
            Some(("hand-on", id)) if is_id(id) => Self::HandOn(id.to_owned()),
            Some(("card", code)) => Self::Card(code.chars().take(CODE_MAX).collect()),
            None if path == "card" => Self::Card(String::new()),
            _ => ClassPage::parse(path).map_or(Self::Lost, Self::Class),
        }
    }

    /// Whether the page is a step of a test, in order from 0.
    pub fn step(&self) -> Option<usize> {
        match self {
            Self::Ready => Some(0),
            Self::WarmUp => Some(1),
            Self::Setup | Self::Reach => Some(2),
            Self::Jumps | Self::Film => Some(3),
            Self::Check => Some(4),
            _ => None,
        }
    }
}

fn is_id(id: &str) -> bool {
    let plain = |sign: char| sign.is_ascii_alphanumeric() || sign == '-' || sign == '_';
    !id.is_empty() && id.len() <= ID_MAX && id.chars().all(plain)
}

impl fmt::Display for Route {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Self::Result(id) = self {
            return write!(formatter, "#/result/{id}");
        }
        if let Self::Person(id) = self {
            return write!(formatter, "#/person/{id}");
        }
        if let Self::Picture(id) = self {
            return write!(formatter, "#/picture/{id}");
        }
        if let Self::Change(id) = self {
            return write!(formatter, "#/change/{id}");
        }
        if let Self::HandOn(id) = self {
            return write!(formatter, "#/hand-on/{id}");
        }
        if let Self::Card(code) = self {
            return write!(formatter, "#/card/{code}");
        }
        if let Self::Class(page) = self {
            return write!(formatter, "{page}");
        }
        let name = PLAIN.iter().find(|(route, _)| route == self).map_or("lost", |(_, name)| *name);
        write!(formatter, "#/{name}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn every_page_reads_back_from_its_own_address() {
        let id = || "Xr3kq0".to_owned();
        let named = [
            Route::Result(id()),
            Route::Person(id()),
            Route::Picture(id()),
            Route::Change(id()),
            Route::HandOn(id()),
            Route::Card(id()),
            Route::Card(String::new()),
        ];
        for route in Route::plain().chain(named) {
            assert_eq!(Route::parse(&route.to_string()), route);
        }
    }

    #[test]
    fn a_link_from_any_host_opens_here() {
        let pasted = "https://school.example/jump/index.html#/words";
        assert_eq!(Route::parse(pasted), Route::Glossary);
        assert_eq!(Route::parse(""), Route::Home);
    }

    #[test]
    fn a_hostile_code_reaches_the_page_that_refuses_it_and_is_cut() {
        let long = Route::parse(&format!("#/card/{}", "R".repeat(9_999)));
        assert_eq!(long, Route::Card("R".repeat(201)));
        assert_eq!(Route::parse("#/card/<script>"), Route::Card("<script>".to_owned()));
        assert_eq!(Route::parse("#/hand-on/<script>"), Route::Lost);
    }

    #[test]
    fn what_names_no_page_is_lost() {
        for address in ["#/nowhere", "#/result/", "#/result/<script>", "#/result/a/b", "#/../x"] {
            assert_eq!(Route::parse(address), Route::Lost, "{address}");
        }
    }

    proptest! {
        #[test]
        fn no_address_panics(address in "\\PC{0,80}") {
            let route = Route::parse(&format!("#{address}"));
            let _ = route.to_string();
        }
    }
}
