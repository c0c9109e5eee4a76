//! Answers and queries leave as JSON Lines and come back the same; what is neither is told by its line.

use luxate::answer::{Answer, Flaw};
use luxate::interchange::log::{self, Entry, LONGEST_LINE, LineError, Problem};
use luxate::query::{LONGEST, Query};
use luxate::store::Store;
use proptest::prelude::*;
use serde_json::{Value, json};
use tempfile::tempdir;

use crate::answers::{any_answer, any_query, numbered, query};

fn written(answers: &[Answer]) -> String {
    let mut out = Vec::new();
    log::write(answers, &mut out).unwrap();
    String::from_utf8(out).unwrap()
}

fn asked(queries: &[Query]) -> String {
    let mut out = Vec::new();
    log::write_queries(queries, &mut out).unwrap();
    String::from_utf8(out).unwrap()
}

/// The answers of a log that holds no queries.
fn answers_of(bytes: &[u8]) -> Result<Vec<Answer>, LineError> {
    log::read(bytes)
        .map(|entry| match entry? {
            Entry::Answer(answer) => Ok(answer),
            Entry::Query(query) => panic!("{query:?}"),
        })
        .collect()
}

fn read(text: &str) -> Result<Vec<Answer>, LineError> {
    answers_of(text.as_bytes())
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
    let remark = Query {
        text: "Is \u{202e}b\u{feff} \"right\"?".into(),
        ..query(5)
    };
    let text = written(&[numbered(0), answer]) + asked(&[query(1), remark]).as_str();
    insta::assert_snapshot!(text);
}

#[test]
fn a_query_is_told_by_its_type_and_an_answer_may_have_any_other() {
    let mut object: Value = serde_json::from_str(&asked(&[query(5)])).unwrap();
    object["remark"] = json!("a field of a later program");
    let text = format!(
        "{}\n{object}\n{}",
        with("type", json!("answer")),
        with("type", json!(7))
    );
    let entries: Result<Vec<Entry>, _> = log::read(text.as_bytes()).collect();
    let expected = [
        Entry::Answer(numbered(1)),
        Entry::Query(query(5)),
        Entry::Answer(numbered(1)),
    ];
    assert_eq!(entries.unwrap(), expected);
}

#[test]
fn what_no_query_could_be_is_told_by_its_line_and_the_next_is_read() {
    let good = asked(&[query(5)]);
    let spoilt = |field: &str, value: Value| {
        let mut object: Value = serde_json::from_str(&good).unwrap();
        object[field] = value;
        object.to_string()
    };
    for bad in [
        spoilt("text", json!("")),
        spoilt("text", json!("a\u{1b}]0;title\u{7}")),
        spoilt("text", json!("two\nlines")),
        spoilt("text", json!("x".repeat(LONGEST + 1))),
        spoilt("text", json!(["a"])),
        spoilt("answer", json!("a5")),
        spoilt("at", json!("yesterday")),
        spoilt("day", json!("2026-2-30")),
        spoilt("deck", json!("a/b")),
        spoilt("parts", json!(null)),
        spoilt("type", json!("remark")),
        "x".repeat(usize::try_from(LONGEST_LINE).unwrap() + 5),
        "\u{0}".into(),
    ] {
        let text = format!("{bad}\n{good}");
        let entries: Vec<_> = log::read(text.as_bytes()).collect();
        let [Err(error), Ok(Entry::Query(kept))] = entries.as_slice() else {
            panic!("{bad:.200}: {entries:?}");
        };
        assert_eq!((error.line, kept), (1, &query(5)));
        assert!(!error.to_string().chars().any(char::is_control), "{error}");
    }
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
    let error = answers_of(&bytes).unwrap_err();
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
    let mut lines = log::read(std::io::BufReader::new(endless));
    let error = lines.next().unwrap().unwrap_err();
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
    fn queries_come_back_as_they_were_written(
        queries in prop::collection::vec(any_query(), 0..6),
        answer in any_answer(),
    ) {
        let text = asked(&queries) + written(std::slice::from_ref(&answer)).as_str();
        prop_assert_eq!(text.lines().count(), queries.len() + 1);
        let acts = ['\u{202e}', '\u{2028}', '\u{feff}', '\u{e0041}'];
        prop_assert!(!text.contains(|c: char| c != '\n' && (c.is_control() || acts.contains(&c))));
        let back: Result<Vec<Entry>, _> = log::read(text.as_bytes()).collect();
        let written = queries.into_iter().map(Entry::Query).chain([Entry::Answer(answer)]);
        prop_assert_eq!(back.unwrap(), written.collect::<Vec<_>>());
    }

    #[test]
    fn no_input_is_too_strange(bytes in prop::collection::vec(any::<u8>(), 0..200)) {
        log::read(bytes.as_slice()).for_each(drop);
    }
}
