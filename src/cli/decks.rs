//! `luxate deck`: what an instructor does with deck files.

use std::fs;
use std::io::{self, IsTerminal, Write};
use std::path::{Path, PathBuf};

use super::render::{self, Look};
use super::session::Place;
use super::{DONE, FAILED, FINDINGS, Failure};
use crate::deck::Reading;
use crate::deck::model::Deck;
use crate::diagnostic::Counts;
use crate::edge::decks;
use crate::text::Shown;
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
        let title = Shown::new(&deck.title);
        writeln!(
            out,
            "{:<20} {:<10} {items:<9} {origin:<9} {title}",
            deck.id,
            deck.edition.to_string()
        )?;
    }
    Ok(DONE)
}

/// Says what is wrong with decks and where. Changes nothing.
pub(super) fn check(
    paths: &[PathBuf],
    out: &mut impl Write,
    err: &mut impl Write,
) -> Result<u8, Failure> {
    let mut counts = Counts::default();
    let mut files = 0;
    let mut failed = false;
    for path in paths {
        let found = deck_files(path);
        if found.as_ref().is_ok_and(Vec::is_empty) {
            failed = true;
            writeln!(
                err,
                "luxate: there is no .yaml file in {}",
                Shown::new(&path.to_string_lossy())
            )?;
        }
        for file in found.unwrap_or_else(|_| vec![path.clone()]) {
            match decks::read_file(&file) {
                Ok(reading) => {
                    files += 1;
                    counts = counts.plus(reading.diagnostics.counts());
                    write!(
                        out,
                        "{}",
                        render::diagnostics(&reading.source, &reading.diagnostics, look())
                    )?;
                }
                Err(error) => {
                    failed = true;
                    writeln!(err, "luxate: {}", Shown::new(&error.to_string()))?;
                }
            }
        }
    }
    if files > 0 {
        writeln!(out, "{}", render::closing(counts, files))?;
    }
    Ok(match (failed, counts.errors) {
        (true, _) => FAILED,
        (false, 0) => DONE,
        (false, _) => FINDINGS,
    })
}

/// Adds a deck, or a new edition of one.
pub(super) fn add(
    place: &Place,
    path: &Path,
    out: &mut impl Write,
    err: &mut impl Write,
) -> Result<u8, Failure> {
    let reading = decks::read_file(path).map_err(|error| Failure::Told(error.to_string()))?;
    let Reading {
        source,
        deck: Some(deck),
        diagnostics,
    } = reading
    else {
        write!(
            err,
            "{}",
            render::diagnostics(&reading.source, &reading.diagnostics, look())
        )?;
        writeln!(
            err,
            "luxate: the deck has errors and was not added; nothing was changed"
        )?;
        return Ok(FINDINGS);
    };
    let data = place.data()?;
    if decks::built_in().iter().any(|known| known.id == deck.id) {
        return Err(Failure::Told(format!(
            "there is a built-in deck with the id {}; give this one another id",
            deck.id
        )));
    }
    let before = decks::added(&data)?
        .decks
        .into_iter()
        .find(|known| known.id == deck.id);
    if let Some(before) = before.filter(|before| before.edition > deck.edition) {
        return Err(Failure::Told(format!(
            "{} is here in edition {}, and this file is the older edition {}; nothing was changed",
            deck.id, before.edition, deck.edition
        )));
    }
    decks::keep(&data, &deck, source.text())?;
    let warnings = diagnostics.counts();
    let Deck {
        id, edition, items, ..
    } = &deck;
    writeln!(
        out,
        "added {id}, edition {edition}, {}",
        counted(items.len(), "item", "items")
    )?;
    if warnings.total() > 0 {
        let path = Shown::new(&path.to_string_lossy());
        writeln!(
            out,
            "the checker has {warnings}; luxate deck check {path} tells them"
        )?;
    }
    Ok(DONE)
}

/// The file itself, or the deck files of a folder in order of their names.
fn deck_files(path: &Path) -> io::Result<Vec<PathBuf>> {
    if !path.is_dir() {
        return Ok(vec![path.to_owned()]);
    }
    let mut files = fs::read_dir(path)?
        .map(|entry| Ok(entry?.path()))
        .collect::<io::Result<Vec<PathBuf>>>()?;
    files.retain(|file| {
        file.extension()
            .is_some_and(|extension| extension == "yaml" || extension == "yml")
    });
    files.sort();
    Ok(files)
}

/// Colours for a terminal that wants them.
fn look() -> Look {
    let set = |name: &str| std::env::var_os(name).is_some_and(|value| !value.is_empty());
    let dumb = std::env::var_os("TERM").is_some_and(|term| term == "dumb");
    if io::stdout().is_terminal() && !set("NO_COLOR") && !dumb {
        Look::Coloured
    } else {
        Look::Plain
    }
}
