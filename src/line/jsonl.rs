//! A round as JSON Lines, so that other front ends and scripts can drive it.
//!
//! One object a line, UTF-8. The program writes `ask`, reads `answer` or `stop`, writes `reveal` and at last `close`; a line
//! that it cannot use gets an `error` and the question stays open. After an answer with `hold` it stays at the reveal, where it
//! takes a `query`, until it reads `next`. README documents the fields.

use std::collections::BTreeMap;
use std::io::{BufRead, Write};

use serde::Deserialize;
use serde_json::{Map, Value, json};

use super::LineError;
use super::input::{self, Input};
use crate::answer::{Confidence, PartNumber};
use crate::figure::teeth::Tooth;
use crate::flap::Case;
use crate::flap::words::describe_case;
use crate::kinds::{self, Form, Line, Standing};
use crate::memory::forecast::Forecast;
use crate::round::{Ask, Closing, Desk, Ended, Phase, Reveal, Round};
use crate::text;

/// A line read.
#[derive(Debug, Deserialize)]
#[serde(tag = "type", rename_all = "lowercase")]
enum Said {
    Answer(Given),
    Query(Remark),
    Next,
    Stop,
}

#[derive(Debug, Deserialize)]
struct Given {
    ask: u32,
    response: Vec<String>,
    confidence: String,
    seconds: Option<f64>,
    #[serde(default)]
    hold: bool,
}

#[derive(Debug, Deserialize)]
struct Remark {
    ask: u32,
    text: String,
}

/// What came of waiting for an answer.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Heard {
    Stop,
    Answer {
        /// The round is to stay at the reveal.
        hold: bool,
    },
}

/// Plays `round` to its end and says how it closed.
///
/// # Errors
/// [`LineError`] if the input or the output fails; what was answered is stored by then.
pub fn play(
    round: &mut Round,
    desk: &mut dyn Desk,
    reader: &mut impl BufRead,
    writer: &mut impl Write,
) -> Result<Closing, LineError> {
    let mut hold = false;
    loop {
        match round.phase().clone() {
            Phase::Asking(ask) => {
                put(writer, &ask_object(round, &ask))?;
                match hear(round, desk, reader, writer, &ask)? {
                    Heard::Stop => round.stop(),
                    Heard::Answer { hold: wanted } => hold = wanted,
                }
            }
            // Only `hear` gives answers, and it stores them itself.
            Phase::Storing(_) => round.not_stored(),
            Phase::Revealed(reveal) => {
                put(writer, &reveal_object(round, &reveal))?;
                if !hold || pause(round, desk, reader, writer, &reveal.ask)? {
                    round.go_on(desk.now());
                } else {
                    round.stop();
                }
            }
            Phase::Closed(closing) => {
                put(writer, &close_object(round, &closing))?;
                return Ok(closing);
            }
        }
    }
}

/// The next line that holds anything; `None` at the end of the input.
fn said(reader: &mut impl BufRead) -> Result<Option<Result<Said, String>>, LineError> {
    loop {
        return Ok(match input::next(reader).map_err(LineError::Read)? {
            Input::End => None,
            Input::TooLong => Some(Err("the line is longer than 1 MiB".to_owned())),
            Input::Line(line) if line.trim().is_empty() => continue,
            Input::Line(line) => Some(input::object(&line, &["answer", "query", "next", "stop"])),
        });
    }
}

/// Reads until the open question is answered and stored, or the round is to stop.
fn hear(
    round: &mut Round,
    desk: &mut dyn Desk,
    reader: &mut impl BufRead,
    writer: &mut impl Write,
    ask: &Ask,
) -> Result<Heard, LineError> {
    let started = desk.elapsed();
    while let Some(said) = said(reader)? {
        let taken = match said {
            Ok(Said::Stop) => return Ok(Heard::Stop),
            Ok(Said::Answer(answer)) => {
                let hold = answer.hold;
                take(round, desk, ask, &answer, started).map(|()| Heard::Answer { hold })
            }
            Ok(Said::Query(_) | Said::Next) => {
                Err("that is for a reveal that is held: answer with \"hold\":true".to_owned())
            }
            Err(trouble) => Err(trouble),
        };
        match taken {
            Ok(heard) => return Ok(heard),
            Err(message) => put(writer, &error_object(ask, &message))?,
        }
    }
    Ok(Heard::Stop)
}

/// Stays at the reveal and takes queries until the round is to go on; false if it is to stop.
fn pause(
    round: &Round,
    desk: &mut dyn Desk,
    reader: &mut impl BufRead,
    writer: &mut impl Write,
    ask: &Ask,
) -> Result<bool, LineError> {
    while let Some(said) = said(reader)? {
        let told = match said {
            Ok(Said::Next) => return Ok(true),
            Ok(Said::Stop) => return Ok(false),
            Ok(Said::Query(remark)) => keep(round, desk, ask, &remark),
            Ok(Said::Answer(_)) => Err("the ask is answered; query, next or stop".to_owned()),
            Err(trouble) => Err(trouble),
        };
        let object = match told {
            Ok(()) => json!({"type": "kept", "ask": ask.number}),
            Err(message) => error_object(ask, &message),
        };
        put(writer, &object)?;
    }
    Ok(false)
}

/// Stores a query, or says why it was not taken.
fn keep(round: &Round, desk: &mut dyn Desk, ask: &Ask, remark: &Remark) -> Result<(), String> {
    if remark.ask != ask.number {
        return Err(format!(
            "ask {} is not revealed; ask {} is",
            remark.ask, ask.number
        ));
    }
    let query = round
        .query(&remark.text, desk.now())
        .map_err(|refusal| refusal.to_string())?;
    desk.store_query(&query)
        .map_err(|trouble| format!("the query is not stored: {trouble}"))
}

fn error_object(ask: &Ask, message: &str) -> Value {
    json!({"type": "error", "ask": ask.number, "message": message})
}

/// Marks and stores an answer, or says why it was not taken.
fn take(
    round: &mut Round,
    desk: &mut dyn Desk,
    ask: &Ask,
    answer: &Given,
    started: f64,
) -> Result<(), String> {
    if answer.ask != ask.number {
        return Err(format!(
            "ask {} is not open; ask {} is",
            answer.ask, ask.number
        ));
    }
    let confidence = Confidence::parse(&answer.confidence).ok_or_else(|| {
        format!(
            "confidence is {:?}; it is guessing, likely or certain",
            answer.confidence
        )
    })?;
    let seconds = answer.seconds.unwrap_or_else(|| desk.elapsed() - started);
    if !(seconds.is_finite() && seconds >= 0.0) {
        return Err("seconds is below 0".to_owned());
    }
    let response =
        kinds::read(&ask.question.form, &answer.response).map_err(|unfit| unfit.to_string())?;
    let (now, id) = (desk.now(), desk.answer_id());
    let given = round
        .answer(&response, confidence, seconds, now, id)
        .map_err(|unfit| unfit.to_string())?;
    let stored = desk.store(given);
    match stored {
        Ok(()) => round.stored(),
        Err(_) => round.not_stored(),
    }
    stored.map_err(|trouble| format!("the answer is not stored: {trouble}"))
}

fn ask_object(round: &Round, ask: &Ask) -> Value {
    let library = round.library();
    let entry = library.entries().get(ask.item);
    let topic = entry.and_then(|entry| library.topics().get(entry.topic));
    let item = round.item(ask);
    let mut object = json!({
        "type": "ask",
        "ask": ask.number,
        "item": entry.map(|entry| entry.reference.to_string()),
        "topic": topic.map(|topic| topic.id.as_str()),
        "topic_title": topic.map(|topic| topic.title.as_str()),
        "kind": item.map(|item| item.body.kind()),
        "part": ask.part.map(part_object),
        "context": ask.question.context,
        "stem": ask.question.stem,
        "safety": item.is_some_and(crate::deck::model::Item::is_safety),
        "reask": ask.pick.reask,
        "why": ask.pick.why.to_string(),
        "key_changed": ask.changed,
    });
    let mut add = |name: &str, entries: &[String], id: fn(usize) -> String| {
        let entries: Vec<Value> = entries
            .iter()
            .enumerate()
            .map(|(place, text)| json!({"id": id(place), "text": text}))
            .collect();
        object[name] = Value::Array(entries);
    };
    match &ask.question.form {
        Form::One(entries) | Form::Several(entries) | Form::Sequence(entries) => {
            add("options", entries, kinds::letter);
        }
        Form::Pairs { lefts, rights } => {
            add("options", lefts, kinds::letter);
            add("targets", rights, kinds::number);
        }
        Form::Typed => add("options", &[], kinds::letter),
        Form::Number { unit, .. } => {
            add("options", &[], kinds::letter);
            object["unit"] = json!(unit);
        }
        Form::Flap(case) => {
            add("options", &[], kinds::letter);
            object["case"] = case_object(case);
        }
        Form::Places(figure) => {
            let says: Vec<String> = figure
                .places
                .iter()
                .map(|place| place.says.clone())
                .collect();
            add("options", &says, kinds::letter);
            object["diagram"] = Value::from(figure.id.as_str());
            object["view"] = Value::from(figure.view.as_str());
        }
    }
    object
}

/// What a flap is to be designed for; teeth as numbers of the quadrant, depths from the neck.
fn case_object(case: &Case) -> Value {
    let site: Vec<u8> = case.site().iter().map(|tooth| tooth.number()).collect();
    let missing = Tooth::all().filter(|&tooth| !case.has(tooth));
    let missing: Vec<u8> = missing.map(Tooth::number).collect();
    let around = case.surroundings();
    let defects = around.defects.iter().map(|defect| {
        json!({
            "tooth": defect.tooth.number(),
            "top_mm": defect.bone.top_mm,
            "bottom_mm": defect.bone.bottom_mm,
        })
    });
    let eminences = around.eminences.iter().map(|tooth| tooth.number());
    json!({
        "words": describe_case(case),
        "jaw": case.jaw().word(),
        "side": case.quadrant().word(),
        "surface": case.aspect().word(),
        "site": site,
        "bone_top_mm": case.bone().top_mm,
        "bone_bottom_mm": case.bone().bottom_mm,
        "missing": missing,
        "defects": defects.collect::<Vec<Value>>(),
        "eminences": eminences.collect::<Vec<u8>>(),
        "attached_mm": around.attached_mm,
        "spare_margin": around.spares_margin,
    })
}

fn reveal_object(round: &Round, reveal: &Reveal) -> Value {
    let library = round.library();
    let item = round.item(&reveal.ask);
    let lines: Vec<Value> = reveal.verdict.lines.iter().map(line_object).collect();
    json!({
        "type": "reveal",
        "ask": reveal.ask.number,
        "right": reveal.verdict.right,
        "quality": reveal.quality.value(),
        "key": reveal.verdict.key,
        "lines": lines,
        "rationale": item.map(|item| item.rationale.trim()),
        "caution": item.and_then(|item| item.caution.as_deref()),
        "beliefs": library.beliefs(reveal.ask.item, &reveal.verdict.beliefs),
        "sources": library.citations(reveal.ask.item, reveal.ask.part),
        "goes_on": reveal.goes_on.map(part_object),
        "again": reveal.again,
        "next_due": reveal.goes_on.is_none().then(|| reveal.next_due.to_string()),
    })
}

fn part_object(part: PartNumber) -> Value {
    json!({"number": part.number, "of": part.of})
}

fn line_object(line: &Line) -> Value {
    let standing = match line.standing {
        Standing::Hit => "right",
        Standing::Missed => "missed",
        Standing::Wrong => "wrong",
        Standing::Other => "left out",
        Standing::Remark => "remark",
    };
    json!({"id": line.label, "text": line.text, "standing": standing, "given": line.given, "why": line.why})
}

fn close_object(round: &Round, closing: &Closing) -> Value {
    let library = round.library();
    let name = |item: &usize| {
        library
            .entries()
            .get(*item)
            .map(|entry| entry.reference.to_string())
    };
    // Two topics may have one title.
    let mut counts: BTreeMap<&str, (u32, u32)> = BTreeMap::new();
    for topic in &closing.topics {
        let (answers, right) = counts.entry(&topic.title).or_default();
        *answers += topic.answers;
        *right += topic.right;
    }
    let topics: Map<String, Value> = counts
        .into_iter()
        .map(|(title, (answers, right))| {
            let counts = json!({"answers": answers, "right": right});
            (title.to_owned(), counts)
        })
        .collect();
    json!({
        "type": "close",
        "ended": match closing.ended {
            Ended::Done => "done",
            Ended::Minutes | Ended::Limit => "limit",
            Ended::Stopped => "stopped",
        },
        "answers": closing.answers,
        "right": closing.right,
        "items": closing.items,
        "not_kept": u8::from(closing.lost_answer),
        "seconds": closing.seconds,
        "topics": topics,
        "confident_errors": closing.confident_errors.iter().filter_map(name).collect::<Vec<_>>(),
        "left_again": closing.left_again,
        "next_due": closing.next.map(|(day, _)| day.to_string()),
        "next_items": closing.next.map_or(0, |(_, count)| count),
        "forecast_before": closing.forecast.map(|(before, _)| forecast_object(&before)),
        "forecast": closing.forecast.map(|(_, after)| forecast_object(&after)),
    })
}

fn forecast_object(forecast: &Forecast) -> Value {
    json!({"score": forecast.score, "low": forecast.low, "high": forecast.high})
}

fn put(writer: &mut impl Write, object: &Value) -> Result<(), LineError> {
    writeln!(writer, "{}", text::escaped_json(&object.to_string()))?;
    writer.flush()?;
    Ok(())
}
