//! The real binary in a real terminal: a first day and a second, every way to leave, and the terminal left as it was.

#![cfg(unix)]

use std::path::Path;
use std::process::{Command, Stdio};

use crate::pty::Pty;

/// The keys that answer whatever is asked, up to how sure one is. Right or wrong does not matter here.
fn some_answer(screen: &str) -> &'static str {
    let forms = [
        ("Choose one.", "a\r"),
        ("Choose all that apply.", "a\r"),
        ("Put these in order", "abcdefh\r"),
        ("Give each letter a number", "22222222\r"),
        ("Type the term", "word\r"),
        ("Point to one place", "a\r"),
        ("choose by the words", "a\r"),
        ("mesial end: not placed", "4\t6\r"),
    ];
    let form = forms.iter().find(|(text, _)| screen.contains(text));
    form.unwrap_or_else(|| panic!("no question on\n{screen}")).1
}

/// Starts a review and waits for its first question.
pub(crate) fn asked(data: &Path, variables: &[(&str, &str)]) -> Pty {
    let mut pty = Pty::start(data, &["review", "--seed", "7"], variables);
    let screen = pty.until("a first screen", |screen| {
        let text = screen.contents();
        text.contains("question 1") || text.contains("I have read this")
    });
    if screen.contains("I have read this") {
        pty.press("\r");
        pty.wait("it looks whole");
        pty.press("y");
        pty.wait("question 1");
    }
    pty
}

/// Answers the open question, certain of it, and waits for the reveal.
pub(crate) fn answer(pty: &mut Pty) {
    let screen = pty.wait("Enter: confirm");
    pty.press(some_answer(&screen));
    pty.wait("How sure are you?");
    pty.press("c");
    pty.wait("w: write a query");
}

/// A screen line by line, without the blanks that a line may or may not end with.
fn lines(screen: &str) -> Vec<String> {
    screen
        .lines()
        .map(|line| line.trim_end().to_owned())
        .collect()
}

/// The log as the program exports it, a line an answer.
pub(crate) fn log(data: &Path) -> Vec<String> {
    let mut command = Command::new(env!("CARGO_BIN_EXE_luxate"));
    let output = command
        .args(["log", "export"])
        .env("LUXATE_DATA", data)
        .output()
        .unwrap();
    assert!(output.status.success());
    String::from_utf8(output.stdout)
        .unwrap()
        .lines()
        .map(str::to_owned)
        .collect()
}

#[test]
fn a_first_day_is_stopped_taken_up_again_and_due_the_day_after() {
    let folder = tempfile::tempdir().unwrap();
    let mut pty = Pty::start(folder.path(), &[], &[]);
    assert!(pty.wait("I have read this").contains("study aid"));
    pty.press("\r");
    pty.wait("it looks whole");
    pty.press("y");
    assert!(pty.wait("Enter: begin").contains("Meet your first items"));
    pty.press("\r");
    pty.wait("question 1");
    answer(&mut pty);
    assert_eq!(log(folder.path()).len(), 1, "on disk before it is revealed");
    pty.press("\r");
    pty.wait("question 2");
    answer(&mut pty);
    pty.press("q");
    assert!(pty.wait("Every answer is kept.").contains("on 2 items"));
    pty.press("q");
    let (status, bytes) = pty.last();
    assert!(status.success());
    assert!(
        !bytes.windows(4).any(|four| four == b"\x1b[6n"),
        "the terminal was asked a question"
    );

    let mut pty = Pty::start(folder.path(), &[], &[]);
    assert!(
        pty.wait("Enter:").contains("2 answers"),
        "no caution a second time"
    );
    pty.press("q");
    assert!(pty.last().0.success());

    let mut pty = Pty::start(
        folder.path(),
        &[],
        &[("LUXATE_NOW", "2027-03-03T07:00:00Z")],
    );
    pty.wait("Review 2 due items now");
    pty.press("\r");
    pty.wait("question 1, 2 due");
    pty.press("\u{3}");
    pty.last();
}

#[test]
fn signals_end_it_and_the_terminal_is_as_it_was() {
    for name in ["TERM", "HUP", "INT", "QUIT"] {
        let folder = tempfile::tempdir().unwrap();
        let mut pty = asked(folder.path(), &[]);
        answer(&mut pty);
        pty.signal(name);
        let (status, _) = pty.last();
        assert!(
            status.signal().is_some(),
            "the parent sees the signal: {status:?}"
        );
        assert_eq!(log(folder.path()).len(), 1, "{name}");
    }
}

#[test]
fn ctrl_c_leaves_at_once_and_nothing_is_lost() {
    let folder = tempfile::tempdir().unwrap();
    let mut pty = asked(folder.path(), &[]);
    answer(&mut pty);
    pty.press("\r");
    pty.wait("question 2");
    pty.press("\u{3}");
    pty.last();
    assert_eq!(log(folder.path()).len(), 1);
}

#[test]
fn what_was_revealed_outlives_a_kill() {
    let folder = tempfile::tempdir().unwrap();
    let mut pty = asked(folder.path(), &[]);
    answer(&mut pty);
    pty.signal("KILL");
    pty.end();
    assert_eq!(log(folder.path()).len(), 1);
}

#[test]
fn a_closed_window_ends_it() {
    let folder = tempfile::tempdir().unwrap();
    let mut pty = asked(folder.path(), &[]);
    pty.close();
    assert!(!pty.end().success());
}

#[test]
fn it_sleeps_and_wakes_where_it_was() {
    let folder = tempfile::tempdir().unwrap();
    let mut pty = asked(folder.path(), &[]);
    let before = lines(&pty.wait("q: stop"));
    for sleep in ["key", "signal"] {
        if sleep == "key" {
            pty.press("\u{1a}");
        } else {
            pty.signal("TSTP");
        }
        pty.until_stopped();
        pty.until_as_found();
        pty.signal("CONT");
        pty.until("the screen as it was", |screen| {
            screen.alternate_screen() && lines(&screen.contents()) == before
        });
    }
    answer(&mut pty);
    pty.press("\u{3}");
    pty.last();
}

#[test]
fn a_screen_too_small_is_told_and_outgrown() {
    let folder = tempfile::tempdir().unwrap();
    let mut pty = asked(folder.path(), &[]);
    pty.resize(40, 10);
    pty.wait("40x10");
    pty.resize(120, 40);
    pty.wait("question 1");
    pty.press("\u{3}");
    pty.last();
}

#[test]
fn without_colour_there_is_none_but_focus_is_still_seen() {
    let folder = tempfile::tempdir().unwrap();
    for (variables, colour) in [
        (&[("NO_COLOR", "1")][..], false),
        (&[("CLICOLOR", "0")][..], false),
        (&[][..], true),
    ] {
        let mut pty = asked(folder.path(), variables);
        answer(&mut pty);
        let is_coloured = |cell: &vt100::Cell| cell.fgcolor() != vt100::Color::Default;
        assert_eq!(pty.any_cell(is_coloured), colour, "{variables:?}");
        assert!(pty.any_cell(vt100::Cell::bold), "{variables:?}");
        pty.press("\u{3}");
        pty.last();
    }
}

#[test]
fn without_a_terminal_it_says_what_to_do_instead() {
    let folder = tempfile::tempdir().unwrap();
    let output = Command::new(env!("CARGO_BIN_EXE_luxate"))
        .env("LUXATE_DATA", folder.path())
        .stdin(Stdio::null())
        .output()
        .unwrap();
    assert_eq!(output.status.code(), Some(2));
    assert!(output.stdout.is_empty(), "nothing is written into the pipe");
    let told = String::from_utf8(output.stderr).unwrap();
    assert!(told.contains("luxate review --line"), "{told}");

    let mut pty = Pty::start(folder.path(), &[], &[("TERM", "dumb")]);
    assert!(pty.wait("luxate review --line").contains("dumb"));
    assert_eq!(pty.end().exit_code(), 2);
}
