//! Between a reveal and the next question in plain lines: time to read, and to write a query.

use std::io::{BufRead, Write};

use super::LineError;
use super::plain::{HELP, line};
use super::spoken::{say, say_reveal};
use crate::query::KEPT;
use crate::round::{Desk, Reveal, Round};

/// Waits until the round is to go on; false if it is to stop.
pub(super) fn pause(
    round: &Round,
    reveal: &Reveal,
    desk: &mut dyn Desk,
    reader: &mut impl BufRead,
    writer: &mut impl Write,
) -> Result<bool, LineError> {
    loop {
        let prompt = "Enter goes on; query writes to the instructor:";
        let Some(text) = line(reader, writer, prompt)? else {
            return Ok(false);
        };
        match text.to_lowercase().as_str() {
            "" => return Ok(true),
            "stop" => return Ok(false),
            "help" => say(writer, HELP)?,
            "repeat" => say_reveal(writer, round, reveal, false)?,
            "query" => {
                if !hear_query(round, desk, reader, writer)? {
                    return Ok(false);
                }
            }
            _ => say(
                writer,
                "Press Enter to go on, or type query, repeat, help or stop.",
            )?,
        }
    }
}

/// Asks for a query until one is stored or dropped; false if the input ended.
fn hear_query(
    round: &Round,
    desk: &mut dyn Desk,
    reader: &mut impl BufRead,
    writer: &mut impl Write,
) -> Result<bool, LineError> {
    say(
        writer,
        "It stays on this machine; your exported log carries it. Name no patient.",
    )?;
    let prompt = "Your query, one line; an empty one is dropped:";
    let Some(mut text) = line(reader, writer, prompt)? else {
        return Ok(false);
    };
    loop {
        if text.is_empty() {
            say(writer, "Nothing was kept.")?;
            return Ok(true);
        }
        let query = match round.query(&text, desk.now()) {
            Ok(query) => query,
            Err(refusal) => {
                say(writer, &format!("That was not taken: {refusal}."))?;
                match line(reader, writer, prompt)? {
                    Some(anew) => text = anew,
                    None => return Ok(false),
                }
                continue;
            }
        };
        let Err(trouble) = desk.store_query(&query) else {
            say(writer, KEPT)?;
            return Ok(true);
        };
        say(writer, &format!("Your query is not stored: {trouble}"))?;
        match line(reader, writer, "Enter tries again; drop gives it up:")? {
            Some(word) if word.eq_ignore_ascii_case("drop") => text.clear(),
            Some(_) => {}
            None => return Ok(false),
        }
    }
}
