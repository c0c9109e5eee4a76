//! Exported logs from disk, as candidates hand them in.

use std::fs::File;
use std::io::{self, BufReader};
use std::path::{Path, PathBuf};

use thiserror::Error;

use crate::answer::Answer;
use crate::interchange::log::{self, Entry, Problem};
use crate::query::Query;
use crate::words::counted;

/// What some logs hold.
#[derive(Clone, Debug, Default)]
pub struct Logs {
    /// All answers, file by file.
    pub answers: Vec<Answer>,
    /// All queries, file by file.
    pub queries: Vec<Query>,
    /// Lines that were passed over, a sentence each with file and line; of many in one file only the first.
    pub troubles: Vec<String>,
}

/// A log could not be read to its end.
#[derive(Debug, Error)]
#[error("{} cannot be read: {why}", file.display())]
pub struct Unreadable {
    file: PathBuf,
    why: io::Error,
}

/// Lines of one file that are told one by one.
const MOST_TOLD: usize = 3;

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
        let (mut taken, mut passed_over) = (0_usize, 0_usize);
        let mut told = Vec::new();
        for entry in lines {
            match entry {
                Ok(Entry::Answer(answer)) => logs.answers.push(answer),
                Ok(Entry::Query(query)) => logs.queries.push(query),
                Err(error) => {
                    if let Problem::Io(why) = error.problem {
                        return Err(unreadable(why));
                    }
                    passed_over += 1;
                    if told.len() < MOST_TOLD {
                        told.push(error.to_string());
                    }
                    continue;
                }
            }
            taken += 1;
        }
        logs.troubles.extend(troubles(
            &file.display().to_string(),
            taken,
            passed_over,
            told,
        ));
    }
    Ok(logs)
}

/// What is to be said of a file of which so many lines were taken and passed over, the first of them `told`.
fn troubles(file: &str, taken: usize, passed_over: usize, told: Vec<String>) -> Vec<String> {
    if let (0, Some(first)) = (taken, told.first()) {
        return vec![format!(
            "{file} is no exported log: no line of it can be taken; {first}"
        )];
    }
    let more = passed_over - told.len();
    let more = (more > 0).then(|| {
        let lines = counted(more, "more line", "more lines");
        format!("{file}: {lines} passed over")
    });
    let told = told.into_iter().map(|one| format!("{file}: {one}"));
    told.chain(more).collect()
}

fn open(file: &Path) -> io::Result<File> {
    let opened = File::open(file)?;
    // Elsewhere than on Windows a folder can be opened, and fails only later in words of its own.
    if opened.metadata()?.is_dir() {
        return Err(io::ErrorKind::IsADirectory.into());
    }
    Ok(opened)
}
