//! `luxate deck coverage`: what decks cover of the exam.

use std::io::Write;
use std::path::PathBuf;

use crate::cli::session::Place;
use crate::cli::{DONE, FAILED, Failure};
use crate::deck::Reading;
use crate::deck::model::Deck;
use crate::edge::{decks, walk};
use crate::report::coverage::Coverage;
use crate::text::{self, Shown};

/// Tells what the decks below some paths cover; without a path, the built-in and the added ones.
pub(super) fn coverage(
    place: &Place,
    paths: &[PathBuf],
    as_json: bool,
    out: &mut impl Write,
    err: &mut impl Write,
) -> Result<u8, Failure> {
    let mut is_whole = true;
    let decks: Vec<Deck> = if paths.is_empty() {
        place.library(err)?.decks().to_vec()
    } else {
        let found = walk::deck_files(paths);
        let mut troubles = found.troubles;
        let mut decks = Vec::new();
        for file in found.files {
            match decks::read_file(&file) {
                Ok(Reading {
                    deck: Some(deck), ..
                }) => decks.push(deck),
                Ok(_) => troubles.push(format!(
                    "{path} has errors and is left out; luxate deck check {path} says which",
                    path = file.display()
                )),
                Err(error) => troubles.push(error.to_string()),
            }
        }
        for trouble in &troubles {
            writeln!(err, "luxate: {}", Shown::new(trouble))?;
        }
        is_whole = troubles.is_empty();
        decks
    };
    let coverage = Coverage::of(&decks);
    if as_json {
        let json = coverage.json().to_string();
        writeln!(out, "{}", text::escaped_json(&json))?;
    } else {
        write!(out, "{}", coverage.text())?;
    }
    Ok(if is_whole { DONE } else { FAILED })
}
