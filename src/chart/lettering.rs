//! Fitting words: text keeps its size as long as it can, then breaks, then shrinks a little, then
//! is left out and named as left out.

use super::{Px, estimated_width};

/// Breaks a text at its spaces into lines that fit a width; `None` when a single word is too long.
pub(super) fn wrapped(text: &str, size: Px, width: Px) -> Option<Vec<String>> {
    let mut lines: Vec<String> = Vec::new();
    // A non-breaking space holds words together, so only the plain space breaks.
    for word in text.split(' ').filter(|word| !word.is_empty()) {
        if estimated_width(word, size) > width {
            return None;
        }
        match lines.last_mut() {
            Some(line) if estimated_width(&format!("{line} {word}"), size) <= width => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    Some(lines)
}

/// The largest size between `least` and `most` at which a line fits a width.
pub(super) fn fitting(text: &str, most: Px, least: Px, width: Px) -> Option<Px> {
    let full = estimated_width(text, most);
    if full <= width {
        return Some(most);
    }
    let size = most.part(width.as_hundredths(), full.as_hundredths());
    // Rounding may leave a hundredth too much.
    let size = size - Px::hundredths(1);
    (size >= least && estimated_width(text, size) <= width).then_some(size)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_break_at_spaces_only() {
        let broken = wrapped("Best of 4 jumps, Saturday", Px::whole(10), Px::whole(100));
        assert_eq!(broken.unwrap(), ["Best of 4 jumps,", "Saturday"]);
        assert_eq!(wrapped("Saturday", Px::whole(10), Px::whole(40)), None);
    }

    #[test]
    fn a_line_shrinks_no_further_than_it_may() {
        let fit = |width| fitting("under 30", Px::whole(17), Px::whole(13), Px::whole(width));
        assert_eq!(fit(90), Some(Px::whole(17)));
        assert!(fit(70).is_some_and(|size| size < Px::whole(15)));
        assert_eq!(fit(50), None);
    }
}
