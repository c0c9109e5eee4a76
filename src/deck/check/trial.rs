//! Questions put to all rules in a test, as people write them: `*` before a key, `-` before the other options, lines
//! with a colon in the first word for other keys; a blank line parts two questions.

use std::fmt::Write as _;

use crate::deck::{self, read_deck};
use crate::diagnostic::{Diagnostic, Severity};

/// What the rules say of questions in English.
pub(super) fn told(questions: &str) -> Vec<Diagnostic> {
    told_in("en", questions)
}

/// What a rule says of questions in English, each as severity and message.
pub(super) fn told_by(code: &str, questions: &str) -> Vec<String> {
    by(code, told(questions))
}

/// The same of questions in another language.
pub(super) fn told_in_german_by(code: &str, questions: &str) -> Vec<String> {
    by(code, told_in("de", questions))
}

fn by(code: &str, told: Vec<Diagnostic>) -> Vec<String> {
    let told = told.into_iter().filter(|found| found.code == code);
    told.map(|found| format!("{}: {}", found.severity, found.message))
        .collect()
}

fn told_in(language: &str, questions: &str) -> Vec<Diagnostic> {
    let mut items = String::new();
    for (number, question) in questions.split("\n\n").enumerate() {
        items += &item(number, question);
    }
    told_of(language, &items)
}

/// What the rules say of so many cases, in English, of two parts with the same text, each a single item: its stem and its
/// options as they stand in a file, in the flow style.
pub(super) fn told_of_cases_by(
    code: &str,
    cases: usize,
    vignette: &str,
    part: &str,
) -> Vec<String> {
    let mut items = String::new();
    for case in 0..cases {
        let parts = ["first", "second"]
            .map(|id| format!("      - {{id: {id}, kind: single, {part}}}\n"))
            .concat();
        write!(
            items,
            "  - id: case-{case}\n    topic: a\n    kind: case\n    stem: {vignette:?}\n    parts:\n{parts}    \
             rationale: Told at length.\n    sources: [M p 1]\n"
        )
        .unwrap();
    }
    by(code, told_of("en", &items))
}

fn told_of(language: &str, items: &str) -> Vec<Diagnostic> {
    let text = format!(
        "deck: trial\ntitle: A trial\nedition: \"2026-11-25\"\nlanguage: {language}\nlicence: CC-BY-4.0\n\
         topics:\n  - {{id: a, title: A, weight: 1}}\n\
         sources:\n  - {{id: M, cite: \"Author A. 2020. A manual\", year: 2020}}\nitems:\n{items}"
    );
    let mut readings = vec![read_deck("trial.yaml", text.as_bytes())];
    deck::across(&mut readings, &[]);
    let found = readings.remove(0).diagnostics;
    let found: Vec<Diagnostic> = found.into_iter().cloned().collect();
    for one in &found {
        assert_ne!(one.severity, Severity::Error, "{}\n{text}", one.message);
    }
    found
}

fn item(number: usize, question: &str) -> String {
    let (mut stem, mut keys, mut options) = (String::new(), String::new(), String::new());
    let mut right = 0;
    for line in question.lines() {
        if let Some(key) = line.strip_prefix("* ") {
            right += 1;
            write!(options, "      - text: {key:?}\n        key: true\n").unwrap();
        } else if let Some(other) = line.strip_prefix("- ") {
            write!(options, "      - text: {other:?}\n        why: Wrong.\n").unwrap();
        } else if stem.is_empty() {
            line.clone_into(&mut stem);
        } else {
            writeln!(keys, "    {line}").unwrap();
        }
    }
    let kind = if right == 1 { "single" } else { "multiple" };
    format!(
        "  - id: item-{number}\n    topic: a\n    kind: {kind}\n    stem: {stem:?}\n{keys}    options:\n{options}    \
         rationale: Told at length.\n    sources: [M p 1]\n"
    )
}
