//! Where things are kept.

use std::env;
use std::path::PathBuf;

use directories::ProjectDirs;
use thiserror::Error;

/// No place to keep answers.
#[derive(Debug, Error)]
#[error(
    "this system names no folder for a program's data; name one with --data DIR or LUXATE_DATA"
)]
pub struct NoFolder;

/// The data folder: the one given, else that of `LUXATE_DATA`, else the platform's own for this program.
///
/// # Errors
/// [`NoFolder`] if none is given and the platform has none.
pub fn data(given: Option<PathBuf>) -> Result<PathBuf, NoFolder> {
    let named = || {
        let named = env::var_os("LUXATE_DATA").filter(|name| !name.is_empty())?;
        Some(PathBuf::from(named))
    };
    given
        .or_else(named)
        .or_else(|| ProjectDirs::from("", "", "luxate").map(|dirs| dirs.data_dir().to_owned()))
        .ok_or(NoFolder)
}
