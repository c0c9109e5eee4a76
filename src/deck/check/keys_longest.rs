//! Over a whole deck the key is the longest option too often.

use super::{Find, Flaw, Rule, Whole};
use crate::deck::model::Body;
use crate::diagnostic::Severity;

pub(super) const RULE: Rule = Rule {
    code: "deck::keys-longest",
    severity: Severity::Warning,
    why: "\"take the longest\" then scores above chance in this deck (Haladyna, Downing & Rodriguez 2002, guideline 24; \
          told where chance alone would do it in fewer than 1 deck in 100)",
    help: "shorten the keys or lengthen distractors in some of the items, until the longest option is a distractor as often as chance has it",
    wrong: "Twelve items of three options, the key the longest in ten",
    right: "Twelve items of three options, the key the longest in four",
    find: Find::Deck(find),
};

/// Items from which a share means anything.
const LEAST: usize = 10;
/// How seldom chance alone may do it.
const SELDOM: f64 = 0.01;

fn find(whole: &Whole<'_>) -> Vec<Flaw> {
    let mut chances = Vec::new();
    let mut longest = 0;
    let items = whole.draft.items.iter();
    for item in items.flat_map(|placed| placed.part.with_parts()) {
        let Body::Single(choice) = &item.body else {
            continue;
        };
        let length = |text: &str| text.chars().count();
        let key = choice.options.iter().find(|option| option.key);
        let others = choice.options.iter().filter(|option| !option.key);
        let (Some(key), Some(other)) = (key, others.map(|option| length(&option.text)).max())
        else {
            continue;
        };
        chances.push(item.chance());
        longest += usize::from(length(&key.text) > other);
    }
    if chances.len() < LEAST || tail(&chances, longest) >= SELDOM {
        return Vec::new();
    }
    let message = format!(
        "the key is the longest option in {longest} of {} single items",
        chances.len()
    );
    let Some(first) = whole.draft.items.first() else {
        return Vec::new();
    };
    let head = whole
        .source
        .line(whole.source.position(first.node.span.start()).line);
    vec![Flaw::new(message, head, "in the items from here on")]
}

/// The chance of at least `hits` among independent events, each with its own chance: exact for few, by the normal
/// curve for many.
#[expect(clippy::cast_precision_loss, reason = "counts of items")]
fn tail(chances: &[f64], hits: usize) -> f64 {
    const FEW: usize = 400;
    if chances.len() > FEW {
        let mean: f64 = chances.iter().sum();
        let variance: f64 = chances.iter().map(|chance| chance * (1.0 - chance)).sum();
        let z = (hits as f64 - 0.5 - mean) / variance.sqrt();
        // Beyond 2.326 the upper tail is below 0.01.
        return if z > 2.326 { 0.0 } else { 1.0 };
    }
    let mut exactly = vec![1.0];
    for chance in chances {
        let mut next = vec![0.0; exactly.len() + 1];
        for (count, share) in exactly.iter().enumerate() {
            next[count] += share * (1.0 - chance);
            next[count + 1] += share * chance;
        }
        exactly = next;
    }
    exactly.iter().skip(hits).sum()
}

#[cfg(test)]
mod tests {
    use super::super::trial::told_of_cases_by;
    use super::tail;

    #[test]
    fn parts_of_cases_count_as_items_do() {
        let told = |key: &str| {
            let part = format!(
                "stem: What is seen?, rationale: Told at length., \
                 options: [{{text: {key}, key: true}}, {{text: Blood, why: Wrong.}}]"
            );
            told_of_cases_by(super::RULE.code, 14, "A man of 30 has pain.", &part).len()
        };
        assert_eq!(told("A long and winding key"), 1);
        assert_eq!(told("Pus"), 0);
    }

    /// Ten tosses of a fair coin: P(at least 9) = 11/1024, P(at least 10) = 1/1024 (binomial distribution).
    #[test]
    fn the_tail_is_that_of_the_binomial_distribution() {
        let coin = [0.5; 10];
        assert!((tail(&coin, 9) - 11.0 / 1024.0).abs() < 1e-12);
        assert!((tail(&coin, 10) - 1.0 / 1024.0).abs() < 1e-12);
        assert!((tail(&coin, 0) - 1.0).abs() < 1e-12);
        let many = vec![0.25; 1_000];
        assert!(tail(&many, 250) > 0.01 && tail(&many, 300) < 0.01);
    }
}
