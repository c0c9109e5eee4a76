//! Answers as JSON Lines: UTF-8, one object an answer, each on its own line, lines ended by LF.
//!
//! | field | value |
//! |---|---|
//! | `id` | 32 hexadecimal digits that name the answer for good |
//! | `at` | when it was given: RFC 3339 in UTC, to the millisecond |
//! | `day` | local study day, `YYYY-MM-DD`; fixed when the answer was given |
//! | `offset_min` | local time minus UTC, in minutes |
//! | `deck`, `item` | ids of the deck and of the item within it |
//! | `edition` | edition of the deck that asked |
//! | `fingerprint` | 16 hexadecimal digits that change with the item's key |
//! | `part`, `parts` | which part of a case, of how many; `null` for an item without parts |
//! | `wording` | which wording was shown; 0 is the stem |
//! | `shown` | list of texts: ids of options in the order shown, or drawn numbers as `name=value` |
//! | `response` | list of texts: what was answered, in terms of the item and not of the screen |
//! | `right` | whether that was right: `true` or `false` |
//! | `confidence` | `guessing`, `likely` or `certain` |
//! | `quality` | SM-2's quality, 0 to 5 |
//! | `seconds` | from question to response |
//! | `round` | `review`, `drill` or `paper` |
//!
//! All fields are written, in this order; control characters and those that reorder or hide text are
//! written as `\uXXXX`. A reader takes them in any order, demands all, and passes over fields that it does not know.
//! What comes in may come from anyone: nothing is taken that the log could not have held.

use std::io::{self, BufRead, Read, Write};

use chrono::DateTime;
use serde::{Deserialize, Serialize};
use thiserror::Error;

use crate::answer::{Answer, AnswerId, Confidence, Flaw, ItemRef, PartNumber, Quality, RoundKind};
use crate::text;
use crate::time::{Day, Moment};

/// The longest line taken, in bytes: far more than any answer and far less than memory.
pub const LONGEST_LINE: u64 = 1 << 20;

/// Why a line could not be taken.
#[derive(Debug, Error)]
#[error("line {line}: {problem}")]
pub struct LineError {
    /// Counted from 1.
    pub line: usize,
    /// What is wrong with it.
    pub problem: Problem,
}

/// What can be wrong with a line.
#[derive(Debug, Error)]
pub enum Problem {
    /// The file ended in an error.
    #[error("could not be read: {0}")]
    Io(#[from] io::Error),
    /// A line without end would fill the memory.
    #[error("longer than {LONGEST_LINE} bytes; one line holds one answer")]
    TooLong,
    /// Not an object, or one that lacks a field or holds something of the wrong type.
    #[error("not an answer: {0}")]
    Shape(#[from] serde_json::Error),
    /// A field of the right type that says nothing known.
    #[error("`{field}` is {found:?}; expected {expected}")]
    Value {
        /// The field's name.
        field: &'static str,
        /// What it holds.
        found: String,
        /// What it may hold.
        expected: &'static str,
    },
    /// A value outside its range.
    #[error("cannot be an answer: {0}")]
    Flawed(#[from] Flaw),
}

/// The object on a line.
#[derive(Serialize, Deserialize)]
struct Line {
    id: String,
    at: String,
    day: String,
    offset_min: i32,
    deck: String,
    item: String,
    edition: String,
    fingerprint: String,
    #[serde(default)]
    part: Option<u8>,
    #[serde(default)]
    parts: Option<u8>,
    wording: u32,
    shown: Vec<String>,
    response: Vec<String>,
    right: bool,
    confidence: String,
    quality: u8,
    seconds: f64,
    round: String,
}

/// Writes `answers`, a line each.
///
/// # Errors
/// What `out` reports.
pub fn write<'a>(
    answers: impl IntoIterator<Item = &'a Answer>,
    out: &mut impl Write,
) -> io::Result<()> {
    for answer in answers {
        let mut line = text::escaped_json(&serde_json::to_string(&Line::from(answer))?);
        line.push('\n');
        out.write_all(line.as_bytes())?;
    }
    Ok(())
}

/// Reads answers, a line each; empty lines are passed over.
///
/// # Errors
/// The first line that is no answer. Nothing is returned then, so that a log is taken whole or not at all.
pub fn read(mut input: impl BufRead) -> Result<Vec<Answer>, LineError> {
    let mut answers = Vec::new();
    let mut bytes = Vec::new();
    for line in 1.. {
        let at = |problem: Problem| LineError { line, problem };
        bytes.clear();
        let mut limited = input.by_ref().take(LONGEST_LINE + 1);
        let length = limited
            .read_until(b'\n', &mut bytes)
            .map_err(|error| at(error.into()))?;
        if length == 0 {
            break;
        }
        if length as u64 > LONGEST_LINE {
            return Err(at(Problem::TooLong));
        }
        // A file that passed through an editor may begin with a byte order mark.
        let text = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(&bytes);
        if !text.trim_ascii().is_empty() {
            answers.push(answer(text).map_err(at)?);
        }
    }
    Ok(answers)
}

fn answer(text: &[u8]) -> Result<Answer, Problem> {
    let line: Line = serde_json::from_slice(text)?;
    let at = value(
        "at",
        line.at,
        "a time such as 2026-11-25T08:30:00.000Z",
        |text| DateTime::parse_from_rfc3339(text).ok(),
    )?;
    let answer = Answer {
        id: value("id", line.id, "32 hexadecimal digits", AnswerId::parse)?,
        at: Moment {
            utc_ms: at.timestamp_millis(),
            day: value("day", line.day, "a date such as 2026-11-25", Day::parse)?,
            offset_min: line.offset_min,
        },
        item: ItemRef::new(line.deck, line.item),
        edition: line.edition,
        fingerprint: line.fingerprint,
        part: match (line.part, line.parts) {
            (None, None) => None,
            // Half of it is no part at all; the check below refuses it.
            (number, of) => Some(PartNumber {
                number: number.unwrap_or(0),
                of: of.unwrap_or(0),
            }),
        },
        wording: line.wording,
        shown: line.shown,
        response: line.response,
        right: line.right,
        confidence: value(
            "confidence",
            line.confidence,
            "guessing, likely or certain",
            Confidence::parse,
        )?,
        quality: value("quality", line.quality.to_string(), "0 to 5", |_| {
            Quality::new(line.quality)
        })?,
        seconds: line.seconds,
        round: value(
            "round",
            line.round,
            "review, drill or paper",
            RoundKind::parse,
        )?,
    };
    answer.check()?;
    Ok(answer)
}

fn value<T>(
    field: &'static str,
    found: String,
    expected: &'static str,
    parse: impl FnOnce(&str) -> Option<T>,
) -> Result<T, Problem> {
    parse(&found).ok_or(Problem::Value {
        field,
        found,
        expected,
    })
}

impl From<&Answer> for Line {
    fn from(answer: &Answer) -> Self {
        Self {
            id: answer.id.to_string(),
            at: answer.at.rfc3339(),
            day: answer.at.day.to_string(),
            offset_min: answer.at.offset_min,
            deck: answer.item.deck.clone(),
            item: answer.item.item.clone(),
            edition: answer.edition.clone(),
            fingerprint: answer.fingerprint.clone(),
            part: answer.part.map(|part| part.number),
            parts: answer.part.map(|part| part.of),
            wording: answer.wording,
            shown: answer.shown.clone(),
            response: answer.response.clone(),
            right: answer.right,
            confidence: answer.confidence.word().into(),
            quality: answer.quality.value(),
            seconds: answer.seconds,
            round: answer.round.word().into(),
        }
    }
}
