//! Published reference values and where a score stands among them.
