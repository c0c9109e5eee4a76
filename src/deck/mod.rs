//! Decks: from bytes to a checked model.

pub mod model;
