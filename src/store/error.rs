//! What can go wrong with the store: what happened, to which file, and what to do about it.
//!
//! Paths and SQLite's own words are kept raw; whoever prints them must clean them first.

use std::io;
use std::path::{Path, PathBuf};

use rusqlite::ErrorCode;
use rusqlite::ffi::SQLITE_IOERR_SHMSIZE;
use thiserror::Error;

use crate::answer::{AnswerId, Flaw};

/// Why the store could not be opened, read or written.
#[derive(Debug, Error)]
pub enum StoreError {
    /// The folder is missing and could not be made, or something else has its name.
    #[error(
        "the data folder {} could not be made or entered: {source}; name another folder or free this one",
        dir.display()
    )]
    Folder {
        /// The folder asked for.
        dir: PathBuf,
        /// What the system said.
        source: io::Error,
    },
    /// A folder, pipe or device stands where the file should be.
    #[error("{} is not a file, so no answers can be kept in it; move it away or name another data folder", file.display())]
    NotAFile {
        /// What was found.
        file: PathBuf,
    },
    /// The file holds something that SQLite never wrote.
    #[error(
        "{} is not a database, or its beginning is lost; it was left as it is: move it away, then bring the answers of an exported log back with luxate log import, or start anew",
        file.display()
    )]
    NotADatabase {
        /// What was found.
        file: PathBuf,
    },
    /// A database of another program.
    #[error(
        "{} is the database of another program; it was left as it is: move it away or name another data folder",
        file.display()
    )]
    Foreign {
        /// What was found.
        file: PathBuf,
    },
    /// Written by a later version of this program.
    #[error(
        "{} has format {found} and this program knows formats up to {known}; it was left as it is: use the newer program",
        file.display()
    )]
    Newer {
        /// What was found.
        file: PathBuf,
        /// Its format.
        found: u32,
        /// The latest format known here.
        known: u32,
    },
    /// The file contradicts itself.
    #[error(
        "{} is damaged ({detail}); it was left as it is: save what can still be read with luxate log export > answers.jsonl, move the file away, and bring the answers back with luxate log import answers.jsonl",
        file.display()
    )]
    Damaged {
        /// The damaged file.
        file: PathBuf,
        /// The first contradiction.
        detail: String,
    },
    /// The journal of a database that is no longer there.
    #[error(
        "{} holds answers, but the database that it belongs to is missing or empty; put {} back beside it, or move it away",
        journal.display(), file.display()
    )]
    Orphan {
        /// The journal left behind.
        journal: PathBuf,
        /// The database that is missing.
        file: PathBuf,
    },
    /// It can be read and not written.
    #[error(
        "{} cannot be written; answers would be lost: change its permissions or those of its folder, or name another data folder",
        file.display()
    )]
    ReadOnly {
        /// The protected file.
        file: PathBuf,
    },
    /// The system refuses access.
    #[error(
        "{} cannot be opened, or its folder cannot be written: {detail}; check the permissions or name another data folder",
        file.display()
    )]
    Denied {
        /// The file refused.
        file: PathBuf,
        /// What the system said.
        detail: String,
    },
    /// No room.
    #[error("there is no room on the disk for {}, so nothing more can be stored; make room and try again", file.display())]
    Full {
        /// The file that could not grow.
        file: PathBuf,
    },
    /// Another process writes and does not end.
    #[error("{} is being written by another process that does not finish; close it and try again", file.display())]
    Busy {
        /// The file in use.
        file: PathBuf,
    },
    /// The file system cannot do what safe storage for several processes needs.
    #[error(
        "the file system that holds {} cannot keep a write-ahead log (it stays at \"{mode}\"); choose a data folder on a disk of this machine",
        file.display()
    )]
    NoWriteAheadLog {
        /// The file.
        file: PathBuf,
        /// The journal mode it stays at.
        mode: String,
    },
    /// The answer holds a value that the log does not take.
    #[error("answer {id} cannot be stored: {flaw}")]
    Flawed {
        /// Its name.
        id: AnswerId,
        /// What is wrong with it.
        flaw: Flaw,
    },
    /// The query holds a value that the log does not take.
    #[error("the query cannot be stored: {flaw}")]
    FlawedQuery {
        /// What is wrong with it.
        flaw: Flaw,
    },
    /// An answer of this name is stored already and says something else.
    #[error(
        "answer {id} is stored already with other content, and answers are never altered; nothing of this was added"
    )]
    Conflict {
        /// The name that two answers bear.
        id: AnswerId,
    },
    /// A backup never replaces a file.
    #[error("{} exists already; name a new file for the backup", file.display())]
    Exists {
        /// The file in the way.
        file: PathBuf,
    },
    /// A file operation failed.
    #[error("{} could not be {deed}: {source}", file.display())]
    Io {
        /// The file concerned.
        file: PathBuf,
        /// What was to be done to it.
        deed: &'static str,
        /// What the system said.
        source: io::Error,
    },
    /// Anything else that SQLite reports.
    #[error("{} could not be read or written: {source}; check that its disk is sound and has room", file.display())]
    Sqlite {
        /// The file concerned.
        file: PathBuf,
        /// What SQLite said.
        source: rusqlite::Error,
    },
}

impl StoreError {
    /// What an error of SQLite means for the person at the screen.
    pub(super) fn of(file: &Path, source: rusqlite::Error) -> Self {
        use rusqlite::Error as E;

        let file = file.to_path_buf();
        let detail = source.to_string();
        let extended = source.sqlite_extended_error_code();
        match source {
            // The table's own rules make these impossible in a sound file.
            E::FromSqlConversionFailure(..)
            | E::IntegralValueOutOfRange(..)
            | E::InvalidColumnType(..)
            | E::Utf8Error(..) => Self::Damaged { file, detail },
            source => match source.sqlite_error_code() {
                Some(ErrorCode::NotADatabase) => Self::NotADatabase { file },
                Some(ErrorCode::DatabaseCorrupt) => Self::Damaged { file, detail },
                Some(ErrorCode::ReadOnly) => Self::ReadOnly { file },
                Some(ErrorCode::CannotOpen | ErrorCode::PermissionDenied) => {
                    Self::Denied { file, detail }
                }
                Some(ErrorCode::DiskFull) => Self::Full { file },
                Some(ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked) => Self::Busy { file },
                // The index of the log beside the file could not grow.
                _ if extended == Some(SQLITE_IOERR_SHMSIZE) => Self::Full { file },
                _ => Self::Sqlite { file, source },
            },
        }
    }
}

/// Names the file in an error of SQLite.
pub(super) trait At<T> {
    /// The result with its error typed and placed.
    fn at(self, file: &Path) -> Result<T, StoreError>;
}

impl<T> At<T> for rusqlite::Result<T> {
    fn at(self, file: &Path) -> Result<T, StoreError> {
        self.map_err(|error| StoreError::of(file, error))
    }
}
