//! `luxate rehearse`: the schedule with a simulated candidate. It opens no store and reads no clock.

use std::io::{self, Write};

use super::args::Rehearse;
use super::{DONE, Failure};
use crate::line::LineError;
use crate::line::input::{self, Input};
use crate::line::rehearse::Rehearsal;
use crate::memory::simulate::{self, Model, Played, Preparation};

/// Share of days on which a built-in candidate does not study after all.
const MISSED: f64 = 0.1;

pub(super) fn rehearse(how: &Rehearse, out: &mut impl Write) -> Result<u8, Failure> {
    match &how.candidate {
        Some(name) => demonstrate(name, how, out),
        None => lines(out),
    }
}

/// Answers JSON Lines until a quit line or the end of the input.
fn lines(out: &mut impl Write) -> Result<u8, Failure> {
    let mut reader = io::stdin().lock();
    let mut rehearsal = Rehearsal::default();
    while !rehearsal.is_finished() {
        let reply = match input::next(&mut reader).map_err(LineError::Read)? {
            Input::Line(line) => rehearsal.line(&line),
            Input::TooLong => rehearsal.too_long(),
            Input::End => break,
        };
        if let Some(reply) = reply {
            writeln!(out, "{reply}")?;
            out.flush()?;
        }
    }
    Ok(DONE)
}

fn demonstrate(name: &str, how: &Rehearse, out: &mut impl Write) -> Result<u8, Failure> {
    let model = Model::parse(name).ok_or_else(|| {
        let names: Vec<&str> = Model::ALL.iter().map(|model| model.word()).collect();
        Failure::Told(format!(
            "there is no candidate {name:?}; the candidates: {}",
            names.join(", ")
        ))
    })?;
    let preparation = Preparation {
        model,
        days: how.days,
        items: how.items,
        minutes: f64::from(how.minutes),
        missed: MISSED,
        exam_known: !how.no_exam,
        seed: how.seed,
    };
    let played: Played = simulate::play(&preparation);
    write!(out, "{played}")?;
    if let Some(end) = played.end() {
        writeln!(
            out,
            "in the end: {:.1}% of the exam recalled, expected score {:.1}%, {} of {} items met",
            100.0 * end.recall,
            100.0 * end.score,
            end.met,
            how.items
        )?;
    }
    Ok(DONE)
}
