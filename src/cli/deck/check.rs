//! `luxate deck check`: what is wrong with decks, and where. Changes nothing.

use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use super::look;
use crate::cli::render;
use crate::cli::{DONE, FAILED, FINDINGS, Failure};
use crate::diagnostic::Counts;
use crate::edge::decks;
use crate::text::Shown;

/// Says what is wrong with decks and where. Changes nothing.
pub(super) fn check(
    paths: &[PathBuf],
    out: &mut impl Write,
    err: &mut impl Write,
) -> Result<u8, Failure> {
    let mut counts = Counts::default();
    let mut files = 0;
    let mut failed = false;
    for path in paths {
        let found = deck_files(path);
        if found.as_ref().is_ok_and(Vec::is_empty) {
            failed = true;
            writeln!(
                err,
                "luxate: there is no .yaml file in {}",
                Shown::new(&path.to_string_lossy())
            )?;
        }
        for file in found.unwrap_or_else(|_| vec![path.clone()]) {
            match decks::read_file(&file) {
                Ok(reading) => {
                    files += 1;
                    counts = counts.plus(reading.diagnostics.counts());
                    write!(
                        out,
                        "{}",
                        render::diagnostics(&reading.source, &reading.diagnostics, look())
                    )?;
                }
                Err(error) => {
                    failed = true;
                    writeln!(err, "luxate: {}", Shown::new(&error.to_string()))?;
                }
            }
        }
    }
    if files > 0 {
        writeln!(out, "{}", render::closing(counts, files))?;
    }
    Ok(match (failed, counts.errors) {
        (true, _) => FAILED,
        (false, 0) => DONE,
        (false, _) => FINDINGS,
    })
}

/// The file itself, or the deck files of a folder in order of their names.
fn deck_files(path: &Path) -> io::Result<Vec<PathBuf>> {
    if !path.is_dir() {
        return Ok(vec![path.to_owned()]);
    }
    let mut files = fs::read_dir(path)?
        .map(|entry| Ok(entry?.path()))
        .collect::<io::Result<Vec<PathBuf>>>()?;
    files.retain(|file| {
        file.extension()
            .is_some_and(|extension| extension == "yaml" || extension == "yml")
    });
    files.sort();
    Ok(files)
}
