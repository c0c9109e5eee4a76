//! Decks: from bytes to a checked model.
//!
//! Hygiene makes text of bytes, the YAML tree gives every value its place, the reader makes the model and lists
//! every problem, the checks look for flaws in the writing. Nothing here opens a file or prints, and no
//! input makes it panic or take more than its share of time and memory.

mod check;
pub mod fingerprint;
mod hygiene;
pub mod library;
pub mod model;
mod read;
pub mod terms;
mod yaml;

pub use hygiene::CAP;

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

/// Reads and checks a deck. `name` is how the file is spoken of.
#[must_use]
pub fn read_deck(name: &str, bytes: &[u8]) -> Reading {
    let mut found = Diagnostics::default();
    let hygiene::Clean { source, can_parse } = hygiene::clean(name, bytes, &mut found);
    let deck = if can_parse {
        parse(&source, &mut found)
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

fn parse(source: &SourceFile, found: &mut Diagnostics) -> Option<Deck> {
    let tree = yaml::parse(source, found)?;
    let draft = read::read(source, &tree, found);
    if !found.has_errors()
        && let Some(disagreement) = yaml::agree(source, &tree)
    {
        found.push(disagreement);
    }
    check::check(source, &draft, found);
    let is_sound = !found.has_errors();
    draft.finish().filter(|_| is_sound)
}
