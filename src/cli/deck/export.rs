//! `luxate deck export`: a deck for another examination system, and an account of what stayed behind.

use std::io::Write;

use super::which::{self, Found};
use super::{say, sources};
use crate::cli::args::Export;
use crate::cli::session::Place;
use crate::cli::{DONE, FINDINGS, Failure};
use crate::edge::files::{self, NewFile};
use crate::interchange::qti;
use crate::text::Shown;

pub(super) fn export(
    place: &Place,
    how: &Export,
    out: &mut impl Write,
    err: &mut impl Write,
) -> Result<u8, Failure> {
    let Found::Deck(deck) = which::find(place, &how.deck, err)? else {
        return Ok(FINDINGS);
    };
    let qti::Export { files, report } = qti::export(&deck);
    if report.items == 0 {
        return Err(Failure::Told(format!(
            "nothing of {} can be exported, and no file was written: {}",
            Shown::new(&deck.id),
            qti::UNSCORED
        )));
    }
    let package = qti::archive(&files).map_err(|error| Failure::Told(error.to_string()))?;
    let mut new = vec![NewFile {
        path: how.qti.clone(),
        bytes: package,
    }];
    new.extend(how.names.clone().map(|path| NewFile {
        path,
        bytes: report.names_csv().into_bytes(),
    }));
    files::write(&new, how.force, &sources(place, &how.deck))?;
    let told = format!("{}: {report}", how.qti.to_string_lossy());
    for line in told.lines() {
        say(out, 2, line)?;
    }
    Ok(DONE)
}
