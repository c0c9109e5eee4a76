//! Options that say how often without a number.

use super::asked::Asked;
use super::{Find, Flaw, Rule};
use crate::diagnostic::Severity;

pub(super) const RULE: Rule = Rule {
    code: "deck::vague-frequency",
    severity: Severity::Advice,
    why: "people read such words as anything from 1 in 20 to 19 in 20, so the option cannot be said to be wrong \
          (NBME item-writing guide, imprecise terms)",
    help: "give a number or a range with its source, or take the word out",
    wrong: "How does a dry socket present?\n* Pain from the third day\n- Often with fever\n- Bleeding from the socket",
    right: "How does a dry socket present?\n* Pain from the third day\n- Fever above 38.5 degrees\n- Bleeding from the socket",
    find: Find::EnglishItem(find),
};

const VAGUE: [&str; 12] = [
    "often",
    "usually",
    "rarely",
    "sometimes",
    "frequently",
    "occasionally",
    "generally",
    "seldom",
    "infrequently",
    "mostly",
    "possibly",
    "typically",
];

const COMPARING: [&str; 8] = [
    "more", "most", "less", "least", "as", "so", "too", "equally",
];

fn find(asked: &Asked<'_>, flaws: &mut Vec<Flaw>) {
    for given in &asked.options {
        // "Rarely (below 1 in 1,000)" says what is meant.
        if given.text.raw.bytes().any(|byte| byte.is_ascii_digit()) {
            continue;
        }
        let words = &given.text.words;
        let vague = words.iter().enumerate().find(|(at, word)| {
            // "More often than" compares and is plain.
            let before = at.checked_sub(1).and_then(|at| words.get(at));
            let compares = before.is_some_and(|word| COMPARING.contains(&word.low.as_ref()));
            (VAGUE.contains(&word.low.as_ref()) && !compares)
                || (*at == 0 && matches!(word.low.as_ref(), "may" | "might") && words.len() > 2)
        });
        if let Some((_, word)) = vague {
            let span = asked.pin(given.span, word.raw);
            flaws.push(Flaw::new(
                format!("a vague frequency in an option: `{}`", word.raw),
                span,
                "how often is that?",
            ));
        }
    }
}
