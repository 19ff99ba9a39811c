//! The signals of the page and the actions that change them: load, a pure function of the core,
//! save, set. Nothing here draws, and nothing here computes a height.

mod app;
mod backups;
mod bin;
mod example;
mod film;
mod front;
mod keeping;
mod classes;
mod people;
mod ports;
mod records;
mod saving;
mod sheets;
mod testing;

pub use app::{App, Notice};
pub use backups::Picked;
pub use classes::ClassFile;
pub use film::{Chosen, FILM, Film, Instant, Reel, Stage};
pub use front::{Front, Near};
pub use ports::{FileText, HomeScreen, Keeping, Later, Look, Ports, Shared, Shelf, Speech};
pub use sheets::{Rows, Sheet};
pub use testing::may_reuse;
