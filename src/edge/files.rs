//! Files that a command writes for somebody to take away. What is there already is never written over unasked.

use std::fs::{self, OpenOptions};
use std::io::{self, Write as _};
use std::path::{Path, PathBuf};

use thiserror::Error;

/// A file to be written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NewFile {
    /// Where.
    pub path: PathBuf,
    /// What.
    pub bytes: Vec<u8>,
}

/// Why files were not written.
#[derive(Debug, Error)]
pub enum Unwritten {
    /// Something is there already; nothing was written.
    #[error("{} is there already and nothing was written; --force writes over it", .0.display())]
    Present(PathBuf),
    /// Two files would be one.
    #[error("{} is named twice; nothing was written", .0.display())]
    Twice(PathBuf),
    /// What was read would be lost.
    #[error("{} is the deck itself; nothing was written", .0.display())]
    Source(PathBuf),
    /// A folder stands where a file is to be.
    #[error("{} is a folder and nothing was written; name a file", .0.display())]
    Folder(PathBuf),
    /// The system refused.
    #[error("{} cannot be written: {why}", path.display())]
    Refused {
        /// The file or folder.
        path: PathBuf,
        /// What the system said.
        why: io::Error,
    },
}

/// Writes files made from the file `source`, and the folders that they need. Unless `over` is asked for, none is written if one is
/// there.
///
/// # Errors
/// [`Unwritten`], which names the file.
pub fn write(files: &[NewFile], source: &Path, over: bool) -> Result<(), Unwritten> {
    let source = source.is_file().then(|| real(source));
    let mut taken: Vec<PathBuf> = Vec::new();
    for file in files {
        let place = real(&file.path);
        if taken.contains(&place) {
            return Err(Unwritten::Twice(file.path.clone()));
        }
        if source.as_ref() == Some(&place) {
            return Err(Unwritten::Source(file.path.clone()));
        }
        if place.is_dir() {
            return Err(Unwritten::Folder(file.path.clone()));
        }
        taken.push(place);
        // A dangling link is something, too.
        if !over && file.path.symlink_metadata().is_ok() {
            return Err(Unwritten::Present(file.path.clone()));
        }
    }
    for NewFile { path, bytes } in files {
        if let Some(folder) = path
            .parent()
            .filter(|folder| !folder.as_os_str().is_empty())
        {
            fs::create_dir_all(folder).map_err(|why| refused(folder, why))?;
        }
        let mut options = OpenOptions::new();
        options.write(true);
        // Between the look and the writing somebody else may have come.
        if over {
            options.create(true).truncate(true);
        } else {
            options.create_new(true);
        }
        options
            .open(path)
            .and_then(|mut file| file.write_all(bytes))
            .map_err(|why| refused(path, why))?;
    }
    Ok(())
}

/// The place that a path means, however it is spelt; of a new file, its name in the real folder.
fn real(path: &Path) -> PathBuf {
    let folder = match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    fs::canonicalize(path)
        .or_else(|_| {
            let name = path.file_name().unwrap_or_default();
            fs::canonicalize(folder).map(|folder| folder.join(name))
        })
        .unwrap_or_else(|_| path.to_owned())
}

fn refused(path: &Path, why: io::Error) -> Unwritten {
    Unwritten::Refused {
        path: path.to_owned(),
        why,
    }
}
