use std::any::Any;
use std::future::Future;
use std::pin::Pin;
use std::rc::Rc;

use two_marks::history::{JournalEntry, KeyValue, StoreError};
use two_marks::quantity::Moment;
use two_marks::text::Words;

/// A shelf of texts by key: the browser's storage, or memory where there is none.
#[derive(Clone)]
pub struct Shelf(pub Rc<dyn KeyValue>);

impl KeyValue for Shelf {
    fn get(&self, key: &str) -> Result<Option<String>, StoreError> {
        self.0.get(key)
    }

    fn set(&self, key: &str, value: &str) -> Result<(), StoreError> {
        self.0.set(key, value)
    }

    fn remove(&self, key: &str) -> Result<(), StoreError> {
        self.0.remove(key)
    }

    fn keys_with_prefix(&self, prefix: &str) -> Result<Vec<String>, StoreError> {
        self.0.keys_with_prefix(prefix)
    }
}

/// Work that ends later.
pub type Later<T> = Pin<Box<dyn Future<Output = T>>>;

/// Reads the QR codes of the photo of an event, by lines.
pub type ReadCodes = fn(leptos::ev::Event) -> Later<Option<String>>;

/// Calls once a second, for as long as what it returns is held.
pub type EverySecond = fn(Box<dyn Fn()>) -> Box<dyn Any>;

/// What became of a picked file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum FileText {
    /// Its text.
    Read(String),
    /// Larger than it may be.
    TooLarge,
    /// The browser could not read it.
    Unreadable,
}

/// How the page looks.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Look {
    /// As the system says.
    #[default]
    System,
    /// Light.
    Light,
    /// Dark.
    Dark,
    /// Black on white with thicker lines, for bright sun.
    Sun,
}

/// A language with its words at hand.
#[derive(Clone)]
pub struct Speech {
    /// Its tag.
    pub tag: &'static str,
    /// Whether it is written from right to left.
    pub is_rtl: bool,
    /// Its words.
    pub words: Words,
}

/// Whether the browser may clear the storage by itself.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Keeping {
    /// It keeps everything until the person clears it.
    Promised,
    /// It may clear the storage when room is short or the page long unused.
    NotPromised,
    /// It does not say.
    Unknown,
}

/// How the browser puts a page on the home screen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HomeScreen {
    /// It has offered to, and waits for a tap.
    Offered,
    /// By a line of its share menu.
    ShareMenu,
    /// By a line of its own menu.
    Menu,
}

/// Hands a file, by name, kind and text, to the device's own sheet for sharing.
pub type ShareFile = fn(name: &str, mime: &str, text: &str) -> Later<Shared>;

/// What became of a file handed to the device's own sheet for sharing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shared {
    /// It was handed to a program that the person chose.
    Yes,
    /// The person closed the sheet.
    Cancelled,
    /// The device did not take it.
    Refused,
}

/// What the pages ask of the browser once records are at hand, given from outside so that state knows no browser.
#[derive(Clone)]
pub struct Ports {
    /// The store of record.
    pub shelf: Shelf,
    /// Whether the shelf outlives the page.
    pub is_kept: bool,
    /// The look chosen earlier.
    pub look: Look,
    /// Whether people of this locale measure in inches.
    pub prefers_inches: bool,
    /// The draft of this tab.
    pub draft: Shelf,
    /// The clock.
    pub now: fn() -> Moment,
    /// Sixteen random bytes.
    pub id_bytes: fn() -> Option<[u8; 16]>,
    /// Puts entries on disk; says whether they are.
    pub journal: Rc<dyn Fn(Vec<JournalEntry>) -> Later<bool>>,
    /// Does work while no other tab writes, where the browser can promise that.
    pub alone: fn(Box<dyn FnOnce()>),
    /// Replaces the address.
    pub replace: fn(&str),
    /// Moves the focus to an element.
    pub focus: fn(&str),
    /// Gives the person a file.
    pub download: fn(name: &str, mime: &str, text: &str) -> bool,
    /// Opens the dialogue for printing.
    pub print: fn(),
    /// Makes a PNG of an SVG file and gives it to the person.
    pub save_png: fn(name: String, svg: String) -> Later<bool>,
    /// Whether there is a share sheet that takes pictures.
    pub can_share_pictures: fn() -> bool,
    /// Makes a PNG of an SVG file and opens the share sheet with it.
    pub share_png: fn(name: String, svg: String) -> Later<Shared>,
    /// Starts work that ends later.
    pub spawn: fn(Later<()>),
    /// Reads the file a person just picked, up to a number of bytes.
    pub read_file: fn(event: leptos::ev::Event, most_bytes: u32) -> Option<Later<FileText>>,
    /// Keeps the look, and shows it.
    pub set_look: fn(Look),
    /// Calls once a second and keeps the screen on, for as long as what it returns is held.
    pub every_second: EverySecond,
    /// Asks the browser to keep the storage; some ask the person.
    pub ask_to_keep: fn() -> Later<Keeping>,
    /// What the browser says about keeping the storage, without asking anybody.
    pub keeping: fn() -> Later<Keeping>,
    /// Whether the page was opened from the home screen.
    pub is_installed: bool,
    /// How the browser puts it there.
    pub home_screen: fn() -> HomeScreen,
    /// Takes the browser's offer to put it there; whether the person agreed.
    pub add_to_home_screen: fn() -> Later<bool>,
    /// Hands a file to the device's own sheet for sharing, where it has one that takes files.
    pub share: Option<ShareFile>,
    /// The address of the page, without what follows `#`.
    pub address: fn() -> String,
    /// Copies a text.
    pub copy: fn(String) -> Later<bool>,
    /// Opens the share sheet with a link, where there is one.
    pub share_link: Option<fn(&str)>,
    /// Reads the QR codes of a photo, where the browser can.
    pub read_codes: Option<ReadCodes>,
    /// The film under way.
    pub reel: Rc<dyn super::Reel>,
    /// Signals that the rest is over, by sound and vibration.
    pub signal_rest_over: fn(),
}
