//! Settings by name. They say how the program should behave and never what was answered.

use rusqlite::{OptionalExtension, TransactionBehavior};

use super::Store;
use super::error::{At, StoreError};
use crate::settings::Setting;

impl Store {
    /// The value of a setting; `None` if it was never set.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn setting(&self, setting: Setting) -> Result<Option<String>, StoreError> {
        self.connection
            .query_row(
                "SELECT value FROM setting WHERE name = ?1",
                [setting.name()],
                |row| row.get(0),
            )
            .optional()
            .at(&self.file)
    }

    /// Sets a setting, durable when this returns.
    ///
    /// # Errors
    /// If the file cannot be written; the old value then stays.
    pub fn set(&mut self, setting: Setting, value: &str) -> Result<(), StoreError> {
        let file = &self.file;
        let transaction = self
            .connection
            .transaction_with_behavior(TransactionBehavior::Immediate)
            .at(file)?;
        transaction
            .execute(
                "INSERT INTO setting (name, value) VALUES (?1, ?2)
                 ON CONFLICT (name) DO UPDATE SET value = excluded.value",
                [setting.name(), value],
            )
            .at(file)?;
        transaction.commit().at(file)
    }
}
