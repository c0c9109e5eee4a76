//! Every code is told at length, and its examples show what they are said to show.
#![cfg(test)]

use std::collections::BTreeSet;
use std::fmt::Write as _;
use std::fs;
use std::path::Path;

use luxate::deck::{self, Explanation, explain, explanations, read_deck};

/// Every code that stands in the sources of the deck module.
fn written(folder: &Path, codes: &mut BTreeSet<String>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            written(&path, codes);
        } else {
            let text = fs::read_to_string(&path).unwrap();
            let parts = text.split('"').filter(|part| part.starts_with("deck::"));
            codes.extend(parts.map(str::to_owned));
        }
    }
}

#[test]
fn every_code_has_an_explanation_and_no_other_has() {
    let mut codes = BTreeSet::new();
    written(
        &Path::new(env!("CARGO_MANIFEST_DIR")).join("src/deck"),
        &mut codes,
    );
    let told: BTreeSet<String> = explanations()
        .iter()
        .map(|told| told.code.to_owned())
        .collect();
    let unexplained: Vec<_> = codes
        .difference(&told)
        .filter(|code| code.as_str() != "deck::")
        .collect();
    assert!(unexplained.is_empty(), "{unexplained:?}");
    for told in explanations() {
        for text in [told.why, told.help, told.wrong, told.right] {
            assert!(!text.is_empty(), "{}", told.code);
        }
        assert_eq!(explain(told.code), Ok(told));
    }
    assert_eq!(explain("key-longst"), Err(Some("deck::key-longest")));
    assert_eq!(explain("qqqq"), Err(None));
}

const HEAD: &str = "deck: sample\ntitle: A sample\nedition: \"2026-11-25\"\nlanguage: en\nlicence: CC-BY-4.0\n\
    topics:\n  - id: nerves\n    title: Nerves\n    weight: 4\n\
    sources:\n  - id: MANUAL\n    cite: \"Author A. 2020. A manual\"\n    year: 2020\n";

/// A question as people write it, or several with a blank line between.
fn questions(text: &str) -> String {
    let mut deck = format!("{HEAD}items:\n");
    for (number, question) in text.split("\n\n").enumerate() {
        let mut lines = question.lines();
        let stem = lines.next().unwrap().replace('"', "\\\"");
        let _ = write!(
            deck,
            "  - id: item-{number}\n    topic: nerves\n    kind: single\n    stem: \"{stem}\"\n"
        );
        let mut options = String::new();
        for line in lines {
            match line.split_once(' ') {
                Some(("*", option)) => {
                    let _ = write!(options, "      - text: \"{option}\"\n        key: true\n");
                }
                Some(("-", option)) => {
                    let _ = write!(
                        options,
                        "      - text: \"{option}\"\n        why: Not so.\n"
                    );
                }
                _ => {
                    let _ = writeln!(deck, "    {line}");
                }
            }
        }
        let _ = write!(
            deck,
            "    options:\n{options}    rationale: It is so.\n    sources:\n      - MANUAL\n"
        );
    }
    deck
}

fn codes(deck: &str) -> BTreeSet<&'static str> {
    let mut readings = [read_deck("example.yaml", deck.as_bytes())];
    deck::across(&mut readings, &[]);
    readings[0]
        .diagnostics
        .iter()
        .map(|found| found.code)
        .collect()
}

fn is_question(told: &Explanation) -> bool {
    told.wrong.contains("\n* ")
}

#[test]
fn the_examples_of_rules_break_them_and_are_mended() {
    let mut tried = 0;
    for told in explanations().iter().filter(|told| is_question(told)) {
        let mut wrong = questions(told.wrong);
        let mut right = questions(told.right);
        if told.code == "deck::odd-spelling" {
            // The decks must have the right spelling often.
            for deck in [&mut wrong, &mut right] {
                for number in 0..4 {
                    let _ = write!(
                        deck,
                        "  - id: more-{number}\n    topic: nerves\n    kind: short\n    stem: Which nerve leaves by foramen number {number}?\n    accept: [nerve]\n    rationale: So.\n    sources: [MANUAL]\n"
                    );
                }
            }
        }
        let said = codes(&wrong);
        assert!(said.contains(told.code), "{}: {said:?}\n{wrong}", told.code);
        let said = codes(&right);
        assert!(
            !said.contains(told.code),
            "{}: {said:?}\n{right}",
            told.code
        );
        tried += 1;
    }
    assert!(tried >= 20, "{tried}");
}

/// Lines of a deck put in place of those with the same keys.
fn patched(lines: &str) -> String {
    let item = "id: lip\ntopic: nerves\nkind: single\nstem: Which nerve supplies the lower lip?\n\
        options:\n  - text: Mental nerve\n    key: true\n  - text: Lingual nerve\n    why: It supplies the tongue.\n    belief: lip-is-lingual\n  - text: Buccal nerve\n    why: It supplies the cheek.\n\
        rationale: So it is.\nsources:\n  - MANUAL p 12\n";
    let head = format!(
        "{HEAD}beliefs:\n  - id: lip-is-lingual\n    text: The lingual nerve supplies the lip\n"
    );
    let new = blocks(lines);
    let is_top = new.iter().any(|(key, _)| {
        [
            "title", "edition", "language", "licence", "topics", "diagrams",
        ]
        .contains(key)
    });
    let kind = new
        .iter()
        .find(|(key, _)| *key == "kind")
        .map(|(_, text)| *text);
    let replaced = |old: &str| {
        let mut text = String::new();
        for (key, block) in blocks(old) {
            let is_replaced = new.iter().any(|(other, _)| *other == key);
            let is_of_other_kind =
                key == "options" && kind.is_some_and(|kind| !kind.contains("sing"));
            if !is_replaced && !is_of_other_kind {
                text.push_str(block);
                text.push('\n');
            }
        }
        text + lines + "\n"
    };
    let (head, item) = if is_top {
        (replaced(&head), item.to_owned())
    } else {
        (head, replaced(item))
    };
    let indented: Vec<String> = item
        .lines()
        .enumerate()
        .map(|(at, line)| format!("{}{line}", if at == 0 { "  - " } else { "    " }))
        .collect();
    format!("{head}items:\n{}\n", indented.join("\n"))
}

/// Lines that start a key, each with those that belong to it.
fn blocks(text: &str) -> Vec<(&str, &str)> {
    let mut starts: Vec<usize> = vec![0];
    starts.extend(text.match_indices('\n').map(|(at, _)| at + 1).filter(|at| {
        text.get(*at..).is_some_and(|rest| {
            rest.starts_with(|first: char| first.is_alphabetic() || "?<#".contains(first))
        })
    }));
    starts.push(text.len() + 1);
    starts
        .windows(2)
        .map(|pair| {
            text.get(pair[0]..(pair[1] - 1).min(text.len()))
                .unwrap()
                .trim_end_matches('\n')
        })
        .map(|block| (block.split(':').next().unwrap(), block))
        .collect()
}

/// Faults of whole files, which no few lines show.
const TOLD_IN_WORDS: [&str; 6] = [
    "deck::empty",
    "deck::not-utf-8",
    "deck::second-document",
    "deck::too-large",
    "deck::too-many-values",
    "deck::tried-briefly",
];

#[test]
fn the_examples_of_faults_show_them() {
    let mut tried = 0;
    let mut failed = Vec::new();
    // Examples of rules about a whole deck are sentences.
    let is_sentence = |told: &Explanation| told.wrong.starts_with(char::is_uppercase);
    for told in explanations()
        .iter()
        .filter(|told| !is_question(told) && !is_sentence(told))
    {
        let is_in_words = told.wrong.starts_with('(');
        assert_eq!(
            is_in_words,
            TOLD_IN_WORDS.contains(&told.code),
            "{}",
            told.code
        );
        if is_in_words {
            continue;
        }
        let said = codes(&patched(told.wrong));
        if !said.contains(told.code) {
            failed.push(format!("{}: {said:?}", told.code));
        }
        let said = codes(&patched(told.right));
        if said.contains(told.code) {
            failed.push(format!("{}, mended: {said:?}", told.code));
        }
        tried += 1;
    }
    assert!(failed.is_empty(), "{failed:#?}");
    assert!(tried >= 40, "{tried}");
}
