//! Exported logs from disk, as candidates hand them in.

use std::fs::File;
use std::io::{self, BufRead as _, BufReader};
use std::path::{Path, PathBuf};

use thiserror::Error;

use crate::answer::Answer;
use crate::interchange::log::{self, Entry, LineError, Problem};
use crate::query::Query;
use crate::words::counted;

/// So many lines of a file are told one by one; the rest are counted.
const TOLD_MAX: usize = 10;

/// What some logs hold.
#[derive(Clone, Debug, Default)]
pub struct Logs {
    /// All answers, file by file.
    pub answers: Vec<Answer>,
    /// All queries, file by file.
    pub queries: Vec<Query>,
    /// What was passed over, a sentence each with file and line; of a file with many such lines, the first and their number.
    pub troubles: Vec<String>,
}

/// A log could not be read to its end.
#[derive(Debug, Error)]
#[error("{} cannot be read: {why}", file.display())]
pub struct Unreadable {
    file: PathBuf,
    why: io::Error,
}

/// Reads exported logs. What is on a line that is neither answer nor query is told and left out.
///
/// # Errors
/// [`Unreadable`] if a file is not there, or fails.
pub fn read(files: &[PathBuf]) -> Result<Logs, Unreadable> {
    let mut logs = Logs::default();
    for file in files {
        let unreadable = |why| Unreadable {
            file: file.clone(),
            why,
        };
        let mut input = BufReader::new(open(file).map_err(unreadable)?);
        if is_utf_16(input.fill_buf().map_err(unreadable)?) {
            logs.troubles.push(format!(
                "{}: this looks like UTF-16 and was passed over: save the file as UTF-8",
                file.display()
            ));
            continue;
        }
        let mut passed_over = 0;
        let (taken, told) = (logs.answers.len() + logs.queries.len(), logs.troubles.len());
        for entry in log::read(input) {
            match entry {
                Ok(Entry::Answer(answer)) => logs.answers.push(answer),
                Ok(Entry::Query(query)) => logs.queries.push(query),
                Err(LineError {
                    problem: Problem::Io(why),
                    ..
                }) => return Err(unreadable(why)),
                Err(error) => {
                    passed_over += 1;
                    if passed_over <= TOLD_MAX {
                        let trouble = format!("{}: {error}", file.display());
                        logs.troubles.push(trouble);
                    }
                }
            }
        }
        if passed_over > 0 && logs.answers.len() + logs.queries.len() == taken {
            logs.troubles.truncate(told);
            logs.troubles.push(format!(
                "{} is no log: none of its lines is an answer or a query; luxate log export writes one",
                file.display()
            ));
        } else if passed_over > TOLD_MAX {
            let more = counted(passed_over - TOLD_MAX, "more line", "more lines");
            let trouble = format!("{}: {more} could not be taken", file.display());
            logs.troubles.push(trouble);
        }
    }
    Ok(logs)
}

/// Whether a log begins as text in UTF-16 does, with a mark or with every other byte empty.
const fn is_utf_16(start: &[u8]) -> bool {
    matches!(
        start,
        [0xff, 0xfe, ..] | [0xfe, 0xff, ..] | [0, 1..=0xff, ..] | [1..=0xff, 0, ..]
    )
}

fn open(file: &Path) -> io::Result<File> {
    let opened = File::open(file)?;
    // Elsewhere than on Windows a folder can be opened, and fails only later in words of its own.
    if opened.metadata()?.is_dir() {
        return Err(io::ErrorKind::IsADirectory.into());
    }
    Ok(opened)
}
