//! Options that are sums of other options.

use std::collections::BTreeSet;

use super::about_options::{has_lettered_names, of_others};
use super::asked::{Asked, Given};
use super::words::Prose;
use super::{Find, Flaw, Rule};
use crate::diagnostic::Severity;

pub(super) const RULE: Rule = Rule {
    code: "deck::combined-options",
    severity: Severity::Warning,
    why: "whoever knows one part to be right or wrong can strike out half of the options, and shuffled options have no letters \
          (Haladyna, Downing & Rodriguez 2002, guideline 9; NBME item-writing guide)",
    help: "make the kind `multiple`, with one statement an option",
    wrong: "Which are branches of V3? 1: lingual, 2: buccal, 3: infraorbital\n* 1 and 2 only\n- 1 and 3 only\n- 2 and 3 only",
    right: "Which nerve is a branch of the maxillary nerve?\n* Infraorbital nerve\n- Lingual nerve\n- Long buccal nerve",
    find: Find::EnglishItem(find),
};

fn find(asked: &Asked<'_>, flaws: &mut Vec<Flaw>) {
    let count = asked.options.len();
    let sums: Vec<_> = asked
        .options
        .iter()
        .enumerate()
        .filter(|(place, given)| of_others(&given.text, *place, count).is_none())
        .filter_map(|(_, given)| Some((given, sum(&given.text)?)))
        .collect();
    let by_letter = sums.iter().any(|(_, of)| matches!(of, Of::Letters));
    if !sums.is_empty()
        && (by_letter || sums.len() * 2 >= asked.options.len())
        && !has_lettered_names(asked)
    {
        let shown = sums
            .iter()
            .find(|(_, of)| !by_letter || matches!(of, Of::Letters));
        if let Some((given, _)) = shown {
            flaws.push(Flaw::new(
                "options that are sums of others",
                given.span,
                "stands for several answers",
            ));
        }
    } else if let Some((given, part)) = in_words(asked) {
        let flaw = Flaw::new(
            "an option that adds up two others",
            given.span,
            "names both",
        );
        flaws.push(flaw.related(part.span, "one of them").advice());
    }
}

/// An option that says in words what two others say apart, and one of these: "Both masseter and temporalis" beside
/// "Masseter alone" and "Temporalis alone".
fn in_words<'a, 't>(asked: &'a Asked<'t>) -> Option<(&'a Given<'t>, &'a Given<'t>)> {
    let set = |given: &'a Given<'t>| -> BTreeSet<&'a str> { given.text.content().collect() };
    let sets: Vec<_> = asked.options.iter().map(set).collect();
    let pairs = || asked.options.iter().zip(&sets);
    pairs().find_map(|(given, all)| {
        if all.len() < 2 || !given.text.has_any(&["and", "both"]) {
            return None;
        }
        let mut parts = pairs()
            .filter(|(_, part)| !part.is_empty() && part.len() < all.len() && part.is_subset(all));
        let (one, first) = parts.next()?;
        parts
            .any(|(_, second)| first.union(second).eq(all))
            .then_some((given, one))
    })
}

/// What an option adds up.
enum Of {
    /// Letters of other options.
    Letters,
    /// Numbers, which may be real ones.
    Numbers,
}

fn sum(option: &Prose<'_>) -> Option<Of> {
    // What the labels stand for may follow: "(i) and (ii): incisors with premolars".
    let labels = option.raw.split(": ").next().unwrap_or_default();
    // Numbers that stand for themselves: 0.5, 1/2, 1-3.
    if labels.contains(['.', '/', '-', ':', '%']) && !labels.ends_with('.') {
        return None;
    }
    let (mut letters, mut numbers, mut joins) = (0, 0, 0);
    for word in option
        .words
        .iter()
        .take_while(|word| word.at < labels.len())
    {
        match word.low.as_ref() {
            "a" | "b" | "c" | "d" | "e" | "f" if word.raw.len() == 1 => letters += 1,
            "i" | "ii" | "iii" | "iv" | "v" | "vi" => numbers += 1,
            digits if digits.len() == 1 && digits.bytes().all(|byte| byte.is_ascii_digit()) => {
                numbers += 1;
            }
            "only" | "both" | "all" | "alone" | "itself" => joins += 1,
            "and" | "with" | "by" | "or" | "option" | "options" | "statement" | "statements"
            | "answer" | "answers" | "are" | "is" | "correct" | "true" | "right" | "but"
            | "not" | "neither" | "nor" => {}
            _ => return None,
        }
    }
    let adds = option.has("and") || labels.contains([',', '&', '+']);
    match (letters + numbers, letters) {
        (0, _) => None,
        (1, _) if joins == 0 => None,
        // "1 or 2" is a range.
        (_, 0) if joins == 0 && !adds => None,
        _ if joins == 0 && !adds && !option.has("or") => None,
        (_, 0) => Some(Of::Numbers),
        _ => Some(Of::Letters),
    }
}

#[cfg(test)]
mod tests {
    use super::super::trial::told_by;
    use super::*;

    #[test]
    fn two_options_in_one_are_told_in_words_as_well() {
        let told = |options: &str| {
            told_by(
                "deck::combined-options",
                &format!("Which muscles does it supply?\n{options}"),
            )
            .len()
        };
        let both = "- Masseter by itself\n- Temporalis by itself\n* Both masseter and temporalis\n- Platysma";
        assert_eq!(told(both), 1);
        let apart = "- Masseter and platysma\n- Temporalis\n* Buccinator and risorius\n- Platysma";
        assert_eq!(told(apart), 0);
    }

    #[test]
    fn a_sum_has_nothing_but_labels() {
        for text in [
            "1 and 3",
            "A and C only",
            "Both A and B",
            "i, ii and iii",
            "B and C are correct",
            "2 only",
            "A or B",
            "1 or 2 only",
            "(i) and (ii): upper incisors with lower premolars",
        ] {
            assert!(sum(&Prose::new(text)).is_some(), "{text}");
        }
        for text in [
            "2 mm",
            "1 or 2",
            "Hepatitis B and C",
            "V2 and V3",
            "Pain and swelling",
            "3",
            "A",
            "Class II",
            "A: bone and mucosa",
        ] {
            assert!(sum(&Prose::new(text)).is_none(), "{text}");
        }
    }
}
