//! The key shares most with the other options.

use super::asked::Asked;
use super::words::Prose;
use super::{Find, Flaw, Rule};
use crate::diagnostic::Severity;

pub(super) const RULE: Rule = Rule {
    code: "deck::convergence",
    severity: Severity::Advice,
    why: "writers vary the key to make distractors, so the option that shares most with the others may be guessed \
          (NBME item-writing guide, convergence strategy)",
    help: "let every part come in as many options as every other, or ask for one part only",
    wrong: "Which regimen suits this patient?\n* Amoxicillin 500 mg with ibuprofen\n- Amoxicillin 500 mg with codeine\n- Clindamycin 150 mg with ibuprofen\n- Amoxicillin 250 mg with ibuprofen",
    right: "Which regimen suits this patient?\n* Amoxicillin with ibuprofen\n- Amoxicillin with codeine\n- Clindamycin with ibuprofen\n- Clindamycin with codeine",
    find: Find::EnglishItem(find),
};

fn find(asked: &Asked<'_>, flaws: &mut Vec<Flaw>) {
    let Some((key, others)) = asked.single() else {
        return;
    };
    if others.len() < 3 {
        return;
    }
    let sets: Vec<Vec<&str>> = asked
        .options
        .iter()
        .map(|given| elements(&given.text))
        .collect();
    if sets.iter().any(|set| !(2..=5).contains(&set.len())) {
        return;
    }
    let score = |set: &Vec<&str>, own: usize| -> usize {
        set.iter()
            .map(|element| {
                sets.iter()
                    .enumerate()
                    .filter(|(at, other)| *at != own && other.contains(element))
                    .count()
            })
            .sum()
    };
    let own = asked
        .options
        .iter()
        .position(|given| given.option.key)
        .unwrap_or_default();
    let scores: Vec<usize> = sets
        .iter()
        .enumerate()
        .map(|(at, set)| score(set, at))
        .collect();
    let top = scores.get(own).copied().unwrap_or_default();
    let next = scores
        .iter()
        .enumerate()
        .filter(|(at, _)| *at != own)
        .map(|(_, score)| *score)
        .max()
        .unwrap_or_default();
    // Elements that some options share and others lack; what all share tells none apart.
    let shared = sets.get(own).map_or(0, |set| {
        set.iter()
            .filter(|element| {
                let times = sets.iter().filter(|other| other.contains(element)).count();
                times >= 2 && times < sets.len()
            })
            .count()
    });
    if shared >= 2 && top > next {
        flaws.push(Flaw::new(
            "the key shares more with the other options than any of them",
            key.span,
            "where the options meet",
        ));
    }
}

/// The words and numbers of an option that can be varied.
fn elements<'a>(text: &'a Prose<'_>) -> Vec<&'a str> {
    let mut elements: Vec<&str> = text
        .low()
        .filter(|word| word.len() >= 4 || word.bytes().any(|byte| byte.is_ascii_digit()))
        .filter(|word| {
            !matches!(
                *word,
                "with" | "from" | "into" | "then" | "that" | "only" | "each"
            )
        })
        .collect();
    elements.sort_unstable();
    elements.dedup();
    elements
}
