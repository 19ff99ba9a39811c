//! One binary for every check that is not a unit of its file.
