//! Compiles the English catalogue (`src/text/en/*.txt`) into typed functions.

fn main() {}
