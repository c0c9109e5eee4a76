//! `luxate log`: answers on their way elsewhere.

use std::io::Write;

use super::session::Place;
use super::{DONE, FAILED, Failure};
use crate::interchange;
use crate::store::{Store, StoreError};

/// Writes all answers as JSON Lines; of a damaged store, all that can still be read.
pub(super) fn export(
    place: &Place,
    out: &mut impl Write,
    err: &mut impl Write,
) -> Result<u8, Failure> {
    let data = place.data()?;
    match Store::open(&data).and_then(|store| store.answers()) {
        Ok(answers) => {
            interchange::log::write(&answers, out)?;
            Ok(DONE)
        }
        // Writing is not needed for this, so a store that can only be read will do as well as a damaged one.
        Err(
            trouble @ (StoreError::Damaged { .. }
            | StoreError::ReadOnly { .. }
            | StoreError::Denied { .. }
            | StoreError::Full { .. }),
        ) => {
            let salvage = Store::salvage(&Store::file_in(&data))?;
            interchange::log::write(&salvage.answers, out)?;
            let count = salvage.answers.len();
            super::report(err, &trouble.into());
            writeln!(
                err,
                "luxate: {count} answers could still be read and were written"
            )?;
            Ok(FAILED)
        }
        Err(trouble) => Err(trouble.into()),
    }
}
