//! The page: browser ports, elements, state, components and pages.

mod browser;
mod components;
mod kept;
mod languages;
mod pages;
mod prelude;
mod start;
mod state;
mod tree;

pub use start::start;
