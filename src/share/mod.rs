//! Text that carries records between people: links, codes and spreadsheet files.

mod route;

pub use route::Route;
