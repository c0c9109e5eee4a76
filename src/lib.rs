//! Holds surgical knowledge until the exam.

pub mod answer;
pub mod chance;
pub mod cli;
pub mod deck;
pub mod diagnostic;
pub mod edge;
pub mod figure;
pub mod flap;
pub mod interchange;
pub mod kinds;
pub mod line;
pub mod memory;
pub mod query;
pub mod report;
pub mod round;
pub mod settings;
pub mod source;
pub mod store;
pub mod text;
pub mod time;
pub mod tui;
pub mod words;
