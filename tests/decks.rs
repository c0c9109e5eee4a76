//! Decks good and bad, as files: what the reader says of each.
#![cfg(test)]

use std::fs;
use std::path::{Path, PathBuf};

use luxate::cli::render::{self, Look};
use luxate::deck::read_deck;

fn folder(name: &str) -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("tests/decks")
        .join(name);
    let mut files: Vec<PathBuf> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .collect();
    files.sort();
    files
}

#[test]
fn good_decks_are_read_without_a_word() {
    for path in folder("good") {
        let name = path.file_name().unwrap().to_str().unwrap();
        let reading = read_deck(name, &fs::read(&path).unwrap());
        let said = render::diagnostics(&reading.source, &reading.diagnostics, Look::Plain);
        assert_eq!(said, "", "{name}");
        assert!(reading.deck.is_some());
    }
}
