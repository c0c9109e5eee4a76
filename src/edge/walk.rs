//! The deck files below paths: folders are searched to the bottom, each file comes once.

use std::collections::BTreeSet;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

/// The files below some paths, in order of their names, and what could not be looked into, a sentence each.
#[derive(Debug, Default)]
pub struct Found {
    /// Deck files. A file that was named comes first, whatever it is called.
    pub files: Vec<PathBuf>,
    /// What could not be looked into, or held no deck.
    pub troubles: Vec<String>,
}

/// Folders of this name hold drawings, which are YAML files too and no decks.
const DRAWINGS: &str = "diagrams";

/// Looks for deck files. In folders these are `.yaml` and `.yml` files; names that start with a dot and folders called
/// `diagrams` are left out, and a folder that links lead back to is entered once.
#[must_use]
pub fn deck_files(paths: &[PathBuf]) -> Found {
    search(Walk::default(), paths)
}

/// Looks for deck files and for drawings in folders called `diagrams`.
#[must_use]
pub fn decks_and_drawings(paths: &[PathBuf]) -> Found {
    let walk = Walk {
        drawings: true,
        ..Walk::default()
    };
    search(walk, paths)
}

/// Whether a file is called as decks are: `.yaml` or `.yml`, in whatever case.
#[must_use]
pub fn is_named_as_deck(path: &Path) -> bool {
    let ending = path.extension().unwrap_or_default();
    ["yaml", "yml"]
        .into_iter()
        .any(|usual| ending.eq_ignore_ascii_case(usual))
}

fn search(mut walk: Walk, paths: &[PathBuf]) -> Found {
    for path in paths {
        if path.is_dir() {
            let before = walk.files.len() + walk.again;
            let failed = walk.found.troubles.len();
            walk.folder(path);
            if walk.files.len() + walk.again == before && walk.found.troubles.len() == failed {
                let trouble = format!("there is no .yaml file in {}", path.display());
                walk.found.troubles.push(trouble);
            }
        } else {
            walk.file(path.clone());
        }
    }
    walk.found.files = walk.files;
    walk.found
}

#[derive(Default)]
struct Walk {
    /// Whether folders of drawings are entered too.
    drawings: bool,
    found: Found,
    files: Vec<PathBuf>,
    /// Files and folders by their real paths.
    seen: BTreeSet<PathBuf>,
    /// Files that were met before.
    again: usize,
}

impl Walk {
    fn is_new(&mut self, path: &Path) -> bool {
        // What has no real path is a dead link: reading it will say so.
        fs::canonicalize(path).map_or(true, |real| self.seen.insert(real))
    }

    fn file(&mut self, path: PathBuf) {
        if self.is_new(&path) {
            self.files.push(path);
        } else {
            self.again += 1;
        }
    }

    fn folder(&mut self, folder: &Path) {
        if !self.is_new(folder) {
            self.again += 1;
            return;
        }
        let listed = fs::read_dir(folder).and_then(|entries| {
            entries
                .map(|entry| Ok(entry?.path()))
                .collect::<io::Result<Vec<PathBuf>>>()
        });
        let mut paths = match listed {
            Ok(paths) => paths,
            Err(error) => {
                let trouble = format!("{} cannot be searched: {error}", folder.display());
                self.found.troubles.push(trouble);
                return;
            }
        };
        paths.sort();
        for path in paths {
            let name = path.file_name().unwrap_or_default().to_string_lossy();
            if name.starts_with('.') {
                continue;
            }
            if path.is_dir() {
                if self.drawings || name != DRAWINGS {
                    self.folder(&path);
                }
            } else if is_named_as_deck(&path) {
                self.file(path);
            }
        }
    }
}
