//! Results as text, as JSON and on paper: pure functions from values to what a command writes.

pub mod changes;
pub mod coverage;
pub mod findings;
pub mod print;
pub mod queries;
mod seen;
pub mod topics;
