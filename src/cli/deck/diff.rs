//! `luxate deck diff`: what changed between two editions, and what happens to candidates' answers.

use std::io::Write;
use std::path::Path;

use super::say;
use super::which::{Found, find};
use crate::cli::session::Place;
use crate::cli::{DONE, FINDINGS, Failure};
use crate::deck::diff::diff as changes_between;
use crate::report::changes;
use crate::text;

/// Tells what changed from one deck to another, each a file or one in use.
pub(super) fn diff(
    place: &Place,
    old: &Path,
    new: &Path,
    as_json: bool,
    out: &mut impl Write,
    err: &mut impl Write,
) -> Result<u8, Failure> {
    // Both are looked at, so that the errors of both are told.
    let (Found::Deck(old), Found::Deck(new)) = (find(place, old, err)?, find(place, new, err)?)
    else {
        return Ok(FINDINGS);
    };
    let found = changes_between(&old, &new);
    if as_json {
        let json = changes::json(&old, &new, &found).to_string();
        writeln!(out, "{}", text::escaped_json(&json))?;
    } else {
        for line in changes::lines(&old, &new, &found) {
            say(out, 2, &line)?;
        }
    }
    Ok(DONE)
}
