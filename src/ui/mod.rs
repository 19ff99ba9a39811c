//! The page: browser ports, state, components and pages.

mod browser;
mod components;
mod pages;
mod start;
mod state;

pub use start::start;
