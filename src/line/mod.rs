//! Rounds as lines: plain ones for people, JSON Lines for programs.
//!
//! Both drive the one round machine and decide nothing. They read from any reader and write to any writer; everything else that is
//! unclean comes through a [`crate::round::Desk`].

mod flap;
pub mod input;
pub mod jsonl;
mod pause;
pub mod plain;
pub mod rehearse;
mod spoken;

use std::io;

use thiserror::Error;

/// Why a round in lines had to end.
#[derive(Debug, Error)]
pub enum LineError {
    /// The input could not be read.
    #[error("the input could not be read: {0}")]
    Read(#[source] io::Error),
    /// The output could not be written.
    #[error("the output could not be written: {0}")]
    Write(#[from] io::Error),
}
