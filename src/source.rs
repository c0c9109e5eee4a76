//! A file's text with its lines, and places in it.
//!
//! A [`Span`] can only be had from a [`SourceFile`], which moves both ends onto character boundaries within the
//! text; whoever draws an underline need not ask again.

use std::ops::Range;

/// A text with a name and a table of its lines.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SourceFile {
    name: String,
    text: String,
    /// Byte offset at which each line starts; never empty.
    starts: Vec<usize>,
}

/// A stretch of a [`SourceFile`], in bytes, on character boundaries.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Span {
    start: usize,
    end: usize,
}

/// Line and column, both from 1; the column counts characters, as editors do.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Position {
    /// Line, from 1.
    pub line: usize,
    /// Character in the line, from 1.
    pub column: usize,
}

impl Span {
    /// Byte offset of the first character.
    #[must_use]
    pub const fn start(self) -> usize {
        self.start
    }

    /// Byte offset behind the last character.
    #[must_use]
    pub const fn end(self) -> usize {
        self.end
    }

    /// Both ends.
    #[must_use]
    pub const fn range(self) -> Range<usize> {
        self.start..self.end
    }

    /// Whether it holds no character.
    #[must_use]
    pub const fn is_empty(self) -> bool {
        self.start == self.end
    }
}

impl SourceFile {
    /// A file's text under the name it is spoken of.
    #[must_use]
    pub fn new(name: impl Into<String>, text: impl Into<String>) -> Self {
        let text = text.into();
        let breaks = text.bytes().enumerate().filter(|(_, byte)| *byte == b'\n');
        let starts = std::iter::once(0)
            .chain(breaks.map(|(at, _)| at + 1))
            .collect();
        Self {
            name: name.into(),
            text,
            starts,
        }
    }

    /// The name, as given: a path, or whatever the text came from. Not yet fit to be shown.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The whole text. Not yet fit to be shown.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The span nearest to a range of bytes: within the text, and widened to whole characters.
    #[must_use]
    pub fn span(&self, range: Range<usize>) -> Span {
        let start = self.boundary_before(range.start);
        let mut end = range.end.max(start).min(self.text.len());
        while !self.text.is_char_boundary(end) {
            end += 1;
        }
        Span { start, end }
    }

    /// The text of a span of this file.
    #[must_use]
    pub fn slice(&self, span: Span) -> &str {
        // A span of another file may not fit; it then has no text here.
        self.text.get(span.range()).unwrap_or_default()
    }

    /// Where a byte offset lies.
    #[must_use]
    pub fn position(&self, offset: usize) -> Position {
        let offset = self.boundary_before(offset);
        let line = self.line_at(offset);
        let start = self.line_start(line);
        let before = self.text.get(start..offset).unwrap_or_default();
        Position {
            line,
            column: before.chars().count() + 1,
        }
    }

    /// The number of the line that holds a byte offset, from 1; quicker than its whole position.
    #[must_use]
    pub fn line_at(&self, offset: usize) -> usize {
        self.starts.partition_point(|start| *start <= offset)
    }

    /// A span up to the end of the line it starts on.
    #[must_use]
    pub fn first_line(&self, span: Span) -> Span {
        let line = self.line(self.line_at(span.start));
        self.span(span.start..span.end.min(line.end.max(span.start)))
    }

    /// The text of a line (from 1) without its end; empty past the last.
    #[must_use]
    pub fn line(&self, line: usize) -> Span {
        let start = self.line_start(line);
        let end = self.line_start(line + 1);
        let text = self.text.get(start..end).unwrap_or_default();
        let text = text.strip_suffix('\n').unwrap_or(text);
        let text = text.strip_suffix('\r').unwrap_or(text);
        self.span(start..start + text.len())
    }

    /// How many lines there are; at least 1.
    #[must_use]
    pub fn lines(&self) -> usize {
        self.starts.len()
    }

    fn boundary_before(&self, offset: usize) -> usize {
        let mut offset = offset.min(self.text.len());
        while !self.text.is_char_boundary(offset) {
            offset -= 1;
        }
        offset
    }

    /// Byte offset at which a line (from 1) starts; the text's length past the last.
    fn line_start(&self, line: usize) -> usize {
        let index = line.saturating_sub(1);
        self.starts.get(index).copied().unwrap_or(self.text.len())
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn lines_and_columns_count_from_one_in_characters() {
        let file = SourceFile::new("a.yaml", "下顎: x\r\nb\n");
        let at = |offset| {
            let Position { line, column } = file.position(offset);
            (line, column)
        };
        assert_eq!([at(0), at(3), at(8)], [(1, 1), (1, 2), (1, 5)]);
        assert_eq!([at(11), at(13), at(99)], [(2, 1), (3, 1), (3, 1)]);
        let line = |line| file.slice(file.line(line));
        assert_eq!(
            [line(1), line(2), line(3), line(4)],
            ["下顎: x", "b", "", ""]
        );
        assert_eq!(file.lines(), 3);
    }

    #[test]
    fn spans_are_moved_onto_characters() {
        let file = SourceFile::new("a.yaml", "下顎");
        assert_eq!(file.span(1..2).range(), 0..3);
        assert_eq!(file.span(4..99).range(), 3..6);
        assert_eq!(file.span(99..99).range(), 6..6);
    }

    proptest! {
        #[test]
        fn every_span_can_be_sliced(text in any::<String>(), one in 0_usize..80, two in 0_usize..80) {
            let file = SourceFile::new("a", text);
            let span = file.span(one..two);
            prop_assert!(file.text().get(span.range()).is_some());
            let position = file.position(one);
            prop_assert!(position.line >= 1 && position.line <= file.lines());
        }
    }
}
