//! Decks good and bad, as files: what the reader says of each.
//!
//! A bad deck is named after the code it must get, with a few more words where a code has several causes. What is
//! said in full is a snapshot under `decks/said`, to be read by whoever changes it.
#![cfg(test)]

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use luxate::cli::render::{self, Look};
use luxate::deck::{self, Reading, read_deck};
use luxate::diagnostic::{Diagnostics, Severity};

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn files(folder: &Path) -> Vec<PathBuf> {
    let mut files: Vec<PathBuf> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .collect();
    files.sort();
    files
}

fn read(path: &Path) -> Reading {
    let mut readings = [read_deck(
        path.file_name().unwrap().to_str().unwrap(),
        &fs::read(path).unwrap(),
    )];
    deck::across(&mut readings, &[]);
    let [reading] = readings;
    reading
}

fn codes(diagnostics: &Diagnostics) -> BTreeSet<&'static str> {
    diagnostics.iter().map(|found| found.code).collect()
}

#[test]
fn good_decks_are_read_without_a_word() {
    for path in files(&root().join("tests/decks/good")) {
        let reading = read(&path);
        let said = render::diagnostics(&reading.source, &reading.diagnostics, Look::Plain);
        assert_eq!(said, "", "{}", path.display());
        assert!(reading.deck.is_some());
    }
}

#[test]
fn bad_decks_are_told_what_is_wrong() {
    let mut settings = insta::Settings::clone_current();
    settings.set_snapshot_path("decks/said");
    settings.set_prepend_module_to_snapshot(false);
    settings.set_omit_expression(true);
    for path in files(&root().join("tests/decks/bad")) {
        let name = path.file_stem().unwrap().to_str().unwrap();
        let reading = read(&path);
        let is_named = |code: &&str| name.starts_with(code.trim_start_matches("deck::"));
        let met = codes(&reading.diagnostics);
        assert!(met.iter().any(is_named), "{name}: {met:?}");
        let has_errors = reading
            .diagnostics
            .iter()
            .any(|found| found.severity == Severity::Error);
        assert_eq!(reading.deck.is_none(), has_errors, "{name}");
        let said = render::diagnostics(&reading.source, &reading.diagnostics, Look::Plain);
        let closing = render::closing(reading.diagnostics.counts(), 1);
        settings.bind(|| insta::assert_snapshot!(name, format!("{said}{closing}")));
    }
}

/// Too large to be kept as files.
fn large_decks() -> Vec<Vec<u8>> {
    vec![
        vec![b'a'; deck::CAP + 1],
        format!("a: [{}]", "x,".repeat(1_000_001)).into_bytes(),
    ]
}

#[test]
fn every_code_has_a_bad_deck() {
    let mut met: BTreeSet<&str> = BTreeSet::new();
    for path in files(&root().join("tests/decks/bad")) {
        met.extend(codes(&read(&path).diagnostics));
    }
    for bytes in large_decks() {
        met.extend(codes(&read_deck("large.yaml", &bytes).diagnostics));
    }
    let mut written = BTreeSet::new();
    for folder in [
        "src/deck",
        "src/deck/read",
        "src/deck/yaml",
        "src/deck/check",
    ] {
        for path in files(&root().join(folder))
            .iter()
            .filter(|path| path.extension().is_some_and(|end| end == "rs"))
        {
            let text = fs::read_to_string(path).unwrap();
            written.extend(
                text.split('"')
                    .filter(|part| part.starts_with("deck::"))
                    .map(str::to_owned),
            );
        }
    }
    let written: BTreeSet<&str> = written.iter().map(String::as_str).collect();
    assert_eq!(met, written);
}
