//! Options that claim a thing of every case.

use super::about_options::of_others;
use super::asked::Asked;
use super::numeral::worded;
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
    let count = asked.options.len();
    let hits: Vec<_> = asked
        .options
        .iter()
        .enumerate()
        .filter_map(|(place, given)| {
            let word = absolute(&given.text)?;
            of_others(&given.text, place, count)
                .is_none()
                .then_some((given, word))
        })
        .collect();
    // A word that all options share tells none of them apart; one of a quoted instruction is the patient's.
    let is_shared = hits.len() == count
        && hits
            .windows(2)
            .all(|pair| pair[0].1.eq_ignore_ascii_case(&pair[1].1));
    if is_shared || asked.options.iter().all(|given| is_quoted(given.text.raw)) {
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

fn is_quoted(text: &str) -> bool {
    text.starts_with(['"', '“', '‘', '«'])
        && text.trim_end_matches('.').ends_with(['"', '”', '’', '»'])
}

/// The word of an option that claims a thing of every case, as written.
fn absolute(option: &Prose<'_>) -> Option<String> {
    let words = &option.words;
    let at = |index: usize| words.get(index).map_or("", |word| word.low.as_ref());
    (0..words.len()).find_map(|index| {
        let before = index.checked_sub(1).map_or("", at);
        let (word, after) = (at(index), at(index + 1));
        let is_absolute = match word {
            "always" => before != "nearly" && before != "almost" && before != "not",
            "never" => before != "almost",
            "invariably" | "inevitably" | "unfailingly" | "impossible" | "undoubtedly"
            | "guarantees" | "guaranteed" | "guarantee" | "nobody" | "forever" => true,
            // Late in a text it tells of a need or an inference: "wider than the bone it must pass".
            "must" => index <= 4,
            "absolutely" => after != "contraindicated",
            "solely" | "exclusively" => is_only(before, after),
            "only" => is_only(before, after) || (index == 0 && matches!(after, "a" | "an")),
            "all" if before == "of" => false,
            "all" => {
                (is_universal(after) && at(index + 2) != "of")
                    || after.ends_with("ics")
                    || after.ends_with("iacs")
                    || (is_universal(at(index + 2)) && !is_number(after))
                    || (after == "the" && at(index + 2) == "time")
                    || (before == "at" && after == "times")
            }
            "every" => is_every(before, after),
            "any" => {
                matches!(after, "case" | "circumstances" | "circumstance")
                    && matches!(before, "in" | "under")
            }
            "no" => {
                matches!(after, "circumstances" | "exception" | "exceptions")
                    || (after == "risk" && at(index + 2) != "factors" && at(index + 2) != "factor")
            }
            "without" => matches!(after, "exception" | "fail"),
            "completely" | "entirely" | "totally" | "wholly" => {
                is_total(before, after)
                    || is_verb(after)
                    || (after.is_empty() && is_verb(before))
                    || (index == 0 && matches!(after, "with" | "by"))
            }
            "100" => is_of_all(option, index),
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

/// Whether a word can only be a verb behind an adverb or at the end: "vanishes", not "is".
fn is_verb(word: &str) -> bool {
    word.len() > 3
        && word.ends_with('s')
        && !["ss", "us", "is"].iter().any(|end| word.ends_with(end))
        && word != "does"
}

/// Whether a number says of how many: `100 % of cases`, `100 per cent effective`, not `100 % oxygen`.
fn is_of_all(option: &Prose<'_>, index: usize) -> bool {
    const SAID: [&str; 8] = [
        "of",
        "safe",
        "effective",
        "certain",
        "reliable",
        "successful",
        "sensitive",
        "specific",
    ];
    let said = option
        .words
        .iter()
        .skip(index + 1)
        .map(|word| word.low.as_ref());
    let mut said = said.skip_while(|word| matches!(*word, "per" | "cent" | "percent"));
    said.next().is_some_and(|word| SAID.contains(&word))
}

/// `every` that is said of all cases: no interval ("every 6 hours", "every other day", "after every meal"), and not told of
/// what a step is done to ("count every swab").
fn is_every(before: &str, after: &str) -> bool {
    const RECURS: [&str; 27] = [
        "",
        "appointment",
        "breath",
        "day",
        "dose",
        "evening",
        "few",
        "fortnight",
        "fourth",
        "hour",
        "injection",
        "meal",
        "minute",
        "month",
        "morning",
        "night",
        "now",
        "other",
        "second",
        "session",
        "shift",
        "third",
        "use",
        "visit",
        "week",
        "year",
        "effort",
    ];
    const CASE: [&str; 9] = [
        "patient",
        "case",
        "time",
        "person",
        "instance",
        "situation",
        "one",
        "single",
        "extraction",
    ];
    let is_said = matches!(
        before,
        "" | "in" | "for" | "to" | "that" | "and" | "with" | "of" | "after"
    );
    let is_number =
        after.starts_with(|first: char| first.is_ascii_digit()) || worded(after).is_some();
    let is_interval = RECURS.contains(&after) || is_number;
    CASE.contains(&after) || (is_said && !is_interval)
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
    use super::super::trial::told_by;
    use super::*;

    #[test]
    fn a_word_that_all_options_share_tells_none_apart() {
        let told =
            |options: &str| told_by(RULE.code, &format!("When is it drained?\n{options}")).len();
        assert_eq!(told("* Always early\n- Always late\n- Always twice"), 0);
        assert_eq!(
            told("* Always early\n- Never at once\n- Only if it points"),
            3
        );
    }

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
            "It completely vanishes",
            "Completely with the bur",
            "Every diabetic",
            "All diabetics",
            "Only a lozenge",
            "In 100 % of cases",
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
            "Count every swab",
            "After every meal",
            "Every two weeks",
            "5 in 100",
            "100 %",
            "Ventilation with 100 % oxygen",
        ] {
            assert!(absolute(&Prose::new(text)).is_none(), "{text}");
        }
    }
}
