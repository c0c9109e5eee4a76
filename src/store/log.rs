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
