//! `luxate deck print`: question sheets and answer keys, form by form, as files to print.

use std::io::Write;

use super::which::{self, Found};
use crate::cli::args::Print;
use crate::cli::session::Place;
use crate::cli::{DONE, FINDINGS, Failure};
use crate::edge::files::{self, NewFile};
use crate::report::print::{self, Format, Paper};
use crate::text::Shown;

pub(super) fn print(
    place: &Place,
    how: &Print,
    out: &mut impl Write,
    err: &mut impl Write,
) -> Result<u8, Failure> {
    let Found::Deck(deck) = which::find(place, &how.deck, err)? else {
        return Ok(FINDINGS);
    };
    let (format, extension) = if how.commonmark {
        (Format::CommonMark, "md")
    } else {
        (Format::Html, "html")
    };
    let mut files = Vec::new();
    for form in print::forms(&deck, how.seed, how.forms) {
        let letter = form.letter.to_ascii_lowercase();
        for (paper, word) in [(Paper::Questions, "questions"), (Paper::Key, "key")] {
            // The reader admits lower-case letters, digits and hyphens only, so an id is always a plain file name.
            let name = format!("{}-{letter}-{word}.{extension}", deck.id);
            files.push(NewFile {
                path: how.to.join(name),
                bytes: print::print(&deck, &form, paper, format).into_bytes(),
            });
        }
    }
    files::write(&files, &how.deck, how.force)?;
    for file in &files {
        writeln!(out, "{}", Shown::new(&file.path.to_string_lossy()))?;
    }
    Ok(DONE)
}
