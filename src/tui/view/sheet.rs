//! A page of text as rows: wrapped, hung and boxed, all of it clean.
//!
//! Rows hold [`Shown`] and nothing else, so nothing that a deck says can steer the terminal.

use std::ops::Range;

use super::theme::Look;
use crate::text::{Block, Shown};

/// A piece of a row.
pub(super) type Piece = (Shown, Look);

/// One row of a page.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Row(pub(super) Vec<Piece>);

/// A page being written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Sheet {
    width: usize,
    pub(super) rows: Vec<Row>,
    /// The rows that must be seen.
    pub(super) focus: Option<Range<usize>>,
    /// Where the cursor stands: row and column.
    pub(super) caret: Option<(usize, usize)>,
}

impl Row {
    pub(super) fn new<const N: usize>(pieces: [(&str, Look); N]) -> Self {
        Self(pieces.map(|(text, look)| (Shown::new(text), look)).to_vec())
    }

    pub(super) fn width(&self) -> usize {
        self.0.iter().map(|(text, _)| text.width()).sum()
    }
}

impl Sheet {
    /// An empty page of so many columns.
    pub(super) fn new(width: usize) -> Self {
        Self {
            width: width.max(1),
            rows: Vec::new(),
            focus: None,
            caret: None,
        }
    }

    pub(super) const fn width(&self) -> usize {
        self.width
    }

    /// An empty row, unless the page is empty or ends with one.
    pub(super) fn gap(&mut self) {
        if self.rows.last().is_some_and(|row| !row.0.is_empty()) {
            self.rows.push(Row::default());
        }
    }

    /// Paragraphs over the full width.
    pub(super) fn text(&mut self, text: &str, look: Look) {
        self.hang(Row::default(), text, look);
    }

    /// Paragraphs that hang from a lead: further rows are indented by its width.
    pub(super) fn hang(&mut self, lead: Row, text: &str, look: Look) {
        let indent = lead.width();
        let room = self.width.saturating_sub(indent).max(1);
        let mut first = Some(lead);
        for line in Block::new(text).wrap(room) {
            let mut row = first.take().unwrap_or_else(|| indentation(indent));
            row.0.push((line, look));
            self.rows.push(row);
        }
        // A text without a line still shows its lead.
        self.rows.extend(first.filter(|row| !row.0.is_empty()));
    }

    /// Words that follow each other in different looks, wrapped as one paragraph under an indent.
    pub(super) fn flow(&mut self, indent: usize, pieces: &[(&str, Look)]) {
        let mut row = indentation(indent);
        let mut used = indent;
        for (text, look) in pieces {
            let text = Shown::new(text);
            let start = if used > indent { used + 1 } else { used };
            if start > used {
                row.0.push((Shown::new(" "), Look::Plain));
            }
            let mut lines = text
                .wrap(self.width.saturating_sub(start).max(1))
                .into_iter();
            let Some(first) = lines.next() else { continue };
            used = start + first.width();
            row.0.push((first.clone(), *look));
            let rest: Vec<Shown> = lines.collect();
            if rest.is_empty() {
                continue;
            }
            // What did not fit beside the piece before is wrapped afresh over the whole width.
            let rest = rest
                .iter()
                .map(Shown::as_str)
                .map(str::trim_start)
                .collect::<Vec<_>>()
                .join(" ");
            for line in Shown::new(&rest).wrap(self.width.saturating_sub(indent).max(1)) {
                self.rows
                    .push(std::mem::replace(&mut row, indentation(indent)));
                used = indent + line.width();
                row.0.push((line, *look));
            }
        }
        self.rows.push(row);
    }

    /// A text behind a bar with a title above it. There is no bar on the right, where terminals disagree on widths.
    pub(super) fn boxed(&mut self, title: &str, text: &str, look: Look) {
        let title = Shown::new(title);
        let rule = "─".repeat(self.width.saturating_sub(title.width() + 4));
        self.rows.push(Row(vec![
            (Shown::new("┌─ "), look),
            (title, look),
            (Shown::new(" "), look),
            (Shown::new(&rule), look),
        ]));
        for line in Block::new(text).wrap(self.width.saturating_sub(2)) {
            self.rows
                .push(Row(vec![(Shown::new("│ "), look), (line, Look::Plain)]));
        }
        let rule = "─".repeat(self.width.saturating_sub(1));
        self.rows.push(Row::new([("└", look), (&rule, look)]));
    }

    /// Writes something that the next key acts on: its rows must be seen.
    pub(super) fn focused(&mut self, write: impl FnOnce(&mut Self)) {
        let start = self.rows.len();
        write(self);
        self.focus = Some(start..self.rows.len());
    }

    /// Reverses all rows from `start` on over the full width.
    pub(super) fn reverse_from(&mut self, start: usize) {
        for row in self.rows.iter_mut().skip(start) {
            let pad = self.width.saturating_sub(row.width());
            row.0.push((Shown::new(&" ".repeat(pad)), Look::Focus));
            for (_, look) in &mut row.0 {
                *look = Look::Focus;
            }
        }
    }
}

fn indentation(width: usize) -> Row {
    if width == 0 {
        Row::default()
    } else {
        Row::new([(&" ".repeat(width), Look::Plain)])
    }
}
