//! Text that carries records between people: links, codes and spreadsheet files.

pub mod calendar;
pub mod csv;
mod route;

pub use route::Route;
