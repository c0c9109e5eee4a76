//! Files that a command writes for somebody to take away. What is there already is never written over unasked, and a
//! file has its name only once it is complete: a full disk leaves nothing behind.

use std::fs::{self, File, OpenOptions};
use std::io::{self, Write as _};
use std::path::{Component, Path, PathBuf};

use tempfile::NamedTempFile;
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
    /// A deck would be lost.
    #[error("{} is a deck and is never written over; name another file", .0.display())]
    Source(PathBuf),
    /// A folder, pipe or device stands where a file should be.
    #[error("{} is not a file; nothing was written: name a file", .0.display())]
    NotAFile(PathBuf),
    /// Something else stands where a folder should be.
    #[error("{} is not a folder; nothing was written: name a folder", .0.display())]
    NotAFolder(PathBuf),
    /// The system refused.
    #[error("{} cannot be written: {why}", path.display())]
    Refused {
        /// The file or folder.
        path: PathBuf,
        /// What the system said.
        why: io::Error,
    },
}

/// Writes files, and makes the folders that they need. Unless `over` is asked for, none is written if one is there; none of
/// `sources` is ever written over. All are complete on the disk before the first has its name.
///
/// # Errors
/// [`Unwritten`], which names the file.
pub fn write(files: &[NewFile], over: bool, sources: &[PathBuf]) -> Result<(), Unwritten> {
    let sources: Vec<PathBuf> = sources.iter().map(|path| resolve(path)).collect();
    let mut targets = Vec::new();
    for NewFile { path, .. } in files {
        let target = resolve(path);
        if targets.contains(&target) {
            return Err(Unwritten::Twice(path.clone()));
        }
        if sources.contains(&target) {
            return Err(Unwritten::Source(path.clone()));
        }
        if target.metadata().is_ok_and(|meta| !meta.is_file()) {
            return Err(Unwritten::NotAFile(path.clone()));
        }
        // A dangling link is something, too.
        if !over && target.symlink_metadata().is_ok() {
            return Err(Unwritten::Present(path.clone()));
        }
        targets.push(target);
    }
    let mut parts = Vec::new();
    for (NewFile { path, bytes }, target) in files.iter().zip(targets) {
        let refused = |why| refused(path, why);
        make_folder(path)?;
        let part = stage(&target, bytes).map_err(refused)?;
        let before = target.metadata().ok();
        if let Some(meta) = &before {
            // A file that may not be written stays, although its folder would let it be replaced.
            let open = OpenOptions::new().write(true).open(&target);
            open.and_then(|_| part.as_file().set_permissions(meta.permissions()))
                .map_err(refused)?;
        }
        parts.push((path, part, target, before.is_some()));
    }
    for (path, part, target, was_there) in parts {
        // Only what was seen is written over: since then somebody else may have come.
        name(part, &target, was_there).map_err(|why| refused(path, why))?;
    }
    Ok(())
}

/// Writes one file into a folder that is there. Only if `over` is asked for may it take the place of another.
///
/// # Errors
/// What the system says; nothing is left behind then, and what was there is as it was.
pub fn put(path: &Path, bytes: &[u8], over: bool) -> io::Result<()> {
    name(stage(path, bytes)?, path, over)
}

/// The first of `path` and the folders above it that is there and no folder.
#[must_use]
pub fn in_the_way(path: &Path) -> Option<&Path> {
    let there = path
        .ancestors()
        .find(|path| path.symlink_metadata().is_ok())?;
    (!there.is_dir()).then_some(there)
}

/// A complete file beside `target`, which goes when it is dropped.
fn stage(target: &Path, bytes: &[u8]) -> io::Result<NamedTempFile<File>> {
    let folder = target.parent().filter(|path| !path.as_os_str().is_empty());
    let folder = folder.unwrap_or(Path::new("."));
    let mut part = tempfile::Builder::new()
        .prefix(".luxate-")
        // Not private as temporary files are, but with the rights of any new file.
        .make_in(folder, |path| File::create_new(path))?;
    part.as_file_mut().write_all(bytes)?;
    part.as_file().sync_all()?;
    Ok(part)
}

fn name(part: NamedTempFile<File>, target: &Path, over: bool) -> io::Result<()> {
    let named = if over {
        part.persist(target)
    } else {
        part.persist_noclobber(target)
    };
    named.map(drop).map_err(|error| error.error)
}

fn make_folder(path: &Path) -> Result<(), Unwritten> {
    let folder = path.parent().filter(|path| !path.as_os_str().is_empty());
    let Some(folder) = folder else { return Ok(()) };
    fs::create_dir_all(folder).map_err(|why| match in_the_way(folder) {
        Some(file) => Unwritten::NotAFolder(file.to_owned()),
        None => refused(folder, why),
    })
}

/// The one name of a file, there or not, by which it is told from others.
fn resolve(path: &Path) -> PathBuf {
    let path = std::path::absolute(path).unwrap_or_else(|_| path.to_owned());
    let mut rest = Vec::new();
    for ancestor in path.ancestors() {
        if let Ok(mut found) = ancestor.canonicalize() {
            for component in rest.into_iter().rev() {
                if component == Component::ParentDir {
                    found.pop();
                } else {
                    found.push(component);
                }
            }
            return found;
        }
        rest.extend(ancestor.components().next_back());
    }
    path
}

fn refused(path: &Path, why: io::Error) -> Unwritten {
    Unwritten::Refused {
        path: path.to_owned(),
        why,
    }
}
