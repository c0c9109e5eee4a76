//! Responses: read from the ids a face shows, and refused where they do not fit the question.

use thiserror::Error;

use super::{Form, Response, flap, letter, number, typed_number};

/// Longest typed answer that is looked at, in characters. The longest term in the decks has under 60.
const TYPED_MAX: usize = 200;

/// Why a response cannot be marked. The question stays open.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum Unfit {
    /// Nothing was chosen, or more than one where one is asked for.
    #[error("choose exactly one option, such as {0}")]
    NotOne(String),
    /// Nothing was chosen.
    #[error("choose at least one option; several may be right")]
    NoneChosen,
    /// An id that is not on the screen.
    #[error("there is no {id} here; the ids are {known}")]
    Unknown {
        /// What was given.
        id: String,
        /// What there is.
        known: String,
    },
    /// The same id twice.
    #[error("{0} is named twice")]
    Twice(String),
    /// Steps are missing.
    #[error("name every step once, first step first: {expected} letters, such as {example}")]
    NotAll {
        /// How many there are.
        expected: usize,
        /// What a complete response looks like.
        example: String,
    },
    /// Lefts are missing.
    #[error("give every letter a number, such as {0}")]
    NotPaired(String),
    /// Nothing was typed.
    #[error("type a term")]
    Empty,
    /// Far too much was typed.
    #[error("an answer has at most {TYPED_MAX} characters")]
    TooLong,
    /// No number, or more than one.
    #[error("type one plain number, such as 3 or 2.5, without a sum, a range or a power")]
    NotANumber,
    /// A fraction.
    #[error("write the fraction as a decimal number, such as 0.5")]
    Fraction,
    /// A comma that may part thousands or decimals.
    #[error("type {whole} or {decimal}; {typed} can be read as either")]
    TwoReadings {
        /// What was typed.
        typed: String,
        /// With the comma between thousands.
        whole: String,
        /// With the comma before decimals.
        decimal: String,
    },
    /// A unit that is not known here.
    #[error("type the number alone or in {unit}; {typed} is no unit known here")]
    UnknownUnit {
        /// What was typed.
        typed: String,
        /// The unit of the answer.
        unit: String,
    },
    /// A unit where none belongs.
    #[error("type the number alone, without {0}")]
    NoUnit(String),
    /// The item's own numbers do not work out.
    #[error("stop here and mend the deck: the numbers of this question do not work out")]
    Unsound,
    /// No flap design, or one that cannot be laid on the case.
    #[error("give a design, such as 4ml r10@20 .. 6dl; {0}")]
    NotADesign(String),
    /// No question is open.
    #[error("no question waits for an answer")]
    NothingAsked,
    /// A response of another kind.
    #[error("this response is for another kind of question")]
    OtherKind,
}

/// Reads a response from the ids shown, one entry an id: `["b"]`, `["a", "d"]`, `["c", "a", "b"]`, `["a2", "b1"]`, or one
/// entry of typed text or of a number with or without its unit. Case and surrounding spaces do not matter.
///
/// # Errors
/// [`Unfit`], which says what to give instead.
pub fn read(form: &Form, ids: &[impl AsRef<str>]) -> Result<Response, Unfit> {
    let ids: Vec<&str> = ids.iter().map(|id| id.as_ref().trim()).collect();
    let response = match form {
        Form::One(options) | Form::Several(options) => {
            Response::Chosen(places(&ids, options.len())?)
        }
        Form::Places(figure) => Response::Chosen(places(&ids, figure.places.len())?),
        Form::Sequence(steps) => Response::Sequence(places(&ids, steps.len())?),
        Form::Pairs { lefts, rights } => {
            let mut chosen: Vec<Option<usize>> = vec![None; lefts.len()];
            for id in &ids {
                let mut rest = id.chars();
                let left = rest
                    .next()
                    .map(|first| first.to_string())
                    .unwrap_or_default();
                let right = rest.as_str().trim_start_matches([' ', '-', '=', ':']);
                if left.is_empty() || right.is_empty() {
                    let example = pairs_example(lefts.len(), rights.len());
                    return Err(Unfit::NotPaired(example));
                }
                let left = place(&left, lefts.len(), letter)?;
                let right = place(right, rights.len(), number)?;
                if chosen[left].replace(right).is_some() {
                    return Err(Unfit::Twice(letter(left)));
                }
            }
            let complete: Option<Vec<usize>> = chosen.into_iter().collect();
            Response::Pairs(
                complete
                    .ok_or_else(|| Unfit::NotPaired(pairs_example(lefts.len(), rights.len())))?,
            )
        }
        Form::Typed | Form::Number { .. } => Response::Typed(ids.join(" ")),
        Form::Flap(_) => Response::Design(flap::read(&ids.join(" "))?),
    };
    check(form, &response)?;
    Ok(response)
}

/// Whether a response can be given to a question of this form.
pub(super) fn check(form: &Form, response: &Response) -> Result<(), Unfit> {
    match (form, response) {
        (Form::One(options), Response::Chosen(places)) => one(places, options.len()),
        (Form::Flap(case), Response::Design(design)) => flap::check(case, design),
        (Form::Places(figure), Response::Chosen(places)) => one(places, figure.places.len()),
        (Form::Several(options), Response::Chosen(places)) => {
            within(places, options.len(), letter)?;
            once(places)?;
            if places.is_empty() {
                Err(Unfit::NoneChosen)
            } else {
                Ok(())
            }
        }
        (Form::Sequence(steps), Response::Sequence(places)) => {
            within(places, steps.len(), letter)?;
            once(places)?;
            if places.len() == steps.len() {
                Ok(())
            } else {
                let example: Vec<String> = (0..steps.len()).rev().map(letter).collect();
                Err(Unfit::NotAll {
                    expected: steps.len(),
                    example: example.join(" "),
                })
            }
        }
        (Form::Pairs { lefts, rights }, Response::Pairs(places)) => {
            within(places, rights.len(), number)?;
            if places.len() == lefts.len() {
                Ok(())
            } else {
                Err(Unfit::NotPaired(pairs_example(lefts.len(), rights.len())))
            }
        }
        (Form::Typed, Response::Typed(text)) => match text.trim() {
            "" => Err(Unfit::Empty),
            text if text.chars().count() > TYPED_MAX => Err(Unfit::TooLong),
            _ => Ok(()),
        },
        (Form::Number { unit, also }, Response::Typed(text)) => {
            if text.chars().count() > TYPED_MAX {
                return Err(Unfit::TooLong);
            }
            typed_number::read(text, unit.as_deref(), also).map(drop)
        }
        _ => Err(Unfit::OtherKind),
    }
}

fn one(places: &[usize], len: usize) -> Result<(), Unfit> {
    within(places, len, letter)?;
    if places.len() == 1 {
        Ok(())
    } else {
        Err(Unfit::NotOne(letter(0)))
    }
}

fn places(ids: &[&str], len: usize) -> Result<Vec<usize>, Unfit> {
    ids.iter().map(|id| place(id, len, letter)).collect()
}

fn place(id: &str, len: usize, name: fn(usize) -> String) -> Result<usize, Unfit> {
    let id = id.to_ascii_lowercase();
    (0..len)
        .find(|&place| name(place) == id)
        .ok_or_else(|| Unfit::Unknown {
            id,
            known: known(len, name),
        })
}

fn within(places: &[usize], len: usize, name: fn(usize) -> String) -> Result<(), Unfit> {
    match places.iter().find(|&&place| place >= len) {
        Some(&place) => Err(Unfit::Unknown {
            id: name(place),
            known: known(len, name),
        }),
        None => Ok(()),
    }
}

fn once(places: &[usize]) -> Result<(), Unfit> {
    let twice = places
        .iter()
        .enumerate()
        .find(|&(seen, place)| places[..seen].contains(place));
    twice.map_or(Ok(()), |(_, &place)| Err(Unfit::Twice(letter(place))))
}

fn known(len: usize, name: fn(usize) -> String) -> String {
    format!("{} to {}", name(0), name(len.saturating_sub(1)))
}

fn pairs_example(lefts: usize, rights: usize) -> String {
    let pairs: Vec<String> = (0..lefts)
        .map(|left| letter(left) + number((left + 1) % rights.max(1)).as_str())
        .collect();
    pairs.join(" ")
}
