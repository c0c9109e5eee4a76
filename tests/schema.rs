//! The schema against the reader: an independent validator and the reader must agree on every fault of structure.
//!
//! JSON Schema: A Media Type for Describing JSON Documents, draft 2020-12 (2022).
#![cfg(test)]

use std::fs;
use std::path::{Path, PathBuf};

use jsonschema::Validator;
use luxate::deck::{read_deck, schema};
use serde_json::{Value, json};

/// Codes of what a schema can say too.
const STRUCTURE: [&str; 21] = [
    "deck::bad-id",
    "deck::bad-language",
    "deck::bad-licence",
    "deck::belief-on-key",
    "deck::case-in-case",
    "deck::caution-without-safety",
    "deck::empty",
    "deck::empty-text",
    "deck::key-of-other-kind",
    "deck::missing-key",
    "deck::missing-reason",
    "deck::no-key",
    "deck::not-one-line",
    "deck::number-out-of-bounds",
    "deck::safety-without-caution",
    "deck::text-too-long",
    "deck::two-keys",
    "deck::unknown-key",
    "deck::unknown-kind",
    "deck::unknown-word",
    "deck::wrong-count",
];

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn decks(folder: &str) -> Vec<PathBuf> {
    let entries = fs::read_dir(root().join(folder)).unwrap();
    let paths = entries.map(|entry| entry.unwrap().path());
    let mut paths: Vec<PathBuf> = paths
        .filter(|path| path.extension().is_some_and(|end| end == "yaml"))
        .collect();
    paths.sort();
    paths
}

fn validator() -> Validator {
    jsonschema::draft202012::new(&schema()).unwrap()
}

/// The codes of structure that the reader reports; `None` if it finds the file unfit to be parsed.
fn faults(text: &str) -> Option<Vec<&'static str>> {
    let reading = read_deck("deck.yaml", text.as_bytes());
    let codes = reading.diagnostics.iter().map(|found| found.code);
    let codes: Vec<&str> = codes.collect();
    let unfit = [
        "deck::alias",
        "deck::anchor",
        "deck::tag",
        "deck::merge-key",
        "deck::duplicate-key",
        "deck::key-not-text",
        "deck::text-cut-by-comment",
        "deck::forbidden-character",
        "deck::readers-disagree",
        "deck::too-deep",
    ];
    if codes.iter().any(|code| unfit.contains(code)) {
        return None;
    }
    // A date must be in the calendar, which is more than a schema can say.
    let form_of_date = codes.contains(&"deck::bad-date") && !has_form_of_date(text);
    let is_structure = |code: &&str| {
        STRUCTURE.contains(code)
            || *code == "deck::wrong-type"
            || (form_of_date && *code == "deck::bad-date")
    };
    Some(codes.into_iter().filter(is_structure).collect())
}

fn has_form_of_date(text: &str) -> bool {
    let line = text
        .lines()
        .find(|line| line.trim_start().starts_with("edition:"))
        .unwrap_or_default();
    let value = line
        .split(':')
        .nth(1)
        .unwrap_or_default()
        .trim()
        .trim_matches('"');
    value.len() == 10 && value.split('-').map(str::len).eq([4, 2, 2])
}

fn as_json(text: &str) -> Option<Value> {
    let text = text.trim_start_matches('\u{feff}');
    serde_json::to_value(serde_yaml::from_str::<serde_yaml::Value>(text).ok()?).ok()
}

#[test]
fn the_schema_is_a_schema() {
    assert!(jsonschema::draft202012::meta::is_valid(&schema()));
}

#[test]
fn sound_decks_are_valid() {
    let validator = validator();
    for path in decks("decks")
        .into_iter()
        .chain(decks("tests/decks/good"))
        .chain(decks("tests/labelled"))
    {
        let text = fs::read_to_string(&path).unwrap();
        let errors: Vec<String> = validator
            .iter_errors(&as_json(&text).unwrap())
            .map(|error| format!("{}: {error}", error.instance_path()))
            .collect();
        assert!(errors.is_empty(), "{}: {errors:?}", path.display());
    }
}

/// A slip in one item is told of that item's kind, by the name of the key, and closed lists are closed.
#[test]
fn a_fault_is_told_at_its_place() {
    let text = |name: &str| fs::read_to_string(root().join("tests/decks/good").join(name)).unwrap();
    let texts = [text("all-kinds.yaml"), text("pictures.yaml")];
    let validator = validator();
    for (right, wrong, told) in [
        ("rationale:", "rationales:", "'rationales' was unexpected"),
        ("kind: single", "kind: singel", "\"singel\" is not one of"),
        ("jaw: lower", "jaw: lowre", "\"lowre\" is not one of"),
        ("side: left", "side: L", "\"L\" is not one of"),
        (
            "language: en",
            "language: English",
            "\"English\" does not match",
        ),
        ("language: en", "language: eng", "\"eng\" does not match"),
    ] {
        let text = texts.iter().find(|text| text.contains(right)).unwrap();
        let json = as_json(&text.replacen(right, wrong, 1)).unwrap();
        let errors = validator.iter_errors(&json).map(|error| error.to_string());
        let errors: Vec<String> = errors.collect();
        assert!(
            errors.iter().any(|error| error.contains(told)),
            "{wrong}: {errors:?}"
        );
    }
}

#[test]
fn the_schema_and_the_reader_agree_on_broken_decks() {
    let validator = validator();
    let (mut broken, mut differ) = (0, Vec::new());
    for path in decks("tests/decks/bad")
        .into_iter()
        .chain(decks("tests/broken"))
    {
        let Ok(text) = fs::read_to_string(&path) else {
            continue;
        };
        // The reader first: it stops what would take the other parser long.
        let Some(faults) = faults(&text) else {
            continue;
        };
        let Some(json) = as_json(&text) else { continue };
        broken += usize::from(!faults.is_empty());
        if validator.is_valid(&json) != faults.is_empty() {
            differ.push(format!("{}: reader {faults:?}", path.display()));
        }
    }
    assert!(differ.is_empty(), "{differ:#?}");
    assert!(broken >= 150, "{broken}");
}

/// Every way to break one place of a deck.
fn broken(
    value: &Value,
    path: &str,
    into: &mut Vec<(String, Value)>,
    whole: &dyn Fn(Value) -> Value,
) {
    let mut put =
        |what: &str, changed: Value| into.push((format!("{path}: {what}"), whole(changed)));
    match value {
        Value::Object(map) => {
            put("a text for a map", json!("text"));
            let mut more = map.clone();
            more.insert("surplus".into(), json!("x"));
            put("a key too many", Value::Object(more));
            for key in map.keys() {
                let mut fewer = map.clone();
                fewer.remove(key);
                put(&format!("no {key}"), Value::Object(fewer));
            }
        }
        Value::Array(list) => {
            put("an empty list", json!([]));
            put("a text for a list", json!("text"));
            put(
                "one entry",
                Value::Array(list.iter().take(1).cloned().collect()),
            );
        }
        Value::String(_) => {
            put("a number", json!(5));
            put("true", json!(true));
            put("nothing", Value::Null);
            put("blank", json!("  "));
            put("a list", json!(["a"]));
        }
        Value::Bool(_) => {
            put("a text", json!("maybe"));
            put("a number", json!(1));
        }
        Value::Number(_) => {
            put("a text", json!("four"));
            put("below zero", json!(-3));
            put("huge", json!(1e9));
        }
        Value::Null => {}
    }
    match value {
        Value::Object(map) => {
            for (key, part) in map {
                let whole = |changed: Value| {
                    let mut map = map.clone();
                    map.insert(key.clone(), changed);
                    whole(Value::Object(map))
                };
                broken(part, &format!("{path}/{key}"), into, &whole);
            }
        }
        Value::Array(list) => {
            // Further entries of a list are like its first two, but for items, which are of all kinds.
            let most = if path == "/items" { list.len() } else { 2 };
            for (at, part) in list.iter().enumerate().take(most) {
                let whole = |changed: Value| {
                    let mut list = list.clone();
                    list[at] = changed;
                    whole(Value::Array(list))
                };
                broken(part, &format!("{path}/{at}"), into, &whole);
            }
        }
        _ => {}
    }
}

#[test]
fn the_schema_and_the_reader_agree_on_every_way_to_break_a_deck() {
    let mut ways = Vec::new();
    for name in ["all-kinds.yaml", "pictures.yaml"] {
        let text = fs::read_to_string(root().join("tests/decks/good").join(name)).unwrap();
        broken(&as_json(&text).unwrap(), "", &mut ways, &|value| value);
    }
    let validator = validator();
    let (mut count, mut differ) = (0, Vec::new());
    // What a drawing holds is the drawings' own business.
    let is_drawing = |what: &str| what.starts_with("/diagrams/");
    for (what, deck) in ways.into_iter().filter(|(what, _)| !is_drawing(what)) {
        let Some(faults) = faults(&deck.to_string()) else {
            continue;
        };
        count += usize::from(!faults.is_empty());
        if validator.is_valid(&deck) != faults.is_empty() {
            differ.push(format!("{what}: reader {faults:?}"));
        }
    }
    assert!(
        differ.is_empty(),
        "{} of {count}: {differ:#?}",
        differ.len()
    );
    assert!(count >= 100, "{count}");
    println!("{count} broken decks");
}
