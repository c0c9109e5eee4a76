//! Texts as the rules see them: words, the words that carry content, sentences.
//!
//! English only where it must be (stop words, endings); nothing here knows a rule.

use std::borrow::Cow;
use std::collections::HashSet;
use std::sync::LazyLock;

use super::stop_words::STOP;

/// A text with its words.
#[derive(Debug)]
pub(super) struct Prose<'t> {
    pub(super) raw: &'t str,
    pub(super) words: Vec<Word<'t>>,
}

/// A run of letters and digits; an apostrophe within counts as a letter.
#[derive(Clone, Debug)]
pub(super) struct Word<'t> {
    /// As written.
    pub(super) raw: &'t str,
    /// In lower case.
    pub(super) low: Cow<'t, str>,
    /// Byte at which it starts in the text.
    pub(super) at: usize,
    /// Bytes of its stem in lower case; 0 if it carries no content.
    root: usize,
}

impl Word<'_> {
    /// The crude stem of a word that carries content.
    pub(super) fn root(&self) -> Option<&str> {
        self.low.get(..self.root).filter(|root| !root.is_empty())
    }
}

impl<'t> Prose<'t> {
    pub(super) fn new(raw: &'t str) -> Self {
        Self {
            raw,
            words: words(raw),
        }
    }

    /// The words in lower case.
    pub(super) fn low(&self) -> impl DoubleEndedIterator<Item = &str> {
        self.words.iter().map(|word| word.low.as_ref())
    }

    /// The words that carry content, cut to crude stems.
    pub(super) fn content(&self) -> impl Iterator<Item = &str> {
        self.words.iter().filter_map(Word::root)
    }

    /// Whether a word is among the words.
    pub(super) fn has(&self, word: &str) -> bool {
        self.low().any(|other| other == word)
    }

    /// Whether one of some words is among the words.
    pub(super) fn has_any(&self, words: &[&str]) -> bool {
        self.low().any(|other| words.contains(&other))
    }

    /// The text and words from a byte on.
    pub(super) fn from(&self, at: usize) -> Self {
        let first = self.words.partition_point(|word| word.at < at);
        let words = self.words.get(first..).unwrap_or_default().to_vec();
        let raw = self.raw.get(at..).unwrap_or_default();
        Self {
            raw,
            words: words
                .into_iter()
                .map(|word| Word {
                    at: word.at - at,
                    ..word
                })
                .collect(),
        }
    }

    /// The last sentence: what is asked. A bare "Which?" or "Which one is it?" asks with the sentence before it.
    pub(super) fn lead_in(&self) -> Self {
        let starts = sentences(self.raw);
        let last = starts.last().copied().unwrap_or_default();
        let lead_in = self.from(last);
        match starts.iter().rev().nth(1) {
            Some(before) if lead_in.is_bare() => self.from(*before),
            _ => lead_in,
        }
    }
}

impl Prose<'_> {
    /// Whether a sentence asks nothing without the one before it.
    fn is_bare(&self) -> bool {
        let mut low = self.low();
        self.words.len() <= 2
            || (self.words.len() <= 4
                && low.next() == Some("which")
                && low.all(|word| matches!(word, "one" | "ones" | "is" | "are" | "it" | "they")))
    }
}

fn words(raw: &str) -> Vec<Word<'_>> {
    let mut words = Vec::with_capacity(raw.len() / 6 + 1);
    let mut start = None;
    let is_part = |character: char| character.is_alphanumeric() || matches!(character, '\'' | '’');
    for (at, character) in raw.char_indices().chain([(raw.len(), ' ')]) {
        match start {
            None if character.is_alphanumeric() => start = Some(at),
            Some(from) if !is_part(character) => {
                let text = raw.get(from..at).unwrap_or_default();
                words.push(word(text.trim_end_matches(['\'', '’']), from));
                start = None;
            }
            _ => {}
        }
    }
    words
}

fn word(raw: &str, at: usize) -> Word<'_> {
    let is_low = raw
        .bytes()
        .all(|byte| byte.is_ascii() && !byte.is_ascii_uppercase());
    let low = if is_low {
        Cow::Borrowed(raw)
    } else {
        Cow::Owned(raw.to_lowercase().replace('’', "'"))
    };
    let root = if is_content(&low) {
        stem(&low).len()
    } else {
        0
    };
    Word { raw, low, at, root }
}

/// The bytes at which the sentences of a text start.
pub(super) fn sentences(raw: &str) -> Vec<usize> {
    let mut starts = vec![0];
    let bytes = raw.as_bytes();
    for (at, byte) in bytes.iter().enumerate() {
        if !matches!(byte, b'.' | b'?' | b'!' | b'\n') {
            continue;
        }
        let after = raw.get(at + 1..).unwrap_or_default();
        let rest = after.trim_start_matches(['"', '\'', ')', '”', '’']);
        let next = rest.trim_start();
        let is_break = if *byte == b'\n' {
            after.starts_with('\n')
        } else {
            rest.len() > next.len()
                && next.starts_with(|first: char| !first.is_lowercase())
                && !(*byte == b'.' && ends_short(raw.get(..at).unwrap_or_default(), next))
        };
        if is_break && !next.is_empty() {
            starts.push(raw.len() - next.len());
        }
    }
    starts.dedup();
    starts
}

/// Whether a text ends in a short form whose full stop ends no sentence, with what follows.
fn ends_short(before: &str, next: &str) -> bool {
    let last = before
        .rsplit(|character: char| character.is_whitespace() || character == '(')
        .next()
        .unwrap_or_default();
    let is_initial = last.len() == 1 && last.starts_with(char::is_uppercase);
    // Before a number only: "for 5 min. Which ..." ends, and so does "The answer is no."
    let is_of_number = next.starts_with(|first: char| first.is_ascii_digit())
        && ["no", "nos", "max", "min"]
            .iter()
            .any(|short| last.eq_ignore_ascii_case(short));
    is_initial
        || is_of_number
        || matches!(
            last,
            "Dr" | "Mr"
                | "Mrs"
                | "Ms"
                | "Prof"
                | "e.g"
                | "i.e"
                | "approx"
                | "vs"
                | "incl"
                | "resp"
                | "Fig"
                | "cf"
                | "ca"
                | "St"
                | "al"
        )
}

/// Whether a word in lower case says what a text is about: letters only, four or more, no stop word.
fn is_content(word: &str) -> bool {
    word.len() >= 4 && !word.bytes().any(|byte| byte.is_ascii_digit()) && !STOPS.contains(word)
}

/// The stop words as a set: every word of a deck is looked up.
static STOPS: LazyLock<HashSet<&str>> = LazyLock::new(|| STOP.iter().copied().collect());

/// A word in lower case without its commonest endings.
pub(super) fn stem(word: &str) -> &str {
    const ENDINGS: [&str; 12] = [
        "ations", "ation", "ions", "ion", "ings", "ing", "ies", "es", "ed", "al", "s", "y",
    ];
    let word = word.strip_suffix("'s").unwrap_or(word);
    // The last letters of all endings: most words need no look at the list.
    if !word.ends_with(['s', 'n', 'g', 'd', 'l', 'y']) {
        return word.trim_end_matches('e');
    }
    if word.ends_with("ss") || word.ends_with("us") || word.ends_with("is") {
        return word;
    }
    ENDINGS
        .iter()
        .filter_map(|ending| word.strip_suffix(ending))
        .find(|rest| rest.len() >= 4)
        .map_or(word, |rest| {
            rest.strip_suffix('e')
                .filter(|cut| cut.len() >= 4)
                .unwrap_or(rest)
        })
        .trim_end_matches('e')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stop_words_are_in_order() {
        assert!(STOP.is_sorted());
    }

    #[test]
    fn the_lead_in_is_the_last_sentence() {
        let lead_in = |text| Prose::new(text).lead_in().raw.to_owned();
        assert_eq!(
            lead_in("A man of 40 bleeds. What is next?"),
            "What is next?"
        );
        assert_eq!(
            lead_in("Dr. Okafor waits 2.5 h. Why so?"),
            "Dr. Okafor waits 2.5 h. Why so?"
        );
        for whole in [
            "Which nerve is at risk when tooth no. 38 is not sectioned?",
            "What if max. 3 mm of bone, resp. Min. 2 mm, are left?",
        ] {
            assert_eq!(lead_in(whole), whole);
        }
        assert_eq!(
            lead_in("Wait for 5 min. Which nerve is numb?"),
            "Which nerve is numb?"
        );
        assert_eq!(lead_in("Which one?"), "Which one?");
        assert_eq!(
            lead_in("So it is. All of these but one are nerves. Which one is it?"),
            "All of these but one are nerves. Which one is it?"
        );
        assert_eq!(
            lead_in("See:\n\nWhich (e.g. A) is it?"),
            "Which (e.g. A) is it?"
        );
    }

    #[test]
    fn inflections_share_a_stem() {
        for [one, two] in [
            ["extraction", "extractions"],
            ["nerve", "nerves"],
            ["bleeding", "bleed"],
            ["artery", "arteries"],
            ["incised", "incise"],
        ] {
            assert_eq!(stem(one), stem(two));
        }
        assert_eq!(stem("pus"), "pus");
    }

    #[test]
    fn words_keep_their_apostrophes_and_places() {
        let prose = Prose::new("Ludwig's angina, 2 sides");
        let found: Vec<(&str, usize)> =
            prose.words.iter().map(|word| (word.raw, word.at)).collect();
        assert_eq!(
            found,
            [("Ludwig's", 0), ("angina", 9), ("2", 17), ("sides", 19)]
        );
    }
}
