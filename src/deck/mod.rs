//! Decks: from bytes to a checked model.
//!
//! Hygiene makes text of bytes, the YAML tree gives every value its place, the reader makes the model and lists
//! every problem, the checks look for flaws in the writing. Nothing here opens a file or prints, and no
//! input makes it panic or take more than its share of time and memory.

mod check;
pub mod expression;
mod fingerprint;
mod hygiene;
pub mod library;
pub mod model;
pub mod numeric;
mod read;
pub mod terms;
pub mod unit;
mod yaml;

pub use fingerprint::fingerprint;
pub use hygiene::CAP;
use read::Trial;

use crate::diagnostic::Diagnostics;
use crate::source::SourceFile;
use model::Deck;

/// What came of reading a deck.
#[derive(Clone, Debug)]
pub struct Reading {
    /// The text that places refer to.
    pub source: SourceFile,
    /// The deck; there only if it has no errors.
    pub deck: Option<Deck>,
    /// Every problem, sorted by place.
    pub diagnostics: Diagnostics,
}

/// Reads and checks a deck, computed numbers thoroughly. `name` is how the file is spoken of.
#[must_use]
pub fn read_deck(name: &str, bytes: &[u8]) -> Reading {
    read_deck_with(name, bytes, Trial::Thorough)
}

/// Reads and checks a deck that was checked before, without spending long on its computed numbers.
#[must_use]
pub fn reread_deck(name: &str, bytes: &[u8]) -> Reading {
    read_deck_with(name, bytes, Trial::Brief)
}

fn read_deck_with(name: &str, bytes: &[u8], trial: Trial) -> Reading {
    let mut found = Diagnostics::default();
    let hygiene::Clean { source, can_parse } = hygiene::clean(name, bytes, &mut found);
    let deck = if can_parse {
        parse(&source, trial, &mut found)
    } else {
        None
    };
    found.settle();
    Reading {
        source,
        deck,
        diagnostics: found,
    }
}

fn parse(source: &SourceFile, trial: Trial, found: &mut Diagnostics) -> Option<Deck> {
    let tree = yaml::parse(source, found)?;
    let draft = read::read(source, &tree, trial, found);
    if !found.has_errors()
        && let Some(disagreement) = yaml::agree(source, &tree)
    {
        found.push(disagreement);
    }
    check::check(source, &draft, found);
    let is_sound = !found.has_errors();
    draft.finish().filter(|_| is_sound)
}
