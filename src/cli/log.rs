//! `luxate log`: answers and queries on their way elsewhere.

use std::io::Write;
use std::path::{Path, PathBuf};

use super::session::Place;
use super::{DONE, FAILED, FINDINGS, Failure, complain};
use crate::edge::logs::{self, Logs};
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
    if !Store::is_in(&data) {
        // Looking for answers must not make a place for them.
        return none_there(&data, err);
    }
    match Store::open(&data).and_then(|store| Ok((store.answers()?, store.queries()?))) {
        Ok((answers, queries)) => {
            interchange::log::write(&answers, out)?;
            interchange::log::write_queries(&queries, out)?;
            if answers.is_empty() && queries.is_empty() {
                return none_there(&data, err);
            }
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
            let told = format!("{answers} and {queries} could still be read and were written");
            complain(err, &told)?;
            Ok(FAILED)
        }
        Err(trouble) => Err(trouble.into()),
    }
}

/// Says that nothing was exported, which is no fault.
fn none_there(data: &Path, err: &mut impl Write) -> Result<u8, Failure> {
    let data = data.display();
    complain(
        err,
        &format!("there are no answers and no queries in {data}"),
    )?;
    Ok(DONE)
}

/// Adds what some exported logs hold and the store lacks, in their order: on a new machine, or after damage.
pub(super) fn import(
    place: &Place,
    files: &[PathBuf],
    out: &mut impl Write,
    err: &mut impl Write,
) -> Result<u8, Failure> {
    let logs = logs::read(files).map_err(|error| Failure::Told(error.to_string()))?;
    let mut store = Store::open(&place.data()?)?;
    let merged = store.append_all(&logs.answers)?;
    let before = store.queries()?.len();
    for query in &logs.queries {
        store.append_query(query)?;
    }
    // Another program may add some at the same moment; then the counts are only about right.
    let queries = store.queries()?.len().saturating_sub(before);
    let known = merged.known + logs.queries.len().saturating_sub(queries);
    writeln!(
        out,
        "{} and {} added; {} here already",
        counted(merged.new, "answer", "answers"),
        counted(queries, "query", "queries"),
        counted(known, "was", "were")
    )?;
    passed_over(&logs, err)
}

/// Says what could not be taken of some logs, and the exit code that follows from it.
pub(super) fn passed_over(logs: &Logs, err: &mut impl Write) -> Result<u8, Failure> {
    for trouble in &logs.troubles {
        complain(err, trouble)?;
    }
    Ok(if logs.troubles.is_empty() {
        DONE
    } else {
        FINDINGS
    })
}
