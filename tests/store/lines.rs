//! Answers leave as JSON Lines and come back the same; what is no answer is told by its line.

use luxate::answer::{Answer, Flaw};
use luxate::interchange::log::{self, LONGEST_LINE, LineError, Problem};
use luxate::store::Store;
use proptest::prelude::*;
use serde_json::{Value, json};
use tempfile::tempdir;

use crate::answers::{any_answer, numbered};

fn written(answers: &[Answer]) -> String {
    let mut out = Vec::new();
    log::write(answers, &mut out).unwrap();
    String::from_utf8(out).unwrap()
}

fn read(text: &str) -> Result<Vec<Answer>, LineError> {
    log::read(text.as_bytes())
}

/// A good line with `field` set to `value`.
fn with(field: &str, value: Value) -> String {
    let mut object: Value = serde_json::from_str(&written(&[numbered(1)])).unwrap();
    object[field] = value;
    object.to_string()
}

#[test]
fn a_line_is_plain_json() {
    let answer = Answer {
        response: vec!["Nervus\tlingualis \u{202e}\u{9b}31m \u{e0041} é".into()],
        ..numbered(1)
    };
    insta::assert_snapshot!(written(&[numbered(0), answer]));
}

#[test]
fn unknown_fields_empty_lines_and_other_line_ends_are_no_hindrance() {
    let line = with("remark", json!({"any": ["thing"]}));
    let text = format!("\u{feff}{line}\r\n\r\n  \n{line}");
    assert_eq!(read(&text).unwrap(), [numbered(1), numbered(1)]);
    assert_eq!(read("").unwrap(), []);
}

#[test]
fn a_time_may_come_in_any_zone() {
    let mut answer = numbered(1);
    answer.at.utc_ms = 1_795_000_000_000;
    let line = with("at", json!("2026-11-18T16:06:40.000+05:30"));
    let read = read(&line).unwrap();
    assert_eq!(read[0].at.utc_ms, 1_794_998_200_000);
}

#[test]
fn what_says_nothing_known_is_told_by_field() {
    let cases = [
        ("id", json!("a5")),
        ("at", json!("yesterday")),
        ("day", json!("2026-2-30")),
        ("confidence", json!("sure\u{1b}[31m")),
        ("quality", json!(6)),
        ("round", json!("game")),
    ];
    for (name, value) in cases {
        let error = read(&format!("\n{}", with(name, value))).unwrap_err();
        assert_eq!(error.line, 2);
        assert!(
            matches!(&error.problem, Problem::Value { field, .. } if *field == name),
            "{error}"
        );
        assert!(!error.to_string().chars().any(char::is_control));
    }
}

#[test]
fn what_has_another_shape_is_told() {
    let good = written(&[numbered(1)]);
    let cases = [
        "[]".to_owned(),
        "{}".to_owned(),
        "null".to_owned(),
        good.replace('}', ""),
        good.replace("\"id\"", "\"uid\""),
        good.replace('{', "{\"day\":\"2026-11-25\","),
        format!("{} {}", good.trim(), good),
        with("wording", json!(-1)),
        with("wording", json!(4_294_967_296_u64)),
        with("seconds", json!("12")),
        with("shown", json!([1, 2])),
        with("right", json!(1)),
        "[".repeat(100_000),
    ];
    for line in cases {
        let error = read(&line).unwrap_err();
        assert!(matches!(error.problem, Problem::Shape(_)), "{error}");
    }
    // Not UTF-8.
    let mut bytes = good.into_bytes();
    bytes[10] = 0xff;
    let error = log::read(bytes.as_slice()).unwrap_err();
    assert!(matches!(error.problem, Problem::Shape(_)), "{error}");
}

#[test]
fn what_no_log_could_hold_is_told() {
    let cases = [
        ("offset_min", json!(1440), Flaw::Offset),
        ("deck", json!(""), Flaw::Deck),
        ("item", json!("a b"), Flaw::Item),
        ("fingerprint", json!("xyz"), Flaw::Fingerprint),
        ("seconds", json!(-1), Flaw::Seconds),
        ("edition", json!("x".repeat(Answer::MOST_TEXT)), Flaw::Long),
    ];
    for (name, value, flaw) in cases {
        let error = read(&with(name, value)).unwrap_err();
        assert!(matches!(error.problem, Problem::Flawed(found) if found == flaw));
    }
}

#[test]
fn a_line_without_end_is_cut_off() {
    let endless = std::io::repeat(b' ');
    let error = log::read(std::io::BufReader::new(endless)).unwrap_err();
    assert!(matches!(error.problem, Problem::TooLong), "{error}");
    assert_eq!(error.line, 1);
    // The longest answer there is, every character of it escaped.
    let answer = Answer {
        edition: "\u{1}".repeat(Answer::MOST_TEXT - 100),
        ..numbered(1)
    };
    let line = written(std::slice::from_ref(&answer));
    assert!(line.len() as u64 > LONGEST_LINE / 2);
    assert_eq!(read(&line).unwrap(), [answer]);
}

#[test]
fn a_log_travels_from_store_to_store() {
    let (here, there) = (tempdir().unwrap(), tempdir().unwrap());
    let mut from = Store::open(here.path()).unwrap();
    let answers: Vec<_> = (0..30).map(numbered).collect();
    from.append_all(&answers).unwrap();
    let text = written(&from.answers().unwrap());
    let mut to = Store::open(there.path()).unwrap();
    to.append_all(&answers[10..20]).unwrap();
    let merged = to.append_all(&read(&text).unwrap()).unwrap();
    assert_eq!((merged.new, merged.known), (20, 10));
    let merged = to.append_all(&read(&text).unwrap()).unwrap();
    assert_eq!((merged.new, merged.known), (0, 30));
}

proptest! {
    #[test]
    fn what_is_read_is_what_was_written(answers in prop::collection::vec(any_answer(), 0..6)) {
        let text = written(&answers);
        prop_assert_eq!(text.lines().count(), answers.len());
        let acts = ['\u{202e}', '\u{2028}', '\u{feff}', '\u{e0041}'];
        let raw = |c: char| c != '\n' && (c.is_control() || acts.contains(&c));
        prop_assert!(!text.contains(raw));
        let back = read(&text).unwrap();
        let bits = |answers: &[Answer]| -> Vec<u64> {
            answers.iter().map(|a| a.seconds.to_bits()).collect()
        };
        prop_assert_eq!(bits(&back), bits(&answers));
        prop_assert_eq!(back, answers);
    }

    #[test]
    fn no_input_is_too_strange(bytes in prop::collection::vec(any::<u8>(), 0..200)) {
        log::read(bytes.as_slice()).ok();
    }
}
