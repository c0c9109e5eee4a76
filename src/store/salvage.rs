//! Reads what can still be read of a store that cannot be opened or is damaged.
//!
//! Never writes to the file, whatever it holds. Rows that lie behind a damaged page are looked for one by one, so that a
//! hole in the middle does not cost what comes after it.

use std::fs;
use std::path::Path;

use rusqlite::{Connection, OpenFlags, OptionalExtension, Row};

use crate::answer::Answer;
use crate::query::Query;

use super::Store;
use super::connect;
use super::error::{At, StoreError};
use super::header::{self, beside};
use super::{query, row};

const READ_ONLY: OpenFlags =
    OpenFlags::SQLITE_OPEN_READ_ONLY.union(OpenFlags::SQLITE_OPEN_NO_MUTEX);

/// No row is smaller: fingerprint, day and the name of an answer alone take 42 bytes, and every column its type.
const LEAST_ROW_BYTES: u64 = 48;

/// What could be read, and why not all.
#[derive(Debug)]
pub struct Salvage {
    /// The readable answers in the order in which they were given.
    pub answers: Vec<Answer>,
    /// The readable queries in the order in which they were written.
    pub queries: Vec<Query>,
    /// The first thing found wrong; `None` if the file is sound.
    pub problem: Option<StoreError>,
}

/// How the rows of a table are read.
struct Table<T> {
    name: &'static str,
    /// All rows in order, `seq` among their columns.
    all: &'static str,
    /// The row of one `seq`.
    one: &'static str,
    read: fn(&Row<'_>) -> rusqlite::Result<T>,
}

/// The statements of a table with these columns.
macro_rules! table {
    ($name:literal, $columns:expr, $read:expr) => {
        Table {
            name: $name,
            all: concat!("SELECT ", $columns, ", seq FROM ", $name, " ORDER BY seq"),
            one: concat!("SELECT ", $columns, " FROM ", $name, " WHERE seq = ?1"),
            read: $read,
        }
    };
}

const ANSWERS: Table<Answer> = table!("answer", row::columns!(), row::read);
const QUERIES: Table<Query> = table!("query", query::columns!(), query::read);

impl Store {
    /// Reads the answers and queries of the database `file`, damaged or not, without writing to it.
    ///
    /// # Errors
    /// If nothing at all can be read as a log of answers.
    pub fn salvage(file: &Path) -> Result<Salvage, StoreError> {
        let connection = open(file)?;
        let mut problem = connect::check(&connection, file, "quick_check").err();
        let answers = ANSWERS.rows(&connection, file, &mut problem)?;
        // A store of the first format has none.
        let queries = if QUERIES.is_there(&connection).at(file)? {
            // What is wrong with them must not cost the answers.
            let rows = QUERIES.rows(&connection, file, &mut problem);
            rows.unwrap_or_else(|error| {
                problem.get_or_insert(error);
                Vec::new()
            })
        } else {
            Vec::new()
        };
        Ok(Salvage {
            answers,
            queries,
            problem,
        })
    }
}

impl<T> Table<T> {
    fn is_there(&self, connection: &Connection) -> rusqlite::Result<bool> {
        let select = "SELECT count(*) FROM sqlite_schema WHERE type = 'table' AND name = ?1";
        let found: u32 = connection.query_row(select, [self.name], |row| row.get(0))?;
        Ok(found > 0)
    }

    /// Whatever rows can be read, with the first thing found wrong.
    fn rows(
        &self,
        connection: &Connection,
        file: &Path,
        problem: &mut Option<StoreError>,
    ) -> Result<Vec<T>, StoreError> {
        let mut rows = Vec::new();
        let mut next = 1;
        if let Err(error) = self.run(connection, &mut rows, &mut next) {
            problem.get_or_insert(StoreError::of(file, error));
            let size = |file: &Path| fs::metadata(file).map_or(0, |data| data.len());
            let most = (size(file) + size(&beside(file, "-wal"))) / LEAST_ROW_BYTES;
            let most = i64::try_from(most).unwrap_or(i64::MAX);
            self.single(connection, &mut rows, next..=most).at(file)?;
        }
        Ok(rows)
    }

    /// Reads on in order until the first row that cannot be read; `next` is then the number after the last that could. The number
    /// of a spoilt row says nothing.
    fn run(
        &self,
        connection: &Connection,
        taken: &mut Vec<T>,
        next: &mut i64,
    ) -> rusqlite::Result<()> {
        let mut select = connection.prepare(self.all)?;
        let mut rows = select.query([])?;
        while let Some(row) = rows.next()? {
            let seq: i64 = row.get("seq")?;
            taken.push((self.read)(row)?);
            *next = seq.saturating_add(1).max(*next);
        }
        Ok(())
    }

    /// Tries each number by itself and takes what comes.
    fn single(
        &self,
        connection: &Connection,
        taken: &mut Vec<T>,
        numbers: impl Iterator<Item = i64>,
    ) -> rusqlite::Result<()> {
        let mut select = connection.prepare(self.one)?;
        for number in numbers {
            if let Ok(Some(row)) = select.query_row([number], self.read).optional() {
                taken.push(row);
            }
        }
        Ok(())
    }
}

/// A connection that only reads; where not even an index of the log may be made beside the file, it is kept in memory.
fn open(file: &Path) -> Result<Connection, StoreError> {
    header::inspect(file)?;
    // Absolute, lest SQLite take the name for a URI.
    let path = std::path::absolute(file).unwrap_or_else(|_| file.to_path_buf());
    match beside_others(&path).at(file) {
        Err(StoreError::Denied { .. } | StoreError::ReadOnly { .. }) => alone(&path).at(file),
        opened => opened,
    }
}

fn beside_others(path: &Path) -> rusqlite::Result<Connection> {
    prepare(Connection::open_with_flags(path, READ_ONLY)?)
}

/// Without locks, since a folder that cannot be written has no writers. `SQLite` wants to make a log and its index; it does
/// without the index if it may keep it to itself, and without the log if the file is declared to be at rest.
fn alone(path: &Path) -> rusqlite::Result<Connection> {
    if header::has_bytes(&beside(path, "-wal")) {
        let unlocked = if cfg!(windows) {
            c"win32-none"
        } else {
            c"unix-none"
        };
        let connection = Connection::open_with_flags_and_vfs(path, READ_ONLY, unlocked)?;
        connection.pragma_update(None, "locking_mode", "EXCLUSIVE")?;
        prepare(connection)
    } else {
        let flags = READ_ONLY | OpenFlags::SQLITE_OPEN_URI;
        prepare(Connection::open_with_flags(at_rest(path), flags)?)
    }
}

/// The URI by which `SQLite` opens a file that nobody writes.
fn at_rest(path: &Path) -> String {
    let encoded = |&byte: &u8| match byte {
        b'\\' if cfg!(windows) => "/".to_owned(),
        b'/' | b'.' | b'-' | b'_' | b'0'..=b'9' | b'A'..=b'Z' | b'a'..=b'z' => {
            char::from(byte).to_string()
        }
        _ => format!("%{byte:02x}"),
    };
    let path: String = path
        .as_os_str()
        .as_encoded_bytes()
        .iter()
        .map(encoded)
        .collect();
    let root = if cfg!(windows) { "/" } else { "" };
    format!("file:{root}{path}?immutable=1")
}

fn prepare(connection: Connection) -> rusqlite::Result<Connection> {
    connection.busy_timeout(connect::PATIENCE)?;
    connection.pragma_update(None, "trusted_schema", false)?;
    connection.pragma_update(None, "cell_size_check", true)?;
    // Makes SQLite read a file that is shorter than its header says. Nothing is written.
    connection.pragma_update(None, "writable_schema", true)?;
    connection.query_row("SELECT count(*) FROM sqlite_schema", [], |_| Ok(()))?;
    Ok(connection)
}

#[cfg(test)]
mod tests {
    use tempfile::tempdir;

    use super::*;
    use crate::settings::Setting;

    fn setting(connection: &Connection) -> String {
        let select = "SELECT value FROM setting";
        connection.query_row(select, [], |row| row.get(0)).unwrap()
    }

    #[test]
    fn alone_reads_a_file_and_its_log_and_makes_nothing() {
        let dir = tempdir().unwrap();
        // A name that would be a URI with a question, were it not encoded.
        let odd = dir.path().join("file:a%41?mode=rw#é");
        let mut store = Store::open(&odd).unwrap();
        store.set(Setting::CautionRead, "in the log").unwrap();
        let left = tempdir().unwrap();
        let copy = Store::file_in(left.path());
        fs::copy(&store.file, &copy).unwrap();
        fs::copy(beside(&store.file, "-wal"), beside(&copy, "-wal")).unwrap();
        let names = || fs::read_dir(left.path()).unwrap().count();
        let connection = alone(&copy).unwrap();
        assert_eq!(setting(&connection), "in the log");
        assert_eq!(names(), 2);
        drop(connection);
        assert_eq!(names(), 2);

        let file = store.file.clone();
        store.set(Setting::CautionRead, "in the file").unwrap();
        drop(store);
        assert_eq!(setting(&alone(&file).unwrap()), "in the file");
        assert_eq!(fs::read_dir(&odd).unwrap().count(), 1);
    }
}
