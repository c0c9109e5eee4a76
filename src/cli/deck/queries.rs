//! `luxate deck queries`: what candidates remark on the items of a deck.

use std::io::Write;
use std::path::{Path, PathBuf};

use super::which::{Found, find};
use crate::cli::session::Place;
use crate::cli::{DONE, FINDINGS, Failure};
use crate::edge::logs;
use crate::report::queries::Queries;
use crate::text::{self, Shown};

/// Lists the queries of some exported logs item by item.
pub(super) fn queries(
    place: &Place,
    deck: &Path,
    files: &[PathBuf],
    as_json: bool,
    out: &mut impl Write,
    err: &mut impl Write,
) -> Result<u8, Failure> {
    let Found::Deck(deck) = find(place, deck, err)? else {
        return Ok(FINDINGS);
    };
    let logs = logs::read(files).map_err(|error| Failure::Told(error.to_string()))?;
    let queries = Queries::of(&deck, &logs.answers, &logs.queries);
    if as_json {
        let json = queries.json().to_string();
        writeln!(out, "{}", text::escaped_json(&json))?;
    } else {
        for line in queries.lines(super::width()) {
            writeln!(out, "{line}")?;
        }
    }
    for trouble in &logs.troubles {
        writeln!(err, "luxate: {}", Shown::new(trouble))?;
    }
    Ok(if logs.troubles.is_empty() {
        DONE
    } else {
        FINDINGS
    })
}
