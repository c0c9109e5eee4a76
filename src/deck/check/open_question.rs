//! Lead-ins that ask which statement is right and nothing else.

use super::words::Prose;

/// Whether a lead-in asks for whatever is true.
pub(super) fn is_open(lead_in: &Prose<'_>) -> bool {
    let words: Vec<&str> = lead_in.low().collect();
    let is_asking = words.iter().any(|word| {
        matches!(
            *word,
            "which"
                | "what"
                | "select"
                | "choose"
                | "identify"
                | "pick"
                | "following"
                | "statement"
                | "statements"
        )
    });
    let verdict = words.iter().position(|word| {
        matches!(
            *word,
            "true"
                | "correct"
                | "false"
                | "incorrect"
                | "right"
                | "untrue"
                | "accurate"
                | "applies"
                | "apply"
                | "wrong"
                | "holds"
        )
    });
    // "True of dry socket:" asks as "Which is true of dry socket?" does.
    let is_first = matches!(
        words.as_slice(),
        ["true" | "false" | "correct" | "incorrect", after, ..] if *after != "or"
    );
    let Some(at) = verdict.filter(|_| is_asking || is_first) else {
        return false;
    };
    let before = at
        .checked_sub(1)
        .and_then(|at| words.get(at))
        .copied()
        .unwrap_or_default();
    let after = words.get(at + 1).copied().unwrap_or_default();
    let is_one = matches!(before, "a" | "an")
        && matches!(after, "statement" | "answer" | "option" | "claim");
    let is_behind = matches!(
        before,
        "is" | "are"
            | "statement"
            | "statements"
            | "which"
            | "the"
            | "most"
            | "not"
            | "following"
            | "one"
            | "best"
            | "options"
            | "option"
    );
    let is_verdict = (is_one || is_behind || (at == 0 && is_first))
        && matches!(
            after,
            "" | "about"
                | "regarding"
                | "concerning"
                | "of"
                | "for"
                | "with"
                | "statement"
                | "statements"
                | "to"
                | "in"
                | "when"
                | "option"
                | "one"
                | "as"
                | "here"
                | "answer"
                | "claim"
                | "on"
        );
    let names_sought = words.iter().any(|word| {
        matches!(
            *word,
            "position"
                | "order"
                | "sequence"
                | "dose"
                | "technique"
                | "length"
                | "angle"
                | "placement"
                | "term"
                | "name"
                | "diagnosis"
                | "treatment"
                | "management"
                | "step"
                | "grip"
                | "way"
                | "instrument"
                | "formula"
                | "time"
                | "interval"
                | "movement"
                | "method"
                | "design"
        )
    });
    is_verdict
        && !names_sought
        && !matches!(words.get(at), Some(&"right") if before == "the" || after == "side")
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
