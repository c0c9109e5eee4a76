//! Brings an older store up to date: numbered steps, forward only, all of them or none.
//!
//! To add a step, write `sql/NNNN_what.sql` and name it in [`STEPS`]; never edit one that was released.

use std::path::Path;

use rusqlite::{Connection, TransactionBehavior};

use super::backup;
use super::error::{At, StoreError};

/// Step n leads from format n to format n + 1.
pub(super) const STEPS: &[&str] = &[include_str!("sql/0001_log.sql")];

/// Applies the `steps` that the store lacks, after a backup if it holds anything.
pub(super) fn migrate(
    connection: &mut Connection,
    file: &Path,
    steps: &[&str],
) -> Result<(), StoreError> {
    if version(connection).at(file)? as usize == steps.len() {
        return Ok(());
    }
    let transaction = connection
        .transaction_with_behavior(TransactionBehavior::Immediate)
        .at(file)?;
    // Another process may have done it while this one waited.
    refuse_newer(&transaction, file, steps)?;
    let found = version(&transaction).at(file)?;
    if found > 0 && (found as usize) < steps.len() {
        backup::before_migration(file, found)?;
    }
    for (number, step) in (1_u32..).zip(steps).skip(found as usize) {
        transaction.execute_batch(step).at(file)?;
        transaction
            .pragma_update(None, "user_version", number)
            .at(file)?;
    }
    transaction.commit().at(file)
}

/// Refuses a store that a later version of this program has changed.
pub(super) fn refuse_newer(
    connection: &Connection,
    file: &Path,
    steps: &[&str],
) -> Result<(), StoreError> {
    let found = version(connection).at(file)?;
    if found as usize > steps.len() {
        return Err(StoreError::Newer {
            file: file.to_path_buf(),
            found,
            known: u32::try_from(steps.len()).unwrap_or(u32::MAX),
        });
    }
    Ok(())
}

/// The format of the store; 0 before the first step. A negative number is none of ours and reads as the highest.
pub(super) fn version(connection: &Connection) -> rusqlite::Result<u32> {
    let version: i64 = connection.pragma_query_value(None, "user_version", |row| row.get(0))?;
    Ok(u32::try_from(version).unwrap_or(u32::MAX))
}
