//! Whole copies of the store, taken while it is in use.
//!
//! A copy has its final name only once it is complete, checked and on disk, and it never takes the place of another
//! file. It is one file that needs no other beside it; copying the database by hand would miss its log.

use std::fs::{self, File};
use std::io;
use std::path::{Path, PathBuf};
use std::time::Duration;

use rusqlite::backup::Backup;
use rusqlite::{Connection, OpenFlags};

use super::connect;
use super::error::{At, StoreError};
use super::header::beside;

/// How many of the copies taken before migrations are kept.
const KEPT: usize = 5;

/// Copies the store at `file`, found at format `version`, into the folder `backups` beside it. The caller holds the
/// write lock, so the copy is what the migration starts from and no other process takes one.
pub(super) fn before_migration(file: &Path, version: u32) -> Result<(), StoreError> {
    let folder = file.with_file_name("backups");
    fs::create_dir_all(&folder).map_err(failed(&folder, "made"))?;
    let mut copies = copies(&folder)?;
    let serial = copies.last().map_or(1, |(serial, _)| serial + 1);
    let target = folder.join(format!("luxate-{serial:06}-format-{version}.db"));
    let source = Connection::open_with_flags(file, OpenFlags::SQLITE_OPEN_READ_ONLY).at(file)?;
    copy(&source, file, &target)?;
    copies.push((serial, target));
    for (_, old) in copies.iter().rev().skip(KEPT) {
        fs::remove_file(old).map_err(failed(old, "removed"))?;
    }
    Ok(())
}

/// The copies in `folder` with their serial numbers, oldest first. Files of other names are not ours to count.
fn copies(folder: &Path) -> Result<Vec<(u64, PathBuf)>, StoreError> {
    let mut copies = Vec::new();
    for entry in fs::read_dir(folder).map_err(failed(folder, "listed"))? {
        let path = entry.map_err(failed(folder, "listed"))?.path();
        let serial = path
            .file_name()
            .and_then(|name| name.to_str()?.strip_prefix("luxate-")?.strip_suffix(".db"))
            .and_then(|rest| rest.split_once("-format-")?.0.parse().ok());
        copies.extend(serial.map(|serial| (serial, path)));
    }
    copies.sort();
    Ok(copies)
}

fn copy(source: &Connection, file: &Path, target: &Path) -> Result<(), StoreError> {
    if fs::symlink_metadata(target).is_ok() {
        return Err(StoreError::Exists {
            file: target.to_path_buf(),
        });
    }
    // Absolute, lest SQLite take the name for a URI.
    let target = std::path::absolute(target).map_err(failed(target, "named"))?;
    let partial = beside(&target, ".partial");
    // Left by a process that was killed.
    match fs::remove_file(&partial) {
        Err(error) if error.kind() != io::ErrorKind::NotFound => {
            return Err(failed(&partial, "removed")(error));
        }
        _ => {}
    }
    fill(source, file, &partial)
        .and_then(|()| keep(&partial, &target))
        .inspect_err(|_| {
            // What made it fail matters more than a remnant that cannot be removed.
            fs::remove_file(&partial).ok();
        })
}

/// Copies all pages into `partial` and checks them there.
fn fill(source: &Connection, file: &Path, partial: &Path) -> Result<(), StoreError> {
    let mut copy = Connection::open(partial).at(partial)?;
    Backup::new(source, &mut copy)
        .and_then(|backup| backup.run_to_completion(i32::MAX, Duration::from_millis(20), None))
        .map_err(|error| match StoreError::of(file, error) {
            // It is the copy that lacks room.
            StoreError::Full { .. } => StoreError::Full {
                file: partial.to_path_buf(),
            },
            error => error,
        })?;
    // The copy says of itself that it has a log beside it, as the original has.
    copy.pragma_update(None, "journal_mode", "DELETE")
        .at(partial)?;
    connect::check(&copy, partial, "quick_check")
}

/// Makes `partial` durable, then gives it its name.
fn keep(partial: &Path, target: &Path) -> Result<(), StoreError> {
    File::options()
        .write(true)
        .open(partial)
        .and_then(|copy| copy.sync_all())
        .map_err(failed(partial, "flushed to disk"))?;
    fs::rename(partial, target).map_err(failed(target, "named"))?;
    // A new name is on disk only once its folder is. Windows cannot open folders and needs no such thing.
    #[cfg(unix)]
    if let Some(folder) = target.parent() {
        File::open(folder)
            .and_then(|folder| folder.sync_all())
            .map_err(failed(folder, "flushed to disk"))?;
    }
    Ok(())
}

fn failed(file: &Path, deed: &'static str) -> impl FnOnce(io::Error) -> StoreError {
    move |source| StoreError::Io {
        file: file.to_path_buf(),
        deed,
        source,
    }
}
