//! Geometry of every drawing as plain numbers and paint roles; nothing here draws.
