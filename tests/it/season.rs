//! The season page without a browser: what is in the trend, what is said, what is drawn.

pub mod family;
mod card;
mod joint;
mod model;
mod pictures;
mod story;
mod words;
