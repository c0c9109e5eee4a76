//! `luxate deck schema`: the deck format for editors.

use std::io::Write;

use crate::cli::{DONE, Failure};
use crate::deck;

/// Writes the JSON Schema of decks.
pub(super) fn schema(out: &mut impl Write) -> Result<u8, Failure> {
    let schema = deck::schema();
    writeln!(out, "{schema:#}")?;
    Ok(DONE)
}
