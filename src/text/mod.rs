//! Text that may be shown.
//!
//! Decks, names, paths and the environment are untrusted: a control character can retitle a window or write a
//! clipboard, and a reordering character can hide a "not" (Boucher & Anderson 2023). Every face accepts
//! [`Shown`] and nothing else, and one scan decides both what a deck may hold and what a screen escapes, so
//! the two cannot drift apart. Nothing here may let a control character through.

mod harmful;

use std::fmt;

pub use harmful::{harmful, is_forbidden};

use unicode_normalization::UnicodeNormalization as _;
use unicode_segmentation::UnicodeSegmentation as _;
use unicode_width::UnicodeWidthStr;

/// What a tab becomes before any width is taken.
const TAB: &str = "    ";

/// One line of text without anything that could steer a terminal or deceive its reader.
///
/// Forbidden characters are shown by their code point, as in `‹U+202E›`.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Shown(String);

impl Shown {
    /// Cleans a text for one line: line breaks become spaces, tabs four of them.
    #[must_use]
    pub fn new(text: &str) -> Self {
        let mut clean = String::with_capacity(text.len());
        pieces(text, |_, piece| clean.push_str(piece));
        Self(clean)
    }

    /// The clean text.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }

    /// The clean text, owned.
    #[must_use]
    pub fn into_string(self) -> String {
        self.0
    }

    /// Whether there is nothing to show.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// Adds clean text at the end. What is clean stays clean: no `Shown` starts with a mark.
    pub fn push(&mut self, more: &Self) {
        self.0.push_str(&more.0);
    }

    /// Width in terminal cells, taken a grapheme at a time as the screen does.
    #[must_use]
    pub fn width(&self) -> usize {
        width(&self.0)
    }

    /// Lines of at most `width` cells (at least 1), broken at spaces, or inside a word that fits no line. A single
    /// character wider than the line stands alone. An empty text is one empty line.
    #[must_use]
    pub fn wrap(&self, width: usize) -> Vec<Self> {
        let room = width.max(1);
        let mut lines = Vec::new();
        let mut line = Line::default();
        for word in self.0.split(' ') {
            if !line.is_new && line.width + 1 + self::width(word) > room {
                lines.push(line.take());
            }
            if !line.is_new {
                line.add(" ", 1);
            }
            line.is_new = false;
            for grapheme in word.graphemes(true) {
                let cells = grapheme.width();
                if line.width > 0 && line.width + cells > room {
                    lines.push(line.take());
                    line.is_new = false;
                }
                line.add(grapheme, cells);
            }
        }
        lines.push(line.take());
        lines
    }

    /// The text in at most `width` cells, with `…` at the end if something had to go.
    #[must_use]
    pub fn cut(&self, width: usize) -> Self {
        if self.width() <= width {
            return self.clone();
        }
        let mut line = Line::default();
        for grapheme in self.0.graphemes(true) {
            let cells = grapheme.width();
            if line.width + cells + 1 > width {
                break;
            }
            line.add(grapheme, cells);
        }
        if width > 0 {
            line.add("…", 1);
        }
        line.take()
    }
}

impl fmt::Display for Shown {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.0)
    }
}

/// Lines of clean text: the only form in which a line break survives.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Block(Vec<Shown>);

impl Block {
    /// Cleans a text of several lines or paragraphs.
    #[must_use]
    pub fn new(text: &str) -> Self {
        Self(text.lines().map(Shown::new).collect())
    }

    /// Its lines.
    #[must_use]
    pub fn lines(&self) -> &[Shown] {
        &self.0
    }

    /// Its lines, each wrapped as [`Shown::wrap`] does.
    #[must_use]
    pub fn wrap(&self, width: usize) -> Vec<Shown> {
        self.0.iter().flat_map(|line| line.wrap(width)).collect()
    }
}

impl fmt::Display for Block {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (index, line) in self.0.iter().enumerate() {
            if index > 0 {
                f.write_str("\n")?;
            }
            f.write_str(line.as_str())?;
        }
        Ok(())
    }
}

/// A line being filled, with the cells it takes so far.
struct Line {
    text: String,
    width: usize,
    is_new: bool,
}

impl Default for Line {
    fn default() -> Self {
        Self {
            text: String::new(),
            width: 0,
            is_new: true,
        }
    }
}

impl Line {
    fn add(&mut self, text: &str, cells: usize) {
        self.text.push_str(text);
        self.width += cells;
    }

    fn take(&mut self) -> Shown {
        Shown(std::mem::take(self).text)
    }
}

fn width(text: &str) -> usize {
    text.graphemes(true).map(UnicodeWidthStr::width).sum()
}

/// Hands on what is shown for each character of a line, with the byte offset of the character.
pub fn pieces(text: &str, mut take: impl FnMut(usize, &str)) {
    let mut flaws = harmful(text).peekable();
    for (at, character) in text.char_indices() {
        if flaws.next_if(|(flaw, _)| *flaw == at).is_some() {
            take(at, &code_point(character));
            continue;
        }
        match character {
            '\t' => take(at, TAB),
            '\n' => take(at, " "),
            // Harmless only as the first half of a line break.
            '\r' => {}
            other => take(at, other.encode_utf8(&mut [0; 4])),
        }
    }
}

/// How a character that must not be shown is named: `‹U+202E›`.
#[must_use]
pub fn code_point(character: char) -> String {
    format!("‹U+{:04X}›", u32::from(character))
}

/// JSON with whatever a terminal or an editor would act on written as escapes. In JSON such characters stand only
/// within strings, where `\uXXXX` means the same.
#[must_use]
pub fn escaped_json(json: &str) -> String {
    let mut safe = String::with_capacity(json.len());
    let mut units = [0; 2];
    for character in json.chars() {
        let is_joiner = matches!(character, '\u{200C}' | '\u{200D}');
        if character.is_control() || is_joiner || is_forbidden(character) {
            let units = character.encode_utf16(&mut units);
            safe.extend(units.iter().map(|unit| format!("\\u{unit:04x}")));
        } else {
            safe.push(character);
        }
    }
    safe
}

/// The form in which texts are compared: composed, lower case, single spaces, no joiners, no full stop at the end.
/// Two options with one form look alike to a candidate.
#[must_use]
pub fn alike(text: &str) -> String {
    let composed = if text.is_ascii() {
        text.to_ascii_lowercase()
    } else {
        let composed = text.nfc();
        let seen = composed.filter(|character| !matches!(character, '\u{200C}' | '\u{200D}'));
        seen.collect::<String>().to_lowercase()
    };
    let mut alike = String::with_capacity(composed.len());
    for word in composed.split_whitespace() {
        if !alike.is_empty() {
            alike.push(' ');
        }
        alike.push_str(word);
    }
    alike.truncate(alike.trim_end_matches(['.', ' ']).len());
    alike
}

/// The paragraphs of a text: a blank line ends one, other line breaks are spaces. None is empty.
#[must_use]
pub fn paragraphs(text: &str) -> Vec<Shown> {
    let lines: Vec<&str> = text.lines().map(str::trim).collect();
    lines
        .split(|line| line.is_empty())
        .filter(|lines| !lines.is_empty())
        .map(|lines| Shown::new(&lines.join(" ")))
        .collect()
}

/// Clean text for HTML or XML, in an element or in a quoted attribute.
#[must_use]
pub fn entities(text: &Shown) -> String {
    let mut escaped = String::with_capacity(text.as_str().len());
    for character in text.as_str().chars() {
        match character {
            '&' => escaped.push_str("&amp;"),
            '<' => escaped.push_str("&lt;"),
            '>' => escaped.push_str("&gt;"),
            '"' => escaped.push_str("&quot;"),
            '\'' => escaped.push_str("&#39;"),
            other => escaped.push(other),
        }
    }
    escaped
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn shown(text: &str) -> String {
        Shown::new(text).into_string()
    }

    #[test]
    fn what_steers_a_terminal_is_shown_by_its_code_point() {
        let cases = [
            ("\u{1b}]0;x\u{7}", "‹U+001B›]0;x‹U+0007›"),
            ("\u{9b}31m", "‹U+009B›31m"),
            ("a\u{202e}b", "a‹U+202E›b"),
            ("no\u{200b}t", "no‹U+200B›t"),
            ("\u{e0041}", "‹U+E0041›"),
            ("a\rb", "a‹U+000D›b"),
            ("\u{85}\u{2028}\u{2029}", "‹U+0085›‹U+2028›‹U+2029›"),
            ("\u{ffff}", "‹U+FFFF›"),
        ];
        for (text, clean) in cases {
            assert_eq!(shown(text), clean);
        }
    }

    #[test]
    fn ordinary_text_stays_as_it_is() {
        for text in [
            "Tooth #38, 5 mm",
            "naïve",
            "下顎",
            "ä\u{308}",
            "किताब",
            "👩\u{200d}⚕\u{fe0f}",
            "نمی\u{200c}خواهم",
            "\u{1112}\u{1161}\u{11ab}",
        ] {
            assert_eq!(shown(text), text);
        }
    }

    #[test]
    fn breaks_and_tabs_become_spaces_on_a_line() {
        assert_eq!(shown("a\tb\nc\r\nd"), "a    b c d");
        assert_eq!(Block::new("a\tb\nc\r\n\nd").to_string(), "a    b\nc\n\nd");
    }

    #[test]
    fn marks_and_joiners_need_something_to_stand_on() {
        assert_eq!(shown("\u{301}a \u{fe0f}"), "‹U+0301›a ‹U+FE0F›");
        assert_eq!(shown("\u{200d}a"), "‹U+200D›a");
        assert_eq!(shown("1\u{200d}2"), "1‹U+200D›2");
        let heap = format!("a{}b", "\u{301}".repeat(6));
        assert_eq!(
            shown(&heap),
            format!("a{}‹U+0301›‹U+0301›b", "\u{301}".repeat(4))
        );
    }

    #[test]
    fn lines_break_at_spaces_and_inside_words_too_long() {
        let wrap = |text, width| -> Vec<String> {
            Shown::new(text)
                .wrap(width)
                .into_iter()
                .map(Shown::into_string)
                .collect()
        };
        assert_eq!(
            wrap("raise the flap first", 9),
            ["raise the", "flap", "first"]
        );
        assert_eq!(wrap("infraorbital", 5), ["infra", "orbit", "al"]);
        assert_eq!(wrap("下顎骨", 4), ["下顎", "骨"]);
        assert_eq!(wrap("下顎", 1), ["下", "顎"]);
        assert_eq!(wrap("", 5), [""]);
        assert_eq!(wrap("ab", 0), ["a", "b"]);
        assert_eq!(wrap("a  b", 5), ["a  b"]);
    }

    #[test]
    fn a_cut_text_says_so() {
        let cut = |text, width| Shown::new(text).cut(width).into_string();
        assert_eq!(cut("mandible", 8), "mandible");
        assert_eq!(cut("mandible", 5), "mand…");
        assert_eq!(cut("下顎骨", 4), "下…");
        assert_eq!(cut("ab", 0), "");
    }

    #[test]
    fn a_blank_line_starts_a_paragraph() {
        let read = |text| -> Vec<String> {
            let paragraphs = paragraphs(text).into_iter();
            paragraphs.map(Shown::into_string).collect()
        };
        assert_eq!(read(" one\n  more\r\n \n\n two\n"), ["one more", "two"]);
        assert!(read("").is_empty() && read(" \n\n").is_empty());
    }

    #[test]
    fn markup_becomes_entities() {
        let escaped = entities(&Shown::new("<b a='1' c=\"2\">&amp;"));
        assert_eq!(escaped, "&lt;b a=&#39;1&#39; c=&quot;2&quot;&gt;&amp;amp;");
    }

    #[test]
    fn texts_that_look_alike_have_one_form() {
        assert_eq!(alike("  Lingual  Nerve. "), alike("lingual\nnerve"));
        assert_eq!(alike("Lingual nerve ."), alike("lingual nerve"));
        assert_ne!(alike("V. 2"), alike("V 2"));
        assert_eq!(alike("e\u{301}"), alike("É"));
        assert_ne!(alike("10²"), alike("102"));
    }

    /// Text with more than its share of what causes trouble.
    fn nasty() -> impl Strategy<Value = String> {
        let trouble = prop::sample::select(vec![
            '\u{1b}', '\t', '\n', '\r', '\u{301}', '\u{200d}', '\u{202e}', '\u{fe0f}', '👩', '下',
            ' ', 'a', '›',
        ]);
        let character = prop_oneof![trouble, any::<char>()];
        prop::collection::vec(character, 0..40).prop_map(|text| text.into_iter().collect())
    }

    proptest! {
        #[test]
        fn clean_text_holds_nothing_forbidden_and_stays(text in nasty()) {
            let clean = Shown::new(&text);
            prop_assert!(!clean.as_str().contains(is_forbidden));
            prop_assert!(!clean.as_str().contains(['\n', '\t', '\r']));
            prop_assert_eq!(harmful(clean.as_str()).next(), None);
            prop_assert_eq!(&Shown::new(clean.as_str()), &clean);
            prop_assert_eq!(Block::new(clean.as_str()).to_string(), clean.as_str());
        }

        #[test]
        fn clean_texts_put_together_are_clean(one in nasty(), two in nasty()) {
            let mut both = Shown::new(&one);
            both.push(&Shown::new(&two));
            prop_assert_eq!(&Shown::new(both.as_str()), &both);
        }

        #[test]
        fn wrapping_loses_nothing_and_fits(text in nasty(), room in 0_usize..30) {
            let clean = Shown::new(&text);
            let lines = clean.wrap(room);
            for line in &lines {
                prop_assert!(line.width() <= room.max(1) || line.as_str().graphemes(true).count() <= 1, "{line:?}");
                prop_assert!(!line.as_str().contains(is_forbidden));
            }
            let letters = |text: &str| text.replace(' ', "");
            let joined: String = lines.iter().map(Shown::as_str).collect();
            prop_assert_eq!(letters(&joined), letters(clean.as_str()));
        }

        #[test]
        fn a_cut_fits(text in nasty(), room in 0_usize..30) {
            let cut = Shown::new(&text).cut(room);
            prop_assert!(cut.width() <= room);
            prop_assert!(!cut.as_str().contains(is_forbidden));
        }
    }
}
