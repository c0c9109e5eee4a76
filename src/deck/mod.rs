//! Decks: from bytes to a checked model.

pub mod fingerprint;
pub mod library;
pub mod model;
pub mod terms;
