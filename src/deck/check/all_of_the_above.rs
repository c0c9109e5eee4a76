//! "All of the above": who sees that two options are right need not know the third.

use super::asked::Asked;
use super::{Find, Flaw, Rule};
use crate::diagnostic::Severity;
use crate::text;

pub(super) const RULE: Rule = Rule {
    code: "deck::all-of-the-above",
    severity: Severity::Warning,
    why: "whoever knows two options to be right has found the key without the rest, and shuffled options have no \
          \"above\" (Haladyna, Downing & Rodriguez 2002, guideline 26; NBME item-writing guide)",
    help: "make the kind `multiple`, or write a distractor in its place",
    wrong: "Which nerve is a branch of V3?\n* All of the above\n- Lingual nerve\n- Buccal nerve",
    right: "Which nerve is a branch of the maxillary nerve?\n* Infraorbital nerve\n- Lingual nerve\n- Buccal nerve",
    find: Find::EnglishItem(find),
};

fn find(asked: &Asked<'_>, flaws: &mut Vec<Flaw>) {
    let options = asked.options.iter();
    let such = options.filter(|given| says_all(&text::alike(given.text.raw)));
    flaws.extend(such.map(|given| {
        Flaw::new(
            "an option that stands for all others",
            given.span,
            "not an answer of its own",
        )
    }));
}

fn says_all(text: &str) -> bool {
    const STARTS: [&str; 14] = [
        "all of the",
        "all the",
        "all of these",
        "all of them",
        "both of the",
        "both the",
        "both of these",
        "both are",
        "all are",
        "all options",
        "all answers",
        "any of the",
        "any of these",
        "every one of",
    ];
    const ENDS: [&str; 11] = [
        "above", "these", "options", "answers", "correct", "right", "others", "them", "true",
        "listed", "apply",
    ];
    let text = text.trim_end_matches(['.', '!', ')']);
    text == "all above"
        || (STARTS.iter().any(|start| text.starts_with(start))
            && ENDS.iter().any(|end| text.ends_with(end)))
}

#[cfg(test)]
mod tests {
    use super::says_all;

    #[test]
    fn only_an_option_about_the_others_is_meant() {
        for text in [
            "all of the above",
            "both of these",
            "all are correct",
            "all the above",
        ] {
            assert!(says_all(text), "{text}");
        }
        for text in ["all of the buccal bone", "both the roots", "above the apex"] {
            assert!(!says_all(text), "{text}");
        }
    }
}
