//! Decks: from bytes to a checked model.
//!
//! Hygiene makes text of bytes, the YAML tree gives every value its place, the reader makes the model and lists
//! every problem, the checks look for flaws in the writing. Nothing here opens a file or prints, and no
//! input makes it panic or take more than its share of time and memory.

mod check;
pub mod diff;
mod explain;
pub mod expression;
mod fingerprint;
mod hygiene;
pub mod library;
pub mod model;
pub mod numeric;
mod read;
mod schema;
pub mod skeleton;
pub mod terms;
pub mod unit;
mod yaml;

pub use explain::{Explanation, explain, explanations};
pub use fingerprint::fingerprint;
pub use hygiene::CAP;
pub use schema::schema;

pub use check::{Outline, Settings, across};
use read::{Manner, Trial};

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
    /// What [`across`] compares with other decks.
    pub outline: Outline,
}

/// Reads and checks a deck, computed numbers thoroughly. `name` is how the file is spoken of.
#[must_use]
pub fn read_deck(name: &str, bytes: &[u8]) -> Reading {
    read_with(name, bytes, Settings::default(), Manner::default())
}

/// Reads and checks a deck, or a file that is one diagram and no deck, by other limits than the usual ones. Of a
/// diagram comes no deck, whether it is sound or not.
#[must_use]
pub fn read_any(name: &str, bytes: &[u8], settings: Settings) -> Reading {
    let manner = Manner {
        takes_diagram: true,
        ..Manner::default()
    };
    read_with(name, bytes, settings, manner)
}

/// Reads and checks a deck that was checked before, without spending long on its computed numbers.
#[must_use]
pub fn reread_deck(name: &str, bytes: &[u8]) -> Reading {
    let manner = Manner {
        trial: Trial::Brief,
        ..Manner::default()
    };
    read_with(name, bytes, Settings::default(), manner)
}

fn read_with(name: &str, bytes: &[u8], settings: Settings, manner: Manner) -> Reading {
    let mut found = Diagnostics::default();
    let hygiene::Clean { source, can_parse } = hygiene::clean(name, bytes, &mut found);
    let (deck, outline) = if can_parse {
        parse(&source, settings, manner, &mut found).unwrap_or_default()
    } else {
        (None, Outline::default())
    };
    found.settle();
    Reading {
        source,
        deck,
        diagnostics: found,
        outline,
    }
}

fn parse(
    source: &SourceFile,
    settings: Settings,
    manner: Manner,
    found: &mut Diagnostics,
) -> Option<(Option<Deck>, Outline)> {
    let tree = yaml::parse(source, found)?;
    let draft = read::read(source, &tree, manner, found);
    let outline = check::check(source, &draft, settings, found);
    let is_sound = !found.has_errors();
    Some((draft.finish().filter(|_| is_sound), outline))
}
