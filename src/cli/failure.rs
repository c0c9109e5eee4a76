//! Why a command could not be carried out, told once and in one place.

use std::io;

use thiserror::Error;

use crate::edge::clock::BadNow;
use crate::edge::decks;
use crate::edge::files::Unwritten;
use crate::edge::folders::NoFolder;
use crate::edge::run::RunError;
use crate::line::LineError;
use crate::round::Unplannable;
use crate::store::StoreError;

/// Why a command could not be carried out. Each says what to do.
#[derive(Debug, Error)]
pub enum Failure {
    /// `LUXATE_NOW` is no time.
    #[error(transparent)]
    Now(#[from] BadNow),
    /// No place to keep answers.
    #[error(transparent)]
    Folder(#[from] NoFolder),
    /// The store refused.
    #[error(transparent)]
    Store(#[from] StoreError),
    /// A setting that cannot be planned with.
    #[error(transparent)]
    Plan(#[from] Unplannable),
    /// The added decks cannot be reached.
    #[error(transparent)]
    Decks(#[from] decks::Unusable),
    /// Files were not written.
    #[error(transparent)]
    Files(#[from] Unwritten),
    /// The full screen could not be used.
    #[error(transparent)]
    Screen(#[from] RunError),
    /// A round in lines broke off.
    #[error(transparent)]
    Line(#[from] LineError),
    /// The output could not be written.
    #[error("the output could not be written: {0}")]
    Output(#[from] io::Error),
    /// Anything that is told in full where it is found.
    #[error("{0}")]
    Told(String),
}

impl Failure {
    /// Whether the reader of the output has gone, which is no fault.
    #[must_use]
    pub fn is_broken_pipe(&self) -> bool {
        let (Self::Output(error) | Self::Line(LineError::Write(error))) = self else {
            return false;
        };
        error.kind() == io::ErrorKind::BrokenPipe
    }
}
