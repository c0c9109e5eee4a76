//! The first start: what this program is and is not, and what it can ask.

use super::sheet::Sheet;
use super::theme::Look;
use super::{Parts, fact};
use crate::tui::model::Model;
use crate::words::counted;

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
            counted(library.entries().len(), "item", "items"),
            counted(library.decks().len(), "deck", "decks")
        ),
        Look::Plain,
    );
    for deck in library.decks() {
        fact(
            &mut sheet,
            &format!("  {}", counted(deck.items.len(), "item", "items")),
            &deck.title,
        );
    }
    ("luxate".to_owned(), "first start".to_owned(), sheet)
}
