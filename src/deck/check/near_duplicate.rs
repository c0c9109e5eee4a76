//! The same question twice, within a deck or in two of them.

use std::collections::HashMap;

use super::outline::Sketch;
use super::{Find, Flaw, Outline, Rule};
use crate::deck::Reading;
use crate::diagnostic::{Diagnostic, Elsewhere, Severity};

pub(super) const RULE: Rule = Rule {
    code: "deck::near-duplicate",
    severity: Severity::Warning,
    why: "an item asked twice counts twice in the schedule and in every score, and its twin gives it away (common practice in \
          item banking)",
    help: "drop one; a second stem for the same thing belongs under `wordings` of the first",
    wrong: "Which nerve supplies the gingiva lingual to a mandibular molar?\n* Lingual nerve\n- Mental nerve\n- Long buccal nerve\n\n\
            What nerve supplies the lingual gingiva of a mandibular molar?\n* Lingual nerve\n- Mental nerve\n- Long buccal nerve",
    right: "Which nerve supplies the gingiva lingual to a mandibular molar?\n* Lingual nerve\n- Mental nerve\n- Long buccal nerve\n\n\
            Which nerve supplies the gingiva buccal to a mandibular molar?\n* Long buccal nerve\n- Mental nerve\n- Lingual nerve",
    find: Find::Across,
};

/// Most items with one answer that an item is compared with.
const MOST: usize = 24;
/// Share of content words in common, of all that either has (Jaccard), from which two items are the same.
const ALL_ALIKE: f64 = 0.85;
/// The same for stem and options apart, of items with the same answer.
const PARTS_ALIKE: f64 = 0.7;

/// Words of a stem from which it says by itself what is asked.
const TELLING: usize = 4;

/// Finds the later of two items that ask the same, with the number of its deck.
pub(super) fn find(readings: &[Reading], outlines: &[&Outline]) -> Vec<(usize, Diagnostic)> {
    let mut found = Vec::new();
    let mut met: HashMap<&[u32], Vec<(usize, &Sketch)>> = HashMap::new();
    for (number, outline) in outlines.iter().enumerate() {
        for item in outline.items.iter().filter(|item| !item.answer.is_empty()) {
            let earlier = met.entry(item.answer.as_slice()).or_default();
            let is_silent = item.allowed.contains(&RULE.code);
            let twin = earlier.iter().rev().take(MOST).find(|(other, twin)| {
                // Two editions of a deck hold the same items on purpose.
                let is_edition = *other != number
                    && outlines
                        .get(*other)
                        .is_some_and(|other| other.deck == outline.deck);
                !is_edition && asks_the_same(item, twin)
            });
            if let Some((other, twin)) = twin.filter(|_| !is_silent) {
                found.push((number, told(readings, (number, item), (*other, twin))));
            }
            earlier.push((number, item));
        }
    }
    found
}

fn told(
    readings: &[Reading],
    (number, item): (usize, &Sketch),
    (other, twin): (usize, &Sketch),
) -> Diagnostic {
    let message = format!("nearly the same question as `{}`", twin.id);
    let flaw = Flaw::new(
        message,
        item.span,
        "asks for the same with much the same words",
    );
    let flaw = if other == number {
        flaw.related(twin.span, "the other one")
    } else {
        flaw
    };
    let Some(reading) = readings.get(number) else {
        return Diagnostic::error(RULE.code, "", item.span, "");
    };
    let mut diagnostic = RULE.diagnostic(&reading.source, flaw, Some(&item.id));
    if let Some(elsewhere) = readings.get(other).filter(|_| other != number) {
        let at = elsewhere.source.position(twin.span.start());
        let end = elsewhere.source.position(twin.span.end());
        diagnostic.elsewhere.push(Elsewhere {
            file: elsewhere.source.name().to_owned(),
            line: at.line,
            column: at.column,
            end: (end.line, end.column),
            text: format!("the other one, `{}`", twin.id),
        });
    }
    diagnostic
}

/// Whether two items with the same answer ask the same.
fn asks_the_same(one: &Sketch, two: &Sketch) -> bool {
    let stems = common(&one.stem, &two.stem);
    // Whatever the options, the stems must have half their words in common.
    if stems.0 * 2 < stems.1 || differ_in_a_telling_word(&one.stem, &two.stem) {
        return false;
    }
    // The same words in another order, whatever is offered beside the same answer.
    if stems.0 == stems.1 && stems.0 >= TELLING {
        return true;
    }
    let offered = common(&one.offered, &two.offered);
    (share(stems) >= PARTS_ALIKE && share(offered) >= PARTS_ALIKE)
        || share((stems.0 + offered.0, stems.1 + offered.1)) >= ALL_ALIKE
}

/// Whether the stems differ in one word exchanged for another: then they ask for different things.
fn differ_in_a_telling_word(one: &[u32], two: &[u32]) -> bool {
    let lacks = |set: &[u32], word: &u32| set.binary_search(word).is_err();
    let only_one = one.iter().filter(|word| lacks(two, word)).count();
    let only_two = two.iter().filter(|word| lacks(one, word)).count();
    only_one == 1 && only_two == 1
}

/// How many words two sorted lists have in common, of how many that either has.
fn common(one: &[u32], two: &[u32]) -> (usize, usize) {
    let (mut rest, mut common) = (two, 0);
    for word in one {
        let behind = rest.partition_point(|other| other < word);
        rest = rest.get(behind..).unwrap_or_default();
        common += usize::from(rest.first() == Some(word));
    }
    (common, one.len() + two.len() - common)
}

/// The share of words in common (Jaccard 1901).
#[expect(clippy::cast_precision_loss, reason = "words of one item")]
fn share((common, all): (usize, usize)) -> f64 {
    if all == 0 {
        1.0
    } else {
        common as f64 / all as f64
    }
}

#[cfg(test)]
mod tests {
    use super::super::trial::told_by;

    #[test]
    fn siblings_differ_in_the_word_that_tells_what_is_asked() {
        let options = "* Mandibular division of the trigeminal nerve\n- Maxillary division of the trigeminal nerve\n\
                       - Buccal branch of the facial nerve\n- Hypoglossal nerve or cervical plexus";
        let told = |one: &str, two: &str| {
            let questions = format!("{one}\n{options}\n\n{two}\n{options}");
            told_by("deck::near-duplicate", &questions).len()
        };
        let first = "Which nerve supplies the masseter?";
        assert_eq!(told(first, "Which nerve supplies the mylohyoid?"), 0);
        assert_eq!(told(first, "What nerve supplies the masseter?"), 1);
    }
}
