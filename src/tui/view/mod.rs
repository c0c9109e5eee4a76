//! The model as a frame. One file a screen; the only code that knows ratatui.
//!
//! Draws from `&Model` and changes nothing; what it finds out (how far a page scrolls) it returns.

mod beside;
mod caution;
mod closing;
mod help;
mod home;
mod marks;
mod page;
mod preview;
mod query;
mod question;
mod reveal;
mod sheet;
mod theme;

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::widgets::Widget as _;

pub use theme::Theme;

use self::page::Page;
use self::sheet::{Row, Sheet};
use self::theme::Look;
use super::keys::{keys, onward};
use super::model::{Drawn, LEAST, Model, Screen};
use crate::round::Phase;
use crate::text::Shown;

/// Draws the screen that is up, at whatever size the frame has; `None` if it is too small for that.
pub fn draw(model: &Model, theme: Theme, frame: &mut Frame) -> Option<Drawn> {
    let area = frame.area();
    if area.width < LEAST.width || area.height < LEAST.height {
        draw_too_small(model, theme, frame);
        return None;
    }
    let width = page::column(area.width).into();
    if let Some(scroll) = model.help {
        return Some(page::draw(&help::page(model, width), scroll, theme, frame));
    }
    let spread = model.spread();
    let width = spread
        .as_ref()
        .map_or(width, |spread| spread.text.width.into());
    let drawn = spread.is_some();
    let (title, aside, sheet) = match &model.screen {
        Screen::Caution => caution::page(model, width),
        Screen::Marks(shown) => marks::page(model, *shown, width),
        Screen::Home => home::page(model, width),
        Screen::Round(sitting) => match sitting.round.phase() {
            Phase::Asking(ask) => question::page(model, sitting, ask, width, drawn),
            Phase::Storing(given) => question::page(model, sitting, given.ask(), width, drawn),
            Phase::Revealed(reveal) => reveal::page(model, sitting, reveal, width, drawn),
            Phase::Closed(closing) => closing::page(model, sitting, closing, width),
        },
    };
    let (title, aside, sheet) = match &model.preview {
        Some(shown) => preview::page(model, shown, (title, aside, sheet), width),
        None => (title, aside, sheet),
    };
    let page = Page {
        title: Shown::new(&title),
        aside: Shown::new(&aside),
        sheet,
        hints: keys(model),
        onward: onward(model),
        notice: model.notice.as_ref(),
    };
    Some(match &spread {
        Some(spread) => beside::draw(&page, spread, model.drawn_by(), model.scroll, theme, frame),
        None => page::draw(&page, model.scroll, theme, frame),
    })
}

/// A title, what stands beside it, and the page below.
type Parts = (String, String, Sheet);

fn draw_too_small(model: &Model, theme: Theme, frame: &mut Frame) {
    let area = frame.area();
    let mut sheet = Sheet::new(area.width.into());
    let (needed, present) = (
        format!("{}x{}", LEAST.width, LEAST.height),
        format!("{}x{}", area.width, area.height),
    );
    // In a field q is a letter, and what stands in it would be gone.
    let leave = if model.takes_text() {
        "Ctrl-C to leave without what you are typing"
    } else {
        "q to leave"
    };
    sheet.text(
        &format!("luxate needs a screen of {needed}; this one is {present}. Nothing is lost: make it larger, or press {leave}."),
        Look::Plain,
    );
    for (y, row) in (0..area.height).zip(&sheet.rows) {
        page::line(row, theme).render(
            Rect {
                y,
                height: 1,
                ..area
            },
            frame.buffer_mut(),
        );
    }
}

/// A label with what it says beside it: the rows of home and closing.
fn fact(sheet: &mut Sheet, label: &str, text: &str) {
    let lead = Row::new([(&format!("{label:<12}"), Look::Quiet)]);
    sheet.hang(lead, text, Look::Plain);
}
