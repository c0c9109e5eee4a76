//! "None of the above": being right about what is wrong is not knowing what is right.

use super::asked::Asked;
use super::{Find, Flaw, Rule};
use crate::diagnostic::Severity;
use crate::text;

pub(super) const RULE: Rule = Rule {
    code: "deck::none-of-the-above",
    severity: Severity::Warning,
    why: "as a key it shows only that the candidate knows what is wrong, and shuffled options have no \"above\" \
          (Haladyna, Downing & Rodriguez 2002, guideline 25; NBME item-writing guide)",
    help: "name the right answer, or write a distractor in its place",
    wrong: "Which nerve is a branch of V1?\n* None of the above\n- Lingual nerve\n- Mental nerve",
    right: "Which nerve is a branch of V1?\n* Supraorbital nerve\n- Lingual nerve\n- Mental nerve",
    find: Find::EnglishItem(find),
};

fn find(asked: &Asked<'_>, flaws: &mut Vec<Flaw>) {
    let options = asked.options.iter();
    let such = options.filter(|given| says_none(&text::alike(given.text.raw)));
    flaws.extend(such.map(|given| {
        Flaw::new(
            "an option that denies all others",
            given.span,
            "not an answer of its own",
        )
    }));
}

fn says_none(text: &str) -> bool {
    const STARTS: [&str; 8] = [
        "none of",
        "neither of",
        "none is",
        "none are",
        "no option",
        "not any of",
        "no correct",
        "neither is",
    ];
    const ENDS: [&str; 11] = [
        "above", "these", "options", "answers", "correct", "right", "others", "them", "true",
        "listed", "answer",
    ];
    let text = text.trim_end_matches(['.', '!', ')']);
    STARTS.iter().any(|start| text.starts_with(start)) && ENDS.iter().any(|end| text.ends_with(end))
}

#[cfg(test)]
mod tests {
    use super::says_none;

    #[test]
    fn only_an_option_about_the_others_is_meant() {
        for text in ["none of the above", "neither of these", "none is correct"] {
            assert!(says_none(text), "{text}");
        }
        for text in ["none", "none of the mental nerve's branches", "no suture"] {
            assert!(!says_none(text), "{text}");
        }
    }
}
