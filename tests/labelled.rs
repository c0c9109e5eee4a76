//! Items whose flaws are known, written for this: how many of them the rules find, and how much else they say.
#![cfg(test)]

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

use luxate::deck::{self, Reading, read_deck};
use luxate::diagnostic::Severity;

/// File and item.
type Name = (String, String);

/// What an item was written to show.
#[derive(Default)]
struct Label {
    flaws: BTreeSet<String>,
    hints: BTreeSet<String>,
    is_clean: bool,
}

fn labelled() -> (BTreeMap<Name, Label>, Vec<Reading>) {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/labelled");
    let mut labels = BTreeMap::new();
    let mut readings = Vec::new();
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        let text = fs::read_to_string(&path).unwrap();
        let file = path.file_name().unwrap().to_str().unwrap().to_owned();
        readings.push(read_deck(&file, text.as_bytes()));
        let mut last = None;
        for line in text.lines().map(str::trim) {
            if let Some(comment) = line.strip_prefix("# ") {
                last = label(comment);
            } else if let Some(id) = line.strip_prefix("- id: ")
                && let Some(label) = last.take()
            {
                labels.insert((file.clone(), id.to_owned()), label);
            }
        }
    }
    readings.sort_by(|one, two| one.source.name().cmp(two.source.name()));
    deck::across(&mut readings, &[]);
    (labels, readings)
}

fn label(comment: &str) -> Option<Label> {
    let codes = |list: &str| list.split(',').map(|code| code.trim().to_owned()).collect();
    let mut label = Label::default();
    match comment.split_once(": ") {
        Some(("flaw", list)) => label.flaws = codes(list),
        Some(("hint", list)) => label.hints = codes(list),
        None if comment == "clean" => label.is_clean = true,
        _ => return None,
    }
    Some(label)
}

#[derive(Debug, Default)]
struct Score {
    found: usize,
    missed: Vec<String>,
    extra: Vec<String>,
}

impl Score {
    #[expect(clippy::cast_precision_loss, reason = "hundreds of items")]
    fn precision(&self) -> f64 {
        self.found as f64 / (self.found + self.extra.len()) as f64
    }

    #[expect(clippy::cast_precision_loss, reason = "hundreds of items")]
    fn recall(&self) -> f64 {
        self.found as f64 / (self.found + self.missed.len()) as f64
    }
}

/// Compares what was said at a severity of each item with its label.
fn score(
    severity: Severity,
    labels: &BTreeMap<Name, Label>,
    readings: &[Reading],
    wanted: impl Fn(&Label) -> Option<&BTreeSet<String>>,
) -> Score {
    let mut said: BTreeMap<Name, BTreeSet<String>> = BTreeMap::new();
    for reading in readings {
        for found in &reading.diagnostics {
            assert_ne!(found.severity, Severity::Error, "{}", found.message);
            if let Some(item) = found.item.as_ref().filter(|_| found.severity == severity) {
                let name = (reading.source.name().to_owned(), item.clone());
                said.entry(name).or_default().insert(found.code.to_owned());
            }
        }
    }
    let mut score = Score::default();
    let none = BTreeSet::new();
    for (name, label) in labels {
        let Some(wanted) = wanted(label) else {
            continue;
        };
        let said = said.get(name).unwrap_or(&none);
        score.found += wanted.intersection(said).count();
        let told = |code: &String| format!("{} {}: {code}", name.0, name.1);
        score.missed.extend(wanted.difference(said).map(told));
        score.extra.extend(said.difference(wanted).map(told));
    }
    score
}

#[test]
fn flaws_are_found_and_sound_items_left_alone() {
    let (labels, readings) = labelled();
    let flawed = labels.values().filter(|label| !label.is_clean).count();
    let clean = labels.len() - flawed;
    assert!(
        flawed >= 150 && clean >= 150,
        "{flawed} flawed, {clean} clean"
    );
    let warnings = score(Severity::Warning, &labels, &readings, |label| {
        Some(&label.flaws)
    });
    // Flawed items were not labelled for hints, so advice is judged on the others.
    let advice = score(Severity::Advice, &labels, &readings, |label| {
        label.flaws.is_empty().then_some(&label.hints)
    });
    for (what, score) in [("warnings", &warnings), ("advice", &advice)] {
        println!(
            "{what}: precision {:.3}, recall {:.3} ({} found)\nmissed {:#?}\nextra {:#?}",
            score.precision(),
            score.recall(),
            score.found,
            score.missed,
            score.extra
        );
    }
    assert!(warnings.precision() >= 0.9, "{:#?}", warnings.extra);
    assert!(warnings.recall() >= 0.9, "{:#?}", warnings.missed);
    assert!(advice.precision() >= 0.8, "{:#?}", advice.extra);
    assert!(advice.recall() >= 0.8, "{:#?}", advice.missed);
}
