//! Memory and the schedule: what to ask next, and why.
//!
//! [`engine::Engine`] is the one door. Pure: the same answers give the same plan, to the last bit.

pub mod blueprint;
pub mod calibration;
pub mod candidate;
pub mod engine;
pub mod estimate;
pub mod fit;
pub mod forecast;
pub mod grid;
pub mod horizon;
pub mod learners;
pub mod luck;
pub mod outlook;
pub mod pace;
pub mod pick;
pub mod plan;
pub mod prior;
pub mod prospect;
pub mod recall;
mod round;
pub mod simulate;
pub mod sm2;
pub mod study;
pub mod theta;
pub mod values;
pub mod views;
