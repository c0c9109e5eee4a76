//! Formats in which data leaves the program and comes back.

pub mod log;
pub mod qti;
