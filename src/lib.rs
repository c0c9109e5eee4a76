//! Holds surgical knowledge until the exam.

pub mod answer;
pub mod deck;
pub mod line;
pub mod memory;
pub mod time;
