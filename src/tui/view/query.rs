//! The field of a query below its reveal: a text of several rows with its cursor.

use super::sheet::{Row, Sheet};
use super::theme::Look;
use crate::text::{self, Shown};
use crate::tui::field::Field;

const LEAD: &str = "> ";

/// Writes the field with what is good to know before writing.
pub(super) fn field(sheet: &mut Sheet, field: &Field) {
    sheet.gap();
    sheet.focused(|sheet| {
        sheet.text("Your query on this item, to its instructor", Look::Strong);
        sheet.text(
            "It stays on this machine; your exported log carries it. Name no patient.",
            Look::Quiet,
        );
        typed(sheet, field);
        let rule = "─".repeat(sheet.width().saturating_sub(LEAD.len()));
        sheet
            .rows
            .push(Row::new([("  ", Look::Plain), (&rule, Look::Quiet)]));
    });
}

fn typed(sheet: &mut Sheet, field: &Field) {
    // A column is left for the cursor behind the last character.
    let room = sheet.width().saturating_sub(LEAD.len() + 1).max(1);
    let (lines, (row, column)) = laid_out(field, room);
    sheet.caret = Some((sheet.rows.len() + row, LEAD.len() + column));
    for (number, line) in lines.into_iter().enumerate() {
        let lead = if number == 0 { LEAD } else { "  " };
        sheet.rows.push(Row(vec![
            (Shown::new(lead), Look::Key),
            (line, Look::Plain),
        ]));
    }
}

/// The text in rows of at most `room` cells, with row and column of the cursor.
fn laid_out(field: &Field, room: usize) -> (Vec<Shown>, (usize, usize)) {
    let cursor = field.halves().0.len();
    // Where the cursor stands in the text as it is shown, in bytes.
    let (mut shown, mut before) = (String::new(), 0);
    text::pieces(field.text(), |at, piece| {
        shown.push_str(piece);
        if at < cursor {
            before = shown.len();
        }
    });
    let lines = Shown::new(field.text()).wrap(room);
    let (mut start, mut place) = (0, (0, 0));
    for (row, line) in lines.iter().enumerate() {
        // Rows follow each other without a gap where a long word was broken, and with a space everywhere else.
        if row > 0 && shown.get(start..).is_some_and(|rest| rest.starts_with(' ')) {
            start += 1;
        }
        if let Some(left) = before.checked_sub(start)
            && let Some(left) = line.as_str().get(..left)
        {
            place = (row, Shown::new(left).width());
        }
        start += line.as_str().len();
    }
    (lines, place)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::query::LONGEST;

    /// The rows with `|` at the cursor, after so many steps to the left.
    fn seen(text: &str, left: usize, room: usize) -> Vec<String> {
        let mut field = Field::new(LONGEST);
        field.insert(text);
        (0..left).for_each(|_| field.left());
        let (lines, (row, column)) = laid_out(&field, room);
        let mut rows: Vec<String> = lines.into_iter().map(Shown::into_string).collect();
        let mut cells = 0;
        let at = rows[row].char_indices().find(|(_, character)| {
            let found = cells == column;
            cells += Shown::new(&character.to_string()).width();
            found
        });
        let at = at.map_or(rows[row].len(), |(at, _)| at);
        rows[row].insert(at, '|');
        rows
    }

    #[test]
    fn the_cursor_is_where_the_next_letter_goes() {
        assert_eq!(seen("", 0, 8), ["|"]);
        assert_eq!(seen("the key ", 0, 8), ["the key |"]);
        assert_eq!(seen("the key is", 0, 8), ["the key", "is|"]);
        assert_eq!(seen("the key is", 2, 8), ["the key", "|is"]);
        assert_eq!(seen("the key is", 3, 8), ["the key|", "is"]);
        assert_eq!(seen("the key is", 7, 8), ["the| key", "is"]);
        assert_eq!(seen("infraorbital", 0, 8), ["infraorb", "ital|"]);
        assert_eq!(seen("infraorbital", 4, 8), ["infraorb", "|ital"]);
        assert_eq!(seen("infraorb ", 0, 8), ["infraorb", "|"]);
        assert_eq!(seen("下下下下下", 1, 8), ["下下下下", "|下"]);
    }

    proptest! {
        #[test]
        fn the_cursor_never_leaves_the_field(text in ".{0,60}", left in 0_usize..60, room in 1_usize..30) {
            let mut field = Field::new(LONGEST);
            field.insert(&text);
            (0..left).for_each(|_| field.left());
            let (lines, (row, column)) = laid_out(&field, room);
            prop_assert!(row < lines.len());
            prop_assert!(column <= lines[row].width());
            // At the end of the text it stands at the end of the last row.
            field.end();
            let (lines, place) = laid_out(&field, room);
            let last = lines.len() - 1;
            prop_assert_eq!(place, (last, lines[last].width()));
        }
    }
}
