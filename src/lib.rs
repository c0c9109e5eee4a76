//! Holds surgical knowledge until the exam.

pub mod answer;
pub mod chance;
pub mod deck;
pub mod diagnostic;
pub mod figure {
    //! Drawings by numbers.
    pub mod teeth;
}
pub mod flap;
pub mod kinds;
pub mod memory;
pub mod round;
pub mod source;
pub mod text;
pub mod time;
