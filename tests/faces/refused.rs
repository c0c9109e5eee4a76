//! What could not be done is said as it is, and the exit code says it too.

use std::fs;

use crate::{luxate, run, text};

#[test]
fn an_answer_that_was_not_stored_is_not_said_to_be_kept() {
    // No log holds an answer of the year 0, so the store refuses.
    for (face, input) in [
        ("--line", "a\nlikely\nstop\n"),
        (
            "--jsonl",
            "{\"type\":\"answer\",\"ask\":1,\"response\":[\"a\"],\"confidence\":\"likely\"}\n",
        ),
    ] {
        let data = tempfile::tempdir().unwrap();
        let command = luxate(data.path(), "0000-01-01T00:00:00Z");
        let out = run(command, &["review", face, "--seed", "3"], input);
        let said = text(&out.stdout);
        assert!(said.contains("not stored"), "{said}");
        assert!(!said.contains("everything you answered is kept"), "{said}");
        assert_eq!(out.status.code(), Some(2), "{said}");
        let told = said.contains("could not be stored") || said.contains("\"not_kept\":1");
        assert!(told, "{said}");
    }
}

#[test]
fn a_data_folder_that_is_none_is_named() {
    let folder = tempfile::tempdir().unwrap();
    let data = folder.path().join("data");
    let deck = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/exchange/deck.yaml");
    fs::write(&data, "no folder").unwrap();
    let within = folder.path().join("holder");
    fs::create_dir(&within).unwrap();
    fs::write(within.join("decks"), "no folder").unwrap();
    for data in [&data, &within] {
        for arguments in [&["deck", "list"][..], &["deck", "add", deck]] {
            let out = run(luxate(data, "2027-03-01T19:00:00Z"), arguments, "");
            let told = text(&out.stderr);
            assert_eq!(out.status.code(), Some(2), "{told}");
            assert!(told.contains(data.to_str().unwrap()), "{told}");
        }
    }
    assert_eq!(fs::read_dir(&within).unwrap().count(), 1);
}
