//! Which identifier and file each part of a deck gets.
//!
//! An identifier begins with a letter or underscore and goes on with letters, digits, hyphens, underscores and full stops. Ids of
//! decks hold lower-case letters, digits and hyphens, so a letter in front and an underscore between two ids keep
//! every identifier fit and different from all others, across decks too. No full stop: tests read it as a separator.

use crate::deck::model::{Deck, Item, Topic};

/// File of the test in the package.
pub(super) const TEST_FILE: &str = "test.xml";
/// File that lists the package, at its root.
pub(super) const MANIFEST_FILE: &str = "imsmanifest.xml";

/// Identifier of an item.
pub(super) fn item(deck: &Deck, item: &Item) -> String {
    format!("i-{}_{}", deck.id, item.id)
}

/// File of an item in the package.
pub(super) fn item_file(deck: &Deck, item: &Item) -> String {
    format!("items/{}.xml", self::item(deck, item))
}

/// Identifier of the drawing of an item, or of this part of a case.
pub(super) fn drawing(deck: &Deck, item: &Item, part: Option<usize>) -> String {
    let part = part.map(|number| format!("_p{number}")).unwrap_or_default();
    format!("d-{}_{}{part}", deck.id, item.id)
}

/// File of a drawing in the package; items name it as it stands beside them.
pub(super) fn drawing_file(drawing: &str) -> String {
    format!("items/{drawing}.svg")
}

/// What an exam system lists the item by. Neither the id nor the topic: either could give a hint away.
pub(super) fn title(deck: &Deck, place: usize) -> String {
    format!("{}, item {}", deck.title, place + 1)
}

/// Identifier of the test.
pub(super) fn test(deck: &Deck) -> String {
    format!("t-{}", deck.id)
}

/// Identifier of the package.
pub(super) fn manifest(deck: &Deck) -> String {
    format!("m-{}", deck.id)
}

/// Identifier of a topic's section in the test.
pub(super) fn section(topic: &Topic) -> String {
    format!("s-{}", topic.id)
}
