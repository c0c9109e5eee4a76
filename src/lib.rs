//! Holds surgical knowledge until the exam.

pub mod answer;
pub mod deck;
pub mod figure;
pub mod time;
