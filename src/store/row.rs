//! An answer as a row of the log and back, bit for bit.

use rusqlite::types::Type;
use rusqlite::{Connection, Row, named_params};

use crate::answer::{Answer, AnswerId, Confidence, ItemRef, PartNumber, Quality, RoundKind};
use crate::time::{Day, Moment};

use super::log::RULES_VERSION;

/// The columns that [`read`] wants, in its order.
macro_rules! columns {
    () => {
        "uid, at_utc_ms, day, offset_min, deck, item, edition, fingerprint, wording, shown, response, \
         correct, confidence, quality, seconds, round, part, parts"
    };
}
pub(super) use columns;

/// Adds `answer` at the end of the log.
pub(super) fn write(connection: &Connection, answer: &Answer) -> rusqlite::Result<()> {
    let mut insert = connection.prepare_cached(concat!(
        "INSERT INTO answer (",
        columns!(),
        ", program, rules) VALUES (:uid, :at_utc_ms, :day, :offset_min, :deck, :item, :edition, \
         :fingerprint, :wording, :shown, :response, :correct, :confidence, :quality, :seconds, :round, \
         :part, :parts, :program, :rules)"
    ))?;
    insert.execute(named_params! {
        ":uid": answer.id.0,
        ":at_utc_ms": answer.at.utc_ms,
        ":day": answer.at.day.to_string(),
        ":offset_min": answer.at.offset_min,
        ":deck": answer.item.deck,
        ":item": answer.item.item,
        ":edition": answer.edition,
        ":fingerprint": answer.fingerprint,
        ":wording": answer.wording,
        ":shown": list_text(&answer.shown)?,
        ":response": list_text(&answer.response)?,
        ":correct": answer.right,
        ":confidence": answer.confidence.word(),
        ":quality": answer.quality.value(),
        ":seconds": answer.seconds,
        ":round": answer.round.word(),
        ":part": answer.part.map(|part| part.number),
        ":parts": answer.part.map(|part| part.of),
        ":program": env!("CARGO_PKG_VERSION"),
        ":rules": RULES_VERSION,
    })?;
    Ok(())
}

/// The answer in a row of [`columns`]; an error if the row could not have been written by [`write()`].
pub(super) fn read(row: &Row<'_>) -> rusqlite::Result<Answer> {
    let answer = Answer {
        id: AnswerId(row.get(0)?),
        at: Moment {
            utc_ms: row.get(1)?,
            day: word(row, 2, Day::parse)?,
            offset_min: row.get(3)?,
        },
        item: ItemRef {
            deck: row.get(4)?,
            item: row.get(5)?,
        },
        edition: row.get(6)?,
        fingerprint: row.get(7)?,
        wording: row.get(8)?,
        shown: list(row, 9)?,
        response: list(row, 10)?,
        right: row.get(11)?,
        confidence: word(row, 12, Confidence::parse)?,
        quality: Quality::new(row.get(13)?).ok_or_else(|| unreadable(13, "quality above 5"))?,
        seconds: row.get(14)?,
        round: word(row, 15, RoundKind::parse)?,
        part: part(row, 16)?,
    };
    answer.check().map_err(|flaw| unreadable(0, flaw))?;
    Ok(answer)
}

/// The part whose number stands in `column` and the number of all parts behind it.
pub(super) fn part(row: &Row<'_>, column: usize) -> rusqlite::Result<Option<PartNumber>> {
    Ok(match (row.get(column)?, row.get(column + 1)?) {
        (Some(number), Some(of)) => Some(PartNumber { number, of }),
        _ => None,
    })
}

pub(super) fn word<T>(
    row: &Row<'_>,
    column: usize,
    parse: fn(&str) -> Option<T>,
) -> rusqlite::Result<T> {
    let text = row.get_ref(column)?.as_str()?;
    parse(text).ok_or_else(|| unreadable(column, format!("unknown value {text:?}")))
}

fn list(row: &Row<'_>, column: usize) -> rusqlite::Result<Vec<String>> {
    let text = row.get_ref(column)?.as_str()?;
    serde_json::from_str(text).map_err(|error| unreadable(column, error))
}

fn list_text(list: &[String]) -> rusqlite::Result<String> {
    serde_json::to_string(list)
        .map_err(|error| rusqlite::Error::ToSqlConversionFailure(error.into()))
}

pub(super) fn unreadable(
    column: usize,
    why: impl Into<Box<dyn std::error::Error + Send + Sync>>,
) -> rusqlite::Error {
    rusqlite::Error::FromSqlConversionFailure(column, Type::Text, why.into())
}
