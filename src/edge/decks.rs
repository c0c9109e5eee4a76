//! Decks from the binary and from disk.
//!
//! Built-in decks are compiled in; a candidate's own live as files in the data folder's `decks`, named by
//! their id and nothing else, so that no deck can reach outside it.

use std::fs::{self, File};
use std::io::{self, Read};
use std::path::{Path, PathBuf};

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
        .map(|(name, bytes)| read_deck(name, bytes).outline)
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

/// Reads the decks added to the data folder `data`.
///
/// # Errors
/// If the folder is there and cannot be listed.
pub fn added(data: &Path) -> io::Result<Added> {
    let mut added = Added::default();
    let folder = folder(data);
    let entries = match fs::read_dir(&folder) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(added),
        entries => entries?,
    };
    let mut files = entries
        .map(|entry| Ok(entry?.path()))
        .collect::<io::Result<Vec<PathBuf>>>()?;
    files.retain(|file| {
        file.extension()
            .is_some_and(|extension| extension == "yaml")
    });
    files.sort();
    for file in files {
        // Checked when it was added; a start must not wait for all of that again.
        let reading = read_bytes(&file).map(|bytes| reread_deck(&file.to_string_lossy(), &bytes));
        match reading {
            Ok(Reading { deck: Some(deck), .. }) => added.decks.push(deck),
            Ok(_) => added.troubles.push(format!(
                "the added deck {path} has errors and is left out; luxate deck check {path} says which",
                path = file.display()
            )),
            Err(error) => added.troubles.push(format!("{error}; it is left out")),
        }
    }
    Ok(added)
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
///
/// # Errors
/// As [`read_file`].
pub fn read_any_by(file: &Path, settings: Settings) -> Result<Reading, Unreadable> {
    let bytes = read_bytes(file)?;
    Ok(read_any(&file.to_string_lossy(), &bytes, settings))
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
pub fn keep(data: &Path, deck: &Deck, text: &str) -> io::Result<()> {
    let folder = folder(data);
    fs::create_dir_all(&folder)?;
    // The reader admits letters, digits and hyphens only, so an id is always a plain file name.
    let file = folder.join(format!("{}.yaml", deck.id));
    let part = folder.join(format!("{}.part", deck.id));
    fs::write(&part, text)?;
    File::open(&part)?.sync_all()?;
    fs::rename(&part, &file)
}

/// What came of removing a deck.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Removed {
    /// It is gone.
    Done,
    /// There was none of that id.
    NotThere,
}

/// Takes an added deck out of the data folder `data`, also one that can no longer be read.
///
/// # Errors
/// If its file cannot be deleted.
pub fn remove(data: &Path, id: &str) -> io::Result<Removed> {
    // Only what can be an id can be a file name here: no path leads out of the folder.
    let is_id = !id.is_empty()
        && id
            .bytes()
            .all(|byte| byte.is_ascii_lowercase() || byte.is_ascii_digit() || byte == b'-');
    if !is_id {
        return Ok(Removed::NotThere);
    }
    match fs::remove_file(folder(data).join(format!("{id}.yaml"))) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(Removed::NotThere),
        done => done.map(|()| Removed::Done),
    }
}

fn folder(data: &Path) -> PathBuf {
    data.join("decks")
}
