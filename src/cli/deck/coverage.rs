//! `luxate deck coverage`: what decks cover of the exam.

use std::io::Write;
use std::path::PathBuf;

use super::{twice, which};
use crate::cli::complain;
use crate::cli::session::Place;
use crate::cli::{DONE, FAILED, FINDINGS, Failure};
use crate::deck::Reading;
use crate::deck::model::Deck;
use crate::edge::{decks, walk};
use crate::report::coverage::Coverage;
use crate::text;

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
        let mut decks: Vec<Deck> = Vec::new();
        for (number, id) in ids.iter().enumerate() {
            // Named twice it is still one deck.
            if !ids.iter().take(number).any(|before| before == id) {
                decks.push(which::in_use(place, id, err)?);
            }
        }
        let found = walk::deck_files(&paths);
        let mut troubles = found.troubles;
        let mut flawed = Vec::new();
        let mut named: Vec<(String, String)> = Vec::new();
        for file in found.files {
            match decks::read_file(&file) {
                Ok(Reading {
                    deck: Some(deck), ..
                }) => {
                    named.push((deck.id.clone(), file.to_string_lossy().into_owned()));
                    decks.push(deck);
                }
                // A folder may hold the diagrams of its decks beside them.
                Ok(reading) if decks::is_diagram(&reading) => {}
                Ok(_) => flawed.push(format!(
                    "{path} has errors and is left out; luxate deck check {path} says which",
                    path = file.display()
                )),
                Err(error) => troubles.push(error.to_string()),
            }
        }
        let same = twice(named.iter().map(|(id, file)| (id.as_str(), file.as_str())));
        for told in troubles.iter().chain(&flawed).chain(&same) {
            complain(err, told)?;
        }
        code = match (troubles.is_empty(), flawed.is_empty()) {
            (false, _) => FAILED,
            (true, false) => FINDINGS,
            (true, true) => DONE,
        };
        if decks.is_empty() && code == DONE {
            return Err(Failure::Told(
                "there are diagrams and no deck; name a deck".to_owned(),
            ));
        }
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
