//! The log: answers go in at the end, one durable transaction each, and come out in order.
//!
//! Order is the order of arrival, never that of the clocks. Merging is a union by id: what is known already
//! is left alone, and an id that comes with other content is an error, never a correction.

use rusqlite::{Connection, OptionalExtension, TransactionBehavior};

use crate::answer::{Answer, AnswerId};

use super::Store;
use super::error::{At, StoreError};
use super::row;

/// Version of the rules by which answers are marked and given a quality; kept with each answer. Raise it when they
/// change.
pub const RULES_VERSION: u32 = 1;

/// What became of an answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Appended {
    /// It is in the log now, and on disk.
    New,
    /// It was in the log already, exactly so.
    Known,
}

/// What became of many.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Merged {
    /// Answers added.
    pub new: usize,
    /// Answers that were there already.
    pub known: usize,
}

impl Store {
    /// Adds an answer. When this returns, it is on disk and survives a crash or a power cut.
    ///
    /// # Errors
    /// Nothing is stored if the answer is flawed, its id is taken by another answer, or the file cannot be written.
    pub fn append(&mut self, answer: &Answer) -> Result<Appended, StoreError> {
        let merged = self.append_all(std::slice::from_ref(answer))?;
        Ok(if merged.new == 1 {
            Appended::New
        } else {
            Appended::Known
        })
    }

    /// Adds those of `answers` that the log lacks, in their order, all in one transaction.
    ///
    /// # Errors
    /// Nothing is stored if any answer is flawed or bears the id of another one, or the file cannot be written.
    pub fn append_all(&mut self, answers: &[Answer]) -> Result<Merged, StoreError> {
        for answer in answers {
            answer.check().map_err(|flaw| StoreError::Flawed {
                id: answer.id,
                flaw,
            })?;
        }
        let file = &self.file;
        let transaction = self
            .connection
            .transaction_with_behavior(TransactionBehavior::Immediate)
            .at(file)?;
        let mut merged = Merged::default();
        for answer in answers {
            match find(&transaction, answer.id).at(file)? {
                None => {
                    row::write(&transaction, answer).at(file)?;
                    merged.new += 1;
                }
                Some(known) if known == *answer => merged.known += 1,
                Some(_) => return Err(StoreError::Conflict { id: answer.id }),
            }
        }
        transaction.commit().at(file)?;
        Ok(merged)
    }

    /// All answers in the order in which they came in.
    ///
    /// # Errors
    /// [`StoreError::Damaged`] if a row cannot be read; [`Store::salvage`] then tells what can.
    pub fn answers(&self) -> Result<Vec<Answer>, StoreError> {
        self.read_answers().at(&self.file)
    }

    fn read_answers(&self) -> rusqlite::Result<Vec<Answer>> {
        self.connection
            .prepare_cached(concat!(
                "SELECT ",
                row::columns!(),
                " FROM answer ORDER BY seq"
            ))?
            .query_map([], row::read)?
            .collect()
    }

    /// How many answers there are.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn count(&self) -> Result<u32, StoreError> {
        self.connection
            .query_row("SELECT count(*) FROM answer", [], |row| row.get(0))
            .at(&self.file)
    }
}

fn find(connection: &Connection, id: AnswerId) -> rusqlite::Result<Option<Answer>> {
    connection
        .prepare_cached(concat!(
            "SELECT ",
            row::columns!(),
            " FROM answer WHERE uid = ?1"
        ))?
        .query_row([id.0], row::read)
        .optional()
}

#[cfg(test)]
mod tests {
    use tempfile::tempdir;

    use super::*;
    use crate::answer::{Confidence, ItemRef, Quality, RoundKind};
    use crate::time::{Day, Moment};

    fn answer(number: u8) -> Answer {
        Answer {
            id: AnswerId([number; 16]),
            at: Moment {
                utc_ms: 1_795_000_000_000,
                day: Day::from_number(20_775),
                offset_min: 0,
            },
            item: ItemRef::new("roots", "tip"),
            edition: "2026-11-01".into(),
            fingerprint: "00000000000000ff".into(),
            part: None,
            wording: 0,
            shown: vec![],
            response: vec!["x".repeat(2000)],
            right: true,
            confidence: Confidence::Likely,
            quality: Quality::of(true, Confidence::Likely),
            seconds: 4.5,
            round: RoundKind::Review,
        }
    }

    #[test]
    fn a_full_disk_is_told_and_loses_nothing_that_was_stored() {
        let dir = tempdir().unwrap();
        let mut store = Store::open(dir.path()).unwrap();
        store.append(&answer(0)).unwrap();
        // As a full disk does, this refuses every further page.
        let pages: u32 = store
            .connection
            .pragma_query_value(None, "page_count", |row| row.get(0))
            .unwrap();
        let limit = |store: &Store, pages: u32| {
            store
                .connection
                .pragma_update(None, "max_page_count", pages)
                .unwrap();
        };
        limit(&store, pages + 2);
        let mut stored = vec![answer(0)];
        let error = loop {
            let next = answer(u8::try_from(stored.len()).unwrap());
            match store.append(&next) {
                Ok(_) => stored.push(next),
                Err(error) => break error,
            }
        };
        assert!(matches!(error, StoreError::Full { .. }), "{error}");
        assert_eq!(store.answers().unwrap(), stored);
        store.integrity().unwrap();
        // With room again, it goes on where it stopped.
        limit(&store, 1000);
        store.append(&answer(200)).unwrap();
        stored.push(answer(200));
        drop(store);
        let store = Store::open(dir.path()).unwrap();
        assert_eq!(store.answers().unwrap(), stored);
    }

    #[test]
    fn a_writer_that_does_not_finish_is_told() {
        let dir = tempdir().unwrap();
        let mut store = Store::open(dir.path()).unwrap();
        let other = Store::open(dir.path()).unwrap();
        other.connection.execute_batch("BEGIN IMMEDIATE").unwrap();
        store
            .connection
            .busy_timeout(std::time::Duration::ZERO)
            .unwrap();
        let error = store.append(&answer(1)).unwrap_err();
        assert!(matches!(error, StoreError::Busy { .. }), "{error}");
        other.connection.execute_batch("ROLLBACK").unwrap();
        store.append(&answer(1)).unwrap();
    }
}
