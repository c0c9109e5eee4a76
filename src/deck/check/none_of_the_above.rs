//! "None of the above": being right about what is wrong is not knowing what is right.

use super::{Asked, Find, Flaw, Rule};
use crate::diagnostic::Severity;
use crate::text;

pub(super) const RULE: Rule = Rule {
    code: "deck::none-of-the-above",
    severity: Severity::Warning,
    why: "as a key it shows only that the candidate knows what is wrong, and shuffled options have no \"above\" \
          (Haladyna, Downing & Rodriguez 2002, guideline 25; NBME item-writing guide)",
    help: "name the right answer, or write a distractor in its place",
    find: Find::Item(find),
};

fn find(asked: &Asked<'_>) -> Vec<Flaw> {
    asked
        .options()
        .filter(|(option, _)| {
            option.text.starts_with(['n', 'N']) && says_none(&text::alike(&option.text))
        })
        .map(|(_, span)| {
            Flaw::new(
                "an option that denies all others",
                span,
                "not an answer of its own",
            )
        })
        .collect()
}

fn says_none(text: &str) -> bool {
    let starts = ["none of", "neither of", "none is", "none are"];
    let ends = [
        "above", "these", "options", "answers", "correct", "right", "others", "them",
    ];
    starts.iter().any(|start| text.starts_with(start)) && ends.iter().any(|end| text.ends_with(end))
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
