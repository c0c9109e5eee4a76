//! Exported logs from disk, as candidates hand them in.

use std::fs::File;
use std::io::{self, BufReader};
use std::path::{Path, PathBuf};

use thiserror::Error;

use crate::answer::Answer;
use crate::interchange::log::{self, Entry, Problem};
use crate::query::Query;

/// What some logs hold.
#[derive(Clone, Debug, Default)]
pub struct Logs {
    /// All answers, file by file.
    pub answers: Vec<Answer>,
    /// All queries, file by file.
    pub queries: Vec<Query>,
    /// Lines that were passed over, a sentence each with file and line.
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
        let lines = log::read(BufReader::new(open(file).map_err(unreadable)?));
        for entry in lines {
            match entry {
                Ok(Entry::Answer(answer)) => logs.answers.push(answer),
                Ok(Entry::Query(query)) => logs.queries.push(query),
                Err(error) => match error.problem {
                    Problem::Io(why) => return Err(unreadable(why)),
                    _ => logs.troubles.push(format!("{}: {error}", file.display())),
                },
            }
        }
    }
    Ok(logs)
}

fn open(file: &Path) -> io::Result<File> {
    let opened = File::open(file)?;
    // Elsewhere than on Windows a folder can be opened, and fails only later in words of its own.
    if opened.metadata()?.is_dir() {
        return Err(io::ErrorKind::IsADirectory.into());
    }
    Ok(opened)
}
