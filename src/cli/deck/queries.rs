//! `luxate deck queries`: what candidates remark on the items of a deck.

use std::io::Write;
use std::path::{Path, PathBuf};

use super::which::{Found, find};
use crate::cli::complain;
use crate::cli::log::passed_over;
use crate::cli::session::Place;
use crate::cli::{FINDINGS, Failure};
use crate::edge::logs;
use crate::report::queries::Queries;
use crate::text;

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
    if logs.answers.is_empty() && logs.queries.is_empty() && logs.troubles.is_empty() {
        let logs = if files.len() == 1 {
            "log holds"
        } else {
            "logs hold"
        };
        complain(err, &format!("the {logs} no answers and no queries"))?;
    }
    passed_over(&logs, err)
}
