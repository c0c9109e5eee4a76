//! `luxate deck new`: a deck to start from.

use std::io::{self, Write};

use crate::cli::args::New;
use crate::cli::session::Place;
use crate::cli::{DONE, Failure};
use crate::deck::{read_deck, skeleton};
use crate::edge::clock::Clock;
use crate::edge::{decks, files};
use crate::text::Shown;

/// Writes a skeleton to a new file or to the output. Never touches a file that is there.
pub(super) fn new(place: &Place, how: &New, out: &mut impl Write) -> Result<u8, Failure> {
    let known: Vec<&str> = skeleton::kinds().collect();
    if let Some(kind) = how
        .kinds
        .iter()
        .find(|kind| !known.contains(&kind.as_str()))
    {
        return Err(Failure::Told(format!(
            "there is no kind `{kind}`; the kinds are {}",
            known.join(", ")
        )));
    }
    if decks::built_in().iter().any(|deck| deck.id == how.id) {
        return Err(Failure::Told(format!(
            "there is a built-in deck with the id {}; give this one another id",
            how.id
        )));
    }
    // Each kind once, in the order asked for.
    let mut kinds: Vec<&str> = Vec::new();
    for kind in how.kinds.iter().map(String::as_str) {
        if !kinds.contains(&kind) {
            kinds.push(kind);
        }
    }
    if kinds.is_empty() {
        kinds.push("single");
    }
    let edition = Clock::from_environment(place.turnover)?.now().day;
    let text = skeleton::skeleton(&how.id, &how.title, edition, &kinds);
    let reading = read_deck("skeleton", text.as_bytes());
    if let Some(found) = reading.diagnostics.iter().next() {
        return Err(Failure::Told(format!(
            "{}: {}",
            found.message, found.primary.text
        )));
    }
    let Some(path) = &how.output else {
        write!(out, "{text}")?;
        return Ok(DONE);
    };
    let shown = Shown::new(&path.to_string_lossy());
    let written = files::put(path, text.as_bytes(), false);
    written.map_err(|error| {
        Failure::Told(match error.kind() {
            io::ErrorKind::AlreadyExists => {
                format!("{shown} is there already and was left as it is; name another file")
            }
            _ => format!("{shown} cannot be written: {error}"),
        })
    })?;
    super::say(
        out,
        2,
        &format!("wrote {shown}; luxate deck check {shown} looks at it"),
    )?;
    Ok(DONE)
}
