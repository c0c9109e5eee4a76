//! A query written on a reveal, by keys alone and in a real terminal.

use luxate::query::{KEPT, LONGEST};
use luxate::tui::Event;

use crate::decks::{deck, multiple, single};
use crate::desk::Desk;
use crate::pictures::locate;
use crate::views::read;

/// A reveal with the field open and this typed, `space` between words.
fn writing(keys: &str) -> Desk {
    let mut desk = Desk::new(vec![deck(vec![single(), multiple()])]);
    desk.press("enter a enter c w").press(keys);
    desk
}

const REMARK: &str = "Is space b space not space correct space as space well? space In space my space clinic space we \
    space meet space the space nerve space there, space too, space and space the space source space is space old.";

#[test]
fn field_and_confirmation() {
    read("query_empty", &mut writing(""));
    read("query_field", &mut writing(REMARK));
    read("query_kept", &mut writing(&format!("{REMARK} enter")));
    let mut desk = writing(REMARK);
    desk.store = Err("the disk is full; make room".into());
    read("query_not_saved", desk.press("enter"));
    read("query_help", writing("esc").press("?"));
}

#[test]
fn beside_a_drawing() {
    let mut desk = Desk::new(vec![deck(vec![locate()])]);
    desk.press("enter d enter c w").press(REMARK);
    read("query_beside", &mut desk);
}

#[test]
fn enter_keeps_it_and_esc_drops_it() {
    let mut desk = writing("Why space q? back back ? esc");
    assert!(desk.queries.is_empty());
    desk.press("enter");
    assert!(desk.seen().contains("question 2"), "the round goes on");

    let mut desk = writing("Why space not space b? enter");
    assert!(desk.seen().contains(KEPT));
    let [query] = desk.queries.as_slice() else {
        panic!("{:?}", desk.queries);
    };
    assert_eq!(query.text, "Why not b?");
    assert_eq!(query.answer, desk.answers[0].id);
    assert_eq!(query.item, desk.answers[0].item);
    assert_eq!(query.fingerprint, desk.answers[0].fingerprint);
    // Another one on the same item, then on.
    desk.press("w And space c? enter enter");
    assert_eq!(desk.queries.len(), 2);
    assert!(desk.seen().contains("question 2"));
    assert_eq!(desk.answers.len(), 1);
}

#[test]
fn too_small_a_screen_takes_no_letter_for_leaving() {
    let mut desk = writing("Why space not space");
    let told = desk.screen(40, 10);
    assert!(
        told.contains("Ctrl-C") && !told.contains("press q"),
        "{told}"
    );
    desk.press("q");
    assert!(desk.effects.is_empty());
    assert!(desk.seen().contains("Why not"));
}

#[test]
fn an_empty_one_is_told_and_a_full_disk_keeps_it_in_the_field() {
    let mut desk = writing("space enter");
    assert!(desk.seen().contains("The query is empty; write something."));
    assert!(desk.queries.is_empty());

    desk.press("Why?");
    desk.store = Err("the disk is full".into());
    desk.press("enter");
    assert!(desk.seen().contains("NOT SAVED. The disk is full."));
    assert!(desk.seen().contains(" >  Why?"), "{}", desk.seen());
    assert!(desk.queries.is_empty());
    desk.store = Ok(());
    desk.press("enter");
    assert!(desk.seen().contains(KEPT));
    assert_eq!(desk.queries[0].text, "Why?");
}

#[test]
fn hostile_text_stays_outside_and_a_long_one_is_cut() {
    let mut desk = writing("");
    desk.send(Event::Paste("a\u{1b}]0;title\u{7}b\r\nc \u{202e}d".into()));
    desk.press("enter");
    assert_eq!(desk.queries[0].text, "a]0;titleb  c d");
    // Marks piled up are no single character to keep out; they are refused as a whole and stay to be mended.
    desk.press("w");
    desk.send(Event::Paste(format!("x{}", "\u{301}".repeat(9))));
    desk.press("enter");
    assert_eq!(desk.queries.len(), 1);
    assert!(
        desk.seen().contains("‹U+0301›, which may not stand there"),
        "{}",
        desk.seen()
    );

    desk.press("ctrl-u");
    desk.send(Event::Paste("y".repeat(LONGEST + 7)));
    assert!(desk.seen().contains("There is room for 1000 characters"));
    desk.press("enter");
    assert_eq!(desk.queries[1].text.len(), LONGEST);
}

#[test]
fn the_schedule_knows_nothing_of_queries() {
    let mut with = writing("Why? enter enter");
    let mut without = writing("esc enter");
    assert_eq!(with.answers[0].quality, without.answers[0].quality);
    assert_eq!(with.seen(), without.seen());
}

#[cfg(unix)]
mod in_a_terminal {
    use crate::pty::Pty;
    use crate::terminal::{answer, asked, log};

    /// Writes a query on the first reveal.
    fn queried(pty: &mut Pty) {
        answer(pty);
        pty.press("w");
        pty.wait("Name no patient.");
        pty.press("Is this still");
        // The reveal can be read meanwhile, and typing leads back.
        for _ in 0..9 {
            pty.press("\u{1b}[5~");
        }
        pty.wait("certain");
        pty.press(" so?\r");
        pty.wait("Your query is kept.");
    }

    #[test]
    fn a_query_is_in_the_export_and_in_the_listing() {
        let folder = tempfile::tempdir().unwrap();
        let mut pty = asked(folder.path(), &[]);
        queried(&mut pty);
        pty.press("\r");
        pty.wait("question 2");
        pty.press("\u{3}");
        pty.last();
        let log = log(folder.path());
        assert_eq!(log.len(), 2);
        let query: serde_json::Value = serde_json::from_str(&log[1]).unwrap();
        assert_eq!(query["text"], "Is this still so?");

        let file = folder.path().join("log.jsonl");
        std::fs::write(&file, log.join("\n")).unwrap();
        let mut command = std::process::Command::new(env!("CARGO_BIN_EXE_luxate"));
        let output = command
            .args(["deck", "queries", query["deck"].as_str().unwrap()])
            .arg(&file)
            .env("LUXATE_DATA", folder.path())
            .output()
            .unwrap();
        let told = String::from_utf8(output.stdout).unwrap();
        assert!(output.status.success());
        for expected in [
            query["item"].as_str().unwrap(),
            "Is this still so?",
            "certain",
        ] {
            assert!(told.contains(expected), "{expected} in {told}");
        }
    }

    #[test]
    fn plain_lines_wait_after_a_reveal_and_take_a_query() {
        let folder = tempfile::tempdir().unwrap();
        let mut pty = Pty::start(folder.path(), &["review", "--line", "--seed", "3"], &[]);
        for (typed, awaited) in [
            ("", "Your answer"),
            ("a\r", "How sure are you"),
            ("l\r", "Enter goes on; query writes to the instructor:"),
            ("what\r", "Press Enter to go on, or type query"),
            ("query\r", "Your query, one line; an empty one is dropped:"),
            ("\r", "Nothing was kept."),
            ("query\r", "Name no patient."),
            (
                "The key \u{200b}seems wrong.\r",
                "That was not taken: the query holds ‹U+200B›",
            ),
            (
                "The key seems wrong.\r",
                "Your query is kept. It reaches the instructor",
            ),
            ("repeat\r", "Because: "),
            ("\r", "Question 2. "),
            ("stop\r", "everything you answered is kept"),
        ] {
            pty.press(typed);
            pty.wait(awaited);
        }
        assert!(pty.end().success());
        let log = log(folder.path());
        assert_eq!(log.len(), 2);
        assert!(log[1].contains("The key seems wrong."), "{log:?}");
    }

    #[test]
    fn a_query_that_was_kept_outlives_a_kill() {
        let folder = tempfile::tempdir().unwrap();
        let mut pty = asked(folder.path(), &[]);
        queried(&mut pty);
        pty.signal("KILL");
        pty.end();
        let log = log(folder.path());
        assert!(log[1].contains("Is this still so?"), "{log:?}");
    }
}
