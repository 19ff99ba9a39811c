//! One binary for every check that is not a unit of its file.

// `cfg(test)` is always true here; written out, it lets clippy treat helpers as tests too.
#[cfg(test)]
mod assessed;
#[cfg(test)]
mod brought_back;
#[cfg(test)]
mod card;
#[cfg(test)]
mod class;
#[cfg(test)]
mod drawings;
#[cfg(test)]
mod drawings_of_a_session;
#[cfg(test)]
mod drawings_of_many;
#[cfg(test)]
mod drawings_that_leave;
#[cfg(test)]
mod edited;
#[cfg(test)]
mod evaluate;
#[cfg(test)]
mod fuzzed;
#[cfg(test)]
mod hostile;
#[cfg(test)]
mod interrupted;
#[cfg(test)]
mod keeping;
#[cfg(test)]
mod languages;
#[cfg(test)]
mod layers;
#[cfg(test)]
mod numbers;
#[cfg(test)]
mod oracles;
#[cfg(test)]
mod published;
#[cfg(test)]
mod reachable;
#[cfg(test)]
mod readability;
#[cfg(test)]
mod records;
#[cfg(test)]
mod samples;
#[cfg(test)]
mod screens;
#[cfg(test)]
mod season;
#[cfg(test)]
mod simulations;
#[cfg(test)]
mod spreadsheets;
#[cfg(test)]
mod storage;
#[cfg(test)]
mod tidy;
#[cfg(test)]
mod vectors;
