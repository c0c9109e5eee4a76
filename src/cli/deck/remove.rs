//! `luxate deck remove`: takes an added deck out of use. Answers stay.

use std::io::Write;

use crate::cli::session::Place;
use crate::cli::{DONE, Failure};
use crate::edge::decks::{self, Removed};

/// Removes an added deck.
pub(super) fn remove(place: &Place, id: &str, out: &mut impl Write) -> Result<u8, Failure> {
    if decks::built_in().iter().any(|deck| deck.id == id) {
        return Err(Failure::Told(format!(
            "{id} is built in and stays; only decks that were added can be removed"
        )));
    }
    match decks::remove(&place.data()?, id)? {
        Removed::Done => {
            let told = format!(
                "removed {id}; answers to its items are kept and count again if it is added again"
            );
            super::say(out, 2, &told)?;
            Ok(DONE)
        }
        Removed::NotThere => Err(Failure::Told(format!(
            "there is no added deck `{id}`; luxate deck list names those in use"
        ))),
    }
}
