//! Lead-ins that ask which statement is right and nothing else.

use super::words::Prose;

/// Words with which a lead-in asks.
const ASKING: &[&str] = &[
    "which",
    "what",
    "select",
    "choose",
    "identify",
    "pick",
    "following",
    "statement",
    "statements",
];

/// What a statement is found to be.
const VERDICTS: &[&str] = &[
    "true",
    "correct",
    "false",
    "incorrect",
    "right",
    "untrue",
    "accurate",
    "applies",
    "apply",
    "wrong",
    "holds",
];

/// What stands before a verdict on a statement.
const BEFORE: &[&str] = &[
    "is",
    "are",
    "statement",
    "statements",
    "which",
    "the",
    "most",
    "not",
    "following",
    "one",
    "best",
    "options",
    "option",
];

/// What stands behind it.
const AFTER: &[&str] = &[
    "",
    "about",
    "regarding",
    "concerning",
    "of",
    "for",
    "with",
    "statement",
    "statements",
    "to",
    "in",
    "when",
    "option",
    "one",
    "as",
    "here",
    "answer",
    "claim",
    "on",
];

/// Things of which one is the right one: "the correct order".
const SOUGHT: &[&str] = &[
    "position",
    "order",
    "sequence",
    "dose",
    "technique",
    "length",
    "angle",
    "placement",
    "term",
    "name",
    "diagnosis",
    "treatment",
    "management",
    "step",
    "grip",
    "way",
    "instrument",
    "formula",
    "time",
    "interval",
    "movement",
    "method",
    "design",
];

/// Whether a lead-in asks for whatever is true.
pub(super) fn is_open(lead_in: &Prose<'_>) -> bool {
    let words: Vec<&str> = lead_in.low().collect();
    let Some(at) = words.iter().position(|word| VERDICTS.contains(word)) else {
        return false;
    };
    let low = |at: usize| words.get(at).copied().unwrap_or_default();
    let (before, after) = (at.checked_sub(1).map_or("", low), low(at + 1));
    // "True of dry socket:" asks as "Which is true of dry socket?" does; "True or false" asks for a verdict.
    let is_first =
        at == 0 && matches!(low(0), "true" | "false" | "correct" | "incorrect") && words.len() > 1;
    let is_one = matches!(before, "a" | "an")
        && matches!(after, "statement" | "answer" | "option" | "claim");
    let is_asking = is_first || words.iter().any(|word| ASKING.contains(word));
    let is_verdict = (is_first || is_one || BEFORE.contains(&before)) && AFTER.contains(&after);
    let is_side = low(at) == "right" && (before == "the" || after == "side");
    is_asking && is_verdict && !is_side && !words.iter().any(|word| SOUGHT.contains(word))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn whatever_is_true_is_an_open_question() {
        for text in [
            "Which of the following is true?",
            "Which statement about dry socket is correct?",
            "Which of these is true of the lingual nerve?",
            "True statement about dry socket:",
            "Pick the wrong statement about dry socket.",
            "Which of the following is a true statement?",
            "True of dry socket:",
        ] {
            assert!(is_open(&Prose::new(text)), "{text}");
        }
        for text in [
            "Which is the correct order?",
            "What is the correct position of the beaks?",
            "Which nerve lies to the right?",
            "True or false: dry socket is an infection.",
            "Pick the right instrument for this root.",
            "What is a correct dose?",
        ] {
            assert!(!is_open(&Prose::new(text)), "{text}");
        }
    }
}
