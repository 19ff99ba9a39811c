//! Text that people typed, or that a file brought: control and direction characters taken out, and
//! cut to a length.

/// Longest nickname, in characters as a person counts them.
pub const NICKNAME_MAX: usize = 40;
/// Longest note, in characters as a person counts them.
pub const NOTE_MAX: usize = 500;
/// Longest tag, in characters as a person counts them.
pub const TAG_MAX: usize = 30;
/// Most tags on one test.
pub const TAGS_MAX: usize = 10;

/// Code points of one visible character that are kept: a family of four with skin tones has eleven;
/// more is a pile of accents. Design choice.
const CODE_POINTS_EACH: usize = 12;

/// One line: control characters, line ends and direction overrides become nothing or a space, ends
/// are trimmed, and what is longer than `max` visible characters is cut.
///
/// Visible characters are counted without a table of the Unicode standard: accents, variation
/// selectors, skin tones and whatever follows a joiner belong to the character before.
///
/// ```
/// use two_marks::history::clean_line;
/// assert_eq!(clean_line(" Mia\u{202e}\n ", 40), "Mia");
/// assert_eq!(clean_line("abcdef", 3), "abc");
/// ```
pub fn clean_line(text: &str, max: usize) -> String {
    cut(text.chars().map(|sign| if sign == '\n' || sign == '\t' { ' ' } else { sign }), max)
}

/// As [`clean_line`], and cut to a number of bytes as well, for what a link carries.
///
/// ```
/// use two_marks::history::clean_line_in_bytes;
/// assert_eq!(clean_line_in_bytes("\u{f6}\u{f6}\u{f6}", 40, 5), "\u{f6}\u{f6}");
/// ```
pub fn clean_line_in_bytes(text: &str, max: usize, bytes_max: usize) -> String {
    let mut line = clean_line(text, max);
    while line.len() > bytes_max {
        line.pop();
    }
    clean_line(&line, max)
}

/// As [`clean_line`], but line ends stay.
pub fn clean_note(text: &str, max: usize) -> String {
    cut(text.chars(), max)
}

fn cut(signs: impl Iterator<Item = char>, max: usize) -> String {
    let mut kept = String::new();
    let (mut visible, mut code_points, mut joined) = (0usize, 0usize, false);
    for sign in signs.filter(|sign| !is_unwanted(*sign)).skip_while(|sign| sign.is_whitespace()) {
        let belongs_to_last = visible > 0 && (joined || joins(sign));
        if !belongs_to_last {
            (visible, code_points) = (visible + 1, 0);
        }
        if visible > max {
            break;
        }
        // A joiner needs room for what it joins.
        let room = CODE_POINTS_EACH - usize::from(sign == ZERO_WIDTH_JOINER);
        if code_points < room {
            kept.push(sign);
            code_points += 1;
            joined = sign == ZERO_WIDTH_JOINER;
        }
    }
    kept.truncate(kept.trim_end().len());
    kept
}

const ZERO_WIDTH_JOINER: char = '\u{200d}';

/// Control characters but the line end, marks and overrides of writing direction, line and paragraph
/// separators, the byte order mark and annotation marks.
fn is_unwanted(sign: char) -> bool {
    let control = sign.is_control() && sign != '\n';
    control
        || matches!(
            sign,
            '\u{61c}' | '\u{200e}' | '\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2066}'..='\u{206f}'
                | '\u{feff}' | '\u{fff9}'..='\u{fffb}'
        )
}

fn joins(sign: char) -> bool {
    matches!(
        sign,
        ZERO_WIDTH_JOINER
            | '\u{300}'..='\u{36f}' | '\u{1ab0}'..='\u{1aff}' | '\u{1dc0}'..='\u{1dff}'
            | '\u{20d0}'..='\u{20ff}' | '\u{fe00}'..='\u{fe0f}' | '\u{fe20}'..='\u{fe2f}'
            | '\u{1f3fb}'..='\u{1f3ff}' | '\u{e0020}'..='\u{e007f}'
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_family_is_one_character_and_accents_cost_nothing() {
        let family = "👨\u{200d}👩\u{200d}👧";
        assert_eq!(clean_line(&format!("{family}x"), 1), family);
        assert_eq!(clean_line("Zoe\u{308}y", 3), "Zoe\u{308}");
    }

    #[test]
    fn a_pile_of_accents_is_cut() {
        let pile = format!("a{}b", "\u{301}".repeat(10_000));
        assert_eq!(clean_line(&pile, 40), format!("a{}b", "\u{301}".repeat(11)));
    }

    proptest! {
        #[test]
        fn cleaning_twice_changes_nothing(text in any::<String>(), max in 0usize..30) {
            let line = clean_line(&text, max);
            prop_assert_eq!(clean_line(&line, max), line.clone());
            prop_assert!(!line.chars().any(char::is_control));
            let note = clean_note(&text, max);
            prop_assert_eq!(clean_note(&note, max), note);
        }
    }
}
