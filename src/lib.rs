//! Holds surgical knowledge until the exam.

pub mod answer;
pub mod deck;
pub mod interchange;
pub mod store;
pub mod time;
