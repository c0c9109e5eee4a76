//! `luxate deck coverage`: what decks cover of the exam.

use std::io::Write;
use std::path::PathBuf;

use super::which;
use crate::cli::session::Place;
use crate::cli::{DONE, FAILED, FINDINGS, Failure};
use crate::deck::Reading;
use crate::deck::model::Deck;
use crate::edge::{decks, walk};
use crate::report::coverage::Coverage;
use crate::text::{self, Shown};

/// Tells what some decks cover, each a file, a folder of files or the id of one in use; without any, all in use.
pub(super) fn coverage(
    place: &Place,
    paths: &[PathBuf],
    as_json: bool,
    out: &mut impl Write,
    err: &mut impl Write,
) -> Result<u8, Failure> {
    let mut code = DONE;
    let decks: Vec<Deck> = if paths.is_empty() {
        place.library(err)?.decks().to_vec()
    } else {
        let (paths, ids): (Vec<PathBuf>, Vec<PathBuf>) = paths
            .iter()
            .cloned()
            .partition(|path| path.is_dir() || which::is_file(path));
        let mut decks = Vec::new();
        for id in ids {
            decks.push(which::in_use(place, &id, err)?);
        }
        let found = walk::deck_files(&paths);
        let mut troubles = found.troubles;
        let mut flawed = Vec::new();
        for file in found.files {
            match decks::read_file(&file) {
                Ok(Reading {
                    deck: Some(deck), ..
                }) => decks.push(deck),
                Ok(_) => flawed.push(format!(
                    "{path} has errors and is left out; luxate deck check {path} says which",
                    path = file.display()
                )),
                Err(error) => troubles.push(error.to_string()),
            }
        }
        for trouble in troubles.iter().chain(&flawed) {
            writeln!(err, "luxate: {}", Shown::new(trouble))?;
        }
        code = match (troubles.is_empty(), flawed.is_empty()) {
            (false, _) => FAILED,
            (true, false) => FINDINGS,
            (true, true) => DONE,
        };
        if decks.is_empty() {
            return Ok(code);
        }
        decks
    };
    let coverage = Coverage::of(&decks);
    if as_json {
        let json = coverage.json().to_string();
        writeln!(out, "{}", text::escaped_json(&json))?;
    } else {
        write!(out, "{}", coverage.text())?;
    }
    Ok(code)
}
