//! The real binary as an instructor's workbench: what it prints, exports and shows, and what it never writes over.

#![allow(
    clippy::unwrap_used,
    reason = "a test that cannot go on should say where and stop"
)]

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

const DECK: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/exchange/deck.yaml");
const FLAWED: &str = concat!(
    env!("CARGO_MANIFEST_DIR"),
    "/tests/decks/bad/accepted-and-refused.yaml"
);

fn luxate(folder: &Path, arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_luxate"))
        .env_clear()
        .env("LUXATE_DATA", folder.join("data"))
        .env("LUXATE_NOW", "2027-03-02T19:30:00Z")
        .env("TZ", "UTC")
        .current_dir(folder)
        .args(arguments)
        .output()
        .unwrap()
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).unwrap()
}

fn names(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).unwrap();
    let mut names: Vec<String> = entries
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    names
}

#[test]
fn forms_and_keys_are_files_named_by_the_deck() {
    let folder = tempfile::tempdir().unwrap();
    let print = ["deck", "print", DECK, "--to", "sub/papers", "--forms", "2"];
    let output = luxate(folder.path(), &print);
    assert_eq!(output.status.code(), Some(0), "{}", text(&output.stderr));
    assert_eq!(text(&output.stdout).lines().count(), 4);
    let papers = folder.path().join("sub/papers");
    assert_eq!(
        names(&papers),
        [
            "harbour-clinic-a-key.html",
            "harbour-clinic-a-questions.html",
            "harbour-clinic-b-key.html",
            "harbour-clinic-b-questions.html"
        ]
    );
    let read = |name: &str| fs::read_to_string(papers.join(name)).unwrap();
    assert!(read("harbour-clinic-a-questions.html").contains("form A"));
    assert_ne!(
        read("harbour-clinic-a-key.html"),
        read("harbour-clinic-b-key.html")
    );
    let before = read("harbour-clinic-a-key.html");

    // One file that is there keeps all of them from being written.
    fs::remove_file(papers.join("harbour-clinic-b-key.html")).unwrap();
    let other = [&print[..], &["--seed", "9"]].concat();
    let output = luxate(folder.path(), &other);
    assert_eq!(output.status.code(), Some(2));
    assert!(text(&output.stderr).contains("--force"));
    assert_eq!(names(&papers).len(), 3);
    assert_eq!(read("harbour-clinic-a-key.html"), before);

    let output = luxate(folder.path(), &[&other[..], &["--force"]].concat());
    assert_eq!(output.status.code(), Some(0));
    assert_eq!(names(&papers).len(), 4);
    assert_ne!(read("harbour-clinic-a-key.html"), before);
    let output = luxate(folder.path(), &[&print[..], &["--force"]].concat());
    assert_eq!(output.status.code(), Some(0));
    assert_eq!(read("harbour-clinic-a-key.html"), before);
}

#[test]
fn a_built_in_deck_prints_as_commonmark() {
    let folder = tempfile::tempdir().unwrap();
    let output = luxate(
        folder.path(),
        &["deck", "print", "flaps", "--to", ".", "--commonmark"],
    );
    assert_eq!(output.status.code(), Some(0), "{}", text(&output.stderr));
    assert_eq!(
        names(folder.path()),
        ["flaps-a-key.md", "flaps-a-questions.md"]
    );
}

#[test]
fn an_export_tells_what_stays_behind_and_has_the_same_bytes_again() {
    let folder = tempfile::tempdir().unwrap();
    let export = [
        "deck", "export", DECK, "--qti", "one.zip", "--names", "one.csv",
    ];
    let output = luxate(folder.path(), &export);
    assert_eq!(output.status.code(), Some(0), "{}", text(&output.stderr));
    insta::assert_snapshot!("export_report", text(&output.stdout));
    assert!(
        fs::read_to_string(folder.path().join("one.csv"))
            .unwrap()
            .starts_with("item,part,choice,identifier,file\r\n")
    );
    assert_eq!(luxate(folder.path(), &export).status.code(), Some(2));
    let again = luxate(folder.path(), &["deck", "export", DECK, "--qti", "two.zip"]);
    assert_eq!(again.status.code(), Some(0));
    let bytes = |name: &str| fs::read(folder.path().join(name)).unwrap();
    assert_eq!(bytes("one.zip"), bytes("two.zip"));
}

#[test]
fn what_cannot_be_done_is_told_and_nothing_is_written() {
    let folder = tempfile::tempdir().unwrap();
    for (arguments, code, told) in [
        (
            vec!["deck", "print", FLAWED, "--to", "."],
            1,
            "accepted-and-refused",
        ),
        (
            vec!["deck", "export", FLAWED, "--qti", "x.zip"],
            1,
            "accepted-and-refused",
        ),
        (
            vec!["deck", "show", "--deck", FLAWED],
            1,
            "accepted-and-refused",
        ),
        (
            vec!["deck", "export", "designing", "--qti", "x.zip"],
            2,
            "nothing of designing can be exported",
        ),
        (vec!["deck", "print", "no-such", "--to", "."], 2, "flaps"),
        (
            vec!["deck", "print", "no/such.yaml", "--to", "."],
            2,
            "no/such.yaml",
        ),
        (
            vec!["deck", "print", DECK, "--to", ".", "--forms", "27"],
            2,
            "27",
        ),
        (vec!["deck", "print", DECK], 2, "--to"),
        (vec!["deck", "export", DECK], 2, "--qti"),
        (
            vec!["deck", "export", DECK, "--qti", "x", "--names", "x"],
            2,
            "twice",
        ),
        (
            vec!["deck", "show", "beak-set", "--deck", DECK],
            2,
            "beak-seat",
        ),
        (vec!["deck", "show", "--watch"], 2, "--deck"),
        (
            vec!["deck", "show", "--deck", DECK, "--watch"],
            2,
            "terminal",
        ),
        (vec!["deck", "show", "flaps", "--watch"], 2, "--deck"),
        (vec!["deck", "show", "\u{1b}]0;x\u{7}"], 2, "‹U+001B›"),
    ] {
        let output = luxate(folder.path(), &arguments);
        let stderr = text(&output.stderr);
        assert_eq!(output.status.code(), Some(code), "{arguments:?}: {stderr}");
        assert!(stderr.contains(told), "{arguments:?}: {stderr}");
        assert!(!stderr.contains('\u{1b}'));
        assert_eq!(names(folder.path()), Vec::<String>::new(), "{arguments:?}");
    }
}

#[test]
fn a_deck_may_stand_where_an_item_may() {
    let folder = tempfile::tempdir().unwrap();
    let shown = |arguments: &[&str]| {
        let output = luxate(
            folder.path(),
            &[&["deck", "show", "--plain"], arguments].concat(),
        );
        (text(&output.stdout), text(&output.stderr))
    };
    assert_eq!(shown(&[DECK]), shown(&["--deck", DECK]));
    assert_eq!(shown(&["flaps"]), shown(&["--deck", "flaps"]));
    assert!(
        shown(&["missing.yaml"])
            .1
            .contains("missing.yaml cannot be read")
    );
    assert!(shown(&["no-such"]).1.contains("there is no item `no-such`"));
}

#[test]
fn every_kind_is_shown_as_plain_text() {
    let folder = tempfile::tempdir().unwrap();
    // Without a terminal nothing need be asked for.
    let output = luxate(folder.path(), &["deck", "show", "--deck", DECK]);
    assert_eq!(output.status.code(), Some(0), "{}", text(&output.stderr));
    insta::assert_snapshot!("show_plain", text(&output.stdout));
    assert_eq!(names(folder.path()), Vec::<String>::new());
    let one = luxate(
        folder.path(),
        &[
            "deck",
            "show",
            "harbour-clinic/lingual-plate",
            "--deck",
            DECK,
            "--plain",
        ],
    );
    assert!(text(&output.stdout).contains(&text(&one.stdout)));
}

#[test]
fn a_deck_is_never_written_over_and_two_outputs_are_two_files() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name);
    fs::copy(DECK, at("mine.yaml")).unwrap();
    fs::copy(DECK, at("added.yaml")).unwrap();
    let deck = fs::read(DECK).unwrap();
    assert!(
        luxate(folder.path(), &["deck", "add", "added.yaml"])
            .status
            .success()
    );
    fs::create_dir(at("sub")).unwrap();
    let added = "data/decks/harbour-clinic.yaml";
    let before = names(folder.path());
    for (deck, rest, told) in [
        ("mine.yaml", &["mine.yaml"][..], "never written over"),
        ("mine.yaml", &["./sub/../mine.yaml"], "never written over"),
        ("sub/../mine.yaml", &["mine.yaml"], "never written over"),
        (
            "mine.yaml",
            &["x.zip", "--names", "mine.yaml"],
            "never written over",
        ),
        ("harbour-clinic", &[added], "never written over"),
        ("mine.yaml", &["x.zip", "--names", "./x.zip"], "twice"),
        ("mine.yaml", &["x.zip", "--names", "new/../x.zip"], "twice"),
        ("mine.yaml", &["sub"], "sub is not a file"),
        (
            "mine.yaml",
            &["added.yaml/x.zip"],
            "added.yaml is not a folder",
        ),
    ] {
        let arguments = [&["deck", "export", "--force", deck, "--qti"], rest].concat();
        let output = luxate(folder.path(), &arguments);
        let stderr = text(&output.stderr);
        assert_eq!(output.status.code(), Some(2), "{arguments:?}: {stderr}");
        assert!(stderr.contains(told), "{arguments:?}: {stderr}");
        assert_eq!(names(folder.path()), before, "{arguments:?}");
    }
    let print = ["deck", "print", "mine.yaml", "--to", "added.yaml"];
    let output = luxate(folder.path(), &print);
    assert_eq!(output.status.code(), Some(2));
    assert_eq!(
        text(&output.stderr),
        "luxate: added.yaml is not a folder; nothing was written: name a folder\n"
    );
    for path in ["mine.yaml", "added.yaml", added] {
        assert_eq!(fs::read(at(path)).unwrap(), deck, "{path}");
    }
    assert_eq!(names(&at("sub")), Vec::<String>::new());
    // A file of another name may go.
    fs::write(at("old.zip"), "old").unwrap();
    let export = ["deck", "export", "--force", "mine.yaml", "--qti", "old.zip"];
    assert_eq!(luxate(folder.path(), &export).status.code(), Some(0));
    assert!(fs::read(at("old.zip")).unwrap().starts_with(b"PK"));
    // The rights are those of any new file.
    let rights = |path: &str| fs::metadata(at(path)).unwrap().permissions();
    assert!(!rights("old.zip").readonly());
}

#[test]
#[cfg(unix)]
fn links_lead_to_the_file_that_is_meant() {
    use std::os::unix::fs::symlink;

    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name);
    fs::copy(DECK, at("mine.yaml")).unwrap();
    fs::write(at("old.zip"), "old").unwrap();
    symlink("mine.yaml", at("link.yaml")).unwrap();
    symlink("old.zip", at("link.zip")).unwrap();
    let export = |deck: &str, qti: &str| {
        let arguments = ["deck", "export", "--force", deck, "--qti", qti];
        luxate(folder.path(), &arguments).status.code()
    };
    assert_eq!(export("mine.yaml", "link.yaml"), Some(2));
    assert_eq!(export("link.yaml", "mine.yaml"), Some(2));
    assert_eq!(export("link.yaml", "link.zip"), Some(0));
    assert!(at("link.zip").is_symlink());
    assert!(fs::read(at("old.zip")).unwrap().starts_with(b"PK"));
    assert_eq!(export("link.yaml", "/dev/null"), Some(2));
}

#[test]
#[cfg(target_os = "linux")]
fn a_failed_write_leaves_nothing_behind() {
    let folder = tempfile::tempdir().unwrap();
    let export = [
        "deck",
        "export",
        DECK,
        "--qti",
        "x.zip",
        "--names",
        "/proc/a.csv",
    ];
    let output = luxate(folder.path(), &export);
    assert_eq!(output.status.code(), Some(2));
    let told = text(&output.stderr);
    assert!(told.contains("/proc/a.csv cannot be written"), "{told}");
    assert_eq!(names(folder.path()), Vec::<String>::new());
}
