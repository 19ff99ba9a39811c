//! Bytes as text that is safe in a link, a key and a file name (RFC 4648, section 5, no padding).

const ALPHABET: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";

/// Writes bytes, three to four characters, without padding.
///
/// ```
/// use two_marks::history::base64url;
/// assert_eq!(base64url::encode(b"wall"), "d2FsbA");
/// ```
pub fn encode(bytes: &[u8]) -> String {
    let mut text = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for group in bytes.chunks(3) {
        let bits = group.iter().fold(0u32, |bits, byte| bits << 8 | u32::from(*byte));
        let bits = bits << (8 * (3 - group.len()));
        for place in 0..=group.len() {
            let sextet = bits >> (18 - 6 * place) & 63;
            let sign = usize::try_from(sextet).ok().and_then(|at| ALPHABET.get(at));
            text.push(sign.map_or('A', |sign| char::from(*sign)));
        }
    }
    text
}

/// Reads what [`encode`] writes; anything else, padding and stray bits included, is nothing, so that
/// one value has one spelling.
pub fn decode(text: &str) -> Option<Vec<u8>> {
    let mut bytes = Vec::with_capacity(text.len() / 4 * 3 + 2);
    for group in text.as_bytes().chunks(4) {
        let mut bits = 0u32;
        for sign in group {
            bits = bits << 6 | sextet(*sign)?;
        }
        let kept = match group.len() {
            4 => 3,
            3 => 2,
            2 => 1,
            _ => return None,
        };
        let bits = bits << (6 * (4 - group.len()));
        let [_, first, second, third] = bits.to_be_bytes();
        let all = [first, second, third];
        bytes.extend(all.iter().take(kept));
        if all.iter().skip(kept).any(|rest| *rest != 0) {
            return None;
        }
    }
    Some(bytes)
}

/// Whether every character belongs to the alphabet.
pub fn is_alphabet(text: &str) -> bool {
    text.bytes().all(|sign| sextet(sign).is_some())
}

fn sextet(sign: u8) -> Option<u32> {
    let value = match sign {
        b'A'..=b'Z' => sign - b'A',
        b'a'..=b'z' => sign - b'a' + 26,
        b'0'..=b'9' => sign - b'0' + 52,
        b'-' => 62,
        b'_' => 63,
        _ => return None,
    };
    Some(u32::from(value))
}

#[cfg(test)]
mod tests {
    use super::*;
    use base64::Engine;
    use base64::prelude::BASE64_URL_SAFE_NO_PAD;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn agrees_with_the_base64_crate(bytes in prop::collection::vec(any::<u8>(), 0..40)) {
            let text = encode(&bytes);
            prop_assert_eq!(&text, &BASE64_URL_SAFE_NO_PAD.encode(&bytes));
            prop_assert_eq!(decode(&text), Some(bytes));
        }

        #[test]
        fn refuses_what_the_base64_crate_refuses(text in "[A-Ca-c0-3_=+ -]{0,12}") {
            prop_assert_eq!(decode(&text), BASE64_URL_SAFE_NO_PAD.decode(&text).ok());
        }

        #[test]
        fn any_text_is_read_or_refused(text in any::<String>()) {
            let _ = decode(&text);
        }
    }
}
