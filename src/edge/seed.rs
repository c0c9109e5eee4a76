//! The one place that draws from the system's source of chance.

use crate::answer::AnswerId;

/// A seed for one round.
#[must_use]
#[expect(
    clippy::disallowed_methods,
    reason = "this is the one place that draws chance"
)]
pub fn draw() -> u64 {
    rand::random()
}

/// A name for an answer; 16 random bytes, so that no two answers anywhere share one.
#[must_use]
#[expect(
    clippy::disallowed_methods,
    reason = "this is the one place that draws chance"
)]
pub fn answer_id() -> AnswerId {
    AnswerId(rand::random())
}
