/// CRC-32 as in ISO 3309 and ITU-T V.42 (reflected, polynomial 0x04C11DB7). It finds damage, not
/// tampering.
///
/// ```
/// use two_marks::history::crc32;
/// // The published check value of this sum.
/// assert_eq!(crc32(b"123456789"), 0xcbf4_3926);
/// ```
pub fn crc32(bytes: &[u8]) -> u32 {
    let mut sum = Crc32::new();
    sum.add(bytes);
    sum.value()
}

/// The same sum over several pieces.
#[derive(Clone, Copy, Debug)]
pub(super) struct Crc32(u32);

impl Crc32 {
    pub(super) const fn new() -> Self {
        Self(u32::MAX)
    }

    pub(super) fn add(&mut self, bytes: &[u8]) {
        for byte in bytes {
            self.0 ^= u32::from(*byte);
            for _ in 0..8 {
                let carry = self.0 & 1;
                self.0 = self.0 >> 1 ^ (0xedb8_8320 * carry);
            }
        }
    }

    pub(super) const fn value(self) -> u32 {
        !self.0
    }
}
