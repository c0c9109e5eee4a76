//! What a face needs from outside while it drives a round.

use crate::answer::{Answer, AnswerId};
use crate::query::Query;
use crate::time::Moment;

/// The clock, names and the store, as a face sees them.
pub trait Desk {
    /// This moment.
    fn now(&self) -> Moment;

    /// Seconds from a clock that never goes back; only differences mean anything.
    fn elapsed(&self) -> f64;

    /// A new name for an answer.
    fn answer_id(&mut self) -> AnswerId;

    /// Puts an answer on disk. It is there for good once this returns.
    ///
    /// # Errors
    /// What went wrong and what to do, as a sentence. Nothing was stored then.
    fn store(&mut self, answer: &Answer) -> Result<(), String>;

    /// Puts a query on disk. It is there for good once this returns.
    ///
    /// # Errors
    /// As [`Desk::store`].
    fn store_query(&mut self, query: &Query) -> Result<(), String>;
}
