//! The full-screen front end: a model, its update, and views of it.
//!
//! ```text
//! Event + Stamp --update()--> Model, Effects        (pure: no terminal, clock, store or chance)
//! Model --view::draw()--> a frame, Drawn            (the only place that knows ratatui)
//! ```
//!
//! `edge::run` turns the wheel: it reads keys, carries out effects and feeds what came of them back as events. What is
//! asked and what is right is decided by [`crate::round`] and [`crate::kinds`], never here.

mod advice;
mod designing;
mod entry;
mod event;
mod field;
mod keys;
mod model;
mod pointing;
mod preview;
mod querying;
mod spread;
mod update;
pub mod view;
mod words;

pub use event::{Effect, Event, Key, Size, Stamp};
pub use model::{Drawn, Model, Settings};
pub use preview::{Finding, Said};
pub use update::update;
