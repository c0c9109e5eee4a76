//! Which deck a command means: a file, or one in use by its id.

use std::io::Write;
use std::path::Path;

use super::told;
use crate::cli::Failure;
use crate::cli::complain;
use crate::cli::session::Place;
use crate::deck::Reading;
use crate::deck::model::Deck;
use crate::edge::decks;

/// What came of looking for a deck.
pub(super) enum Found {
    /// It is there and sound.
    Deck(Box<Deck>),
    /// It has errors, which have been told.
    Flawed,
}

/// The deck that `named` means. What is no file is taken for the id of a deck in use.
pub(super) fn find(place: &Place, named: &Path, err: &mut impl Write) -> Result<Found, Failure> {
    if !is_file(named) {
        return in_use(place, named, err).map(|deck| Found::Deck(Box::new(deck)));
    }
    let reading = read(named)?;
    let Reading {
        source,
        deck,
        diagnostics,
        ..
    } = reading;
    let Some(deck) = deck else {
        write!(err, "{}", told(&source, &diagnostics.without_advice()))?;
        complain(err, "the deck has errors; nothing was done with it")?;
        return Ok(Found::Flawed);
    };
    Ok(Found::Deck(Box::new(deck)))
}

/// Reads a deck file; one that is a diagram is refused in words of its own.
pub(super) fn read(file: &Path) -> Result<Reading, Failure> {
    let reading = decks::read_file(file).map_err(|error| Failure::Told(error.to_string()))?;
    if decks::is_diagram(&reading) {
        return Err(Failure::Told(format!(
            "{} holds a diagram and not a deck; name a deck that shows it",
            file.display()
        )));
    }
    Ok(reading)
}

/// Whether this is to be read as a file: it is there, or it cannot be an id.
pub(super) fn is_file(named: &Path) -> bool {
    let is_id = named.to_str().is_some_and(|text| {
        let fits =
            |letter: char| letter.is_ascii_lowercase() || letter.is_ascii_digit() || letter == '-';
        !text.is_empty() && text.chars().all(fits)
    });
    !is_id || named.is_file()
}

/// The deck in use with the id `named`.
pub(super) fn in_use(place: &Place, named: &Path, err: &mut impl Write) -> Result<Deck, Failure> {
    let library = place.library(err)?;
    let id = named.to_string_lossy();
    library.deck(&id).cloned().ok_or_else(|| {
        if named.is_dir() {
            return Failure::Told(format!("{id} is a folder; name a deck file in it"));
        }
        let ids: Vec<&str> = library
            .decks()
            .iter()
            .map(|deck| deck.id.as_str())
            .collect();
        Failure::Told(format!(
            "there is no deck `{id}` in use and no such file; the decks in use: {}",
            ids.join(", ")
        ))
    })
}
