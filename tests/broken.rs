//! Broken decks, each with the code that it must get as the first part of its name: `bad-date--leap.yaml`.
//!
//! Syntax, encodings, types, references, hostile text, sizes, cycles, deep nesting, absurd numbers, path tricks. What is said of
//! each in full is looked at for fewer decks, under `tests/decks`.
#![cfg(test)]

use std::fs;
use std::path::Path;

use luxate::cli::render::{self, Look};
use luxate::deck::{self, read_deck};
use luxate::report::findings;
use luxate::text;

#[test]
fn every_broken_deck_gets_its_code_and_is_no_deck() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/broken");
    let (mut count, mut failed) = (0, Vec::new());
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        let name = path.file_name().unwrap().to_str().unwrap();
        let code = format!("deck::{}", name.split("--").next().unwrap());
        let mut readings = [read_deck(name, &fs::read(&path).unwrap())];
        deck::across(&mut readings, &[]);
        let [reading] = &readings;
        let codes: Vec<&str> = reading.diagnostics.iter().map(|found| found.code).collect();
        if !codes.contains(&code.as_str()) || reading.deck.is_some() {
            failed.push(format!("{name}: {codes:?}"));
        }
        let said = render::diagnostics(&reading.source, &reading.diagnostics, Look::Plain);
        assert!(!said.chars().any(text::is_forbidden), "{name}");
        let json = text::escaped_json(&findings::json(&readings).to_string());
        assert!(!json.chars().any(text::is_forbidden), "{name}");
        count += 1;
    }
    failed.sort();
    assert!(failed.is_empty(), "{failed:#?}");
    assert!(count >= 150, "{count}");
}
