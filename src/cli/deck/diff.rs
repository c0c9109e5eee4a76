//! `luxate deck diff`: what changed between two editions, and what happens to candidates' answers.

use std::io::Write;
use std::path::Path;

use super::look;
use crate::cli::render;
use crate::cli::{DONE, FINDINGS, Failure};
use crate::deck::diff::diff as changes_between;
use crate::deck::model::Deck;
use crate::edge::decks;
use crate::report::changes;
use crate::text::{self, Shown};

/// Tells what changed from one file to another.
pub(super) fn diff(
    old: &Path,
    new: &Path,
    as_json: bool,
    out: &mut impl Write,
    err: &mut impl Write,
) -> Result<u8, Failure> {
    let (Some(old), Some(new)) = (read(old, err)?, read(new, err)?) else {
        writeln!(err, "luxate: only decks without errors can be compared")?;
        return Ok(FINDINGS);
    };
    let found = changes_between(&old, &new);
    if as_json {
        let json = changes::json(&old, &new, &found).to_string();
        writeln!(out, "{}", text::escaped_json(&json))?;
    } else {
        for line in changes::lines(&old, &new, &found) {
            writeln!(out, "{}", Shown::new(&line))?;
        }
    }
    Ok(DONE)
}

fn read(path: &Path, err: &mut impl Write) -> Result<Option<Deck>, Failure> {
    let reading = decks::read_file(path).map_err(|error| Failure::Told(error.to_string()))?;
    if reading.deck.is_none() {
        let told = render::diagnostics(&reading.source, &reading.diagnostics, look());
        write!(err, "{told}")?;
    }
    Ok(reading.deck)
}
