//! "All of the above": who sees that two options are right need not know the third.

use super::{Asked, Find, Flaw, Rule};
use crate::diagnostic::Severity;
use crate::text;

pub(super) const RULE: Rule = Rule {
    code: "deck::all-of-the-above",
    severity: Severity::Warning,
    why: "whoever knows two options to be right has found the key without the rest, and shuffled options have no \
          \"above\" (Haladyna, Downing & Rodriguez 2002, guideline 26; NBME item-writing guide)",
    help: "make the kind `multiple`, or write a distractor in its place",
    find: Find::Item(find),
};

fn find(asked: &Asked<'_>) -> Vec<Flaw> {
    asked
        .options()
        .filter(|(option, _)| {
            option.text.starts_with(['a', 'A', 'b', 'B']) && says_all(&text::alike(&option.text))
        })
        .map(|(_, span)| {
            Flaw::new(
                "an option that stands for all others",
                span,
                "not an answer of its own",
            )
        })
        .collect()
}

fn says_all(text: &str) -> bool {
    let starts = [
        "all of the",
        "all the",
        "all of these",
        "both of the",
        "both the",
        "all are",
        "all options",
    ];
    let ends = [
        "above", "these", "options", "answers", "correct", "right", "others",
    ];
    starts.iter().any(|start| text.starts_with(start)) && ends.iter().any(|end| text.ends_with(end))
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
