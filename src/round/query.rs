//! A query on the item whose reveal is open. Nothing of the round, the record or the schedule changes by it.

use super::{Phase, Round};
use crate::query::{Query, Refusal, remark};
use crate::time::Moment;

impl Round {
    /// The query that this text makes now, to be stored.
    ///
    /// # Errors
    /// [`Refusal`] if no reveal is open, or the text is none to keep.
    pub fn query(&self, text: &str, now: Moment) -> Result<Query, Refusal> {
        let text = remark(text)?;
        let Phase::Revealed(reveal) = &self.phase else {
            return Err(Refusal::NothingRevealed);
        };
        let library = self.library();
        let item = reveal.ask.item;
        let (Some(deck), Some(entry)) = (library.deck_of(item), library.entries().get(item)) else {
            return Err(Refusal::NothingRevealed);
        };
        Ok(Query {
            at: now,
            item: entry.reference.clone(),
            edition: deck.edition.to_string(),
            fingerprint: entry.fingerprint.clone(),
            part: reveal.ask.part,
            answer: reveal.answer,
            text,
        })
    }
}
