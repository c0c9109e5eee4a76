//! What is not clearly ours and sound is refused in so many words and left as it is.

use std::fs;
use std::path::{Path, PathBuf};

use luxate::store::{Store, StoreError};
use rusqlite::Connection;
use tempfile::{TempDir, tempdir};

use crate::answers::numbered;

/// A folder with a store of `count` answers that nobody has open.
pub(crate) fn filled(count: u32) -> (TempDir, PathBuf) {
    let dir = tempdir().unwrap();
    let mut store = Store::open(dir.path()).unwrap();
    let answers: Vec<_> = (0..count).map(numbered).collect();
    store.append_all(&answers).unwrap();
    let file = Store::file_in(dir.path());
    (dir, file)
}

/// Opens the store of `dir`, which must fail, twice, and change nothing in the file.
fn refused(dir: &Path) -> StoreError {
    let file = Store::file_in(dir);
    let before = fs::read(&file).unwrap();
    Store::open(dir).unwrap_err();
    let error = Store::open(dir).unwrap_err();
    assert_eq!(fs::read(&file).unwrap(), before, "{error}");
    let text = error.to_string();
    assert!(text.contains(file.to_str().unwrap()), "no place: {text}");
    error
}

#[test]
fn a_file_of_another_kind_is_no_database() {
    for length in [1_usize, 15, 16, 99, 100, 4096, 10_000] {
        let dir = tempdir().unwrap();
        let bytes: Vec<u8> = (0..=u8::MAX).rev().cycle().take(length).collect();
        fs::write(Store::file_in(dir.path()), bytes).unwrap();
        let error = refused(dir.path());
        assert!(matches!(error, StoreError::NotADatabase { .. }), "{error}");
    }
}

#[test]
fn an_empty_file_becomes_a_store() {
    let dir = tempdir().unwrap();
    fs::write(Store::file_in(dir.path()), "").unwrap();
    let mut store = Store::open(dir.path()).unwrap();
    store.append(&numbered(1)).unwrap();
}

#[test]
fn the_database_of_another_program_is_foreign() {
    for id in [0, 42] {
        let dir = tempdir().unwrap();
        let other = Connection::open(Store::file_in(dir.path())).unwrap();
        other.pragma_update(None, "application_id", id).unwrap();
        other
            .execute_batch("CREATE TABLE patient (name TEXT); INSERT INTO patient VALUES ('Vera')")
            .unwrap();
        drop(other);
        let error = refused(dir.path());
        assert!(matches!(error, StoreError::Foreign { .. }), "{error}");
    }
}

#[test]
fn a_newer_format_is_refused_and_named() {
    for version in [99, -1] {
        let (dir, file) = filled(3);
        let newer = Connection::open(&file).unwrap();
        newer.pragma_update(None, "user_version", version).unwrap();
        drop(newer);
        let error = refused(dir.path());
        assert!(
            matches!(error, StoreError::Newer { found, known: 2, .. } if found == 99 || version < 0),
            "{error}"
        );
    }
}

#[test]
fn a_file_cut_short_is_damaged() {
    let (dir, file) = filled(300);
    let whole = fs::read(&file).unwrap();
    for length in [100, 3000, 4096, 8192, whole.len() / 2, whole.len() - 4096] {
        fs::write(&file, &whole[..length]).unwrap();
        let error = refused(dir.path());
        assert!(matches!(error, StoreError::Damaged { .. }), "{error}");
    }
    fs::write(&file, &whole[..60]).unwrap();
    assert!(matches!(
        refused(dir.path()),
        StoreError::NotADatabase { .. }
    ));
}

#[test]
fn a_folder_in_place_of_the_file_and_a_file_in_place_of_the_folder() {
    let dir = tempdir().unwrap();
    fs::create_dir(Store::file_in(dir.path())).unwrap();
    let error = Store::open(dir.path()).unwrap_err();
    assert!(matches!(error, StoreError::NotAFile { .. }), "{error}");

    let file = dir.path().join("notes");
    fs::write(&file, "mine").unwrap();
    for place in [file.clone(), file.join("data")] {
        let error = Store::open(&place).unwrap_err();
        assert!(matches!(error, StoreError::Folder { .. }), "{error}");
    }
    assert_eq!(fs::read(&file).unwrap(), b"mine");
}

#[test]
#[cfg(target_os = "linux")]
fn a_folder_that_cannot_be_made_is_told() {
    let error = Store::open(Path::new("/proc/luxate/data")).unwrap_err();
    assert!(matches!(error, StoreError::Folder { .. }), "{error}");
}

#[test]
fn a_log_without_its_database_is_not_thrown_away() {
    let dir = tempdir().unwrap();
    let mut store = Store::open(dir.path()).unwrap();
    store.append(&numbered(1)).unwrap();
    let file = Store::file_in(dir.path());
    let log = file.with_extension("db-wal");
    let left = tempdir().unwrap();
    let left_log = left.path().join("luxate.db-wal");
    fs::copy(&log, &left_log).unwrap();
    let error = Store::open(left.path()).unwrap_err();
    assert!(matches!(error, StoreError::Orphan { .. }), "{error}");
    assert_eq!(fs::read(&left_log).unwrap(), fs::read(&log).unwrap());
    // With the database back beside it, the answer is there.
    fs::copy(&file, Store::file_in(left.path())).unwrap();
    assert_eq!(Store::open(left.path()).unwrap().count().unwrap(), 1);
}

/// Runs `test` with `path` made read-only, unless this user may write everywhere.
#[cfg(unix)]
pub(crate) fn read_only(path: &Path, test: impl FnOnce()) {
    use std::os::unix::fs::PermissionsExt;

    let before = fs::metadata(path).unwrap().permissions();
    let mode = if path.is_dir() { 0o555 } else { 0o444 };
    fs::set_permissions(path, fs::Permissions::from_mode(mode)).unwrap();
    let probe = if path.is_dir() {
        fs::write(path.join("probe"), "").is_ok()
    } else {
        fs::OpenOptions::new().append(true).open(path).is_ok()
    };
    if probe {
        println!("not checked: this user may write even where permissions forbid it");
    } else {
        test();
    }
    fs::set_permissions(path, before).unwrap();
}

#[test]
#[cfg(unix)]
fn what_may_not_be_written_is_told() {
    let empty = tempdir().unwrap();
    read_only(empty.path(), || {
        let error = Store::open(empty.path()).unwrap_err();
        assert!(matches!(error, StoreError::Denied { .. }), "{error}");
        let error = Store::open(&empty.path().join("data")).unwrap_err();
        assert!(matches!(error, StoreError::Folder { .. }), "{error}");
    });
    let (dir, file) = filled(3);
    read_only(&file, || {
        let error = refused(dir.path());
        assert!(matches!(error, StoreError::ReadOnly { .. }), "{error}");
        assert_eq!(Store::salvage(&file).unwrap().answers.len(), 3);
    });
    let (dir, file) = filled(3);
    read_only(dir.path(), || {
        let error = refused(dir.path());
        assert!(
            matches!(
                error,
                StoreError::Denied { .. } | StoreError::ReadOnly { .. }
            ),
            "{error}"
        );
        assert_eq!(Store::salvage(&file).unwrap().answers.len(), 3);
    });
    assert_eq!(Store::open(dir.path()).unwrap().count().unwrap(), 3);

    // As a killed process leaves it: the last answers are in the log beside the file.
    let mut store = Store::open(dir.path()).unwrap();
    store.append(&numbered(3)).unwrap();
    let left = tempdir().unwrap();
    let copy = Store::file_in(left.path());
    fs::copy(&file, &copy).unwrap();
    fs::copy(file.with_extension("db-wal"), copy.with_extension("db-wal")).unwrap();
    read_only(left.path(), || {
        assert_eq!(Store::salvage(&copy).unwrap().answers.len(), 4);
    });
}
