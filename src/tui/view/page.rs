//! The frame that all screens share: a head, a rule, a page that scrolls, what is to be said, and the keys.

use ratatui::Frame;
use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};
use ratatui::text::{Line, Span};
use ratatui::widgets::Widget as _;

use super::sheet::{Row, Sheet};
use super::theme::{Look, Theme};
use crate::text::Shown;
use crate::tui::keys::Hint;
use crate::tui::model::{Drawn, Scroll};

/// Widest column of text; longer lines are hard to read.
const WIDEST: u16 = 96;

/// Most rows that a notice may take.
const NOTICE_ROWS: usize = 4;

/// What a screen puts into the frame.
pub(super) struct Page<'a> {
    /// Left of the head.
    pub(super) title: Shown,
    /// Right of the head.
    pub(super) aside: Shown,
    pub(super) sheet: Sheet,
    pub(super) hints: Vec<Hint>,
    /// The key that shows what is below.
    pub(super) onward: &'static str,
    pub(super) notice: Option<&'a Shown>,
}

/// Columns of text on a screen of this width.
pub(super) fn column(width: u16) -> u16 {
    width.saturating_sub(2).clamp(1, WIDEST)
}

/// Draws the page and tells how far it can be scrolled.
pub(super) fn draw(page: &Page, scroll: Scroll, theme: Theme, frame: &mut Frame) -> Drawn {
    let area = frame.area();
    let width = column(area.width);
    let left = (area.width - width.min(area.width)) / 2;
    let notice: Vec<Shown> = page
        .notice
        .map_or_else(Vec::new, |text| text.wrap(width.into()));
    let notice = notice
        .get(..NOTICE_ROWS.min(notice.len()))
        .unwrap_or_default();
    let notice_rows = u16::try_from(notice.len()).unwrap_or(0);
    let body_rows = area.height.saturating_sub(4 + notice_rows);
    let rows = usize::from(body_rows);
    let last = page.sheet.rows.len().saturating_sub(rows);
    let hidden = first_row(&page.sheet, scroll, rows).min(last);

    let buffer = frame.buffer_mut();
    let mut at = Rect {
        x: left,
        y: 0,
        width,
        height: 1,
    };
    let mut put = |buffer: &mut Buffer, row: &Row| {
        line(row, theme).render(at.intersection(area), buffer);
        at.y += 1;
    };
    put(buffer, &head(page, width.into()));
    put(buffer, &rule(above(hidden), width.into()));
    for number in 0..rows {
        put(
            buffer,
            page.sheet
                .rows
                .get(hidden + number)
                .unwrap_or(&Row::default()),
        );
    }
    for text in notice {
        put(buffer, &Row(vec![(text.clone(), Look::Strong)]));
    }
    put(
        buffer,
        &rule(below(last - hidden, page.onward), width.into()),
    );
    put(buffer, &foot(&page.hints, width.into()));

    if let Some((row, column)) = page.sheet.caret
        && (hidden..hidden + rows).contains(&row)
    {
        let x = left
            .saturating_add(u16::try_from(column).unwrap_or(u16::MAX))
            .min(area.right().saturating_sub(1));
        let y = u16::try_from(row - hidden + 2).unwrap_or(u16::MAX);
        frame.set_cursor_position(Position { x, y });
    }
    Drawn {
        rows: hidden,
        last,
        page: rows,
    }
}

/// The first row to show: where it is scrolled to, or as near to it as what has the focus allows.
pub(super) fn first_row(sheet: &Sheet, scroll: Scroll, rows: usize) -> usize {
    match &sheet.focus {
        Some(focus) if scroll.follow => {
            // Too long a focus is shown from its start.
            let least = focus.end.saturating_sub(rows).min(focus.start);
            scroll.rows.clamp(least, focus.start)
        }
        _ => scroll.rows,
    }
}

fn above(hidden: usize) -> Option<String> {
    (hidden > 0).then(|| format!("{} above: PgUp", lines(hidden)))
}

fn below(hidden: usize, key: &str) -> Option<String> {
    (hidden > 0).then(|| format!("{} below: {key}", lines(hidden)))
}

fn lines(hidden: usize) -> String {
    if hidden == 1 {
        "1 more line".to_owned()
    } else {
        format!("{hidden} more lines")
    }
}

pub(super) fn head(page: &Page, width: usize) -> Row {
    let aside = page.aside.cut(width * 2 / 3);
    let room = width.saturating_sub(aside.width() + 2);
    let title = page.title.cut(room);
    let gap = " ".repeat(width.saturating_sub(title.width() + aside.width()));
    Row(vec![
        (title, Look::Strong),
        (Shown::new(&gap), Look::Plain),
        (aside, Look::Plain),
    ])
}

/// A rule that says what lies beyond it.
fn rule(words: Option<String>, width: usize) -> Row {
    let Some(words) = words else {
        return Row::new([(&"─".repeat(width), Look::Quiet)]);
    };
    let words = format!(" {words} ");
    let before = "─".repeat(width.saturating_sub(words.chars().count() + 2));
    Row::new([
        (&before, Look::Quiet),
        (&words, Look::Strong),
        ("──", Look::Quiet),
    ])
}

/// As many keys as fit, the most needed first; the last one always.
pub(super) fn foot(hints: &[Hint], width: usize) -> Row {
    let Some((last, hints)) = hints.split_last() else {
        return Row::default();
    };
    let wide = |hint: &Hint| Shown::new(&hint.keys).width() + 2 + hint.does.len();
    let mut used = wide(last);
    let mut fitting: Vec<&Hint> = Vec::new();
    for hint in hints {
        used += wide(hint) + 3;
        if used > width {
            break;
        }
        fitting.push(hint);
    }
    fitting.push(last);
    let mut pieces = Vec::new();
    for hint in fitting {
        if !pieces.is_empty() {
            pieces.push((Shown::new("   "), Look::Plain));
        }
        pieces.push((Shown::new(&hint.keys), Look::Key));
        pieces.push((Shown::new(&format!(": {}", hint.does)), Look::Plain));
    }
    Row(pieces)
}

/// A row as ratatui draws it: the one place where text becomes spans.
pub(super) fn line(row: &Row, theme: Theme) -> Line<'_> {
    let spans = row
        .0
        .iter()
        .map(|(text, look)| Span::styled(text.as_str(), theme.style(*look)));
    spans.collect()
}
