//! The candidate's progress on disk: one `SQLite` file with a log of answers, the queries and a few settings.
//!
//! The log is the only truth. It only ever grows, one durable transaction an answer, and nothing
//! derived from it is kept, so no derived table can ever disagree with it: reading and folding the whole log at
//! start takes a few seconds for a million answers, more than a preparation has. This module must never alter or delete an answer or a query, nor
//! write to a file that it does not know to be its own.

mod backup;
mod connect;
mod error;
mod header;
mod log;
mod migrate;
mod query;
mod row;
mod salvage;
mod settings;

use std::fs;
use std::path::{Path, PathBuf};

use rusqlite::Connection;

pub use error::StoreError;
pub use log::{Appended, Merged, RULES_VERSION};
pub use salvage::Salvage;

/// Name of the database within the data folder.
const FILE_NAME: &str = "luxate.db";

/// An open store. Any number of processes may hold one on the same folder.
#[derive(Debug)]
pub struct Store {
    connection: Connection,
    file: PathBuf,
}

impl Store {
    /// Whether there is a store in `dir`.
    #[must_use]
    pub fn is_in(dir: &Path) -> bool {
        dir.join(FILE_NAME).is_file()
    }

    /// Opens the store in `dir`; makes folder and file when they are missing and brings an older format up to
    /// date after a backup.
    ///
    /// # Errors
    /// Whatever is not clearly this program's own sound and writable store is refused and left as it is.
    pub fn open(dir: &Path) -> Result<Self, StoreError> {
        let folder = |source| StoreError::Folder {
            dir: dir.to_path_buf(),
            source,
        };
        fs::create_dir_all(dir).map_err(folder)?;
        let file = Self::file_in(dir);
        let end = header::inspect(&file)?;
        let mut connection = connect::connect(&file)?;
        migrate::migrate(&mut connection, &file, migrate::STEPS)?;
        let store = Self { connection, file };
        if end == header::End::Unclean {
            store.quick_check()?;
        }
        Ok(store)
    }

    /// The database that belongs to the data folder `dir`.
    #[must_use]
    pub fn file_in(dir: &Path) -> PathBuf {
        // SQLite reads a name that starts with "file:" as a URI; an absolute one never does.
        let dir = std::path::absolute(dir).unwrap_or_else(|_| dir.to_path_buf());
        dir.join(FILE_NAME)
    }

    /// Reads the whole database for contradictions: page structure, indexes and every CHECK.
    ///
    /// # Errors
    /// [`StoreError::Damaged`] with the first contradiction.
    pub fn integrity(&self) -> Result<(), StoreError> {
        connect::check(&self.connection, &self.file, "integrity_check")
    }

    /// As [`Store::integrity`] without comparing indexes to tables: about a third of the time.
    fn quick_check(&self) -> Result<(), StoreError> {
        connect::check(&self.connection, &self.file, "quick_check")
    }
}
