//! The core of Two Marks: measuring, judging and describing vertical jumps.
//!
//! Nothing here does input or output, reads a clock, draws random numbers or knows that a page
//! exists; "now", ids and the locale are arguments. Modules stand in reading order, and a room may
//! use only the rooms above it (`tests/it/layers.rs` checks that).

#![forbid(unsafe_code)]
#![warn(missing_docs)]

pub mod quantity;
pub mod statistics;
pub mod measure;
pub mod ready;
pub mod reliability;
pub mod norms;
pub mod trend;
pub mod history;
pub mod assess;
pub mod share;
pub mod class;
pub mod card;
pub mod flow;
pub mod chart;
pub mod text;
pub mod season;
