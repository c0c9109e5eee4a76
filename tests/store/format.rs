//! The format on disk: what it looks like, what it forbids, and that every past one still opens.

use std::fs;
use std::path::Path;

use luxate::interchange::log::{self, Entry};
use luxate::settings::Setting;
use luxate::store::Store;
use rusqlite::Connection;
use tempfile::tempdir;

use crate::answers::query;
use crate::refusals::filled;

fn schema(file: &Path) -> String {
    let connection = Connection::open(file).unwrap();
    let mut select = connection
        .prepare("SELECT sql FROM sqlite_schema WHERE sql IS NOT NULL ORDER BY name")
        .unwrap();
    let rows = select.query_map([], |row| row.get::<_, String>(0)).unwrap();
    let rows: Vec<_> = rows.map(Result::unwrap).collect();
    rows.join(";\n\n")
}

#[test]
fn the_schema_is_this() {
    let (_dir, file) = filled(0);
    insta::assert_snapshot!(schema(&file));
}

/// `store-v1.db` was written by the program at format 1, `store-v1.jsonl` is what it held.
#[test]
fn every_past_format_opens_with_all_it_held() {
    let data = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data");
    let text = fs::read(data.join("store-v1.jsonl")).unwrap();
    let held: Vec<_> = log::read(text.as_slice()).map(Result::unwrap).collect();
    assert!(held.len() > 20);
    let dir = tempdir().unwrap();
    let file = Store::file_in(dir.path());
    fs::copy(data.join("store-v1.db"), &file).unwrap();
    // What cannot be opened any more can still be read as it is.
    let salvage = Store::salvage(&file).unwrap();
    assert!(salvage.problem.is_none() && salvage.queries.is_empty());
    let mut store = Store::open(dir.path()).unwrap();
    let answers = store.answers().unwrap();
    assert_eq!(salvage.answers, answers);
    let entries: Vec<_> = answers.into_iter().map(Entry::Answer).collect();
    assert_eq!(entries, held);
    assert_eq!(store.queries().unwrap(), []);
    store.append_query(&query(1)).unwrap();
    assert_eq!(store.queries().unwrap(), [query(1)]);
    let read = store.setting(Setting::CautionRead).unwrap();
    assert_eq!(read.as_deref(), Some("2026-11-25T08:30:00.000Z"));
    store.integrity().unwrap();
    drop(store);
    // Brought up to date, it is as if it had been made today.
    let (_dir, fresh) = filled(0);
    assert_eq!(schema(&file), schema(&fresh));
}

#[test]
fn no_statement_alters_or_removes_an_answer() {
    let (dir, file) = filled(5);
    let before = Store::open(dir.path()).unwrap().answers().unwrap();
    let connection = Connection::open(&file).unwrap();
    // As the store has it; without, REPLACE would delete unseen.
    connection
        .pragma_update(None, "recursive_triggers", true)
        .unwrap();
    let columns = "uid, at_utc_ms, day, offset_min, deck, item, edition, fingerprint, part, parts, wording, shown, \
                   response, correct, confidence, quality, seconds, round, program, rules";
    for (statement, says) in [
        (
            "UPDATE answer SET correct = 1 - correct".to_owned(),
            "never changed",
        ),
        (
            "UPDATE answer SET seq = seq + 100".to_owned(),
            "never changed",
        ),
        (
            "DELETE FROM answer WHERE seq = 3".to_owned(),
            "never deleted",
        ),
        ("DELETE FROM answer".to_owned(), "never deleted"),
        (
            format!("INSERT OR REPLACE INTO answer SELECT seq, {columns} FROM answer"),
            "never deleted",
        ),
        (
            format!(
                "INSERT INTO answer ({columns}) SELECT {columns} FROM answer WHERE true
                 ON CONFLICT (uid) DO UPDATE SET correct = 1 - correct"
            ),
            "never changed",
        ),
    ] {
        let error = connection.execute_batch(&statement).unwrap_err();
        assert!(error.to_string().contains(says), "{statement}: {error}");
    }
    drop(connection);
    assert_eq!(Store::open(dir.path()).unwrap().answers().unwrap(), before);
}

#[test]
fn no_statement_alters_or_removes_a_query() {
    let (dir, file) = filled(1);
    let mut store = Store::open(dir.path()).unwrap();
    store.append_query(&query(0)).unwrap();
    let connection = Connection::open(&file).unwrap();
    connection
        .pragma_update(None, "recursive_triggers", true)
        .unwrap();
    for (statement, says) in [
        ("UPDATE query SET text = 'no'", "never changed"),
        ("DELETE FROM query", "never deleted"),
        (
            "INSERT OR REPLACE INTO query SELECT * FROM query",
            "never deleted",
        ),
    ] {
        let error = connection.execute_batch(statement).unwrap_err();
        assert!(error.to_string().contains(says), "{statement}: {error}");
    }
    let columns =
        "at_utc_ms, day, offset_min, deck, item, edition, fingerprint, answer, program, text";
    for text in ["''", "NULL", "printf('%1001s', 'x')"] {
        let copy = columns.replace("text", text);
        let statement = format!("INSERT INTO query ({columns}) SELECT {copy} FROM query");
        connection.execute_batch(&statement).unwrap_err();
    }
    assert_eq!(store.queries().unwrap(), [query(0)]);
}

#[test]
fn every_range_is_checked_by_the_table_itself() {
    let (_dir, file) = filled(1);
    let connection = Connection::open(&file).unwrap();
    let copy = |column: &str, value: &str| {
        let columns = [
            "uid",
            "at_utc_ms",
            "day",
            "offset_min",
            "deck",
            "item",
            "edition",
            "fingerprint",
            "wording",
            "shown",
            "response",
            "correct",
            "confidence",
            "quality",
            "seconds",
            "round",
            "program",
            "rules",
        ];
        let values = columns.map(|name| match name {
            name if name == column => value,
            "uid" => "randomblob(16)",
            name => name,
        });
        let statement = format!(
            "INSERT INTO answer ({}) SELECT {} FROM answer WHERE seq = 1",
            columns.join(", "),
            values.join(", ")
        );
        connection.execute_batch(&statement)
    };
    copy("wording", "4294967295").unwrap();
    copy("day", "'2028-02-29'").unwrap();
    for (column, value) in [
        ("uid", "randomblob(15)"),
        ("uid", "uid"),
        ("at_utc_ms", "253402300800000"),
        ("at_utc_ms", "'noon'"),
        ("day", "'2027-02-29'"),
        ("day", "'2027-2-9'"),
        ("day", "'now'"),
        ("offset_min", "1440"),
        ("deck", "''"),
        ("deck", "'a/b'"),
        ("item", "''"),
        ("edition", "NULL"),
        ("fingerprint", "'0123456789ABCDEF'"),
        ("fingerprint", "'0123'"),
        ("wording", "-1"),
        ("shown", "'[1'"),
        ("response", "'{}'"),
        ("correct", "2"),
        ("confidence", "'sure'"),
        ("quality", "6"),
        ("seconds", "-0.1"),
        ("seconds", "9e999"),
        ("seconds", "NULL"),
        ("round", "'game'"),
        ("program", "''"),
        ("rules", "0"),
    ] {
        let error = copy(column, value).unwrap_err().to_string();
        assert!(
            ["constraint failed", "cannot store"]
                .iter()
                .any(|text| error.contains(text)),
            "{column} = {value}: {error}"
        );
    }
}
