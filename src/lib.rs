//! Holds surgical knowledge until the exam.

pub mod answer;
pub mod chance;
pub mod cli;
pub mod deck;
pub mod diagnostic;
pub mod interchange;
pub mod kinds;
pub mod line;
pub mod memory;
pub mod report;
pub mod round;
pub mod source;
pub mod text;
pub mod time;
pub mod words;
