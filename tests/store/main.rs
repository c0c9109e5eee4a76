//! The store on real files, and its log as JSON Lines.

#![expect(
    clippy::unwrap_used,
    clippy::print_stdout,
    reason = "the helpers of a test fail with it"
)]

mod answers;
mod crash;
mod damage;
mod format;
mod lines;
mod log;
mod refusals;
