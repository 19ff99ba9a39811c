//! Can a ten-year-old read it? LIX of every page, and the length of every sentence.
//!
//! LIX = words per sentence + words of more than six letters per 100 words. Source: Björnsson CH,
//! Läsbarhet, Stockholm: Liber 1968. The usual scale runs from 20, very easy, to 60, very hard; the
//! line at 30 is a design choice.
//!
//! A page is a file of the catalogue. A placeholder stands for one short word. Headings and labels
//! count as sentences of their own, which flatters a page, so its full sentences are also counted by
//! themselves. A colon ends no sentence here, which errs to the strict side.

use std::collections::BTreeMap;

use crate::languages::every_message;

const LIX_MAX: f64 = 30.0;
const SENTENCE_WORDS_MAX: usize = 20;
/// Fewer words than this in full sentences are too few for an index.
const WORDS_MIN: usize = 30;

#[derive(Default)]
struct Count {
    words: usize,
    sentences: usize,
    long_words: usize,
}

impl Count {
    fn add(&mut self, sentence: &[String]) {
        self.sentences += 1;
        self.words += sentence.len();
        self.long_words += sentence.iter().filter(|word| letters(word) > 6).count();
    }

    fn lix(&self) -> f64 {
        let number = |count: usize| f64::from(u32::try_from(count).unwrap());
        let words = number(self.words);
        words / number(self.sentences) + 100.0 * number(self.long_words) / words
    }
}

fn letters(word: &str) -> usize {
    word.chars().filter(|sign| sign.is_alphabetic()).count()
}

/// The sentences of a text as words, each with whether it ends like a sentence.
fn sentences(text: &str) -> Vec<(Vec<String>, bool)> {
    let mut all = Vec::new();
    let mut now = Vec::new();
    for token in text.split(|sign: char| sign.is_whitespace() || "/–—".contains(sign)) {
        let ends = token.trim_end_matches(['"', '”', ')']).ends_with(['.', '!', '?', '…']);
        if token.chars().any(char::is_alphanumeric) {
            now.push(token.to_owned());
        }
        if ends && !now.is_empty() {
            all.push((std::mem::take(&mut now), true));
        }
    }
    if !now.is_empty() {
        all.push((now, false));
    }
    all
}

/// A template with a short neutral word for every placeholder.
fn filled(template: &str) -> String {
    let mut text = String::new();
    let mut rest = template;
    while let Some((before, after)) = rest.split_once('{') {
        text.push_str(before);
        text.push_str("five");
        rest = after.split_once('}').unwrap().1;
    }
    text + rest
}

#[test]
fn the_index_is_computed_as_published() {
    // 10 words, 2 sentences, 3 words of more than six letters (wonderful, standing, measured).
    let mut count = Count::default();
    for (sentence, _) in sentences("It is a wonderful day. Your standing reach is measured.") {
        count.add(&sentence);
    }
    assert_eq!((count.words, count.sentences, count.long_words), (10, 2, 3));
    assert!((count.lix() - 35.0).abs() < 1e-12);
}

#[test]
fn a_point_inside_a_number_ends_no_sentence() {
    let found = sentences(&filled("Read {n} to 0.5 cm – or finer. Then stop"));
    let words: Vec<usize> = found.iter().map(|(words, _)| words.len()).collect();
    assert_eq!(words, [7, 2]);
    assert_eq!(found.iter().map(|(_, ends)| *ends).collect::<Vec<_>>(), [true, false]);
}

#[test]
fn every_page_is_easy_to_read() {
    let mut pages: BTreeMap<&str, (Count, Count)> = BTreeMap::new();
    for message in every_message() {
        let (all, full) = pages.entry(message.page).or_default();
        for (_, template) in message.forms {
            for (sentence, ends) in sentences(&filled(template)) {
                all.add(&sentence);
                if ends {
                    full.add(&sentence);
                }
            }
        }
    }
    let hard = |count: &Count| count.words >= WORDS_MIN && count.lix() > LIX_MAX;
    let too_hard: Vec<String> = pages
        .iter()
        .filter(|(_, (all, full))| hard(all) || hard(full))
        .map(|(page, (all, full))| format!("{page}: {:.1}, {:.1}", all.lix(), full.lix()))
        .collect();
    assert!(too_hard.is_empty(), "LIX over {LIX_MAX} (all, full sentences): {too_hard:#?}");
    assert!(pages.len() > 10, "the catalogue was not read");
}

#[test]
fn no_sentence_is_long() {
    let mut long = Vec::new();
    for message in every_message() {
        for (_, template) in message.forms {
            for (sentence, _) in sentences(&filled(template)) {
                if sentence.len() > SENTENCE_WORDS_MAX {
                    long.push(format!("{}: {} words", message.id, sentence.len()));
                }
            }
        }
    }
    assert!(long.is_empty(), "over {SENTENCE_WORDS_MAX} words: {long:#?}");
}

#[test]
fn no_word_judges_or_praises() {
    let banned = [
        "poor",
        "bad at",
        "weak",
        "excellent",
        "great job",
        "well done",
        "fail",
        "failed",
        "loser",
        "winner",
        "amazing",
        "awesome",
        "congratulations",
        "talent",
        "lazy",
        "fat",
        "rank",
    ];
    for message in every_message() {
        for (_, template) in message.forms {
            let text = format!(" {} ", template.to_lowercase().replace(['.', ',', '?', '!'], " "));
            for word in banned {
                assert!(!text.contains(&format!(" {word} ")), "{}: {template}", message.id);
            }
            assert!(!template.contains('!'), "{}: {template}", message.id);
        }
    }
}

/// Wordings that misled somebody, each with the reason. A page that needs one finds another word.
#[test]
fn no_wording_that_misled_comes_back() {
    let misled = [
        ("book corner", "nobody knew what to do with it"),
        ("back to the wall", "it sent an ill child to the wall: the first page is Home"),
        ("marks on this wall", "the first page shows tests"),
        ("own records", "entries or bests? A list of its own"),
        ("a chair", "read as standing on one: a wheelchair"),
        ("toes on the line", "nobody can do that with the side to the wall"),
        ("12 to 38 in 100", "in 100 is a place or a chance; a gain is a per cent"),
        ("question aloud", "nobody answers for their health before a class"),
        ("puberty", "it is printed on a sheet that pupils see"),
        ("slower than life", "in slow motion"),
        ("land tall", "it spoke against the landing of the wall test"),
    ];
    let all = every_message();
    let mut found = Vec::new();
    for (message, (_, template)) in
        all.iter().flat_map(|message| message.forms.iter().map(move |form| (message, form)))
    {
        let said = template.to_lowercase();
        let wrong = misled.iter().filter(|(wording, _)| said.contains(wording));
        found.extend(wrong.map(|(wording, why)| format!("{}: {wording} ({why})", message.id)));
    }
    assert!(found.is_empty(), "{found:#?}");
}
