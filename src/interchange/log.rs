//! Answers and queries as JSON Lines: UTF-8, one object each on its own line, lines ended by LF.
//!
//! An answer:
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
//! A query, told from an answer by its `type`:
//!
//! | field | value |
//! |---|---|
//! | `type` | `query` |
//! | `at`, `day`, `offset_min` | when it was written, as above |
//! | `deck`, `item`, `edition`, `fingerprint`, `part`, `parts` | what it remarks on, as above |
//! | `answer` | `id` of the answer on whose reveal it was written |
//! | `text` | the remark: one paragraph of 1 to 1000 characters |
//!
//! All fields are written, in this order; control characters and those that reorder or hide text are
//! written as `\uXXXX`. A reader takes them in any order, demands all, and passes over fields that it does not know.
//! What comes in may come from anyone: nothing is taken that the log could not have held.

use std::io::{self, BufRead, Read, Write};

use chrono::DateTime;
use serde::{Deserialize, Serialize};
use serde_json::Value;
use serde_json::error::Category;
use thiserror::Error;

use crate::answer::{Answer, AnswerId, Confidence, Flaw, ItemRef, PartNumber, Quality, RoundKind};
use crate::query::Query;
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
    #[error("longer than {LONGEST_LINE} bytes; one line holds one answer or query")]
    TooLong,
    /// Not an object, or one that lacks a field or holds something of the wrong type.
    #[error("neither an answer nor a query: {}", in_words(.0))]
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
    #[error("no log holds this: {0}")]
    Flawed(#[from] Flaw),
}

/// What is wrong with a line, for people who never saw the parser.
fn in_words(error: &serde_json::Error) -> String {
    let column = error.column();
    match error.classify() {
        Category::Eof => "it breaks off before its end".to_owned(),
        Category::Syntax | Category::Io => format!("from column {column} on it is not JSON"),
        Category::Data => {
            let told = error.to_string();
            match told.split('`').collect::<Vec<&str>>().as_slice() {
                ["missing field ", field, ..] => format!("it lacks `{field}`"),
                _ => format!("what ends at column {column} is not what an export writes there"),
            }
        }
    }
}

/// What a line holds.
#[derive(Clone, Debug, PartialEq)]
pub enum Entry {
    /// An answer.
    Answer(Answer),
    /// A remark on an item.
    Query(Query),
}

/// The `type` of a query's line.
const QUERY: &str = "query";

/// What tells a query from an answer.
#[derive(Deserialize)]
struct Kind {
    #[serde(default)]
    r#type: Value,
}

/// The object on the line of a query.
#[derive(Serialize, Deserialize)]
struct QueryLine {
    r#type: String,
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
    answer: String,
    text: String,
}

/// The object on the line of an answer.
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
    answers
        .into_iter()
        .try_for_each(|answer| put(&Line::from(answer), out))
}

/// Writes `queries`, a line each.
///
/// # Errors
/// What `out` reports.
pub fn write_queries<'a>(
    queries: impl IntoIterator<Item = &'a Query>,
    out: &mut impl Write,
) -> io::Result<()> {
    queries
        .into_iter()
        .try_for_each(|query| put(&QueryLine::from(query), out))
}

fn put(object: &impl Serialize, out: &mut impl Write) -> io::Result<()> {
    let mut line = text::escaped_json(&serde_json::to_string(object)?);
    line.push('\n');
    out.write_all(line.as_bytes())
}

/// Reads a log, a line at a time; empty lines are passed over. A line that cannot be taken is an error by itself, and the lines
/// after it can still be had: whoever needs the whole stops at the first.
pub fn read(input: impl BufRead) -> impl Iterator<Item = Result<Entry, LineError>> {
    Lines {
        input,
        bytes: Vec::new(),
        line: 0,
        state: State::AtStart,
    }
}

/// The lines of a log being read.
struct Lines<R> {
    input: R,
    bytes: Vec<u8>,
    line: usize,
    state: State,
}

/// Where the next line begins.
enum State {
    AtStart,
    /// Behind the rest of a line that was too long.
    AfterRest,
    Nowhere,
}

impl<R: BufRead> Iterator for Lines<R> {
    type Item = Result<Entry, LineError>;

    fn next(&mut self) -> Option<Self::Item> {
        loop {
            let found = self.next_line();
            let line = self.line;
            if let Err(problem) = found {
                return Some(Err(LineError { line, problem }));
            }
            if matches!(self.state, State::Nowhere) {
                return None;
            }
            // A file that passed through an editor may begin with a byte order mark.
            let bytes = &self.bytes;
            let text = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
            if !text.trim_ascii().is_empty() {
                return Some(entry(text).map_err(|problem| LineError { line, problem }));
            }
        }
    }
}

impl<R: BufRead> Lines<R> {
    /// Puts the next line into `bytes`.
    fn next_line(&mut self) -> Result<(), Problem> {
        match std::mem::replace(&mut self.state, State::Nowhere) {
            State::Nowhere => return Ok(()),
            State::AfterRest => drop(self.input.skip_until(b'\n')?),
            State::AtStart => {}
        }
        self.bytes.clear();
        self.line += 1;
        let mut limited = self.input.by_ref().take(LONGEST_LINE + 1);
        let length = limited.read_until(b'\n', &mut self.bytes)?;
        if length as u64 > LONGEST_LINE {
            self.state = if self.bytes.ends_with(b"\n") {
                State::AtStart
            } else {
                State::AfterRest
            };
            return Err(Problem::TooLong);
        }
        if length > 0 {
            self.state = State::AtStart;
        }
        Ok(())
    }
}

fn entry(text: &[u8]) -> Result<Entry, Problem> {
    let Kind { r#type } = serde_json::from_slice(text)?;
    if r#type == QUERY {
        query(text).map(Entry::Query)
    } else {
        answer(text).map(Entry::Answer)
    }
}

fn query(text: &[u8]) -> Result<Query, Problem> {
    let line: QueryLine = serde_json::from_slice(text)?;
    let query = Query {
        at: moment(line.at, line.day, line.offset_min)?,
        item: ItemRef::new(line.deck, line.item),
        edition: line.edition,
        fingerprint: line.fingerprint,
        part: part(line.part, line.parts),
        answer: id("answer", line.answer)?,
        text: line.text,
    };
    query.check()?;
    Ok(query)
}

fn answer(text: &[u8]) -> Result<Answer, Problem> {
    let line: Line = serde_json::from_slice(text)?;
    let answer = Answer {
        id: id("id", line.id)?,
        at: moment(line.at, line.day, line.offset_min)?,
        item: ItemRef::new(line.deck, line.item),
        edition: line.edition,
        fingerprint: line.fingerprint,
        part: part(line.part, line.parts),
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

fn id(field: &'static str, found: String) -> Result<AnswerId, Problem> {
    value(field, found, "32 hexadecimal digits", AnswerId::parse)
}

fn moment(at: String, day: String, offset_min: i32) -> Result<Moment, Problem> {
    let at = value(
        "at",
        at,
        "a time such as 2026-11-25T08:30:00.000Z",
        |text| DateTime::parse_from_rfc3339(text).ok(),
    )?;
    Ok(Moment {
        utc_ms: at.timestamp_millis(),
        day: value("day", day, "a date such as 2026-11-25", Day::parse)?,
        offset_min,
    })
}

fn part(number: Option<u8>, of: Option<u8>) -> Option<PartNumber> {
    // Half of it is no part at all; the check of the whole refuses it.
    (number.is_some() || of.is_some()).then(|| PartNumber {
        number: number.unwrap_or(0),
        of: of.unwrap_or(0),
    })
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

impl From<&Query> for QueryLine {
    fn from(query: &Query) -> Self {
        Self {
            r#type: QUERY.into(),
            at: query.at.rfc3339(),
            day: query.at.day.to_string(),
            offset_min: query.at.offset_min,
            deck: query.item.deck.clone(),
            item: query.item.item.clone(),
            edition: query.edition.clone(),
            fingerprint: query.fingerprint.clone(),
            part: query.part.map(|part| part.number),
            parts: query.part.map(|part| part.of),
            answer: query.answer.to_string(),
            text: query.text.clone(),
        }
    }
}
