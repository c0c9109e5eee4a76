//! Everything unclean: the clock, chance, folders, signals, the terminal. The only place that may touch them.

pub mod clock;
pub mod decks;
pub mod folders;
pub mod seed;
