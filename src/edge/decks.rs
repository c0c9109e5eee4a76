//! Decks from the binary and from disk.
//!
//! Built-in decks are compiled in; a candidate's own live as files in the data folder's `decks`, named by
//! their id and nothing else, so that no deck can reach outside it.

use std::fs::{self, File};
use std::io::{self, Read};
use std::path::{Path, PathBuf};

use rayon::prelude::*;
use thiserror::Error;

use super::files as disk;
use crate::deck::model::Deck;
use crate::deck::{CAP, Outline, Reading, Settings, read_any, read_deck, reread_deck};

/// A deck of the folder `decks` by its file name.
macro_rules! deck {
    ($name:literal) => {
        (
            $name,
            include_bytes!(concat!("../../decks/", $name)).as_slice(),
        )
    };
}

/// File names and bytes of the built-in decks.
const BUILT_IN: [(&str, &[u8]); 8] = [
    deck!("flaps.yaml"),
    deck!("difficulty.yaml"),
    deck!("root-tips.yaml"),
    deck!("landmarks.yaml"),
    deck!("cases.yaml"),
    deck!("computed.yaml"),
    deck!("pointing.yaml"),
    deck!("designing.yaml"),
];

/// The built-in decks. One with an error would be left out; a test and the checks keep that from happening.
#[must_use]
pub fn built_in() -> Vec<Deck> {
    BUILT_IN
        .iter()
        .filter_map(|(name, bytes)| reread_deck(name, bytes).deck)
        .collect()
}

/// The words of the built-in decks, for checks that compare decks.
#[must_use]
pub fn built_in_outlines() -> Vec<Outline> {
    BUILT_IN
        .iter()
        .map(|(name, bytes)| reread_deck(name, bytes).outline)
        .collect()
}

/// A candidate's own decks.
#[derive(Debug, Default)]
pub struct Added {
    /// Those that can be read, in order of their file names.
    pub decks: Vec<Deck>,
    /// What is wrong with the others, a sentence each.
    pub troubles: Vec<String>,
}

/// The folder of the added decks cannot be used.
#[derive(Debug, Error)]
pub enum FolderError {
    /// Something else stands where a folder should be.
    #[error("{} is not a folder, so no decks can be kept there; move it away or name another data folder with --data", .0.display())]
    InTheWay(PathBuf),
    /// The file of the deck's name holds another one.
    #[error("{} holds another deck than its name says; give that file another name first", .0.display())]
    Taken(PathBuf),
    /// The system refused.
    #[error("{} could not be {deed}: {why}; see that its disk has room and lets you in, or name another data folder with --data", path.display())]
    Refused {
        /// The file or folder.
        path: PathBuf,
        /// What was to be done to it.
        deed: &'static str,
        /// What the system said.
        why: io::Error,
    },
}

/// Reads the decks added to the data folder `data`. None of them takes the place of one of the `built_in`.
///
/// # Errors
/// If the folder is there and cannot be listed.
pub fn added(data: &Path, built_in: &[Deck]) -> Result<Added, FolderError> {
    let mut added = Added::default();
    for file in files(data)? {
        match reread(&file) {
            Ok(Reading { deck: Some(deck), .. }) => {
                let is_known = |known: &Deck| known.id == deck.id;
                let as_what = if built_in.iter().any(is_known) {
                    "a built-in deck"
                } else if added.decks.iter().any(is_known) {
                    "another added deck"
                } else {
                    added.decks.push(deck);
                    continue;
                };
                added.troubles.push(format!(
                    "{path} holds a deck with the id {id}, as {as_what} has, and is left out; give it another id or move it away",
                    path = file.display(),
                    id = deck.id
                ));
            }
            Ok(_) => added.troubles.push(format!(
                "the added deck {path} has errors and is left out; luxate deck check {path} says which",
                path = file.display()
            )),
            Err(error) => added.troubles.push(format!("{error}; it is left out")),
        }
    }
    Ok(added)
}

/// The files of added decks in the data folder `data`, in order of their names.
///
/// # Errors
/// If the folder is there and cannot be listed.
pub fn files(data: &Path) -> Result<Vec<PathBuf>, FolderError> {
    let folder = folder(data);
    let listed = fs::read_dir(&folder).and_then(|entries| {
        entries
            .map(|entry| Ok(entry?.path()))
            .collect::<io::Result<Vec<PathBuf>>>()
    });
    let mut files = match listed {
        Err(error) if error.kind() == io::ErrorKind::NotFound => Vec::new(),
        listed => listed.map_err(|why| blocked(&folder, "listed", why))?,
    };
    files.retain(|file| {
        file.extension()
            .is_some_and(|extension| extension == "yaml")
    });
    files.sort();
    Ok(files)
}

/// The files that hold the added deck `id`, whatever their names; of one that can no longer be read only the name tells.
fn holding(data: &Path, id: &str) -> Result<Vec<PathBuf>, FolderError> {
    let mut files = files(data)?;
    files.retain(|file| match reread(file) {
        Ok(Reading {
            deck: Some(deck), ..
        }) => deck.id == id,
        _ => file.file_stem().is_some_and(|stem| stem == id),
    });
    Ok(files)
}

/// Reads an added deck. It was checked when it was added; a start must not wait for all of that again.
fn reread(file: &Path) -> Result<Reading, Unreadable> {
    read_bytes(file).map(|bytes| reread_deck(&file.to_string_lossy(), &bytes))
}

/// Why a folder could not be used: most often a file has its name, or that of one above it.
fn blocked(folder: &Path, deed: &'static str, why: io::Error) -> FolderError {
    match disk::in_the_way(folder) {
        Some(file) => FolderError::InTheWay(file.to_owned()),
        None => refused(folder, deed, why),
    }
}

fn refused(path: &Path, deed: &'static str, why: io::Error) -> FolderError {
    FolderError::Refused {
        path: path.to_owned(),
        deed,
        why,
    }
}

/// A file could not be read as a deck at all.
#[derive(Debug, thiserror::Error)]
#[error("{} cannot be read: {why}", file.display())]
pub struct Unreadable {
    file: PathBuf,
    why: String,
}

/// Reads one deck file.
///
/// # Errors
/// [`Unreadable`] if there are no bytes to read: no such file, a folder, no permission.
pub fn read_file(file: &Path) -> Result<Reading, Unreadable> {
    let bytes = read_bytes(file)?;
    Ok(read_deck(&file.to_string_lossy(), &bytes))
}

/// Reads one file, a deck or a diagram alone, by other limits than the usual ones.
fn read_any_by(file: &Path, settings: Settings) -> Result<Reading, Unreadable> {
    let bytes = read_bytes(file)?;
    Ok(read_any(&file.to_string_lossy(), &bytes, settings))
}

/// Whether a file that was read without a deck coming of it is one diagram and no deck.
#[must_use]
pub fn is_diagram(reading: &Reading) -> bool {
    if reading.deck.is_some() {
        return false;
    }
    let source = &reading.source;
    let again = read_any(source.name(), source.text().as_bytes(), Settings::default());
    again.diagnostics.errors() < reading.diagnostics.errors()
}

/// Reads many files a deck or a diagram each, on all cores, and gives what came of each in the order of the files. The
/// decks themselves are dropped as soon as they are read: only what is said of them is wanted, and many take much memory.
#[must_use]
pub fn check_files(files: &[PathBuf], settings: Settings) -> Vec<Result<Reading, Unreadable>> {
    let check = |file: &PathBuf| {
        let mut reading = read_any_by(file, settings);
        if let Ok(reading) = &mut reading {
            reading.deck = None;
        }
        reading
    };
    files.par_iter().map(check).collect()
}

/// The bytes of a file, never more than one past the limit: the reader says what is wrong with a larger one.
fn read_bytes(file: &Path) -> Result<Vec<u8>, Unreadable> {
    let unreadable = |why: String| Unreadable {
        file: file.to_owned(),
        why,
    };
    let tell = |error: io::Error| unreadable(error.to_string());
    let meta = fs::metadata(file).map_err(tell)?;
    if meta.is_dir() {
        return Err(unreadable("it is a folder; name a deck file".into()));
    }
    if !meta.is_file() {
        return Err(unreadable(
            "it is a pipe or a device; name a deck file".into(),
        ));
    }
    let mut bytes = Vec::new();
    let limit = u64::try_from(CAP).unwrap_or(u64::MAX).saturating_add(1);
    File::open(file)
        .and_then(|file| file.take(limit).read_to_end(&mut bytes))
        .map_err(tell)?;
    Ok(bytes)
}

/// Puts a deck that was read without errors into the data folder, in place of an earlier edition.
///
/// # Errors
/// If it cannot be written; the earlier edition is untouched then.
pub fn keep(data: &Path, deck: &Deck, text: &str) -> Result<(), FolderError> {
    let folder = folder(data);
    fs::create_dir_all(&folder).map_err(|why| blocked(&folder, "made", why))?;
    // The reader admits letters, digits and hyphens only, so an id is always a plain file name.
    let usual = folder.join(format!("{}.yaml", deck.id));
    let file = match holding(data, &deck.id)?.into_iter().next() {
        Some(earlier) => earlier,
        None if usual.symlink_metadata().is_ok() => return Err(FolderError::Taken(usual)),
        None => usual,
    };
    disk::put(&file, text.as_bytes(), true).map_err(|why| refused(&file, "written", why))
}

/// What came of removing a deck.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Removed {
    /// It is gone.
    Done,
    /// There was none of that id.
    NotThere,
}

/// Takes an added deck out of the data folder `data`, whatever its file is called, also one that can no longer be read.
///
/// # Errors
/// If its file cannot be deleted.
pub fn remove(data: &Path, id: &str) -> Result<Removed, FolderError> {
    // Only what can be an id can be a file name here: no path leads out of the folder.
    let is_id = !id.is_empty()
        && id
            .bytes()
            .all(|byte| byte.is_ascii_lowercase() || byte.is_ascii_digit() || byte == b'-');
    if !is_id {
        return Ok(Removed::NotThere);
    }
    let mut removed = Removed::NotThere;
    for file in holding(data, id)? {
        fs::remove_file(&file).map_err(|why| refused(&file, "removed", why))?;
        removed = Removed::Done;
    }
    Ok(removed)
}

fn folder(data: &Path) -> PathBuf {
    data.join("decks")
}
