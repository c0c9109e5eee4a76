//! The real binary in plain lines and in JSON Lines: a number, a place, a flap and a case, from the question to the log.

#![allow(
    clippy::unwrap_used,
    reason = "a test that cannot go on should say where and stop"
)]

#[path = "support/met.rs"]
mod met;

use std::io::Write as _;
use std::path::Path;
use std::process::{Command, Stdio};

use luxate::answer::Answer;
use luxate::store::Store;
use met::met;
use serde_json::{Value, json};

const COMPUTED: &str = include_str!("../decks/computed.yaml");
const POINTING: &str = include_str!("../decks/pointing.yaml");
const DESIGNING: &str = include_str!("../decks/designing.yaml");
const CASES: &str = include_str!("../decks/cases.yaml");

/// What a review says on this day to these lines.
fn said(data: &Path, day: &str, arguments: &[&str], lines: &str) -> String {
    let mut child = Command::new(env!("CARGO_BIN_EXE_luxate"))
        .env_clear()
        .env("LUXATE_DATA", data)
        .env("LUXATE_NOW", format!("{day}T19:30:00Z"))
        .env("TZ", "UTC")
        .args(["review", "--seed", "7", "--items", "1"])
        .args(arguments)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    child
        .stdin
        .take()
        .unwrap()
        .write_all(lines.as_bytes())
        .unwrap();
    let output = child.wait_with_output().unwrap();
    assert!(output.status.success());
    String::from_utf8(output.stdout).unwrap()
}

/// What plain lines say of an item that is due, and the answers that were kept.
fn spoken(deck: &str, item: &str, lines: &str) -> (String, Vec<Answer>) {
    let data = tempfile::tempdir().unwrap();
    met(data.path(), deck, item);
    let before = Store::open(data.path()).unwrap().answers().unwrap().len();
    let said = said(data.path(), "2027-03-02", &["--line"], lines);
    assert!(!said.contains(['{', '}', '\u{1b}']), "{said}");
    let answers = Store::open(data.path()).unwrap().answers().unwrap();
    (said, answers.into_iter().skip(before).collect())
}

/// Asserts that these stand in a text, in this order.
fn in_order(text: &str, parts: &[&str]) {
    let mut rest = text;
    for part in parts {
        let Some((_, after)) = rest.split_once(part) else {
            panic!("no {part:?} in\n{rest}\nof\n{text}");
        };
        rest = after;
    }
}

#[test]
fn a_number_is_asked_again_when_it_is_none_and_marked() {
    let (said, answers) = spoken(COMPUTED, "max-mg", "much\n12 mL\ncertain\nstop\n");
    in_order(
        &said,
        &[
            "mg/kg",
            "Type one plain number",
            "How sure are you",
            "Not right.",
            "Wrong",
            "The key",
        ],
    );
    assert_eq!(answers[0].response, ["12 mL"]);
    assert!(answers[0].shown.iter().all(|drawn| drawn.contains('=')));
}

#[test]
fn a_place_is_asked_by_descriptions_and_the_miss_is_told() {
    let (said, answers) = spoken(POINTING, "canal-dips", "zz\nb\nguessing\nstop\n");
    in_order(
        &said,
        &[
            "mandible",
            "a. ",
            "b. ",
            "There is no z here",
            "How sure are you",
            "You pointed",
        ],
    );
    assert_eq!(answers.len(), 1);
}

#[test]
fn a_flap_is_designed_end_by_end() {
    let input = "sulcular\n4 ml\n10 20\n6 dl\nnone\nnone\nyes\ncertain\nstop\n";
    let (said, answers) = spoken(DESIGNING, "lower-five-root", input);
    in_order(
        &said,
        &["Site: tooth 5.", "You chose: ", "Keep it", "Sound"],
    );
    assert!(said.contains("raised at full thickness"), "{said}");
    assert_eq!(answers[0].response, ["4ml r10@20 .. 6dl"]);
    assert!(answers[0].right);
}

#[test]
fn findings_of_a_flap_are_read_out_and_judged() {
    let input = "sulcular\n4 ml\n12 10\n7 dl\nnone\nnone\nyes\ncertain\nstop\n";
    let (said, answers) = spoken(DESIGNING, "lower-six-beside-defect", input);
    in_order(
        &said,
        &[
            "Bone lost over 4: 2 to 7 mm",
            "Not right.",
            "from the bone lost over 4; keep 6",
        ],
    );
    assert_eq!(answers[0].response, ["4ml r12@10 .. 7dl", "defect"]);
}

#[test]
fn a_case_tells_what_has_come_to_light_part_by_part() {
    let input = "a\nlikely\na\nlikely\nstop\n";
    let (said, answers) = spoken(CASES, "second-molar-hollow", input);
    in_order(
        &said,
        &[
            "a smoker",
            "part 2 of 5",
            "Air bubbles through the blood",
            "part 3 of 5",
        ],
    );
    let parts: Vec<u8> = answers
        .iter()
        .filter_map(|answer| answer.part)
        .map(|part| part.number)
        .collect();
    assert_eq!(parts, [1, 2]);
}

#[test]
fn each_kind_in_json_lines() {
    for (deck, item, kind, response) in [
        (COMPUTED, "max-mg", "numeric", "12"),
        (POINTING, "canal-dips", "locate", "a"),
        (DESIGNING, "lower-five-root", "flap", "4ml .. 6dl"),
        (CASES, "second-molar-hollow", "single", "a"),
    ] {
        let data = tempfile::tempdir().unwrap();
        met(data.path(), deck, item);
        let refused =
            json!({"type": "answer", "ask": 1, "response": ["?"], "confidence": "certain"});
        let given =
            json!({"type": "answer", "ask": 1, "response": [response], "confidence": "certain"});
        let input = format!("{refused}\n{given}\n");
        let said = said(data.path(), "2027-03-02", &["--jsonl"], &input);
        let lines: Vec<Value> = said
            .lines()
            .map(|line| serde_json::from_str(line).unwrap())
            .collect();
        assert_eq!(
            (&lines[0]["type"], &lines[0]["kind"]),
            (&json!("ask"), &json!(kind))
        );
        assert_eq!(lines[0]["key_changed"], false);
        assert_eq!(lines[1]["type"], "error", "{kind}: {}", lines[1]);
        assert_eq!(lines[2]["type"], "reveal", "{kind}: {}", lines[2]);
    }
}

/// A change of key is told once, and each asking has the next wording.
#[test]
fn wordings_take_turns_and_a_changed_key_is_told() {
    for (deck, item, lines) in [
        (POINTING, "canal-dips", "a\nguessing\nstop\n"),
        (
            DESIGNING,
            "lower-five-root",
            "sulcular\n4 ml\n10 20\n6 dl\nnone\nnone\nyes\ncertain\nstop\n",
        ),
        (
            CASES,
            "second-molar-hollow",
            "a\nguessing\na\nguessing\na\nguessing\na\nguessing\na\nguessing\nstop\n",
        ),
    ] {
        let data = tempfile::tempdir().unwrap();
        met(data.path(), deck, item);
        let mut store = Store::open(data.path()).unwrap();
        let mut older = store.answers().unwrap();
        for (answer, id) in older.iter_mut().zip(100..) {
            answer.id.0 = [id; 16];
            answer.at.utc_ms += 86_400_000;
            answer.at.day = answer.at.day.plus(1);
            answer.fingerprint = "0123456789abcdef".to_owned();
        }
        store.append_all(&older).unwrap();
        drop(store);
        let told = "The key of this item has changed since you last answered it.";
        let first = said(data.path(), "2027-03-02", &["--line"], lines);
        let again = said(data.path(), "2027-03-20", &["--line"], lines);
        assert!(first.contains(told), "{item}: {first}");
        assert!(!again.contains(told), "{item}: {again}");
        let answers = Store::open(data.path()).unwrap().answers().unwrap();
        let mut wordings: Vec<u32> = answers.iter().map(|answer| answer.wording).collect();
        let parts = answers[0].part.map_or(1, |part| usize::from(part.of));
        wordings = wordings.chunks(parts).map(|asking| asking[0]).collect();
        for pair in wordings.windows(2).skip(1) {
            assert_ne!(pair[0], pair[1], "{item}: {wordings:?}");
        }
    }
}
