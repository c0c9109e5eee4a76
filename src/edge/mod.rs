//! Everything unclean: the clock, chance, folders, signals, the terminal. The only place that may touch them.

pub mod clock;
pub mod decks;
pub mod files;
pub mod folders;
mod input;
pub mod logs;
pub mod run;
pub mod seed;
pub mod signals;
pub mod terminal;
pub mod walk;
pub mod wrapping;
