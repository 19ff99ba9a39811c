//! Text that carries records between people: links, codes and spreadsheet files.

pub mod calendar;
mod class_page;
pub mod csv;
mod route;

pub use class_page::ClassPage;
pub use route::Route;
