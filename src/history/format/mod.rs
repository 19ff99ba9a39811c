//! What is written, one module per version. A released version is frozen: its types hold numbers and
//! text only, and its samples in `tests/it/records/` open for ever.

pub mod class_v1;
pub mod v1;
