//! Memory and the schedule: what to ask next, and why.
//!
//! [`engine::Engine`] is the one door. Pure: the same answers give the same plan, to the last bit.

pub mod blueprint;
pub mod engine;
pub mod pace;
pub mod pick;
pub mod sm2;
pub mod study;
