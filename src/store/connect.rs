//! The one place where a connection to the store is made.
//!
//! Pragmas belong to the connection, and the log is append-only and durable only under ours. So nothing else in
//! the program opens the database for writing.

use std::path::Path;
use std::thread;
use std::time::Duration;

use rusqlite::{Connection, OpenFlags, TransactionBehavior};

use super::error::{At, StoreError};
use super::header::APPLICATION_ID;
use super::migrate;

/// How long a write waits for another process.
pub(super) const PATIENCE: Duration = Duration::from_secs(5);

/// A wait between two tries where `SQLite` does not wait by itself.
const PAUSE: Duration = Duration::from_millis(20);

/// A connection to our database at `file`, made when it is missing.
pub(super) fn connect(file: &Path) -> Result<Connection, StoreError> {
    let flags = OpenFlags::SQLITE_OPEN_READ_WRITE
        | OpenFlags::SQLITE_OPEN_CREATE
        | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let mut connection = Connection::open_with_flags(file, flags).at(file)?;
    connection.busy_timeout(PATIENCE).at(file)?;
    if connection.is_readonly("main").at(file)? {
        return Err(StoreError::ReadOnly {
            file: file.to_path_buf(),
        });
    }
    claim(&mut connection, file)?;
    migrate::refuse_newer(&connection, file, migrate::STEPS)?;
    write_ahead(&connection, file)?;
    settle(&connection).at(file)?;
    Ok(connection)
}

/// Sets what makes a commit durable and the log append-only.
fn settle(connection: &Connection) -> rusqlite::Result<()> {
    connection.pragma_update(None, "synchronous", "FULL")?;
    // Elsewhere than on macOS these two do nothing; there, fsync alone leaves data in the disk's cache.
    connection.pragma_update(None, "fullfsync", true)?;
    connection.pragma_update(None, "checkpoint_fullfsync", true)?;
    connection.pragma_update(None, "foreign_keys", true)?;
    connection.pragma_update(None, "recursive_triggers", true)?;
    connection.pragma_update(None, "trusted_schema", false)?;
    connection.pragma_update(None, "cell_size_check", true)
}

/// Makes sure that the file is ours; an empty one becomes ours, before it holds anything else, so that its
/// first bytes tell from then on.
fn claim(connection: &mut Connection, file: &Path) -> Result<(), StoreError> {
    let mut id = application_id(connection).at(file)?;
    if id == 0 {
        let transaction = connection
            .transaction_with_behavior(TransactionBehavior::Immediate)
            .at(file)?;
        // Asked again under the lock: two processes may make the store at once.
        id = application_id(&transaction).at(file)?;
        if id == 0 && is_empty(&transaction).at(file)? {
            transaction
                .pragma_update(None, "application_id", APPLICATION_ID)
                .at(file)?;
            id = APPLICATION_ID;
        }
        transaction.commit().at(file)?;
    }
    if id == APPLICATION_ID {
        Ok(())
    } else {
        Err(StoreError::Foreign {
            file: file.to_path_buf(),
        })
    }
}

fn application_id(connection: &Connection) -> rusqlite::Result<u32> {
    connection.pragma_query_value(None, "application_id", |row| row.get(0))
}

fn is_empty(connection: &Connection) -> rusqlite::Result<bool> {
    let tables: u32 =
        connection.query_row("SELECT count(*) FROM sqlite_schema", [], |row| row.get(0))?;
    Ok(tables == 0 && migrate::version(connection)? == 0)
}

/// Switches to write-ahead logging. `SQLite` does not wait here when two processes switch at once, so we do.
fn write_ahead(connection: &Connection, file: &Path) -> Result<(), StoreError> {
    let mut waited = Duration::ZERO;
    loop {
        let mode = connection
            .pragma_update_and_check(None, "journal_mode", "WAL", |row| row.get::<_, String>(0))
            .at(file);
        match mode {
            Ok(mode) if mode == "wal" => return Ok(()),
            Ok(mode) => {
                return Err(StoreError::NoWriteAheadLog {
                    file: file.to_path_buf(),
                    mode,
                });
            }
            Err(StoreError::Busy { .. }) if waited < PATIENCE => thread::sleep(PAUSE),
            Err(error) => return Err(error),
        }
        waited += PAUSE;
    }
}

/// Runs `quick_check` or `integrity_check`; only the first contradiction is told.
pub(super) fn check(
    connection: &Connection,
    file: &Path,
    kind: &'static str,
) -> Result<(), StoreError> {
    let finding: String = connection
        .query_row(&format!("PRAGMA {kind}(1)"), [], |row| row.get(0))
        .at(file)?;
    if finding == "ok" {
        Ok(())
    } else {
        Err(StoreError::Damaged {
            file: file.to_path_buf(),
            detail: finding,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::store::Store;
    use tempfile::tempdir;

    #[test]
    fn every_pragma_reads_back_as_set() {
        let dir = tempdir().unwrap();
        for _ in ["as it is made", "as it is opened again"] {
            let connection = connect(&Store::file_in(dir.path())).unwrap();
            let value = |name: &str| -> String {
                connection
                    .query_row(
                        &format!("SELECT CAST({name} AS TEXT) FROM pragma_{name}"),
                        [],
                        |row| row.get(0),
                    )
                    .unwrap()
            };
            assert_eq!(value("journal_mode"), "wal");
            assert_eq!(value("synchronous"), "2", "FULL");
            for on in [
                "fullfsync",
                "checkpoint_fullfsync",
                "foreign_keys",
                "recursive_triggers",
                "cell_size_check",
            ] {
                assert_eq!(value(on), "1", "{on}");
            }
            assert_eq!(value("trusted_schema"), "0");
            assert_eq!(value("application_id"), APPLICATION_ID.to_string());
            let wait: u32 = connection
                .query_row("SELECT timeout FROM pragma_busy_timeout", [], |row| {
                    row.get(0)
                })
                .unwrap();
            assert_eq!(wait, 5000);
        }
    }
}
