//! What leaves the program: decks on paper and decks for other systems.

#![expect(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::string_slice,
    reason = "a test fails by panicking, and its texts are its own"
)]

mod fixture;
mod print;
mod qti;
