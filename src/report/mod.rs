//! Results as text and as JSON: pure functions from values to what a command prints.

pub mod changes;
pub mod coverage;
pub mod findings;
