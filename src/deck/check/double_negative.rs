//! Two negatives that have to be undone in the head.

use super::asked::Asked;
use super::negative_stem::negative;
use super::words::Prose;
use super::{Find, Flaw, Rule};
use crate::diagnostic::Severity;

pub(super) const RULE: Rule = Rule {
    code: "deck::double-negative",
    severity: Severity::Warning,
    why: "two negatives test the reading of the sentence and not the knowledge \
          (Haladyna, Downing & Rodriguez 2002, guideline 17)",
    help: "ask for what is right, and say in each option what is so",
    wrong: "Which drug is NOT contraindicated in asthma?\n* Paracetamol\n- Aspirin\n- Ibuprofen",
    right: "Which drug is safe in asthma?\n* Paracetamol\n- Aspirin\n- Ibuprofen",
    find: Find::EnglishItem(find),
};

fn find(asked: &Asked<'_>, flaws: &mut Vec<Flaw>) {
    let mut is_negative = false;
    for stem in &asked.stems {
        let Some(first) = negative(&stem.lead_in) else {
            continue;
        };
        is_negative = true;
        let second = stem.lead_in.words.iter().find(|word| {
            word.at != first.at && denies(&word.low) && !is_set_phrase(&stem.lead_in, word.at)
        });
        if let Some(second) = second {
            let span = asked.pin(stem.span, first.raw);
            let again = asked.pin(stem.span, second.raw);
            flaws.push(
                Flaw::new("two negatives in one question", span, "one negative")
                    .related(again, "another"),
            );
        }
    }
    if is_negative && let Some(given) = asked.options.iter().find(|given| is_denial(&given.text)) {
        flaws.push(Flaw::new(
            "a negative option under a negative stem",
            given.span,
            "not-not to the candidate",
        ));
    }
}

/// Whether a word denies something. A list, since many words only begin like a negative: "inferior", "united".
fn denies(word: &str) -> bool {
    const DENY: &[&str] = &[
        "absence",
        "absent",
        "avoid",
        "avoided",
        "cannot",
        "contraindicate",
        "contraindicated",
        "contraindicates",
        "contraindication",
        "contraindications",
        "deny",
        "except",
        "excluded",
        "excludes",
        "fail",
        "fails",
        "false",
        "impossible",
        "improbable",
        "inaccurate",
        "inadequate",
        "inadvisable",
        "inappropriate",
        "incorrect",
        "ineffective",
        "insufficient",
        "lack",
        "lacks",
        "lacking",
        "least",
        "neither",
        "never",
        "nor",
        "not",
        "rarely",
        "seldom",
        "unacceptable",
        "uncommon",
        "undesirable",
        "unfavourable",
        "unhelpful",
        "unlikely",
        "unnecessary",
        "unsafe",
        "unsuitable",
        "untrue",
        "unusual",
        "unwise",
        "without",
        "unrelated",
        "unaffected",
        "unable",
    ];
    word.ends_with("n't") || DENY.contains(&word)
}

/// Whether a negative is part of a measure: "at least".
fn is_set_phrase(text: &Prose<'_>, at: usize) -> bool {
    text.words
        .windows(2)
        .any(|pair| pair[1].at == at && pair[0].low == "at" && pair[1].low == "least")
}

fn is_denial(option: &Prose<'_>) -> bool {
    option.has_any(&["not", "never", "cannot", "neither"])
        || option.low().any(|word| word.ends_with("n't"))
        || option.low().next().is_some_and(|first| first == "no")
}
