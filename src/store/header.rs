//! A look at the file before `SQLite` touches it.
//!
//! Opening a database can roll back a journal, fold in a log or make files beside it. So what is not our own must be
//! turned away by its first bytes alone. Reads; never writes.

use std::ffi::OsString;
use std::fs::{self, File};
use std::io::{self, Read};
use std::path::{Path, PathBuf};

use super::error::StoreError;

/// Marks our files in `SQLite`'s header: "LXAT".
pub(super) const APPLICATION_ID: u32 = 0x4c58_4154;

const MAGIC: &[u8; 16] = b"SQLite format 3\0";

/// How the last process left the file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum End {
    /// Everything is in the file itself, or there is none yet.
    Clean,
    /// A log lies beside it: another process has it open, or one was killed.
    Unclean,
}

/// Whether `file` is missing, empty or ours.
pub(super) fn inspect(file: &Path) -> Result<End, StoreError> {
    // The log before the file: whoever makes a store writes the file first.
    let log = beside(file, "-wal");
    let left_over = has_bytes(&log);
    let bytes = match first_bytes(file) {
        Ok(bytes) => bytes,
        Err(source) if source.kind() == io::ErrorKind::NotFound => Vec::new(),
        Err(source) => return Err(refusal(file, source)),
    };
    if bytes.is_empty() && left_over {
        // SQLite would delete the log of an empty database, and the answers in it.
        return Err(StoreError::Orphan {
            journal: log,
            file: file.to_path_buf(),
        });
    }
    // A file that was cut off while being made is for SQLite to roll back.
    if !bytes.is_empty() && !has_bytes(&beside(file, "-journal")) {
        recognise(file, &bytes)?;
    }
    Ok(if left_over { End::Unclean } else { End::Clean })
}

fn recognise(file: &Path, header: &[u8]) -> Result<(), StoreError> {
    let file = file.to_path_buf();
    if !header.starts_with(MAGIC) {
        return Err(StoreError::NotADatabase { file });
    }
    // Offset 68 of the header: https://www.sqlite.org/fileformat2.html, section 1.3.
    match header.get(68..72) {
        Some(id) if id == APPLICATION_ID.to_be_bytes() => Ok(()),
        Some(_) => Err(StoreError::Foreign { file }),
        None => Err(StoreError::NotADatabase { file }),
    }
}

fn first_bytes(file: &Path) -> io::Result<Vec<u8>> {
    // Opening a pipe would wait for a writer.
    if !fs::metadata(file)?.is_file() {
        return Err(io::ErrorKind::IsADirectory.into());
    }
    let mut bytes = Vec::new();
    File::open(file)?.take(100).read_to_end(&mut bytes)?;
    Ok(bytes)
}

fn refusal(file: &Path, source: io::Error) -> StoreError {
    let file = file.to_path_buf();
    match source.kind() {
        io::ErrorKind::IsADirectory => StoreError::NotAFile { file },
        io::ErrorKind::PermissionDenied => StoreError::Denied {
            file,
            detail: source.to_string(),
        },
        _ => StoreError::Io {
            file,
            deed: "read",
            source,
        },
    }
}

/// The file that `SQLite` keeps beside `file` under `suffix`.
pub(super) fn beside(file: &Path, suffix: &str) -> PathBuf {
    let mut name = OsString::from(file);
    name.push(suffix);
    name.into()
}

pub(super) fn has_bytes(file: &Path) -> bool {
    fs::metadata(file).is_ok_and(|data| data.len() > 0)
}
