//! One line of typed text with a cursor that moves by what a reader sees as one character.
//!
//! Holds nothing that a screen would have to escape: what is forbidden never gets in.

use unicode_segmentation::UnicodeSegmentation as _;

use super::entry::Pressed;
use super::event::Key;
use crate::text::is_forbidden;

/// A text being typed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Field {
    text: String,
    /// Byte offset of the cursor, on a boundary of graphemes.
    cursor: usize,
    /// Most characters; what is typed beyond them is not taken.
    longest: usize,
}

impl Field {
    /// An empty field for so many characters.
    pub(super) const fn new(longest: usize) -> Self {
        Self {
            text: String::new(),
            cursor: 0,
            longest,
        }
    }

    /// Takes a key.
    pub(super) fn press(&mut self, key: Key) -> Pressed {
        match key {
            Key::Char(character) => return self.paste(character.encode_utf8(&mut [0; 4])),
            Key::Backspace => self.back(),
            Key::Delete => self.delete(),
            Key::Left => self.left(),
            Key::Right => self.right(),
            Key::Home => self.home(),
            Key::End => self.end(),
            Key::Clear => self.clear(),
            _ => return Pressed::Passed,
        }
        Pressed::Taken
    }

    /// Inserts text at the cursor and tells if not all of it was taken.
    pub(super) fn paste(&mut self, text: &str) -> Pressed {
        if self.insert(text) {
            return Pressed::Taken;
        }
        Pressed::Told(format!(
            "There is room for {} characters; the rest was not taken.",
            self.longest
        ))
    }

    pub(super) fn text(&self) -> &str {
        &self.text
    }

    /// The text before and after the cursor.
    pub(super) fn halves(&self) -> (&str, &str) {
        self.text.split_at(self.cursor)
    }

    /// Inserts text at the cursor; breaks and tabs become spaces. False if not all of it was taken.
    pub(super) fn insert(&mut self, text: &str) -> bool {
        let room = self.longest.saturating_sub(self.text.chars().count());
        let mut fitting = text
            .chars()
            .map(|c| if c.is_whitespace() { ' ' } else { c })
            .filter(|c| !is_forbidden(*c));
        let taken: String = fitting.by_ref().take(room).collect();
        self.text.insert_str(self.cursor, &taken);
        self.cursor += taken.len();
        // A mark joins what stands before it; the cursor must not end inside.
        let inside = self.boundaries().find(|at| *at >= self.cursor);
        self.cursor = inside.unwrap_or(self.text.len());
        fitting.next().is_none()
    }

    pub(super) fn back(&mut self) {
        let end = self.cursor;
        self.left();
        self.text.drain(self.cursor..end);
    }

    pub(super) fn delete(&mut self) {
        let start = self.cursor;
        self.right();
        self.text.drain(start..self.cursor);
        self.cursor = start;
    }

    pub(super) fn left(&mut self) {
        let before = self.boundaries().take_while(|at| *at < self.cursor).last();
        self.cursor = before.unwrap_or(0);
    }

    pub(super) fn right(&mut self) {
        let next = self.boundaries().find(|at| *at > self.cursor);
        self.cursor = next.unwrap_or(self.text.len());
    }

    pub(super) fn home(&mut self) {
        self.cursor = 0;
    }

    pub(super) fn end(&mut self) {
        self.cursor = self.text.len();
    }

    pub(super) fn clear(&mut self) {
        *self = Self::new(self.longest);
    }

    fn boundaries(&self) -> impl Iterator<Item = usize> {
        self.text
            .grapheme_indices(true)
            .map(|(at, _)| at)
            .chain([self.text.len()])
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    const LONGEST: usize = 200;

    fn typed(text: &str) -> Field {
        let mut field = Field::new(LONGEST);
        field.insert(text);
        field
    }

    #[test]
    fn the_cursor_moves_by_what_is_seen() {
        let mut field = typed("ne\u{301}rf下");
        field.left();
        field.left();
        field.left();
        field.back();
        assert_eq!(field.halves(), ("n", "rf下"));
        field.end();
        field.back();
        field.home();
        field.delete();
        assert_eq!(field.text(), "rf");
        field.insert("ne");
        assert_eq!(field.halves(), ("ne", "rf"));
    }

    #[test]
    fn what_steers_a_terminal_is_not_taken_and_breaks_become_spaces() {
        assert_eq!(typed("a\u{1b}[31m\tb\r\nc\u{202e}").text(), "a[31m b  c");
    }

    #[test]
    fn it_takes_so_much_and_says_when_it_is_full() {
        let mut field = typed(&"x".repeat(LONGEST - 1));
        assert!(field.insert("y"));
        assert!(!field.insert("z"));
        assert_eq!(field.text().chars().count(), LONGEST);
    }

    proptest! {
        #[test]
        fn no_keys_lead_off_a_boundary(steps in prop::collection::vec((0_u8..8, any::<char>()), 0..60)) {
            let mut field = Field::new(LONGEST);
            for (step, character) in steps {
                match step {
                    0 => field.left(),
                    1 => field.right(),
                    2 => field.back(),
                    3 => field.delete(),
                    4 => field.home(),
                    _ => {
                        field.insert(&character.to_string());
                    }
                }
                prop_assert!(field.boundaries().any(|at| at == field.cursor));
                prop_assert!(!field.text().contains(is_forbidden));
            }
        }
    }
}
