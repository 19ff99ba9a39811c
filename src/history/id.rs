use std::fmt;

use super::base64url;

/// A random 128-bit id of a record. It says nothing about the person or the device.
///
/// ```
/// use two_marks::history::Id;
/// let id = Id::from_bytes([7; 16]);
/// assert_eq!(id.to_string().len(), 22);
/// assert_eq!(Id::parse(&id.to_string()), Some(id));
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Id([u8; 16]);

impl Id {
    /// Characters of an id as text.
    pub const TEXT_LENGTH: usize = 22;

    /// From sixteen random bytes.
    pub const fn from_bytes(bytes: [u8; 16]) -> Self {
        Self(bytes)
    }

    /// The sixteen bytes.
    pub const fn bytes(self) -> [u8; 16] {
        self.0
    }

    /// From its text of 22 characters of the link-safe alphabet; anything else is no id.
    pub fn parse(text: &str) -> Option<Self> {
        if text.len() != Self::TEXT_LENGTH {
            return None;
        }
        base64url::decode(text)?.try_into().ok().map(Self)
    }
}

impl fmt::Display for Id {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&base64url::encode(&self.0))
    }
}

/// The short key of a person in one store: the first characters of their id, four unless two people
/// share them. Tests name their person by it, which keeps a test's record small.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct LocalId(String);

impl LocalId {
    /// Fewest characters given to a new person. Design choice: among 100 people two share four
    /// characters less than once in 3,000 stores, and then one takes five.
    const LENGTH: usize = 4;

    /// From text of 1 to 22 characters of the link-safe alphabet.
    pub fn parse(text: &str) -> Option<Self> {
        let fits = (1..=Id::TEXT_LENGTH).contains(&text.len());
        (fits && base64url::is_alphabet(text)).then(|| Self(text.to_owned()))
    }

    /// The shortest key for a person that nobody else has.
    pub fn shortest(id: Id, taken: impl Fn(&Self) -> bool) -> Self {
        let text = id.to_string();
        let keys = (Self::LENGTH..=text.len()).filter_map(|end| text.get(..end));
        let mut free = keys.map(|key| Self(key.to_owned())).filter(|key| !taken(key));
        free.next().unwrap_or_else(|| Self(text.clone()))
    }

    /// The characters.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_second_person_with_the_same_start_gets_one_more_character() {
        let id = Id::from_bytes([7; 16]);
        let first = LocalId::shortest(id, |_| false);
        let second = LocalId::shortest(id, |key| *key == first);
        assert_eq!((first.as_str().len(), second.as_str().len()), (4, 5));
    }

    #[test]
    fn stray_bits_make_no_second_spelling() {
        let text = Id::from_bytes([0; 16]).to_string();
        assert!(text.ends_with('A'));
        assert_eq!(Id::parse("AAAAAAAAAAAAAAAAAAAAAB"), None);
        assert_eq!(Id::parse("AAAA"), None);
        assert_eq!(LocalId::parse("a/b"), None);
        assert_eq!(LocalId::parse(""), None);
    }
}
