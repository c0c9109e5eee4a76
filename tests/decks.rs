//! Decks good and bad, as files: what the reader says of each.
//!
//! A bad deck is named after the code it must get, with a few more words where a code has several causes. What is
//! said in full is a snapshot under `decks/said`, to be read by whoever changes it.
#![cfg(test)]

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use luxate::cli::render::{self, Look};
use luxate::deck::{self, Reading, read_deck};
use luxate::diagnostic::{Diagnostics, Severity};

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn files(folder: &Path) -> Vec<PathBuf> {
    let mut files: Vec<PathBuf> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .collect();
    files.sort();
    files
}

fn read(path: &Path) -> Reading {
    let mut readings = [read_deck(
        path.file_name().unwrap().to_str().unwrap(),
        &fs::read(path).unwrap(),
    )];
    deck::across(&mut readings, &[]);
    let [reading] = readings;
    reading
}

fn codes(diagnostics: &Diagnostics) -> BTreeSet<&'static str> {
    diagnostics.iter().map(|found| found.code).collect()
}

#[test]
fn good_decks_are_read_without_a_word() {
    for path in files(&root().join("tests/decks/good")) {
        let reading = read(&path);
        let said = render::diagnostics(&reading.source, &reading.diagnostics, Look::Plain);
        assert_eq!(said, "", "{}", path.display());
        assert!(reading.deck.is_some());
    }
}

#[test]
fn bad_decks_are_told_what_is_wrong() {
    let mut settings = insta::Settings::clone_current();
    settings.set_snapshot_path("decks/said");
    settings.set_prepend_module_to_snapshot(false);
    settings.set_omit_expression(true);
    for path in files(&root().join("tests/decks/bad")) {
        let name = path.file_stem().unwrap().to_str().unwrap();
        let reading = read(&path);
        let is_named = |code: &&str| name.starts_with(code.trim_start_matches("deck::"));
        let met = codes(&reading.diagnostics);
        assert!(met.iter().any(is_named), "{name}: {met:?}");
        let has_errors = reading
            .diagnostics
            .iter()
            .any(|found| found.severity == Severity::Error);
        assert_eq!(reading.deck.is_none(), has_errors, "{name}");
        let said = render::diagnostics(&reading.source, &reading.diagnostics, Look::Plain);
        let closing = render::closing(reading.diagnostics.counts(), 1);
        settings.bind(|| insta::assert_snapshot!(name, format!("{said}{closing}")));
    }
}

/// Too large to be kept as files.
fn large_decks() -> Vec<Vec<u8>> {
    vec![
        vec![b'a'; deck::CAP + 1],
        format!("a: [{}]", "x,".repeat(1_000_001)).into_bytes(),
        many_computed(1_000).into_bytes(),
    ]
}

/// A deck with this many computed numbers of which hardly a draw may be asked.
fn many_computed(count: usize) -> String {
    let slips: Vec<String> = (1..=8)
        .map(|slip| format!("      - {{name: Slip {slip}, gives: kg + {slip}, why: So}}\n"))
        .collect();
    let slips = slips.concat();
    let items: Vec<String> = (0..count)
        .map(|number| {
            format!(
                "  - id: item-{number}\n    topic: nerves\n    kind: numeric\n    stem: \"What is {{kg}} and {number}?\"\n    \
                 draw:\n      kg: {{from: 1, to: 90000, step: 1}}\n    require: kg <= 1000\n    answer: kg + {}\n    \
                 slips:\n{slips}    solution: So.\n    rationale: So.\n    sources: [MANUAL]\n",
                number + 10
            )
        })
        .collect();
    format!(
        "deck: sample\ntitle: A sample\nedition: \"2026-11-25\"\nlanguage: en\nlicence: CC-BY-4.0\n\
         topics:\n  - {{id: nerves, title: Nerves, weight: 4}}\n\
         sources:\n  - {{id: MANUAL, cite: Author A. 2020. A manual, year: 2020}}\nitems:\n{}",
        items.concat()
    )
}

/// One question under the head of a deck.
fn with_item(lines: &str) -> Reading {
    let deck = format!(
        "deck: sample\ntitle: A sample\nedition: \"2026-11-25\"\nlanguage: en\nlicence: CC-BY-4.0\n\
         topics:\n  - {{id: nerves, title: Nerves, weight: 4}}\n  - {{id: bleeding, title: Bleeding, weight: 4}}\n\
         sources:\n  - {{id: MANUAL, cite: Author A. 2020. A manual, year: 2020}}\n\
         items:\n  - id: one\n    rationale: So.\n    sources: [MANUAL]\n{lines}"
    );
    read_deck("sample.yaml", deck.as_bytes())
}

#[test]
fn a_flood_of_one_fault_is_cut_short() {
    let count = |reading: &Reading, code| {
        let found = reading.diagnostics.iter();
        found.filter(|found| found.code == code).count()
    };
    let many = |line: fn(usize) -> String| (0..5_000).map(line).collect::<String>();
    let keys = with_item(&many(|key| format!("    k{key}: v\n")));
    assert_eq!(count(&keys, "deck::unknown-key"), 100);
    let derived = many(|name| format!("      v{name}: kg + v{}\n", name + 1));
    let names = with_item(&format!(
        "    topic: nerves\n    kind: numeric\n    stem: \"{{kg}}?\"\n    draw: {{kg: [1, 2]}}\n    derive:\n{derived}    answer: kg\n    solution: So.\n"
    ));
    assert_eq!(count(&names, "deck::too-many-names"), 1);
    let braces = with_item(&format!(
        "    topic: nerves\n    kind: numeric\n    stem: \"{}\"\n    draw: {{kg: [1, 2]}}\n    answer: kg\n    solution: So.\n",
        "{kgs} ".repeat(20_000)
    ));
    assert_eq!(count(&braces, "deck::text-too-long"), 1);
    assert_eq!(count(&braces, "deck::unknown-name"), 0);
}

#[test]
fn a_case_that_moves_is_not_reworded() {
    let case = |topic: &str| {
        with_item(&format!(
            "    topic: {topic}\n    kind: case\n    stem: A socket bleeds.\n    parts:\n      \
             - {{id: press, kind: short, stem: What is pressed on it?, accept: [gauze], rationale: So.}}\n      \
             - {{id: hold, kind: short, stem: What holds the edge?, accept: [suture], rationale: So.}}\n"
        ))
        .deck
        .unwrap()
    };
    let changes = deck::diff::diff(&case("nerves"), &case("bleeding"));
    assert_eq!(changes.len(), 1);
    assert_eq!(changes[0].fate, deck::diff::Fate::Moved);
}

#[test]
fn no_computed_number_goes_untried_behind_many_others() {
    let reading = read_deck("many.yaml", many_computed(130).as_bytes());
    let faults = reading.diagnostics.iter().map(|found| found.code);
    assert_eq!(
        faults
            .filter(|code| *code == "deck::require-too-narrow")
            .count(),
        130
    );
    assert!(!codes(&reading.diagnostics).contains("deck::tried-briefly"));
}

#[test]
fn every_code_has_a_bad_deck() {
    let mut met: BTreeSet<&str> = BTreeSet::new();
    for path in files(&root().join("tests/decks/bad")) {
        met.extend(codes(&read(&path).diagnostics));
    }
    for bytes in large_decks() {
        met.extend(codes(&read_deck("large.yaml", &bytes).diagnostics));
    }
    let mut written = BTreeSet::new();
    for folder in [
        "src/deck",
        "src/deck/read",
        "src/deck/yaml",
        "src/deck/check",
    ] {
        for path in files(&root().join(folder))
            .iter()
            .filter(|path| path.extension().is_some_and(|end| end == "rs"))
        {
            let text = fs::read_to_string(path).unwrap();
            written.extend(
                text.split('"')
                    .filter(|part| part.starts_with("deck::"))
                    .map(str::to_owned),
            );
        }
    }
    let written: BTreeSet<&str> = written.iter().map(String::as_str).collect();
    assert_eq!(met, written);
}
