//! `luxate deck show` in a terminal: question, reveal, the way from item to item, and a file that is being written.

#![cfg(unix)]

use std::fs;

use crate::pty::Pty;

const DECK: &str = include_str!("../exchange/deck.yaml");

#[test]
fn items_are_shown_one_after_the_other() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("deck.yaml");
    fs::write(&file, DECK).unwrap();
    let deck = file.to_str().unwrap();
    let arguments = ["deck", "show", "foramen-nerve", "--deck", deck];
    let mut pty = Pty::start(folder.path(), &arguments, &[]);
    pty.wait("Which nerve comes out of each foramen?");
    pty.wait("foramen-nerve, item 4 of ");
    pty.press("\r");
    pty.wait("Key: a2, b3, c4.");
    pty.press("\r");
    pty.wait("Name the nerve that may lie");
    // What is typed is answered; a wrong term gets the reveal that it would get.
    pty.press("long buccal nerve\r");
    pty.wait("It crosses the front of the ramus.");
    pty.press("\u{1b}[C");
    pty.wait("How many millilitres are left");
    // Ctrl-P goes back from a field that is being written in, too.
    pty.press("12\u{10}");
    pty.wait("Name the nerve that may lie");
    pty.press("\u{1b}[D");
    pty.wait("foramen-nerve, item 4 of ");
    pty.press("q");
    assert!(pty.end().success());
    // No answer is kept, and no place made for one.
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
}

#[test]
fn a_watched_file_is_shown_again_when_it_is_saved() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("deck.yaml");
    fs::write(&file, DECK).unwrap();
    let deck = file.to_str().unwrap();
    let arguments = ["deck", "show", "lingual-plate", "--deck", deck, "--watch"];
    let mut pty = Pty::start(folder.path(), &arguments, &[]);
    pty.wait("no item uses the source `SPARE`");
    pty.wait("Name the nerve that may lie");
    let better = DECK.replace("Name the nerve that may lie", "Which nerve may be found");
    fs::write(&file, &better).unwrap();
    pty.wait("Which nerve may be found");
    fs::write(&file, better.replace("kind: short", "kind: shirt")).unwrap();
    pty.wait("it is shown as it was before");
    pty.wait("Which nerve may be found");
    fs::remove_file(&file).unwrap();
    pty.wait("cannot be read");
    fs::write(&file, DECK).unwrap();
    pty.wait("Name the nerve that may lie");
    // The field has the letters until it is left.
    pty.press("\u{1b}");
    pty.until("letters as commands", |screen| {
        !screen.contents().contains("Esc, then q")
    });
    pty.press("q");
    assert!(pty.end().success());
}
