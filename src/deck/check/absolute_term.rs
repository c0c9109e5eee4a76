//! Options that claim a thing of every case.

use super::asked::Asked;
use super::words::Prose;
use super::{Find, Flaw, Rule};
use crate::diagnostic::Severity;

pub(super) const RULE: Rule = Rule {
    code: "deck::absolute-term",
    severity: Severity::Warning,
    why: "little in surgery holds without exception, so test-wise candidates strike such options out unread \
          (Haladyna, Downing & Rodriguez 2002, guideline 28a; NBME item-writing guide)",
    help: "say when it holds, or take the word out; the option must be wrong for a better reason than this word",
    wrong: "When is an antibiotic indicated after an extraction?\n* With spreading infection\n- Always, in smokers\n- After surgery under sedation",
    right: "When is an antibiotic indicated after an extraction?\n* With spreading infection\n- After surgery in smokers\n- After surgery under sedation",
    find: Find::EnglishItem(find),
};

fn find(asked: &Asked<'_>, flaws: &mut Vec<Flaw>) {
    let hits: Vec<_> = asked
        .options
        .iter()
        .filter_map(|given| Some((given, absolute(&given.text)?)))
        .collect();
    // A word that all options share tells none of them apart.
    if hits.len() == asked.options.len() {
        return;
    }
    let in_key = hits.iter().any(|(given, _)| given.option.key);
    for (given, word) in hits {
        let label = if in_key {
            "claims it of every case"
        } else {
            "claims it of every case, as no key does"
        };
        let span = asked.pin(given.span, &word);
        flaws.push(Flaw::new(
            format!("an absolute term in an option: `{word}`"),
            span,
            label,
        ));
    }
}

/// The word of an option that claims a thing of every case, as written.
fn absolute(option: &Prose<'_>) -> Option<String> {
    let words: Vec<&str> = option.low().collect();
    let at = |index: usize| words.get(index).copied().unwrap_or_default();
    (0..words.len()).find_map(|index| {
        let before = index.checked_sub(1).map_or("", at);
        let (word, after) = (at(index), at(index + 1));
        let is_absolute = match word {
            "always" => before != "nearly" && before != "almost" && before != "not",
            "never" => before != "almost",
            "invariably" | "impossible" | "undoubtedly" | "guarantees" | "guaranteed"
            | "guarantee" | "nobody" | "forever" => true,
            // Late in a text it tells of a need or an inference: "wider than the bone it must pass".
            "must" => index <= 4,
            "absolutely" => after != "contraindicated",
            "only" => is_only(before, after),
            "all" if before == "of" => false,
            "all" => {
                is_universal(after)
                    || (is_universal(at(index + 2)) && !is_number(after))
                    || (after == "the" && at(index + 2) == "time")
                    || (before == "at" && after == "times")
            }
            "every" => is_every(after),
            "any" => {
                matches!(after, "case" | "circumstances" | "circumstance")
                    && matches!(before, "in" | "under")
            }
            "no" => {
                matches!(after, "circumstances" | "exception" | "exceptions")
                    || (after == "risk" && at(index + 2) != "factors" && at(index + 2) != "factor")
            }
            "without" => matches!(after, "exception" | "fail"),
            "completely" | "entirely" | "totally" | "wholly" => is_total(before, after),
            "100" => after.is_empty() || after == "of" || after == "per",
            _ => false,
        };
        is_absolute
            .then(|| option.words.get(index).map(|word| word.raw.to_owned()))
            .flatten()
    })
}

/// `only` that binds an action to one condition, and not a measured phrase: "local measures only".
fn is_only(before: &str, after: &str) -> bool {
    let binds = matches!(after, "when" | "if" | "ever" | "in" | "by" | "with");
    let is_verb = matches!(
        before,
        "is" | "are"
            | "can"
            | "should"
            | "may"
            | "will"
            | "occurs"
            | "occur"
            | "used"
            | "given"
            | "indicated"
            | "works"
            | "happens"
            | "seen"
            | "affects"
            | "affect"
            | "needed"
            | "done"
            | "found"
            | "arises"
            | "be"
            | "caused"
            | "treated"
    );
    (binds && (before.is_empty() || is_verb)) || (is_verb && !after.is_empty())
}

fn is_universal(word: &str) -> bool {
    const OF: &[&str] = &[
        "adults",
        "antibiotics",
        "cases",
        "children",
        "circumstances",
        "cysts",
        "dentists",
        "drugs",
        "extractions",
        "females",
        "fractures",
        "impactions",
        "implants",
        "infections",
        "individuals",
        "lesions",
        "males",
        "men",
        "molars",
        "people",
        "patients",
        "persons",
        "procedures",
        "situations",
        "smokers",
        "sockets",
        "surgeons",
        "surgery",
        "teeth",
        "tumours",
        "ulcers",
        "women",
        "wounds",
        "forms",
        "types",
    ];
    OF.contains(&word)
}

fn is_number(word: &str) -> bool {
    word.bytes().all(|byte| byte.is_ascii_digit())
        || matches!(
            word,
            "two"
                | "three"
                | "four"
                | "five"
                | "six"
                | "eight"
                | "the"
                | "of"
                | "these"
                | "remaining"
                | "four-handed"
                | "his"
                | "her"
                | "other"
                | "primary"
                | "upper"
                | "lower"
                | "adjacent"
                | "posterior"
                | "anterior"
                | "maxillary"
                | "mandibular"
                | "hopeless"
        )
}

/// `every` that is no interval: "every 6 hours", "every other day".
fn is_every(after: &str) -> bool {
    matches!(
        after,
        "patient"
            | "case"
            | "time"
            | "extraction"
            | "tooth"
            | "child"
            | "adult"
            | "wound"
            | "socket"
            | "infection"
            | "fracture"
            | "surgeon"
            | "dentist"
            | "smoker"
            | "person"
            | "procedure"
            | "one"
            | "single"
            | "lesion"
            | "implant"
            | "woman"
            | "man"
            | "impacted"
            | "cyst"
            | "instance"
            | "situation"
            | "operation"
    )
}

fn is_total(before: &str, after: &str) -> bool {
    let promises = |word: &str| {
        matches!(
            word,
            "safe"
                | "harmless"
                | "painless"
                | "prevents"
                | "prevent"
                | "prevented"
                | "eliminates"
                | "eliminate"
                | "eliminated"
                | "eradicates"
                | "removes"
                | "cures"
                | "cured"
                | "cure"
                | "reliable"
                | "blocks"
                | "abolishes"
                | "abolish"
                | "risk"
                | "avoids"
                | "avoided"
                | "unnecessary"
                | "useless"
                | "ineffective"
                | "protects"
                | "benign"
                | "resistant"
                | "immune"
                | "free"
                | "excludes"
                | "reversible"
                | "without"
                | "disappears"
                | "recovers"
                | "recover"
        )
    };
    promises(after) || promises(before)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_claim_is_told_from_a_measure() {
        for text in [
            "Always extract",
            "It never recurs",
            "All patients on warfarin",
            "In every case",
            "It is only seen in children",
            "Only if there is pus",
            "Completely prevents dry socket",
            "It must be removed",
            "Under no circumstances",
        ] {
            assert!(absolute(&Prose::new(text)).is_some(), "{text}");
        }
        for text in [
            "Local measures only",
            "Every 6 hours",
            "All four margins",
            "Completely within bone",
            "Only the lingual nerve",
            "Every other day",
        ] {
            assert!(absolute(&Prose::new(text)).is_none(), "{text}");
        }
    }
}
