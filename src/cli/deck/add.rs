//! `luxate deck add`: a deck of one's own beside the built-in ones.

use std::io::Write;
use std::path::Path;

use super::{say, told, which};
use crate::cli::complain;
use crate::cli::session::Place;
use crate::cli::{DONE, FINDINGS, Failure};
use crate::deck::Reading;
use crate::deck::diff::diff as changes_between;
use crate::deck::model::Deck;
use crate::edge::clock::Clock;
use crate::edge::decks;
use crate::report::changes;
use crate::report::topics::{Clash, clashes};
use crate::words::counted;

/// Adds a deck, or a new edition of one.
pub(super) fn add(
    place: &Place,
    path: &Path,
    out: &mut impl Write,
    err: &mut impl Write,
) -> Result<u8, Failure> {
    let reading = which::read(path)?;
    let Reading {
        source,
        deck: Some(deck),
        diagnostics,
        ..
    } = reading
    else {
        write!(err, "{}", told(&reading.source, &reading.diagnostics))?;
        complain(
            err,
            "the deck has errors and was not added; nothing was changed",
        )?;
        return Ok(FINDINGS);
    };
    let today = Clock::from_environment(place.turnover)?.now().day;
    // A day more: it may have been made where the date is later than here.
    if deck.edition > today.plus(1) {
        return Err(Failure::Told(format!(
            "the edition {} of {} lies ahead of today, {today}, and would shut out every edition until then; write the day on \
             which it was made after edition: and add it again; nothing was changed",
            deck.edition, deck.id
        )));
    }
    let data = place.data()?;
    let built_in = decks::built_in();
    if built_in.iter().any(|known| known.id == deck.id) {
        return Err(Failure::Told(format!(
            "there is a built-in deck with the id {}; give this one another id",
            deck.id
        )));
    }
    let before = decks::added(&data, &built_in)?
        .decks
        .into_iter()
        .find(|known| known.id == deck.id);
    if let Some(before) = &before {
        if *before == deck {
            let (id, edition) = (&deck.id, deck.edition);
            say(
                out,
                0,
                &format!(
                    "{id}, edition {edition}, is here already, the same in all; nothing was changed"
                ),
            )?;
            return Ok(DONE);
        }
        refuse(before, &deck)?;
    }
    decks::keep(&data, &deck, source.text())?;
    let warnings = diagnostics.counts();
    let Deck {
        id, edition, items, ..
    } = &deck;
    writeln!(
        out,
        "added {id}, edition {edition}, {}",
        counted(items.len(), "item", "items")
    )?;
    if let Some(before) = &before {
        for line in changes::lines(before, &deck, &changes_between(before, &deck)) {
            say(out, 2, &line)?;
        }
    }
    let all = place.library(err)?;
    let of_this = |clash: &Clash| clash.first == *id || clash.other == *id;
    for clash in clashes(all.decks()).into_iter().filter(of_this) {
        say(out, 2, &clash.told)?;
    }
    if warnings.total() > 0 {
        let path = path.to_string_lossy();
        let advice = if warnings.advice > 0 { "--advice " } else { "" };
        let told = format!("the checker has {warnings}: luxate deck check {advice}{path}");
        say(out, 2, &told)?;
    }
    Ok(DONE)
}

/// Refuses what cannot be a later edition of a deck that is here.
fn refuse(before: &Deck, deck: &Deck) -> Result<(), Failure> {
    if before.edition > deck.edition {
        return Err(Failure::Told(format!(
            "{id} is here in edition {}, and this file is the older edition {}; nothing was changed; to have this one in its \
             place, luxate deck remove {id} and then add it again: answers are kept",
            before.edition,
            deck.edition,
            id = deck.id
        )));
    }
    let is_known = |id: &str| before.items.iter().any(|item| item.id == id);
    if !deck.items.iter().any(|item| is_known(&item.id)) {
        return Err(Failure::Told(format!(
            "another deck with the id {id} is here, \"{title}\", and has no item in common with this one; give this one another \
             id, or take the other out with luxate deck remove {id}",
            id = deck.id,
            title = before.title
        )));
    }
    Ok(())
}
