//! The real binary, driven as lines: whole rounds, the next day, bad lines, bad folders, and a process killed at its worst moment.

#![allow(
    clippy::unwrap_used,
    reason = "a test that cannot go on should say where and stop"
)]

mod clock;
mod queries;
mod refused;

use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Child, ChildStdin, ChildStdout, Command, Output, Stdio};

use luxate::kinds::{self, Pose, Response};
use luxate::store::Store;
use serde_json::{Value, json};

fn luxate(data: &Path, now: &str) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_luxate"));
    command
        .env_clear()
        .env("LUXATE_DATA", data)
        .env("LUXATE_NOW", now)
        .env("TZ", "UTC");
    command
}

fn run(mut command: Command, arguments: &[&str], input: &str) -> Output {
    let mut child = command
        .args(arguments)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    // The program may end before it has read everything; that is what some of these tests are about.
    let _ignored = child.stdin.take().unwrap().write_all(input.as_bytes());
    child.wait_with_output().unwrap()
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).unwrap()
}

/// A round in JSON Lines with a live process.
struct Talk {
    child: Child,
    input: ChildStdin,
    output: BufReader<ChildStdout>,
}

impl Talk {
    fn start(data: &Path, now: &str, arguments: &[&str]) -> Self {
        let mut child = luxate(data, now)
            .args(["review", "--jsonl", "--seed", "7"])
            .args(arguments)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let input = child.stdin.take().unwrap();
        let output = BufReader::new(child.stdout.take().unwrap());
        Self {
            child,
            input,
            output,
        }
    }

    fn hear(&mut self) -> Value {
        let mut line = String::new();
        self.output.read_line(&mut line).unwrap();
        serde_json::from_str(&line).unwrap_or_else(|error| panic!("{error}: {line:?}"))
    }

    fn say(&mut self, value: &Value) {
        writeln!(self.input, "{value}").unwrap();
    }

    /// Answers with the first thing that fits, and returns the reveal.
    fn answer(&mut self, ask: &Value, confidence: &str) -> Value {
        self.say(
            &json!({"type": "answer", "ask": ask["ask"], "response": some_response(ask),
            "confidence": confidence, "seconds": 12.5}),
        );
        self.hear()
    }
}

/// A response that fits, right or not.
fn some_response(ask: &Value) -> Vec<String> {
    let ids = |name: &str| -> Vec<String> {
        let list = ask[name].as_array().cloned().unwrap_or_default();
        list.iter()
            .map(|entry| entry["id"].as_str().unwrap().to_owned())
            .collect()
    };
    match ask["kind"].as_str().unwrap() {
        "single" | "multiple" => ids("options")[..1].to_vec(),
        "order" => ids("options"),
        "match" => ids("options").into_iter().map(|left| left + "1").collect(),
        "short" => vec!["no idea".into()],
        "numeric" => vec!["0".into()],
        other => panic!("{other}"),
    }
}

#[test]
fn a_round_is_asked_revealed_stored_and_goes_on_the_next_day() {
    let data = tempfile::tempdir().unwrap();
    let mut talk = Talk::start(data.path(), "2027-03-01T19:00:00+01:00", &["--items", "6"]);
    let mut asked = Vec::new();
    let close = loop {
        let ask = talk.hear();
        if ask["type"] == "close" {
            break ask;
        }
        for field in [
            "ask", "item", "topic", "kind", "stem", "options", "safety", "reask",
        ] {
            assert!(!ask[field].is_null(), "{field} of {ask}");
        }
        // Right answers are found out by trying: the reveal tells the key, and the item comes back.
        let reveal = if ask["reask"] == true {
            let (_, key): &(Value, Value) = asked
                .iter()
                .rev()
                .find(|(before, _): &&(Value, Value)| before["item"] == ask["item"])
                .unwrap();
            talk.say(&json!({"type": "answer", "ask": ask["ask"], "response": key_in(&ask, key), "confidence": "certain"}));
            talk.hear()
        } else {
            talk.answer(&ask, "guessing")
        };
        assert_eq!(reveal["type"], "reveal", "{reveal}");
        assert_eq!(reveal["ask"], ask["ask"]);
        assert!(reveal["rationale"].as_str().unwrap().len() > 20);
        assert!(!reveal["sources"].as_array().unwrap().is_empty());
        if ask["safety"] == true {
            assert!(reveal["caution"].as_str().unwrap().len() > 20);
        }
        assert_eq!(
            reveal["again"] == true,
            reveal["quality"].as_u64().unwrap() < 4
        );
        asked.push((ask, reveal));
    };
    assert!(talk.child.wait().unwrap().success());
    assert_eq!(close["ended"], "limit");
    assert_eq!(close["items"], 6);
    assert_eq!(close["left_again"], 0);
    assert_eq!(close["answers"], asked.len());

    let log = run(
        luxate(data.path(), "2027-03-01T20:00:00+01:00"),
        &["log", "export"],
        "",
    );
    let lines: Vec<Value> = text(&log.stdout)
        .lines()
        .map(|line| serde_json::from_str(line).unwrap())
        .collect();
    assert_eq!(lines.len(), asked.len());
    assert!(
        lines
            .iter()
            .all(|line| line["day"] == "2027-03-01" && line["offset_min"] == 60)
    );

    // The next day the six are due again, and they come before anything new.
    let mut next = Talk::start(data.path(), "2027-03-02T07:00:00+01:00", &["--items", "7"]);
    let mut due = Vec::new();
    for _ in 0..6 {
        let ask = next.hear();
        assert_eq!(
            (ask["why"].as_str().unwrap(), &ask["reask"]),
            ("Due today.", &json!(false))
        );
        due.push(ask["item"].as_str().unwrap().to_owned());
        next.answer(&ask, "certain");
    }
    let mut first: Vec<&str> = lines
        .iter()
        .map(|line| line["item"].as_str().unwrap())
        .collect();
    first.sort_unstable();
    first.dedup();
    due.sort_unstable();
    assert_eq!(
        due.iter()
            .map(|item| item.split_once('/').unwrap().1)
            .collect::<Vec<_>>()
            .len(),
        first.len()
    );
}

/// The key of a reveal in the ids of another asking of the same item: matched by text.
fn key_in(ask: &Value, reveal: &Value) -> Vec<String> {
    let lines = reveal["lines"].as_array().unwrap();
    let id_of = |text: &str, list: &str| -> String {
        let found = ask[list]
            .as_array()
            .unwrap()
            .iter()
            .find(|entry| entry["text"] == text);
        found.unwrap_or_else(|| panic!("{text} in {ask}"))["id"]
            .as_str()
            .unwrap()
            .to_owned()
    };
    match ask["kind"].as_str().unwrap() {
        "single" | "multiple" => lines
            .iter()
            .filter(|line| line["standing"] == "right" || line["standing"] == "missed")
            .map(|line| id_of(line["text"].as_str().unwrap(), "options"))
            .collect(),
        "order" => lines
            .iter()
            .map(|line| id_of(line["text"].as_str().unwrap(), "options"))
            .collect(),
        "match" => {
            let options = ask["options"].as_array().unwrap();
            lines
                .iter()
                .map(|line| {
                    let pair = line["text"].as_str().unwrap();
                    let left = options
                        .iter()
                        .find(|left| pair.starts_with(left["text"].as_str().unwrap()))
                        .unwrap();
                    let right = pair
                        .strip_prefix(left["text"].as_str().unwrap())
                        .unwrap()
                        .trim_start_matches(": ");
                    left["id"].as_str().unwrap().to_owned() + id_of(right, "targets").as_str()
                })
                .collect()
        }
        "numeric" => vec![computed_key(ask)],
        _ => vec![reveal["key"][0].as_str().unwrap().to_owned()],
    }
}

/// The key of a computed number, found by drawing until the stem is the one that was asked: numbers differ at each asking.
fn computed_key(ask: &Value) -> String {
    let (deck, id) = ask["item"].as_str().unwrap().split_once('/').unwrap();
    let decks = luxate::edge::decks::built_in();
    let deck = decks.iter().find(|known| known.id == deck).unwrap();
    let item = deck.items.iter().find(|item| item.id == id).unwrap();
    for seed in 0..200_000 {
        for wording in 0..item.stems.len() {
            let mut pose = Pose::new(item, None, seed);
            pose.wording = wording;
            let stem = kinds::question(item, &pose).stem;
            if stem.trim() == ask["stem"].as_str().unwrap().trim() {
                let any = Response::Typed("0".into());
                return kinds::mark(item, &pose, &any).unwrap().key[0].clone();
            }
        }
    }
    panic!("no draw gives {ask}");
}

#[test]
fn every_answer_whose_reveal_was_shown_survives_a_kill() {
    let data = tempfile::tempdir().unwrap();
    let mut shown = 0;
    for answers in 1..=8 {
        let mut talk = Talk::start(data.path(), "2027-03-01T19:00:00Z", &[]);
        for _ in 0..answers {
            let ask = talk.hear();
            assert_eq!(talk.answer(&ask, "likely")["type"], "reveal");
            shown += 1;
        }
        // On Unix this is SIGKILL: nothing of the process runs after it.
        talk.child.kill().unwrap();
        talk.child.wait().unwrap();
        let log = run(
            luxate(data.path(), "2027-03-01T20:00:00Z"),
            &["log", "export"],
            "",
        );
        assert_eq!(text(&log.stdout).lines().count(), shown);
    }
}

#[test]
fn bad_lines_are_errors_and_the_question_stays_open() {
    let data = tempfile::tempdir().unwrap();
    let mut talk = Talk::start(data.path(), "2027-03-01T19:00:00Z", &["--items", "1"]);
    let ask = talk.hear();
    for bad in [
        json!({"type": "answer", "ask": 99, "response": some_response(&ask), "confidence": "likely"}),
        json!({"type": "answer", "ask": 1, "response": ["zz"], "confidence": "likely"}),
        json!({"type": "answer", "ask": 1, "response": [], "confidence": "likely"}),
        json!({"type": "answer", "ask": 1, "response": some_response(&ask), "confidence": "sure"}),
        json!({"type": "answer", "ask": 1, "response": some_response(&ask)}),
        json!({"type": "answer", "ask": 1, "response": some_response(&ask), "confidence": "likely", "seconds": -1}),
        json!({"type": "reveal"}),
        json!([1, 2]),
        json!("\u{1b}]0;title\u{7}"),
    ] {
        talk.say(&bad);
        let error = talk.hear();
        assert_eq!(error["type"], "error", "{bad}");
        assert!(
            !error["message"]
                .as_str()
                .unwrap()
                .chars()
                .any(char::is_control)
        );
    }
    writeln!(talk.input, "no json").unwrap();
    assert_eq!(talk.hear()["type"], "error");
    assert_eq!(talk.answer(&ask, "likely")["type"], "reveal");
}

#[test]
fn a_round_in_plain_lines_can_be_heard_and_stopped() {
    let data = tempfile::tempdir().unwrap();
    let input = "help\nrepeat\nzz zz\nstop\n";
    let out = run(
        luxate(data.path(), "2027-03-01T19:00:00Z"),
        &["review", "--line", "--seed", "3"],
        input,
    );
    assert!(out.status.success());
    let said = text(&out.stdout);
    assert!(said.starts_with("luxate is a study aid and not clinical guidance."));
    assert_eq!(said.matches("Question 1. ").count(), 2);
    assert!(said.contains("There is no z here"));
    assert!(said.ends_with("The round was stopped; everything you answered is kept.\n0 answers to 0 items, 0 right, less than a minute.\n"), "{said}");
    // The caution is for the first start only.
    let again = run(
        luxate(data.path(), "2027-03-01T19:05:00Z"),
        &["review", "--line"],
        "",
    );
    assert!(!text(&again.stdout).contains("study aid"));
}

/// A store that refuses every new answer, as on a full disk.
fn refusing() -> tempfile::TempDir {
    let data = tempfile::tempdir().unwrap();
    Store::open(data.path()).unwrap();
    let refuse =
        "CREATE TRIGGER full BEFORE INSERT ON answer BEGIN SELECT RAISE(ABORT, 'full'); END";
    let connection = rusqlite::Connection::open(Store::file_in(data.path())).unwrap();
    connection.execute_batch(refuse).unwrap();
    data
}

#[test]
fn an_answer_that_is_not_stored_is_not_said_to_be_kept() {
    let data = refusing();
    let now = "2027-03-01T19:00:00Z";
    for input in ["a\nlikely\nstop\n", "a\nlikely\na\nlikely\n"] {
        let arguments = ["review", "--line", "--seed", "7"];
        let out = run(luxate(data.path(), now), &arguments, input);
        let said = text(&out.stdout);
        assert_eq!(out.status.code(), Some(2), "{said}");
        assert!(said.contains("Your answer is not stored: "), "{said}");
        assert!(
            said.contains("1 answer, the last, could not be stored and is not kept."),
            "{said}"
        );
        assert!(!said.contains("everything"), "{said}");
    }
    let mut talk = Talk::start(data.path(), now, &[]);
    let ask = talk.hear();
    assert_eq!(talk.answer(&ask, "likely")["type"], "error");
    // With room again, the same question is answered and nothing is lost.
    let connection = rusqlite::Connection::open(Store::file_in(data.path())).unwrap();
    connection.execute_batch("DROP TRIGGER full").unwrap();
    assert_eq!(talk.answer(&ask, "likely")["type"], "reveal");
    talk.hear();
    talk.say(&json!({"type": "stop"}));
    assert_eq!(talk.hear()["not_kept"], 0);
    assert_eq!(talk.child.wait().unwrap().code(), Some(0));

    let data = refusing();
    let mut talk = Talk::start(data.path(), now, &[]);
    let ask = talk.hear();
    assert_eq!(talk.answer(&ask, "likely")["type"], "error");
    talk.say(&json!({"type": "stop"}));
    let close = talk.hear();
    assert_eq!(
        (&close["not_kept"], &close["answers"]),
        (&json!(1), &json!(0))
    );
    assert_eq!(talk.child.wait().unwrap().code(), Some(2));
}

#[test]
fn what_cannot_be_done_is_said_and_nothing_is_touched() {
    let data = tempfile::tempdir().unwrap();
    let file = data.path().join("luxate.db");
    std::fs::write(&file, b"this is no database, but it is somebody's").unwrap();
    let now = "2027-03-01T19:00:00Z";
    for arguments in [
        &["review", "--line"][..],
        &["review", "--jsonl"],
        &["log", "export"],
    ] {
        let out = run(luxate(data.path(), now), arguments, "");
        assert_eq!(out.status.code(), Some(2), "{arguments:?}");
        assert!(text(&out.stderr).starts_with("luxate: "), "{arguments:?}");
    }
    assert_eq!(
        std::fs::read(&file).unwrap(),
        b"this is no database, but it is somebody's"
    );

    let out = run(luxate(&file, now), &["review", "--line"], "");
    assert_eq!(out.status.code(), Some(2));
    let out = run(luxate(data.path(), "yesterday"), &["review", "--line"], "");
    assert_eq!(out.status.code(), Some(2));
    assert!(text(&out.stderr).contains("2027-03-02T19:30:00+01:00"));
    // No terminal to draw on: a sentence and another way.
    let out = run(luxate(data.path(), now), &[], "");
    assert_eq!(out.status.code(), Some(2));
    assert!(text(&out.stderr).contains("--line"));
}

#[test]
fn decks_are_checked_added_and_listed() {
    let data = tempfile::tempdir().unwrap();
    let now = "2027-03-01T19:00:00Z";
    let path = data.path().join("mine.yaml");
    let deck = |edition: &str, key: &str| {
        format!(
            "deck: my-own\ntitle: Mine\nedition: \"{edition}\"\nlanguage: en\nlicence: CC-BY-4.0\n\
             topics:\n  - id: t\n    title: T\n    weight: 1\nsources:\n  - id: S\n    cite: A book\n    year: 2020\n\
             items:\n  - id: one\n    topic: t\n    kind: short\n    stem: Which nerve lies on the lingual plate here?\n    {key}: [lingual nerve]\n    \
             rationale: It lies there.\n    sources: [S]\n"
        )
    };
    let path_text = path.to_str().unwrap();
    let deck_list = || text(&run(luxate(data.path(), now), &["deck", "list"], "").stdout);

    std::fs::write(&path, deck("2027-01-01", "acept")).unwrap();
    let out = run(luxate(data.path(), now), &["deck", "add", path_text], "");
    assert_eq!(out.status.code(), Some(1));
    assert!(text(&out.stderr).contains("nothing was changed"));
    assert!(!deck_list().contains("my-own"));
    let out = run(luxate(data.path(), now), &["deck", "check", path_text], "");
    assert_eq!(out.status.code(), Some(1));
    let report = text(&out.stdout);
    assert!(
        report.contains("mine.yaml:19:5") && report.contains("`accept`"),
        "{report}"
    );

    std::fs::write(&path, deck("2027-01-01", "accept")).unwrap();
    let out = run(luxate(data.path(), now), &["deck", "add", path_text], "");
    assert!(out.status.success(), "{}", text(&out.stderr));
    assert!(deck_list().contains("my-own"));

    std::fs::write(&path, deck("2026-01-01", "accept")).unwrap();
    let out = run(luxate(data.path(), now), &["deck", "add", path_text], "");
    assert_eq!(out.status.code(), Some(2));
    assert!(text(&out.stderr).contains("older edition"));

    for nothing in [data.path().join("none.yaml"), data.path().join("decks")] {
        let out = run(
            luxate(data.path(), now),
            &["deck", "add", nothing.to_str().unwrap()],
            "",
        );
        assert_eq!(out.status.code(), Some(2));
    }
}

#[test]
fn an_exported_log_comes_back_on_another_machine() {
    let (one, two) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    let now = "2027-03-01T19:00:00Z";
    let played = run(
        luxate(one.path(), now),
        &["review", "--line", "--seed", "3"],
        "a\nlikely\nstop\n",
    );
    assert!(played.status.success(), "{}", text(&played.stderr));
    let exported = text(&run(luxate(one.path(), now), &["log", "export"], "").stdout);
    assert_eq!(exported.lines().count(), 1);
    let file = two.path().join("answers.jsonl");
    std::fs::write(&file, &exported).unwrap();
    let file = file.to_str().unwrap();
    let data = two.path().join("data");
    let import = || run(luxate(&data, now), &["log", "import", file], "");
    let said = import();
    assert!(said.status.success(), "{}", text(&said.stderr));
    assert_eq!(
        text(&said.stdout),
        "1 answer and 0 queries added; 0 were here already\n"
    );
    let again = run(luxate(&data, now), &["log", "export"], "");
    assert_eq!(text(&again.stdout), exported);
    assert_eq!(
        text(&import().stdout),
        "0 answers and 0 queries added; 1 was here already\n"
    );
    // The same answer with other content is refused, and so is nothing else changed.
    let altered = exported.replace("\"likely\"", "\"certain\"");
    std::fs::write(file, altered).unwrap();
    let refused = import();
    assert_eq!(refused.status.code(), Some(2));
    assert!(text(&refused.stderr).contains("nothing of this was added"));
    // What is no log changes nothing and is told.
    std::fs::write(file, "no log\n").unwrap();
    assert_eq!(import().status.code(), Some(1));
    assert_eq!(
        text(&run(luxate(&data, now), &["log", "export"], "").stdout),
        exported
    );
}
