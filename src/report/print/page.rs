//! A page before it is HTML or `CommonMark`: what stands on it, in order.
//!
//! Texts are as written in the deck; the two writers clean and escape them. No markup here.

use std::sync::Arc;

use crate::figure::model::Figure;
use crate::figure::picture::Overlay;

/// A question sheet or an answer key.
#[derive(Debug)]
pub(super) struct Page<'a> {
    /// Language tag of the deck's texts; our own words are English.
    pub(super) language: &'a str,
    /// Id and edition of the deck, by which loose sheets find their way back.
    pub(super) deck: String,
    /// The deck's title.
    pub(super) title: &'a str,
    /// What this page is, such as `Question sheet`.
    pub(super) role: &'static str,
    /// Letter of the form.
    pub(super) form: char,
    /// Edition, number of items and the like, one line each.
    pub(super) facts: Vec<String>,
    /// Whether there are lines for the candidate's name and the date.
    pub(super) has_name_line: bool,
    /// How to answer, one entry a kind that occurs.
    pub(super) instructions: Vec<Labelled>,
    /// Keys at a glance: number of the question and key.
    pub(super) glance: Vec<Labelled>,
    /// The questions.
    pub(super) entries: Vec<Numbered>,
    /// Full references of the sources cited.
    pub(super) references: Vec<Labelled>,
}

/// A question or its key.
#[derive(Debug)]
pub(super) struct Numbered {
    /// From `1`; parts of a case are `4.1`, `4.2` and so on.
    pub(super) number: String,
    /// What stands under the number.
    pub(super) pieces: Vec<Piece>,
}

/// A text with what it is called by.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Labelled {
    /// Such as `b`.
    pub(super) label: String,
    /// What it says.
    pub(super) text: String,
}

/// What can stand under a number.
#[derive(Debug)]
pub(super) enum Piece {
    /// The deck's own text; a blank line starts a new paragraph.
    Text(String),
    /// How to answer, in our words.
    Cue(&'static str),
    /// A drawing, left out where nothing can be drawn.
    Drawing(Box<Drawing>),
    /// Lettered options.
    Options(Tick, Vec<Labelled>),
    /// Lefts with a blank each, and the rights to choose from.
    Pairs {
        /// What is given.
        lefts: Vec<Labelled>,
        /// What to choose from.
        rights: Vec<Labelled>,
    },
    /// So many short blanks in a row, for letters.
    Blanks(usize),
    /// A line to write a term on.
    WritingLine,
    /// A line to write a number on, with its unit.
    NumberLine(Option<String>),
    /// The key, in the letters of this form.
    Key(String),
    /// Option by option, with the reasons.
    Reasons(Vec<Reason>),
    /// What could go wrong for a patient.
    Caution(String),
    /// A short remark with its heading, such as the sources.
    Remark(&'static str, String),
    /// A part of a case, numbered within it.
    Part(Numbered),
}

/// A figure with what is laid over it.
#[derive(Debug)]
pub(super) struct Drawing {
    pub(super) figure: Arc<Figure>,
    pub(super) overlay: Overlay,
    /// What its lines are; empty if that needs no words.
    pub(super) caption: String,
}

/// How an option is ticked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Tick {
    /// One of them.
    One,
    /// One of them, by its letter in the drawing; in words only where nothing is drawn.
    Drawn,
    /// Any number of them.
    Several,
    /// Not at all: its letter is written elsewhere.
    Elsewhere,
}

/// Why an option stands where it does.
#[derive(Debug)]
pub(super) struct Reason {
    /// Its letter, letter and number, or nothing.
    pub(super) label: String,
    /// What it says.
    pub(super) text: String,
    /// `right`, `wrong` and the like; empty where all are right.
    pub(super) verdict: &'static str,
    /// The deck's reason; empty if it gives none.
    pub(super) why: String,
}

/// Entries labelled one after the other: `a`, `b` or `1`, `2`.
pub(super) fn labelled(texts: Vec<String>, name: fn(usize) -> String) -> Vec<Labelled> {
    texts
        .into_iter()
        .enumerate()
        .map(|(place, text)| Labelled {
            label: name(place),
            text,
        })
        .collect()
}
