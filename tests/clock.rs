//! Clocks that stand still, run ahead or are put back: days never run backwards, and the candidate is told.

#![allow(
    clippy::unwrap_used,
    reason = "a test that cannot go on should say where and stop"
)]

use std::collections::BTreeSet;
use std::io::Write;
use std::path::Path;
use std::process::{Command, Output, Stdio};

use serde_json::{Value, json};

fn run(data: &Path, now: &str, arguments: &[&str], input: &str) -> Output {
    let mut child = Command::new(env!("CARGO_BIN_EXE_luxate"))
        .env_clear()
        .env("LUXATE_DATA", data)
        .env("LUXATE_NOW", now)
        .env("TZ", "UTC")
        .args(arguments)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    // The program may end before it has read everything.
    let _ignored = child.stdin.take().unwrap().write_all(input.as_bytes());
    child.wait_with_output().unwrap()
}

fn answers(count: u32) -> String {
    let line = |ask: u32| {
        json!({"type": "answer", "ask": ask, "response": ["b"], "confidence": "guessing", "seconds": 5.0})
            .to_string()
    };
    (1..=count).map(line).collect::<Vec<_>>().join("\n")
}

#[test]
fn a_clock_that_stands_still_asks_no_item_for_ever() {
    let data = tempfile::tempdir().unwrap();
    let now = "2027-03-01T10:00:00Z";
    let out = run(
        data.path(),
        now,
        &["review", "--jsonl", "--seed", "3"],
        &answers(40),
    );
    let said = String::from_utf8(out.stdout).unwrap();
    let asked: Vec<String> = said
        .lines()
        .map(|line| serde_json::from_str::<Value>(line).unwrap())
        .filter(|object| object["type"] == "ask")
        .map(|object| object["item"].to_string())
        .collect();
    let different: BTreeSet<&String> = asked.iter().collect();
    assert!(
        different.len() > 5 && 2 * different.len() > asked.len() / 2,
        "{asked:?}"
    );
    let export = run(data.path(), now, &["log", "export"], "").stdout;
    let moments: BTreeSet<String> = String::from_utf8(export)
        .unwrap()
        .lines()
        .map(|line| serde_json::from_str::<Value>(line).unwrap()["at"].to_string())
        .collect();
    assert!(moments.len() > 5, "every answer has a moment of its own");
}

#[test]
fn an_answer_from_the_future_is_told() {
    let data = tempfile::tempdir().unwrap();
    run(
        data.path(),
        "2036-01-01T10:00:00Z",
        &["review", "--jsonl", "--seed", "3"],
        &answers(1),
    );
    let out = run(
        data.path(),
        "2026-11-28T10:00:00Z",
        &["plan", "--exam", "2027-05-20"],
        "",
    );
    let said = String::from_utf8(out.stderr).unwrap();
    for expected in [
        "dated 2036-01-01",
        "clock says 2026-11-28",
        "the study day is 2036-01-01",
    ] {
        assert!(said.contains(expected), "{said}");
    }
    assert_eq!(out.status.code(), Some(2));
}

#[test]
fn an_exam_that_has_gone_by_is_told() {
    let data = tempfile::tempdir().unwrap();
    run(
        data.path(),
        "2026-12-01T10:00:00Z",
        &["plan", "--exam", "2026-12-20"],
        "",
    );
    let out = run(data.path(), "2026-12-25T10:00:00Z", &["plan"], "");
    let said = String::from_utf8(out.stdout).unwrap();
    assert!(
        said.starts_with("Exam      2026-12-20, which is over"),
        "{said}"
    );
}
