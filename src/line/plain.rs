//! A round as plain lines: no cursor moves, no boxes, nothing drawn twice.
//!
//! Made for screen readers, plain terminals and slow links. Everything is said in words and in order; every prompt
//! says what may be typed.

use std::io::{BufRead, Write};

use super::LineError;
use super::flap;
use super::input::{self, Input};
use super::pause::pause;
use super::spoken::{say, say_ask, say_closing, say_reveal};
use crate::answer::Confidence;
use crate::kinds::{self, Form, Response, Unfit};
use crate::round::{Ask, Closing, Desk, Phase, Round};
use crate::text::Shown;
use crate::words::sentence;

pub(super) const HELP: &str = "\
Answer with the letters shown, such as b. Where several may be right, name them all: a c. For an order, name every \
letter, first step first: c a b. For pairs, give each letter a number: a2 b1. A term is typed as it is, a number with or without its unit. A flap is asked step by step: how deep below the necks it is cut, then each \
end by tooth and point, such as 4 ml, and its release by length and slant, such as 10 20. Then say how sure you are: guessing, \
likely or certain. In a terminal Enter goes on after the reveal, and query writes a remark on the item for its instructor. \
Other words: repeat says the question or the reveal again, back leaves the confidence and asks for the answer anew, \
stop ends the round. Every answer whose reveal you heard is kept.";

/// What a prompt brought.
pub(super) enum Said {
    Text(String),
    Stop,
}

/// Whether the round waits after a reveal.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pace {
    /// A person reads: the next question comes when they want it, and its seconds begin then.
    Waits,
    /// Input is piped: nothing is waited for, and no query can be written.
    GoesOn,
}

/// Plays `round` to its end and says how it closed.
///
/// # Errors
/// [`LineError`] if the input or the output fails; what was answered is stored by then.
pub fn play(
    round: &mut Round,
    desk: &mut dyn Desk,
    pace: Pace,
    reader: &mut impl BufRead,
    writer: &mut impl Write,
) -> Result<Closing, LineError> {
    writeln!(writer, "Type help at any prompt to hear what may be typed.")?;
    loop {
        match round.phase().clone() {
            Phase::Asking(ask) => {
                say_ask(writer, round, &ask)?;
                let started = desk.elapsed();
                match hear_answer(reader, writer, round, &ask)? {
                    Some((response, confidence)) => {
                        let seconds = desk.elapsed() - started;
                        let (now, id) = (desk.now(), desk.answer_id());
                        if let Err(unfit) = round.answer(&response, confidence, seconds, now, id) {
                            say(writer, &format!("That was not taken: {unfit}."))?;
                        }
                    }
                    None => round.stop(),
                }
            }
            Phase::Storing(given) => match desk.store(&given.answer) {
                Ok(()) => round.stored(),
                Err(trouble) => {
                    round.not_stored();
                    say(writer, &format!("Your answer is not stored: {trouble}"))?;
                    say(writer, "Answer again when that is mended, or type stop.")?;
                }
            },
            Phase::Revealed(reveal) => {
                say_reveal(writer, round, &reveal, false)?;
                if pace == Pace::GoesOn || pause(round, &reveal, desk, reader, writer)? {
                    round.go_on(desk.now());
                } else {
                    round.stop();
                }
            }
            Phase::Closed(closing) => {
                say_closing(writer, round, &closing)?;
                return Ok(closing);
            }
        }
    }
}

/// Says the open question, or the reveal of its key, of a round that is not played but shown.
///
/// # Errors
/// [`LineError`] if the output fails.
pub fn show(round: &Round, writer: &mut impl Write) -> Result<(), LineError> {
    match round.phase() {
        Phase::Asking(ask) => say_ask(writer, round, ask),
        Phase::Revealed(reveal) => say_reveal(writer, round, reveal, true),
        Phase::Storing(_) | Phase::Closed(_) => Ok(()),
    }
}

/// Asks until there is an answer with its confidence; `None` to stop.
fn hear_answer(
    reader: &mut impl BufRead,
    writer: &mut impl Write,
    round: &Round,
    ask: &Ask,
) -> Result<Option<(Response, Confidence)>, LineError> {
    let form = &ask.question.form;
    loop {
        let response = if let Form::Flap(case) = form {
            flap::hear_design(reader, writer, round, ask, case)?
        } else {
            hear_response(reader, writer, round, ask)?
        };
        let Some(response) = response else {
            return Ok(None);
        };
        loop {
            let prompt = "How sure are you: guessing, likely or certain?";
            let Said::Text(text) = hear(reader, writer, prompt, round, ask)? else {
                return Ok(None);
            };
            let word = text.to_lowercase();
            if word == "back" {
                break;
            }
            let level = Confidence::ALL
                .into_iter()
                .find(|level| !word.is_empty() && level.word().starts_with(&word));
            if let Some(confidence) = level {
                return Ok(Some((response, confidence)));
            }
            say(
                writer,
                "Please say guessing, likely or certain; the first letter will do. Type back to answer anew.",
            )?;
        }
    }
}

/// Asks until there is an answer that fits; `None` to stop.
fn hear_response(
    reader: &mut impl BufRead,
    writer: &mut impl Write,
    round: &Round,
    ask: &Ask,
) -> Result<Option<Response>, LineError> {
    let form = &ask.question.form;
    loop {
        let Said::Text(text) = hear(reader, writer, &answer_prompt(form), round, ask)? else {
            return Ok(None);
        };
        match read_response(form, &text) {
            Ok(response) => return Ok(Some(response)),
            Err(unfit) => say(writer, &sentence(&unfit.to_string()))?,
        }
    }
}

/// One prompt, answered; help and repeat are dealt with here.
pub(super) fn hear(
    reader: &mut impl BufRead,
    writer: &mut impl Write,
    prompt: &str,
    round: &Round,
    ask: &Ask,
) -> Result<Said, LineError> {
    loop {
        let Some(text) = line(reader, writer, prompt)? else {
            return Ok(Said::Stop);
        };
        match text.to_lowercase().as_str() {
            "stop" => return Ok(Said::Stop),
            "help" => say(writer, HELP)?,
            "repeat" => say_ask(writer, round, ask)?,
            _ => return Ok(Said::Text(text)),
        }
    }
}

/// One line typed at a prompt; `None` at the end of the input.
pub(super) fn line(
    reader: &mut impl BufRead,
    writer: &mut impl Write,
    prompt: &str,
) -> Result<Option<String>, LineError> {
    loop {
        write!(writer, "{prompt} ")?;
        writer.flush()?;
        match input::next(reader).map_err(LineError::Read)? {
            Input::End => {
                writeln!(writer)?;
                return Ok(None);
            }
            Input::TooLong => say(writer, "That line was too long.")?,
            Input::Line(text) => return Ok(Some(text.trim().to_owned())),
        }
    }
}

fn answer_prompt(form: &Form) -> String {
    let last = |len: usize| kinds::letter(len.saturating_sub(1));
    match form {
        Form::One(options) => format!("Your answer, a to {}:", last(options.len())),
        Form::Several(options) => format!("All that apply, a to {}:", last(options.len())),
        Form::Sequence(steps) => format!(
            "The order, first step first, all of a to {}:",
            last(steps.len())
        ),
        Form::Pairs { lefts, rights } => {
            format!(
                "A number from 1 to {} for each of a to {}:",
                rights.len(),
                last(lefts.len())
            )
        }
        Form::Typed => "Your answer, a term of one to three words:".to_owned(),
        Form::Number {
            unit: Some(unit), ..
        } => format!("Your answer, a number in {}:", Shown::new(unit)),
        Form::Number { unit: None, .. } => "Your answer, a number:".to_owned(),
        Form::Flap(_) => "Your design:".to_owned(),
        Form::Places(figure) => {
            format!("The place, a to {}:", last(figure.places.len()))
        }
    }
}

/// Reads `b`, `a c`, `ac`, `a, c`, `a2 b1` or a term.
fn read_response(form: &Form, text: &str) -> Result<Response, Unfit> {
    let packed = || {
        text.chars()
            .filter(|c| !c.is_whitespace() && !",;.)".contains(*c))
    };
    let ids: Vec<String> = match form {
        Form::Typed | Form::Number { .. } | Form::Flap(_) => vec![text.to_owned()],
        Form::Pairs { .. } => {
            let mut pairs: Vec<String> = Vec::new();
            // A range such as a-c is none of letters: there the signs are told as what they are.
            for character in packed().filter(|c| !"-=:".contains(*c)) {
                match pairs.last_mut() {
                    Some(pair) if character.is_ascii_digit() => pair.push(character),
                    _ => pairs.push(character.to_string()),
                }
            }
            pairs
        }
        Form::One(_) | Form::Several(_) | Form::Sequence(_) | Form::Places(_) => {
            packed().map(String::from).collect()
        }
    };
    kinds::read(form, &ids)
}
