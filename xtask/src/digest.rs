//! SHA-256 and the two spellings of it that a page needs.

use sha2::{Digest, Sha256};

/// The hash as lower-case hexadecimal digits.
pub fn hex(bytes: &[u8]) -> String {
    Sha256::digest(bytes).iter().map(|byte| format!("{byte:02x}")).collect()
}

/// The hash as the `integrity` attribute and `fetch` spell it.
pub fn integrity(bytes: &[u8]) -> String {
    format!("sha256-{}", base64(&Sha256::digest(bytes)))
}

fn base64(bytes: &[u8]) -> String {
    const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut text = String::new();
    for group in bytes.chunks(3) {
        let bits = group.iter().fold(0_u32, |bits, byte| bits << 8 | u32::from(*byte));
        let bits = bits << (8 * (3 - group.len()));
        for place in 0..4 {
            let letter = LETTERS[(bits >> (18 - 6 * place) & 63) as usize];
            text.push(if place > group.len() { '=' } else { char::from(letter) });
        }
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    // Test vectors of RFC 4648, section 10.
    #[test]
    fn base64_matches_the_standard() {
        let cases =
            [("", ""), ("f", "Zg=="), ("fo", "Zm8="), ("foo", "Zm9v"), ("foob", "Zm9vYg==")];
        for (plain, coded) in cases {
            assert_eq!(base64(plain.as_bytes()), coded);
        }
    }

    // FIPS 180-4, the standard's own example "abc".
    #[test]
    fn hash_matches_the_standard() {
        let abc = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
        assert_eq!(hex(b"abc"), abc);
        assert_eq!(integrity(b""), "sha256-47DEQpj8HBSa+/TImW+5JCeuQeRkm5NMpJWZG3hSuFU=");
    }
}
