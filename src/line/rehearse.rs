//! A preparation rehearsed over JSON Lines: a simulated candidate drives the real schedule.
//!
//! One line in, at most one line out; all time comes from the lines, so the same lines get the
//! same replies. A bad line is answered with an error object and changes nothing.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use thiserror::Error;

use super::input;
use crate::answer::{Confidence, RoundKind};
use crate::memory::engine::Engine;
use crate::memory::study::{Exam, ItemFacts, RestDays, Seen, StudyPlan};
use crate::text;
use crate::time::{Day, Moment};

/// Days further from the origin than this are refused.
const FARTHEST_DAY: f64 = 1e7;

/// The types of line that are taken.
const LINES: [&str; 7] = [
    "setup", "exam", "day", "answer", "close", "forecast", "quit",
];

/// Why a line was refused.
#[derive(Debug, Error)]
pub enum RehearseError {
    /// Not one of the lines of the rehearsal.
    #[error("{0}")]
    Line(String),
    /// A line that is too long to be looked at.
    #[error("the line is longer than 1 MiB")]
    TooLong,
    /// A line came before the setup.
    #[error("send a setup line first")]
    NoSetup,
    /// A second setup came.
    #[error("the setup has come already; send quit and start anew")]
    SetupAgain,
    /// A setup without items.
    #[error("the setup has no items")]
    NoItems,
    /// A time or a day lies before one that has come already.
    #[error("{0} goes back in time; it must not lie before the last day or answer")]
    Back(&'static str),
    /// An answer came without an open day.
    #[error("send a day line before answers")]
    NoDay,
    /// The item is not in the setup.
    #[error("no item {0:?} in the setup")]
    UnknownItem(String),
    /// The setup names an item twice.
    #[error("item {0:?} is in the setup twice")]
    Twice(String),
    /// A number out of range.
    #[error("{0} is out of range")]
    Range(&'static str),
    /// Unknown level of confidence.
    #[error("confidence is guessing, likely or certain, not {0:?}")]
    Confidence(String),
}

#[derive(Deserialize)]
#[serde(tag = "type", rename_all = "lowercase", deny_unknown_fields)]
enum Line {
    Setup {
        minutes_a_day: f64,
        items: Vec<Item>,
    },
    Exam {
        at: Option<f64>,
    },
    Day {
        day: i64,
        at: f64,
        seconds: f64,
    },
    Answer {
        item: String,
        at: f64,
        right: bool,
        confidence: String,
        seconds: f64,
    },
    Close {
        #[serde(rename = "day")]
        _day: i64,
    },
    Forecast {
        at: f64,
    },
    Quit,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Item {
    #[serde(rename = "item")]
    name: String,
    topic: String,
    weight: f64,
    chance: f64,
}

#[derive(Serialize)]
#[serde(tag = "type", rename_all = "lowercase")]
enum Reply<'a> {
    Ask {
        item: &'a str,
    },
    Rest,
    Forecast {
        score: Option<f64>,
        low: Option<f64>,
        high: Option<f64>,
        items: BTreeMap<&'a str, f64>,
    },
    Error {
        text: String,
    },
}

/// A rehearsal in progress.
#[derive(Debug, Default)]
pub struct Rehearsal {
    running: Option<Running>,
    finished: bool,
}

#[derive(Debug)]
struct Running {
    engine: Engine,
    names: Vec<String>,
    numbers: BTreeMap<String, usize>,
    day: Option<Day>,
    /// Days from the origin to the last day or answer.
    last: f64,
}

impl Rehearsal {
    /// Whether a quit line has come.
    #[must_use]
    pub const fn is_finished(&self) -> bool {
        self.finished
    }

    /// Takes in a line; returns the line to answer it with, if one is due.
    pub fn line(&mut self, text: &str) -> Option<String> {
        if text.trim().is_empty() {
            return None;
        }
        let reply = match self.take(text) {
            Ok(reply) => reply?,
            Err(error) => return refusal(&error),
        };
        written(&reply)
    }

    /// Answers a line that was too long to be looked at.
    #[must_use]
    pub fn too_long(&self) -> Option<String> {
        refusal(&RehearseError::TooLong)
    }

    fn take(&mut self, text: &str) -> Result<Option<Reply<'_>>, RehearseError> {
        match input::object(text, &LINES).map_err(RehearseError::Line)? {
            Line::Setup {
                minutes_a_day,
                items,
            } => {
                if self.running.is_some() {
                    return Err(RehearseError::SetupAgain);
                }
                self.running = Some(Running::new(minutes_a_day, items)?);
                Ok(None)
            }
            Line::Quit => {
                self.finished = true;
                Ok(None)
            }
            line => self
                .running
                .as_mut()
                .ok_or(RehearseError::NoSetup)?
                .take(line),
        }
    }
}

impl Running {
    fn new(minutes_a_day: f64, items: Vec<Item>) -> Result<Self, RehearseError> {
        if !(0.0..=1440.0).contains(&minutes_a_day) {
            return Err(RehearseError::Range("minutes_a_day"));
        }
        if items.is_empty() {
            return Err(RehearseError::NoItems);
        }
        let mut topics = BTreeMap::new();
        let mut numbers = BTreeMap::new();
        let mut names = Vec::with_capacity(items.len());
        let mut facts = Vec::with_capacity(items.len());
        for (number, item) in items.into_iter().enumerate() {
            if !(0.0..=1.0).contains(&item.chance) {
                return Err(RehearseError::Range("chance"));
            }
            if !(0.0..=1e9).contains(&item.weight) {
                return Err(RehearseError::Range("weight"));
            }
            if numbers.insert(item.name.clone(), number).is_some() {
                return Err(RehearseError::Twice(item.name));
            }
            let topic = topics.len();
            facts.push(ItemFacts {
                weight: item.weight,
                chance: item.chance,
                topic: *topics.entry(item.topic).or_insert(topic),
                safety: false,
            });
            names.push(item.name);
        }
        let plan = StudyPlan {
            exam: None,
            seconds_a_day: minutes_a_day * 60.0,
            rest: RestDays::NONE,
        };
        Ok(Self {
            engine: Engine::new(facts, plan),
            names,
            numbers,
            day: None,
            last: f64::NEG_INFINITY,
        })
    }

    fn take(&mut self, line: Line) -> Result<Option<Reply<'_>>, RehearseError> {
        match line {
            Line::Exam { at } => {
                if at.is_some_and(|at| at < self.last) {
                    return Err(RehearseError::Back("exam"));
                }
                let exam = at.map(time).transpose()?.map(|at_days| Exam {
                    at_days,
                    day: day_of(at_days),
                });
                self.engine.set_plan(StudyPlan {
                    exam,
                    ..*self.engine.plan()
                });
                Ok(None)
            }
            Line::Day { day, at, seconds } => {
                let now = moment(at, day)?;
                within_a_day(seconds)?;
                if self.day.is_some_and(|last| now.day < last) {
                    return Err(RehearseError::Back("day"));
                }
                self.pass(at)?;
                self.day = Some(now.day);
                self.engine.open_day(now, seconds);
                Ok(Some(self.ask(now)))
            }
            Line::Answer {
                item,
                at,
                right,
                confidence,
                seconds,
            } => {
                let day = self.day.ok_or(RehearseError::NoDay)?;
                let number = *self
                    .numbers
                    .get(&item)
                    .ok_or(RehearseError::UnknownItem(item))?;
                let confidence =
                    Confidence::parse(&confidence).ok_or(RehearseError::Confidence(confidence))?;
                let seen = Seen {
                    at: moment(at, day.number())?,
                    right,
                    confidence,
                    seconds,
                    round: RoundKind::Review,
                };
                within_a_day(seconds)?;
                self.pass(at)?;
                self.engine.observe(number, &seen);
                Ok(Some(self.ask(seen.at)))
            }
            Line::Forecast { at } => {
                let at = time(at)?;
                self.engine.refit();
                let forecast = self.engine.forecast(at);
                let items = self
                    .names
                    .iter()
                    .zip(self.engine.chances(at))
                    .map(|(name, chance)| (name.as_str(), chance))
                    .collect();
                Ok(Some(Reply::Forecast {
                    score: forecast.map(|forecast| forecast.score),
                    low: forecast.map(|forecast| forecast.low),
                    high: forecast.map(|forecast| forecast.high),
                    items,
                }))
            }
            Line::Close { .. } | Line::Setup { .. } | Line::Quit => Ok(None),
        }
    }

    /// Time goes on to `at`, and never back.
    fn pass(&mut self, at: f64) -> Result<(), RehearseError> {
        if at < self.last {
            return Err(RehearseError::Back("at"));
        }
        self.last = at;
        Ok(())
    }

    fn ask(&mut self, now: Moment) -> Reply<'_> {
        let pick = self.engine.next(now);
        match pick.and_then(|pick| self.names.get(pick.item)) {
            Some(item) => Reply::Ask { item },
            None => Reply::Rest,
        }
    }
}

fn refusal(error: &RehearseError) -> Option<String> {
    let text = error.to_string();
    written(&Reply::Error { text })
}

/// A reply as a line; names in it are whatever the setup said.
fn written(reply: &Reply<'_>) -> Option<String> {
    let line = serde_json::to_string(reply).ok()?;
    Some(text::escaped_json(&line))
}

fn within_a_day(seconds: f64) -> Result<(), RehearseError> {
    if (0.0..=86_400.0).contains(&seconds) {
        Ok(())
    } else {
        Err(RehearseError::Range("seconds"))
    }
}

fn time(at: f64) -> Result<f64, RehearseError> {
    if at.abs() <= FARTHEST_DAY {
        Ok(at)
    } else {
        Err(RehearseError::Range("at"))
    }
}

#[expect(
    clippy::cast_possible_truncation,
    reason = "within 1e7 days, as checked"
)]
fn day_of(at: f64) -> Day {
    Day::from_number(at.floor() as i64)
}

#[expect(
    clippy::cast_possible_truncation,
    reason = "within 1e7 days, as checked"
)]
fn moment(at: f64, day: i64) -> Result<Moment, RehearseError> {
    if day.unsigned_abs() > 10_000_000 {
        return Err(RehearseError::Range("day"));
    }
    Ok(Moment {
        utc_ms: (time(at)? * 86_400_000.0).round() as i64,
        day: Day::from_number(day),
        offset_min: 0,
    })
}
