//! Queries written on every face by lines, and what the instructor reads of them.

use std::path::Path;
use std::process::Output;

use serde_json::{Value, json};

use crate::{Talk, luxate, run, some_response, text};

/// The queries of a log as exported, and how many lines there are beside them.
fn exported(data: &Path) -> (Vec<Value>, usize) {
    let log = run(luxate(data, "2027-03-05T20:00:00Z"), &["log", "export"], "");
    let lines = text(&log.stdout);
    let objects = lines
        .lines()
        .map(|line| serde_json::from_str(line).unwrap());
    let (queries, answers): (Vec<Value>, Vec<Value>) =
        objects.partition(|object: &Value| object["type"] == "query");
    (queries, answers.len())
}

#[test]
fn a_query_is_taken_while_a_reveal_is_held_and_outlives_a_kill() {
    let data = tempfile::tempdir().unwrap();
    let mut talk = Talk::start(data.path(), "2027-03-01T19:00:00Z", &[]);
    let ask = talk.hear();
    // Nothing is revealed yet.
    for early in [
        json!({"type": "query", "ask": 1, "text": "too early"}),
        json!({"type": "next"}),
    ] {
        talk.say(&early);
        assert_eq!(talk.hear()["type"], "error");
    }
    talk.say(
        &json!({"type": "answer", "ask": 1, "response": some_response(&ask), "confidence": "likely", "hold": true}),
    );
    let reveal = talk.hear();
    assert_eq!(reveal["type"], "reveal");
    let query = |ask: u32, text: &str| json!({"type": "query", "ask": ask, "text": text});
    for bad in [
        query(2, "another ask"),
        query(1, "  "),
        query(1, "\u{1b}]0;title\u{7}"),
        query(1, "not \u{202e}tfel"),
        query(1, &"x".repeat(1001)),
        json!({"type": "query", "ask": 1}),
        json!({"type": "answer", "ask": 1, "response": some_response(&ask), "confidence": "likely"}),
    ] {
        talk.say(&bad);
        let error = talk.hear();
        assert_eq!(error["type"], "error", "{bad}");
        let message = error["message"].as_str().unwrap();
        assert!(!message.chars().any(char::is_control), "{message}");
    }
    for text in [" Is b not\nright, too? ", "And the source is old."] {
        talk.say(&query(1, text));
        assert_eq!(talk.hear(), json!({"type": "kept", "ask": 1}));
    }
    // On Unix this is SIGKILL: nothing of the process runs after it.
    talk.child.kill().unwrap();
    talk.child.wait().unwrap();
    let (queries, answers) = exported(data.path());
    assert_eq!((queries.len(), answers), (2, 1));
    let first = &queries[0];
    assert_eq!(first["text"], "Is b not right, too?");
    assert_eq!(first["day"], "2027-03-01");
    assert_eq!(
        ask["item"],
        format!(
            "{}/{}",
            first["deck"].as_str().unwrap(),
            first["item"].as_str().unwrap()
        )
    );
    let log = text(
        &run(
            luxate(data.path(), "2027-03-05T20:00:00Z"),
            &["log", "export"],
            "",
        )
        .stdout,
    );
    let answer: Value = serde_json::from_str(log.lines().next().unwrap()).unwrap();
    assert_eq!(first["answer"], answer["id"]);
    assert_eq!(first["fingerprint"], answer["fingerprint"]);
}

#[test]
fn a_held_reveal_goes_on_or_stops_when_told() {
    let data = tempfile::tempdir().unwrap();
    let mut talk = Talk::start(data.path(), "2027-03-01T19:00:00Z", &[]);
    let answer_held = |talk: &mut Talk| {
        let ask = talk.hear();
        talk.say(
            &json!({"type": "answer", "ask": ask["ask"], "response": some_response(&ask),
            "confidence": "certain", "hold": true}),
        );
        assert_eq!(talk.hear()["type"], "reveal");
    };
    answer_held(&mut talk);
    talk.say(&json!({"type": "next"}));
    answer_held(&mut talk);
    talk.say(&json!({"type": "stop"}));
    let close = talk.hear();
    assert_eq!(
        (&close["ended"], &close["answers"]),
        (&json!("stopped"), &json!(2))
    );
    assert!(talk.child.wait().unwrap().success());
    assert_eq!(exported(data.path()), (Vec::new(), 2));
}

#[test]
fn piped_lines_are_never_waited_for() {
    let data = tempfile::tempdir().unwrap();
    let arguments = ["review", "--line", "--seed", "3"];
    let out = run(
        luxate(data.path(), "2027-03-01T19:00:00Z"),
        &arguments,
        "a\nl\na\nc\nstop\n",
    );
    let said = text(&out.stdout);
    assert!(
        said.contains("Question 3. ") && !said.contains("query writes"),
        "{said}"
    );
    assert_eq!(exported(data.path()), (Vec::new(), 2));
}

const DECK: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/exchange/deck.yaml");

/// What the item holds to be right now.
fn fingerprint(id: &str) -> String {
    let bytes = std::fs::read(DECK).unwrap();
    let deck = luxate::deck::read_deck("deck.yaml", &bytes).deck.unwrap();
    let item = deck.items.iter().find(|item| item.id == id);
    item.map_or_else(|| "00000000000000aa".into(), luxate::deck::fingerprint)
}

/// The line of an answer with this number.
fn answer(number: u8, item: &str, fingerprint: &str, right: bool) -> String {
    json!({"id": format!("{number:032x}"), "at": "2027-03-01T19:00:00.000Z", "day": "2027-03-01", "offset_min": 0,
        "deck": "harbour-clinic", "item": item, "edition": "2026-11-25", "fingerprint": fingerprint, "part": null,
        "parts": null, "wording": 0, "shown": [], "response": [], "right": right, "confidence": "certain",
        "quality": 3, "seconds": 9.5, "round": "review"})
    .to_string()
}

/// The line of a query on the reveal of an answer.
fn query(answer: u8, deck: &str, item: &str, fingerprint: &str, day: &str, remark: &str) -> String {
    json!({"type": "query", "at": format!("{day}T20:00:00.000Z"), "day": day, "offset_min": 0, "deck": deck,
        "item": item, "edition": "2026-11-01", "fingerprint": fingerprint, "part": null, "parts": null,
        "answer": format!("{answer:032x}"), "text": remark})
    .to_string()
}

/// `luxate deck queries` in a folder of logs.
fn list(data: &Path, arguments: &[&str]) -> Output {
    let mut command = luxate(data, "2027-03-05T20:00:00Z");
    command.current_dir(data);
    run(command, &[&["deck", "queries"], arguments].concat(), "")
}

#[test]
fn the_instructor_reads_queries_item_by_item() {
    let data = tempfile::tempdir().unwrap();
    let (beak, branches) = (fingerprint("beak-seat"), fingerprint("mandibular-branches"));
    let old = "0123456789abcdef";
    let here = "harbour-clinic";
    let long = "The long buccal nerve was marked wrong here, and in the lecture it was said to be a branch as well. ";
    // Options are mixed at each asking, and remarks speak of the letters that they had then.
    let mixed = |answer: String| {
        let answer = answer.replace(r#""shown":[]"#, r#""shown":["d","a","c","b"]"#);
        answer.replace(r#""response":[]"#, r#""response":["a","b"]"#)
    };
    let earlier = answer(3, "mandibular-branches", old, true).replace("2026-11-25", "2026-11-01");
    let one = [
        mixed(answer(1, "mandibular-branches", &branches, false)),
        answer(2, "mandibular-branches", &branches, true),
        mixed(earlier),
        answer(4, "beak-seat", &beak, true),
        query(
            1,
            here,
            "mandibular-branches",
            &branches,
            "2027-03-02",
            long.repeat(2).trim(),
        ),
        query(
            9,
            here,
            "beak-seat",
            &beak,
            "2027-03-01",
            "Is \u{202e}this\u{202c} still taught?",
        ),
        query(9, "flaps", "relief", &beak, "2027-03-01", "Another deck."),
    ];
    let two = [
        // What was handed in before counts once.
        one[0].clone(),
        one[4].clone(),
        "not a line".to_owned(),
        query(
            3,
            here,
            "mandibular-branches",
            old,
            "2027-03-01",
            "The earlier key was wrong.",
        ),
        query(
            4,
            here,
            "beak-seat",
            &beak,
            "2027-02-28",
            "tried \u{1b}]0;title\u{7}",
        ),
        answer(5, "long-gone", old, false),
        query(
            5,
            here,
            "long-gone",
            old,
            "2027-03-04",
            "Why was it asked at all?",
        ),
    ];
    std::fs::write(data.path().join("one.jsonl"), one.join("\n")).unwrap();
    std::fs::write(data.path().join("two.jsonl"), two.join("\r\n")).unwrap();
    let list = |arguments: &[&str]| list(data.path(), arguments);

    let out = list(&[DECK, "one.jsonl", "two.jsonl"]);
    assert_eq!(out.status.code(), Some(1));
    insta::assert_snapshot!("queries_listed", text(&out.stdout));
    insta::assert_snapshot!("queries_troubles", text(&out.stderr));
    let out = list(&[DECK, "one.jsonl", "two.jsonl", "--json"]);
    assert_eq!(out.status.code(), Some(1));
    let told = text(&out.stdout);
    assert!(!told.contains('\u{202e}'));
    let object: Value = serde_json::from_str(&told).unwrap();
    insta::assert_snapshot!(
        "queries_json",
        serde_json::to_string_pretty(&object).unwrap()
    );

    let out = list(&[DECK, "one.jsonl"]);
    assert_eq!(out.status.code(), Some(0));
}

#[test]
fn what_cannot_be_listed_is_said() {
    let data = tempfile::tempdir().unwrap();
    let list = |arguments: &[&str]| list(data.path(), arguments);
    std::fs::write(data.path().join("none.jsonl"), "").unwrap();
    let out = list(&[DECK, "none.jsonl"]);
    assert_eq!(out.status.code(), Some(0));
    assert_eq!(
        text(&out.stdout),
        "harbour-clinic, edition 2026-11-25: 0 queries on 0 items\n"
    );
    for arguments in [
        &["no-such-deck", "none.jsonl"][..],
        &[DECK, "none.jsonl", "missing.jsonl"],
        &[DECK, "."],
        &[DECK],
    ] {
        let out = list(arguments);
        assert_eq!(out.status.code(), Some(2), "{arguments:?}");
        assert!(out.stdout.is_empty() && !out.stderr.is_empty());
    }
    let flawed = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/tests/decks/bad/accepted-and-refused.yaml"
    );
    assert_eq!(list(&[flawed, "none.jsonl"]).status.code(), Some(1));
}

#[test]
fn a_file_that_is_no_log_is_told_in_a_few_lines() {
    let data = tempfile::tempdir().unwrap();
    let write = |name: &str, bytes: &[u8]| std::fs::write(data.path().join(name), bytes).unwrap();
    let line = answer(1, "beak-seat", "00000000000000aa", true);
    write(
        "y.jsonl",
        format!("{line}\n{}", "y\n".repeat(5000)).as_bytes(),
    );
    write("z.jsonl", "z\n".repeat(10).as_bytes());
    let out = list(data.path(), &[DECK, "y.jsonl", "z.jsonl"]);
    assert_eq!(out.status.code(), Some(1));
    let told = text(&out.stderr);
    let told: Vec<&str> = told.lines().collect();
    assert_eq!(told.len(), 12);
    assert_eq!(
        told[1],
        "luxate: y.jsonl: line 3: neither an answer nor a query: from column 1 on it is not JSON"
    );
    assert_eq!(
        told[10],
        "luxate: y.jsonl: 4990 more lines could not be taken"
    );
    assert!(told[11].contains("z.jsonl is no log"), "{}", told[11]);

    let line = "{\"id\":\"x\"}\r\n";
    let little: Vec<u8> = line.encode_utf16().flat_map(u16::to_le_bytes).collect();
    let big: Vec<u8> = line.encode_utf16().flat_map(u16::to_be_bytes).collect();
    for bytes in [
        [&[0xff, 0xfe], &little[..]].concat(),
        [&[0xfe, 0xff], &big[..]].concat(),
        little,
        big,
    ] {
        write("wide.jsonl", &bytes);
        let out = list(data.path(), &[DECK, "wide.jsonl"]);
        assert_eq!(out.status.code(), Some(1));
        let told = text(&out.stderr);
        assert!(told.contains("looks like UTF-16"), "{told}");
        assert_eq!(told.lines().count(), 1, "{told}");
    }
}

#[test]
#[cfg(unix)]
fn a_log_in_a_folder_that_is_only_read_is_exported() {
    use std::fs::{Permissions, set_permissions};
    use std::os::unix::fs::PermissionsExt as _;

    let data = tempfile::tempdir().unwrap();
    let mut talk = Talk::start(data.path(), "2027-03-01T19:00:00Z", &[]);
    let ask = talk.hear();
    talk.answer(&ask, "likely");
    talk.hear();
    talk.say(&json!({"type": "stop"}));
    talk.hear();
    assert!(talk.child.wait().unwrap().success());
    let export = || {
        run(
            luxate(data.path(), "2027-03-05T20:00:00Z"),
            &["log", "export"],
            "",
        )
    };
    let before = export();
    let mode = |mode: u32| set_permissions(data.path(), Permissions::from_mode(mode)).unwrap();
    mode(0o555);
    let out = export();
    mode(0o755);
    assert_eq!(text(&out.stderr), "");
    assert_eq!(out.status.code(), Some(0));
    assert_eq!(out.stdout, before.stdout);
    assert_eq!(text(&out.stdout).lines().count(), 1);
}

#[test]
fn where_there_is_nothing_it_is_said_and_no_place_is_made() {
    let data = tempfile::tempdir().unwrap();
    let mistyped = data.path().join("mistyped");
    let out = run(
        luxate(&mistyped, "2027-03-01T19:00:00Z"),
        &["log", "export"],
        "",
    );
    assert_eq!(out.status.code(), Some(0));
    assert!(out.stdout.is_empty());
    let told = text(&out.stderr);
    assert!(told.contains("no answers and no queries in "), "{told}");
    assert!(!mistyped.exists());
    std::fs::write(data.path().join("none.jsonl"), "").unwrap();
    let out = list(data.path(), &[DECK, "none.jsonl"]);
    assert_eq!(
        text(&out.stderr),
        "luxate: the log holds no answers and no queries\n"
    );
    // A deck is no log, and one line says so.
    let out = list(data.path(), &[DECK, DECK]);
    assert_eq!(out.status.code(), Some(1));
    let told = text(&out.stderr);
    assert_eq!(told.lines().count(), 1, "{told}");
    assert!(
        told.contains("deck.yaml is no log") && told.contains("luxate log export writes one"),
        "{told}"
    );
}

#[test]
fn a_line_that_cannot_be_taken_is_told_without_the_words_of_a_parser() {
    let data = tempfile::tempdir().unwrap();
    let whole = answer(1, "beak-seat", "00000000000000aa", true);
    let lines = [
        whole.clone(),
        "not a line".to_owned(),
        whole.replace(r#""wording":0,"#, ""),
        whole.replace(r#""wording":0"#, r#""wording":"x""#),
        whole.get(..whole.len() / 2).unwrap().to_owned(),
        whole.replace("harbour-clinic", "harbour\tclinic"),
    ];
    std::fs::write(data.path().join("bad.jsonl"), lines.join("\n")).unwrap();
    let out = list(data.path(), &[DECK, "bad.jsonl"]);
    insta::assert_snapshot!("queries_bad_lines", text(&out.stderr));
}
