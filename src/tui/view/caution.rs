//! The first start: what this program is and is not, and what it can ask.

use super::sheet::Sheet;
use super::theme::Look;
use super::{Parts, fact};
use crate::tui::model::Model;
use crate::tui::words::count;

pub(super) fn page(model: &Model, width: usize) -> Parts {
    let mut sheet = Sheet::new(width);
    sheet.gap();
    sheet.text("Before you begin", Look::Strong);
    sheet.gap();
    sheet.boxed(
        "Caution",
        model.settings.caution.as_deref().unwrap_or_default(),
        Look::Caution,
    );
    sheet.gap();
    let library = model.record.library();
    sheet.text(
        &format!(
            "{} in {}:",
            count(library.entries().len(), "item"),
            count(library.decks().len(), "deck")
        ),
        Look::Plain,
    );
    for deck in library.decks() {
        fact(
            &mut sheet,
            &format!("  {}", count(deck.items.len(), "item")),
            &deck.title,
        );
    }
    ("luxate".to_owned(), "first start".to_owned(), sheet)
}
