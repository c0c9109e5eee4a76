//! Topics that together weigh more than the exam.

use super::{Find, Flaw, Rule, Whole};
use crate::diagnostic::Severity;

pub(super) const RULE: Rule = Rule {
    code: "deck::weights-above-100",
    severity: Severity::Warning,
    why: "weights are per cent of the exam; beyond 100 the expected score is reckoned with shares that cannot be",
    help: "take the weights from the exam's published blueprint",
    wrong: "Topics of weight 60, 30 and 20",
    right: "Topics of weight 50, 30 and 20",
    find: Find::Deck(find),
};

fn find(whole: &Whole<'_>) -> Vec<Flaw> {
    let mut sum = 0.0;
    let passed = whole.draft.topics.iter().find(|placed| {
        sum += placed.part.weight;
        // Decimal fractions do not add up exactly.
        sum > 100.0 + 1e-6
    });
    let weight = passed.and_then(|placed| placed.node.get("weight"));
    let flaw = |span| {
        Flaw::new(
            "the weights of the topics add up to more than 100",
            span,
            "100 is passed here",
        )
    };
    weight.map(|weight| flaw(weight.span)).into_iter().collect()
}
