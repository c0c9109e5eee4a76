//! Clocks that stand still, run ahead or are put back: days never run backwards, and the candidate is told.

use std::collections::BTreeSet;

use serde_json::{Value, json};

use crate::{luxate, run};

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
        luxate(data.path(), now),
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
    let export = run(luxate(data.path(), now), &["log", "export"], "").stdout;
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
        luxate(data.path(), "2036-01-01T10:00:00Z"),
        &["review", "--jsonl", "--seed", "3"],
        &answers(1),
    );
    let out = run(
        luxate(data.path(), "2026-11-28T10:00:00Z"),
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
        luxate(data.path(), "2026-12-01T10:00:00Z"),
        &["plan", "--exam", "2026-12-20"],
        "",
    );
    let out = run(luxate(data.path(), "2026-12-25T10:00:00Z"), &["plan"], "");
    let said = String::from_utf8(out.stdout).unwrap();
    assert!(
        said.starts_with("Exam      2026-12-20, which is over"),
        "{said}"
    );
}
