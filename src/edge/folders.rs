//! Where things are kept.

use std::path::PathBuf;

use directories::ProjectDirs;
use thiserror::Error;

/// No place to keep answers.
#[derive(Debug, Error)]
#[error(
    "this system names no folder for a program's data; name one with --data DIR or LUXATE_DATA"
)]
pub struct NoFolder;

/// The data folder: the one given, or the platform's own for this program.
///
/// # Errors
/// [`NoFolder`] if none is given and the platform has none.
pub fn data(given: Option<PathBuf>) -> Result<PathBuf, NoFolder> {
    given
        .or_else(|| ProjectDirs::from("", "", "luxate").map(|dirs| dirs.data_dir().to_owned()))
        .ok_or(NoFolder)
}
