//! The store on real files, and its log as JSON Lines.

mod answers;
mod log;
