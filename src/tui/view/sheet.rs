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

    /// Adds text at the end, to the last piece if it looks the same.
    fn push(&mut self, text: &Shown, look: Look) {
        match self.0.last_mut() {
            Some((last, same)) if *same == look => last.push(text),
            _ => self.0.push((text.clone(), look)),
        }
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
        let room = self.width.saturating_sub(indent).max(1);
        let mut row = indentation(indent);
        let mut used = 0;
        let pieces = pieces.iter().filter(|(text, _)| !text.is_empty());
        if pieces.clone().next().is_none() {
            return;
        }
        for (text, look) in pieces {
            for word in Shown::new(text).as_str().split(' ') {
                // A word that fits no row is broken; any other is a part by itself.
                for (part, shown) in Shown::new(word).wrap(room).into_iter().enumerate() {
                    let space = usize::from(used > 0 && part == 0);
                    if used > 0 && (part > 0 || used + space + shown.width() > room) {
                        self.rows
                            .push(std::mem::replace(&mut row, indentation(indent)));
                        used = 0;
                    } else if space > 0 {
                        row.push(&Shown::new(" "), *look);
                        used += space;
                    }
                    used += shown.width();
                    row.push(&shown, *look);
                }
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

    /// Puts another page below.
    pub(super) fn append(&mut self, below: Self) {
        let above = self.rows.len();
        self.rows.extend(below.rows);
        if let Some(focus) = below.focus {
            self.focus = Some(focus.start + above..focus.end + above);
        }
        if let Some((row, column)) = below.caret {
            self.caret = Some((row + above, column));
        }
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

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn lines(sheet: &Sheet) -> Vec<String> {
        let text = |row: &Row| row.0.iter().map(|(text, _)| text.as_str()).collect();
        sheet.rows.iter().map(text).collect()
    }

    #[test]
    fn words_of_several_looks_are_wrapped_as_one_paragraph() {
        let mut sheet = Sheet::new(16);
        sheet.flow(
            2,
            &[
                ("Wrong place:", Look::Wrong),
                ("you put this infraorbitalforamen first.", Look::Plain),
            ],
        );
        assert_eq!(
            lines(&sheet),
            [
                "  Wrong place:",
                "  you put this",
                "  infraorbitalfo",
                "  ramen first."
            ]
        );
        assert_eq!(sheet.rows[0].0.last().unwrap().1, Look::Wrong);
    }

    #[test]
    fn text_hangs_from_its_lead_and_gaps_do_not_add_up() {
        let mut sheet = Sheet::new(12);
        sheet.gap();
        sheet.hang(Row::new([("a  ", Look::Key)]), "lingual plate", Look::Plain);
        sheet.gap();
        sheet.gap();
        sheet.hang(Row::new([("b  ", Look::Key)]), "", Look::Plain);
        assert_eq!(lines(&sheet), ["a  lingual", "   plate", "", "b  "]);
    }

    #[test]
    fn a_box_is_open_to_the_right() {
        let mut sheet = Sheet::new(14);
        sheet.boxed("Caution", "mind the nerve", Look::Caution);
        assert_eq!(
            lines(&sheet),
            ["┌─ Caution ───", "│ mind the", "│ nerve", "└─────────────"]
        );
    }

    proptest! {
        #[test]
        fn nothing_is_wider_than_the_page(one in ".{0,40}", two in ".{0,40}", width in 12_usize..40) {
            let mut sheet = Sheet::new(width);
            sheet.flow(4, &[(&one, Look::Strong), (&two, Look::Plain)]);
            sheet.hang(Row::new([("  a  ", Look::Key)]), &two, Look::Plain);
            sheet.boxed("Caution", &one, Look::Caution);
            sheet.reverse_from(0);
            for row in &sheet.rows {
                prop_assert!(row.width() <= width, "{row:?}");
            }
        }
    }
}
