//! What is written for people to read away from the terminal.

pub mod print;
