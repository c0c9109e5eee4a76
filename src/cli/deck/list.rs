//! `luxate deck list`: which decks are in use, and where they come from.

use std::io::Write;

use crate::cli::session::Place;
use crate::cli::{DONE, Failure};
use crate::edge::decks;
use crate::words::counted;

/// Lists all decks in use.
pub(super) fn list(
    place: &Place,
    out: &mut impl Write,
    err: &mut impl Write,
) -> Result<u8, Failure> {
    let built_in: Vec<String> = decks::built_in().into_iter().map(|deck| deck.id).collect();
    for deck in place.library(err)?.decks() {
        let origin = if built_in.contains(&deck.id) {
            "built in"
        } else {
            "added"
        };
        let items = counted(deck.items.len(), "item", "items");
        // A title may take several rows, which stand below its first.
        let head = format!(
            "{:<20} {:<10} {items:<9} {origin:<9} ",
            deck.id,
            deck.edition.to_string()
        );
        let line = format!("{head}{}", deck.title);
        super::say(out, head.chars().count().min(52), &line)?;
    }
    Ok(DONE)
}
