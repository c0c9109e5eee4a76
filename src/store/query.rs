//! Queries as rows: they go in at the end, one durable transaction each, and come out in order.

use rusqlite::{Connection, Row, TransactionBehavior, named_params};

use super::Store;
use super::error::{At, StoreError};
use super::row::{part, unreadable, word};
use crate::answer::{AnswerId, ItemRef};
use crate::query::Query;
use crate::time::{Day, Moment};

/// The columns that [`read`] wants, in its order.
macro_rules! columns {
    () => {
        "at_utc_ms, day, offset_min, deck, item, edition, fingerprint, part, parts, answer, text"
    };
}
pub(super) use columns;

impl Store {
    /// Adds a query. When this returns, it is on disk and survives a crash or a power cut.
    ///
    /// # Errors
    /// Nothing is stored if the query is flawed or the file cannot be written.
    pub fn append_query(&mut self, query: &Query) -> Result<(), StoreError> {
        query
            .check()
            .map_err(|flaw| StoreError::FlawedQuery { flaw })?;
        let file = &self.file;
        let transaction = self
            .connection
            .transaction_with_behavior(TransactionBehavior::Immediate)
            .at(file)?;
        write(&transaction, query).at(file)?;
        transaction.commit().at(file)
    }

    /// All queries in the order in which they came in.
    ///
    /// # Errors
    /// [`StoreError::Damaged`] if a row cannot be read; [`Store::salvage`] then tells what can.
    pub fn queries(&self) -> Result<Vec<Query>, StoreError> {
        self.read_queries().at(&self.file)
    }

    fn read_queries(&self) -> rusqlite::Result<Vec<Query>> {
        self.connection
            .prepare_cached(concat!("SELECT ", columns!(), " FROM query ORDER BY seq"))?
            .query_map([], read)?
            .collect()
    }
}

fn write(connection: &Connection, query: &Query) -> rusqlite::Result<()> {
    let mut insert = connection.prepare_cached(concat!(
        "INSERT INTO query (",
        columns!(),
        ", program) VALUES (:at_utc_ms, :day, :offset_min, :deck, :item, :edition, :fingerprint, :part, \
         :parts, :answer, :text, :program)"
    ))?;
    insert.execute(named_params! {
        ":at_utc_ms": query.at.utc_ms,
        ":day": query.at.day.to_string(),
        ":offset_min": query.at.offset_min,
        ":deck": query.item.deck,
        ":item": query.item.item,
        ":edition": query.edition,
        ":fingerprint": query.fingerprint,
        ":part": query.part.map(|part| part.number),
        ":parts": query.part.map(|part| part.of),
        ":answer": query.answer.0,
        ":text": query.text,
        ":program": env!("CARGO_PKG_VERSION"),
    })?;
    Ok(())
}

/// The query in a row of [`columns`]; an error if the row could not have been written by [`write()`].
pub(super) fn read(row: &Row<'_>) -> rusqlite::Result<Query> {
    let query = Query {
        at: Moment {
            utc_ms: row.get(0)?,
            day: word(row, 1, Day::parse)?,
            offset_min: row.get(2)?,
        },
        item: ItemRef {
            deck: row.get(3)?,
            item: row.get(4)?,
        },
        edition: row.get(5)?,
        fingerprint: row.get(6)?,
        part: part(row, 7)?,
        answer: AnswerId(row.get(9)?),
        text: row.get(10)?,
    };
    query.check().map_err(|flaw| unreadable(0, flaw))?;
    Ok(query)
}
