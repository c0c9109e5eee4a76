//! Holds surgical knowledge until the exam.

pub mod answer;
pub mod cli;
pub mod deck;
pub mod diagnostic;
pub mod source;
pub mod text;
pub mod time;
