//! `luxate log`: answers and queries on their way elsewhere.

use std::io::Write;

use super::session::Place;
use super::{DONE, FAILED, Failure};
use crate::interchange;
use crate::store::{Store, StoreError};
use crate::words::counted;

/// Writes all answers and then all queries as JSON Lines; of a damaged store, all that can still be read.
pub(super) fn export(
    place: &Place,
    out: &mut impl Write,
    err: &mut impl Write,
) -> Result<u8, Failure> {
    let data = place.data()?;
    match Store::open(&data).and_then(|store| Ok((store.answers()?, store.queries()?))) {
        Ok((answers, queries)) => {
            interchange::log::write(&answers, out)?;
            interchange::log::write_queries(&queries, out)?;
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
            interchange::log::write_queries(&salvage.queries, out)?;
            // Reading is all that was asked for.
            if salvage.problem.is_none() && !matches!(trouble, StoreError::Damaged { .. }) {
                return Ok(DONE);
            }
            let answers = counted(salvage.answers.len(), "answer", "answers");
            let queries = counted(salvage.queries.len(), "query", "queries");
            super::report(err, &trouble.into());
            writeln!(
                err,
                "luxate: {answers} and {queries} could still be read and were written"
            )?;
            Ok(FAILED)
        }
        Err(trouble) => Err(trouble.into()),
    }
}
