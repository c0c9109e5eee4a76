//! Decks on paper: a question sheet and a separate answer key, as standalone HTML or as `CommonMark`.
//!
//! [`forms`] draws the orders from a seed, [`print()`] writes one form. A page is first put together as plain values,
//! then written by one of two writers, which clean and escape every text: a deck cannot bring markup of its own. The question
//! sheet never tells what is right.

mod asked;
mod commonmark;
mod drawing;
mod form;
mod html;
mod key;
mod page;
mod question;
mod rules;

pub use form::{Entry, FORMS_MAX, Form, forms};

use crate::deck::model::{Deck, Item};
use crate::kinds::Pose;
use crate::words::counted;
use asked::{Asked, asked};
use page::{Labelled, Numbered, Page, Piece};

/// Stands on every page.
const STUDY_AID: &str = "This is a study aid and not clinical guidance. Take doses, drug choices and protocols from current labels and local guidance, \
and practise only within your licence.";

/// Which of the two papers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Paper {
    /// What the candidate gets.
    Questions,
    /// What the instructor keeps.
    Key,
}

/// How it is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Format {
    /// One standalone file without script, for A4 and Letter.
    Html,
    /// `CommonMark` 0.31.
    CommonMark,
}

/// One form of `deck` as a question sheet or an answer key. The same values give the same text.
#[must_use]
pub fn print(deck: &Deck, form: &Form, paper: Paper, format: Format) -> String {
    let page = match paper {
        Paper::Questions => questions(deck, form),
        Paper::Key => answers(deck, form),
    };
    match format {
        Format::Html => html::write(&page),
        Format::CommonMark => commonmark::write(&page),
    }
}

fn questions<'a>(deck: &'a Deck, form: &Form) -> Page<'a> {
    Page {
        role: "Question sheet",
        has_name_line: true,
        instructions: instructions(deck, form),
        entries: entries(deck, form, question::pieces),
        ..frame(deck, form)
    }
}

fn answers<'a>(deck: &'a Deck, form: &Form) -> Page<'a> {
    let mut page = frame(deck, form);
    page.role = "Answer key";
    page.facts
        .push(format!("Orders and numbers drawn from seed {}", form.seed));
    page.facts.push(format!("Licence: {}", deck.licence));
    page.glance = glance(deck, form);
    page.entries = entries(deck, form, |asked| key::pieces(deck, asked));
    page.references = references(deck, form);
    page
}

/// What both papers have in common.
fn frame<'a>(deck: &'a Deck, form: &Form) -> Page<'a> {
    Page {
        language: &deck.language,
        deck: format!("{}, edition {}", deck.id, deck.edition),
        title: &deck.title,
        role: "",
        form: form.letter,
        facts: vec![
            format!("Edition {}", deck.edition),
            counted(form.entries.len(), "question", "questions"),
        ],
        has_name_line: false,
        instructions: Vec::new(),
        glance: Vec::new(),
        entries: Vec::new(),
        references: Vec::new(),
    }
}

fn entries(deck: &Deck, form: &Form, pieces: impl Fn(&Asked<'_>) -> Vec<Piece>) -> Vec<Numbered> {
    asked(deck, form)
        .map(|asked| Numbered {
            number: asked.number.to_string(),
            pieces: pieces(&asked),
        })
        .collect()
}

/// Number and key of every question, those of a case part by part.
fn glance(deck: &Deck, form: &Form) -> Vec<Labelled> {
    let of = |label: String, item: &Item, pose: &Pose| Labelled {
        label,
        text: key::key(item, pose).answer,
    };
    let keys = asked(deck, form).flat_map(|asked| {
        let mut keys: Vec<Labelled> = asked
            .parts()
            .map(|(number, part, pose)| of(number, &part.item, pose))
            .collect();
        if keys.is_empty() {
            keys.push(of(asked.number.to_string(), asked.item, asked.pose));
        }
        keys
    });
    keys.collect()
}

/// How to answer the kinds that occur, in the order in which they first do.
fn instructions(deck: &Deck, form: &Form) -> Vec<Labelled> {
    let mut seen: Vec<Labelled> = Vec::new();
    for item in asked(deck, form).flat_map(|asked| asked.item.with_parts()) {
        let (name, text) = question::instruction(&item.body);
        if seen.iter().all(|known| known.label != name) {
            seen.push(Labelled {
                label: name.to_owned(),
                text: text.to_owned(),
            });
        }
    }
    seen
}

/// The sources that the printed items cite, in the deck's order.
fn references(deck: &Deck, form: &Form) -> Vec<Labelled> {
    let is_cited = |id: &str| {
        asked(deck, form)
            .flat_map(|asked| asked.item.with_parts())
            .any(|item| item.sources.iter().any(|cited| cited.source == id))
    };
    deck.sources
        .iter()
        .filter(|source| is_cited(&source.id))
        .map(|source| Labelled {
            label: source.id.clone(),
            text: source.cite.clone(),
        })
        .collect()
}
