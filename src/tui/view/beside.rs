//! A page with a drawing: head and keys as on every page, between them the drawing and the text that scrolls.

use ratatui::Frame;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::widgets::Widget as _;

use super::page::{self, Page};
use super::sheet::Row;
use super::theme::{Look, Theme};
use crate::figure::picture::{Emphasis, Setting};
use crate::text::Shown;
use crate::tui::model::{Drawn, Scroll};
use crate::tui::spread::{Area, Framed, Spread};

/// Draws the page and tells how far its text can be scrolled.
pub(super) fn draw(
    page: &Page,
    spread: &Spread,
    setting: Setting,
    scroll: Scroll,
    theme: Theme,
    frame: &mut Frame,
) -> Drawn {
    let screen = frame.area();
    let buffer = frame.buffer_mut();
    let width = screen.width.saturating_sub(2);
    for (y, row) in [
        (0, page::head(page, width.into())),
        (
            screen.height.saturating_sub(1),
            page::foot(&page.hints, width.into()),
        ),
    ] {
        put(
            buffer,
            &row,
            Area {
                x: 1,
                y,
                width,
                height: 1,
            },
            theme,
        );
    }
    for framed in &spread.drawings {
        drawing(buffer, framed, setting, theme);
    }
    text(buffer, page, spread.text, scroll, theme)
}

/// The cells of a drawing.
pub(super) fn drawing(buffer: &mut Buffer, framed: &Framed, setting: Setting, theme: Theme) {
    let picture = framed.picture(setting);
    if !framed.caption.is_empty() {
        let row = Row::new([("  ", Look::Plain), (framed.caption, Look::Strong)]);
        let above = Area {
            y: framed.area.y.saturating_sub(1),
            height: 1,
            ..framed.area
        };
        put(buffer, &row, above, theme);
    }
    for (y, row) in (framed.area.y..).zip(picture.rows()) {
        for (x, cell) in (framed.area.x..).zip(row) {
            if let Some(on_screen) = buffer.cell_mut((x, y)) {
                on_screen
                    .set_char(cell.glyph)
                    .set_style(style(cell.emphasis, theme));
            }
        }
    }
}

fn style(emphasis: Emphasis, theme: Theme) -> Style {
    theme.style(match emphasis {
        Emphasis::None => Look::Plain,
        Emphasis::Name => Look::Strong,
        Emphasis::Letter | Emphasis::Region | Emphasis::Incision => Look::Focus,
    })
}

/// The text of the page in its area, with what is to be said below it.
fn text(buffer: &mut Buffer, page: &Page, area: Area, scroll: Scroll, theme: Theme) -> Drawn {
    let column = usize::from(area.width);
    let notice = page.notice.map_or_else(Vec::new, |text| text.wrap(column));
    let notice_rows = notice.len().min(usize::from(area.height) / 2);
    let mut rows = usize::from(area.height) - notice_rows;
    let all = page.sheet.rows.len();
    // A text that does not fit leaves a row to say so.
    if all > rows {
        rows = rows.saturating_sub(1);
    }
    let last = all.saturating_sub(rows);
    let hidden = page::first_row(&page.sheet, scroll, rows).min(last);
    let mut lines: Vec<Row> = page
        .sheet
        .rows
        .iter()
        .skip(hidden)
        .take(rows)
        .cloned()
        .collect();
    lines.resize(rows, Row::default());
    if last > 0 {
        lines.push(Row::new([(
            &more(hidden, last - hidden, page.onward, column),
            Look::Strong,
        )]));
    }
    let said = notice.into_iter().take(notice_rows);
    lines.extend(said.map(|text| Row(vec![(text, Look::Strong)])));
    for (y, row) in (area.y..).zip(&lines) {
        put(
            buffer,
            row,
            Area {
                y,
                height: 1,
                ..area
            },
            theme,
        );
    }
    Drawn {
        rows: hidden,
        last,
        page: rows,
    }
}

/// What lies beyond the text, in as many words as fit.
fn more(above: usize, below: usize, key: &str, width: usize) -> String {
    let said = match (above, below) {
        (0, below) => format!("{below} more below: {key}"),
        (above, 0) => format!("{above} more above: PgUp"),
        (above, below) => format!("more: {above} PgUp, {below} {key}"),
    };
    Shown::new(&said).cut(width).into_string()
}

fn put(buffer: &mut Buffer, row: &Row, area: Area, theme: Theme) {
    let area = Rect::new(area.x, area.y, area.width, area.height).intersection(buffer.area);
    page::line(row, theme).render(area, buffer);
}
