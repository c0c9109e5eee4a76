//! Decks for other examination systems: items, a test and a manifest in 1EdTech QTI 3.0 XML (final release 2022).
//!
//! [`export`] makes the files and the report of what the standard has no place for, [`archive`] puts the files into one
//! zip. The same deck gives the same bytes. Nothing here reads the format, and nothing claims conformance.

mod archive;
mod explain;
mod item;
mod manifest;
mod names;
mod plan;
mod report;
mod test;
mod xml;

pub use archive::{ArchiveError, archive};
pub use report::{LeftBehind, Name, Report, UNSCORED};

use self::plan::{asked, is_exported};
use crate::deck::model::{Deck, Item};
use crate::figure::picture::Overlay;
use crate::figure::svg::svg;

/// A deck as a package.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Export {
    /// The files, sorted by name.
    pub files: Vec<File>,
    /// What stayed behind, and which identifier became of which id.
    pub report: Report,
}

/// A file of a package.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct File {
    /// Relative path with `/`.
    pub name: String,
    /// What is in it.
    pub bytes: Vec<u8>,
}

/// `deck` as files of a QTI 3.0 package.
#[must_use]
pub fn export(deck: &Deck) -> Export {
    let mut files = vec![
        File {
            name: names::MANIFEST_FILE.to_owned(),
            bytes: manifest::document(deck),
        },
        File {
            name: names::TEST_FILE.to_owned(),
            bytes: test::document(deck),
        },
    ];
    let items = deck.items.iter().filter(|item| is_exported(item));
    for (place, item) in items.enumerate() {
        let (identifier, title) = (names::item(deck, item), names::title(deck, place));
        files.push(File {
            name: names::item_file(deck, item),
            bytes: item::document(deck, item, &identifier, &title),
        });
        files.extend(drawings(deck, item));
    }
    files.sort_by(|one, other| one.name.cmp(&other.name));
    Export {
        files,
        report: report::report(deck),
    }
}

/// What is drawn for an item, a file a question.
fn drawings(deck: &Deck, item: &Item) -> Vec<File> {
    let overlay = Overlay {
        letters: true,
        ..Overlay::default()
    };
    let questions = asked(item).into_iter();
    let drawn = questions.filter_map(|question| Some((question.part, question.plan.drawing?)));
    drawn
        .map(|(part, figure)| File {
            name: names::drawing_file(&names::drawing(deck, item, part)),
            bytes: svg(&figure, &overlay).into_bytes(),
        })
        .collect()
}
