//! Small values in a row, with a sum over all of them, as the number of a code.

use super::code::{self, CodeProblem, Packed};
use super::link::LinkProblem;
use crate::history::crc32;

/// Longest text read as a code. Design choice: a code has at most 160 signs; groups take room.
const TEXT_MAX: usize = 200;
/// One more than the largest sum.
const SUM_LIMIT: u32 = 1 << 24;

/// Values on their way into a code.
#[derive(Clone, Debug, Default)]
pub struct FieldWriter {
    fields: Vec<(u32, u32)>,
}

impl FieldWriter {
    /// Adds a value below its limit, which is at most 256.
    pub fn byte(&mut self, value: u32, limit: u32) {
        self.fields.push((value, limit));
    }

    /// Adds a value below its limit, which is at most 2^24, as three bytes, the highest first.
    pub fn wide(&mut self, value: u32, limit: u32) {
        self.byte(value >> 16, high_limit(limit));
        self.byte(value >> 8 & 255, 256);
        self.byte(value & 255, 256);
    }

    /// Adds the place of a value among all of its kind; `None` when it is not among them.
    pub fn one_of<T: PartialEq>(&mut self, all: &[T], value: T) -> Option<()> {
        let place = all.iter().position(|known| *known == value)?;
        self.byte(small(place), small(all.len()));
        Some(())
    }

    /// Adds a text: how many bytes, at most `bytes_max`, and each of them.
    pub fn text(&mut self, text: &str, bytes_max: usize) {
        self.byte(small(text.len()), small(bytes_max) + 1);
        self.fields.extend(text.bytes().map(|byte| (u32::from(byte), 256)));
    }

    /// The code of a kind.
    pub fn write(self, kind: char) -> String {
        let seen: Vec<u8> = self.fields.iter().map(|(value, _)| byte_of(*value)).collect();
        let mut packed = Packed::default();
        packed.put(sum_of(&seen), SUM_LIMIT);
        for (value, limit) in self.fields.into_iter().rev() {
            packed.put(value, limit);
        }
        code::write(kind, &packed)
    }
}

/// Takes values out of a code and remembers them for the sum.
#[derive(Clone, Debug)]
pub struct FieldReader {
    packed: Packed,
    seen: Vec<u8>,
}

impl FieldReader {
    /// Opens a code of one of these kinds, and says of which.
    ///
    /// # Errors
    /// A [`LinkProblem`]; a right code of any other kind is a later version's.
    pub fn open(kinds: &[char], text: &str) -> Result<(char, Self), LinkProblem> {
        if text.trim().is_empty() {
            return Err(LinkProblem::Empty);
        }
        if text.len() > TEXT_MAX {
            return Err(LinkProblem::TooLong);
        }
        for kind in kinds {
            match code::read(*kind, text) {
                Ok(packed) => return Ok((*kind, Self { packed, seen: Vec::new() })),
                Err(CodeProblem::Newer) => {}
                Err(CodeProblem::TooLong) => return Err(LinkProblem::TooLong),
                Err(CodeProblem::TooShort | CodeProblem::Sign(_) | CodeProblem::Check) => {
                    return Err(LinkProblem::Damaged);
                }
            }
        }
        Err(LinkProblem::Newer)
    }

    /// The next value below a limit of at most 256.
    pub fn byte(&mut self, limit: u32) -> u8 {
        let byte = byte_of(self.packed.take(limit));
        self.seen.push(byte);
        byte
    }

    /// The next value that was written as three bytes; it may lie above its limit by less than 65,536.
    pub fn wide(&mut self, limit: u32) -> u32 {
        let high = u32::from(self.byte(high_limit(limit)));
        high << 16 | u32::from(self.byte(256)) << 8 | u32::from(self.byte(256))
    }

    /// The next value, by its place among all of its kind.
    ///
    /// # Errors
    /// [`LinkProblem::OutOfRange`] when there is none at this place.
    pub fn one_of<T: Copy>(&mut self, all: &[T]) -> Result<T, LinkProblem> {
        let place = usize::from(self.byte(small(all.len())));
        all.get(place).copied().ok_or(LinkProblem::OutOfRange)
    }

    /// The bytes of the next text.
    pub fn text(&mut self, bytes_max: usize) -> Vec<u8> {
        let length = self.byte(small(bytes_max) + 1);
        (0..length).map(|_| self.byte(256)).collect()
    }

    /// Ends the reading: the sum is right, and nothing is left.
    ///
    /// # Errors
    /// [`LinkProblem::Damaged`] otherwise.
    pub fn end(mut self) -> Result<(), LinkProblem> {
        let is_whole = self.packed.take(SUM_LIMIT) == sum_of(&self.seen) && self.packed.is_empty();
        is_whole.then_some(()).ok_or(LinkProblem::Damaged)
    }
}

const fn high_limit(limit: u32) -> u32 {
    (limit.saturating_sub(1) >> 16) + 1
}

fn small(count: usize) -> u32 {
    u32::try_from(count).unwrap_or(0)
}

fn byte_of(value: u32) -> u8 {
    u8::try_from(value).unwrap_or(0)
}

/// 24 bits over everything a code says, so that what passes the two check signs by luck (once in 529
/// damaged codes) is refused as well.
fn sum_of(seen: &[u8]) -> u32 {
    crc32(seen) & (SUM_LIMIT - 1)
}
