//! Brings an older store up to date: numbered steps, forward only, all of them or none.
//!
//! To add a step, write `sql/NNNN_what.sql` and name it in [`STEPS`]; never edit one that was released.

use std::path::Path;

use rusqlite::{Connection, TransactionBehavior};

use super::backup;
use super::error::{At, StoreError};

/// Step n leads from format n to format n + 1.
pub(super) const STEPS: &[&str] = &[
    include_str!("sql/0001_log.sql"),
    include_str!("sql/0002_query.sql"),
];

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

#[cfg(test)]
mod tests {
    use std::fs;
    use std::path::PathBuf;

    use tempfile::{TempDir, tempdir};

    use super::*;
    use crate::settings::Setting;
    use crate::store::Store;

    const NEXT: &str = "CREATE TABLE later (seq INTEGER PRIMARY KEY) STRICT";

    /// The format of now.
    const FORMAT: usize = STEPS.len();

    fn later(more: &[&'static str]) -> Vec<&'static str> {
        STEPS.iter().copied().chain(more.iter().copied()).collect()
    }

    fn opened() -> (TempDir, PathBuf, Store) {
        let dir = tempdir().unwrap();
        let mut store = Store::open(dir.path()).unwrap();
        store.set(Setting::CautionRead, "then").unwrap();
        let file = store.file.clone();
        (dir, file, store)
    }

    fn backups(file: &Path) -> Vec<String> {
        let Ok(entries) = fs::read_dir(file.with_file_name("backups")) else {
            return Vec::new();
        };
        let mut names: Vec<_> = entries
            .map(|entry| entry.unwrap().file_name().into_string().unwrap())
            .collect();
        names.sort();
        names
    }

    #[test]
    fn a_new_store_takes_no_backup_and_a_second_opening_changes_nothing() {
        let (dir, file, store) = opened();
        drop(store);
        Store::open(dir.path()).unwrap();
        assert!(backups(&file).is_empty());
    }

    #[test]
    fn a_step_is_taken_once_after_a_backup() {
        let (dir, file, mut store) = opened();
        let steps = later(&[NEXT]);
        migrate(&mut store.connection, &file, &steps).unwrap();
        migrate(&mut store.connection, &file, &steps).unwrap();
        assert_eq!(version(&store.connection).unwrap() as usize, steps.len());
        let value = store.setting(Setting::CautionRead).unwrap();
        assert_eq!(value.as_deref(), Some("then"));
        let backup = format!("luxate-000001-format-{FORMAT}.db");
        assert_eq!(backups(&file), [backup.as_str()]);

        // This program is now too old for it, and says so.
        let error = Store::open(dir.path()).unwrap_err();
        assert!(matches!(error, StoreError::Newer { found, .. } if found as usize == FORMAT + 1));

        // The backup is a store as it was.
        let old = tempdir().unwrap();
        let copy = file.with_file_name("backups").join(backup);
        fs::copy(copy, Store::file_in(old.path())).unwrap();
        let old = Store::open(old.path()).unwrap();
        let value = old.setting(Setting::CautionRead).unwrap();
        assert_eq!(value.as_deref(), Some("then"));
    }

    #[test]
    fn steps_are_taken_all_or_none() {
        let (_dir, file, mut store) = opened();
        let steps = later(&[NEXT, "CREATE TABLE answer (seq INTEGER)"]);
        migrate(&mut store.connection, &file, &steps).unwrap_err();
        assert_eq!(version(&store.connection).unwrap() as usize, FORMAT);
        store.connection.execute_batch(NEXT).unwrap();
        assert!(store.connection.is_autocommit());
    }

    #[test]
    fn the_last_five_backups_are_kept_and_other_files_left_alone() {
        let (_dir, file, mut store) = opened();
        let folder = file.with_file_name("backups");
        fs::create_dir(&folder).unwrap();
        for name in ["luxate-mine.db", "notes.txt", "luxate-000009-format-1.db"] {
            fs::write(folder.join(name), "x").unwrap();
        }
        let mut steps = later(&[]);
        for table in ["a", "b", "c", "d", "e"] {
            steps.push(format!("CREATE TABLE {table} (x) ").leak());
            migrate(&mut store.connection, &file, &steps).unwrap();
        }
        let kept: Vec<_> = (0..5)
            .map(|n| format!("luxate-{:06}-format-{}.db", n + 10, n + FORMAT))
            .collect();
        assert_eq!(backups(&file)[..5], kept);
        assert_eq!(backups(&file)[5..], ["luxate-mine.db", "notes.txt"]);
    }

    #[test]
    fn without_a_backup_nothing_is_migrated() {
        let (_dir, file, mut store) = opened();
        fs::write(file.with_file_name("backups"), "in the way").unwrap();
        let error = migrate(&mut store.connection, &file, &later(&[NEXT])).unwrap_err();
        assert!(matches!(error, StoreError::Io { .. }), "{error}");
        assert_eq!(version(&store.connection).unwrap() as usize, FORMAT);
    }
}
