//! Two negatives that have to be undone in the head.

use super::asked::Asked;
use super::negative_stem::negative;
use super::words::{Prose, Word};
use super::{Find, Flaw, Rule};
use crate::diagnostic::Severity;

pub(super) const RULE: Rule = Rule {
    code: "deck::double-negative",
    severity: Severity::Warning,
    why: "two negatives test the reading of the sentence and not the knowledge \
          (Haladyna, Downing & Rodriguez 2002, guideline 17)",
    help: "ask for what is right, and say in each option what is so",
    wrong: "Which drug is NOT contraindicated in asthma?\n* Paracetamol\n- Aspirin\n- Ibuprofen",
    right: "Which drug is safe in asthma?\n* Paracetamol\n- Aspirin\n- Ibuprofen",
    find: Find::EnglishItem(find),
};

fn find(asked: &Asked<'_>, flaws: &mut Vec<Flaw>) {
    let mut is_negative = false;
    for stem in &asked.stems {
        let Some(first) = negative(&stem.lead_in) else {
            continue;
        };
        is_negative = true;
        let second = stem.lead_in.words.iter().find(|word| {
            word.at != first.at && denies(&word.low) && !is_set_phrase(&stem.lead_in, word.at)
        });
        let second = second.or_else(|| denied(&stem.lead_in, first.at));
        if let Some(second) = second {
            let span = asked.pin_asked(stem, first);
            let again = asked.pin_asked(stem, second);
            flaws.push(
                Flaw::new("two negatives in one question", span, "one negative")
                    .related(again, "another"),
            );
        }
    }
    if is_negative && let Some(given) = asked.options.iter().find(|given| is_denial(&given.text)) {
        flaws.push(Flaw::new(
            "a negative option under a negative stem",
            given.span,
            "not-not to the candidate",
        ));
    }
}

/// Whether a word denies something. A list, since many words only begin like a negative: "inferior", "united".
fn denies(word: &str) -> bool {
    const DENY: &[&str] = &[
        "absence",
        "absent",
        "avoid",
        "avoided",
        "cannot",
        "contraindicate",
        "contraindicated",
        "contraindicates",
        "contraindication",
        "contraindications",
        "deny",
        "except",
        "excluded",
        "excludes",
        "fail",
        "fails",
        "false",
        "impossible",
        "improbable",
        "inaccurate",
        "inadequate",
        "inadvisable",
        "inappropriate",
        "incorrect",
        "ineffective",
        "insufficient",
        "lack",
        "lacks",
        "lacking",
        "least",
        "neither",
        "never",
        "nor",
        "not",
        "rarely",
        "seldom",
        "unacceptable",
        "uncommon",
        "undesirable",
        "unfavourable",
        "unhelpful",
        "unlikely",
        "unnecessary",
        "unsafe",
        "unsuitable",
        "untrue",
        "unusual",
        "unwise",
        "without",
        "unrelated",
        "unaffected",
        "unable",
    ];
    word.ends_with("n't") || DENY.contains(&word)
}

/// A word soon behind a negative that its prefix or ending makes another: "not unfit", "not a harmless drug".
/// Further off it may be said of something else: "not given in unstable angina".
fn denied<'a, 't>(text: &'a Prose<'t>, negative: usize) -> Option<&'a Word<'t>> {
    const NO_PREFIX: [&str; 9] = [
        "under", "until", "unto", "uncle", "unless", "uncinate", "unguent", "unction", "ungual",
    ];
    const DENY: [&str; 14] = [
        "abnormal",
        "improper",
        "impractical",
        "incomplete",
        "inconsistent",
        "infrequent",
        "insensitive",
        "insignificant",
        "invalid",
        "irrelevant",
        "irreversible",
        "disadvantageous",
        "non",
        "illegal",
    ];
    let first = text.words.partition_point(|word| word.at <= negative);
    let words = text.words.get(first..)?;
    words.iter().take(2).find(|word| {
        let low = word.low.as_ref();
        // "Unilateral" and "united" begin with one, "unimportant" and "uninjured" deny.
        let is_of_one =
            low.starts_with("uni") && !low.starts_with("unim") && !low.starts_with("unin");
        let has_prefix = low.len() > 4
            && low.starts_with("un")
            && !is_of_one
            && !NO_PREFIX.iter().any(|other| low.starts_with(other));
        let has_ending =
            low.len() > 5 && low.ends_with("less") && low != "unless" && low != "regardless";
        has_prefix || has_ending || DENY.contains(&low)
    })
}

/// Whether a negative is part of a measure: "at least".
fn is_set_phrase(text: &Prose<'_>, at: usize) -> bool {
    text.words
        .windows(2)
        .any(|pair| pair[1].at == at && pair[0].low == "at" && pair[1].low == "least")
}

fn is_denial(option: &Prose<'_>) -> bool {
    option.has_any(&["not", "never", "cannot", "neither"])
        || option.low().any(|word| word.ends_with("n't"))
        || matches!(
            option.low().next(),
            Some("no" | "absence" | "lack" | "without")
        )
}

#[cfg(test)]
mod tests {
    use super::super::trial::{told, told_by};
    use super::*;

    #[test]
    fn an_option_that_says_what_is_lacking_denies() {
        let told = |option: &str| {
            let stem = "Which is NOT a sign of infection?";
            let question = format!("{stem}\n* {option}\n- Fever\n- Swelling");
            told_by("deck::double-negative", &question).len()
        };
        assert_eq!(told("Absence of pus"), 1);
        assert_eq!(told("Without pain"), 1);
        assert_eq!(told("Thirst"), 0);
    }

    #[test]
    fn each_mark_is_under_its_own_word() {
        let found = |code: &str, stem: &str| {
            let all = told(&format!("{stem}\n* Thirst\n- Fever\n- Swelling"));
            all.into_iter().find(|found| found.code == code).unwrap()
        };
        let stem = "Which drug is NOT effective and should NOT be given?";
        let double = found("deck::double-negative", stem);
        let between = double.related[0].span.start() - double.primary.span.start();
        assert_eq!(
            between,
            stem.rfind("NOT").unwrap() - stem.find("NOT").unwrap()
        );
        let stem = "A man does not smoke. Which of these is not a sign of it?";
        let alone = found("deck::negative-stem", "Which of these is not a sign of it?");
        let behind = found("deck::negative-stem", stem);
        assert_eq!(
            behind.primary.span.start() - alone.primary.span.start(),
            "A man does not smoke. ".len()
        );
    }

    #[test]
    fn a_second_negative_is_heard_close_behind_the_first() {
        let found = |text: &str| {
            let prose = Prose::new(text);
            let first = negative(&prose).map(|word| word.at);
            first.and_then(|at| denied(&prose, at).map(|word| word.raw.to_owned()))
        };
        for (stem, word) in [
            ("Which patient is not unfit for surgery?", "unfit"),
            ("Which drug is NOT harmless in pregnancy?", "harmless"),
            ("Which is not an unimportant sign?", "unimportant"),
        ] {
            assert_eq!(found(stem).as_deref(), Some(word), "{stem}");
        }
        for stem in [
            "Which drug is not given in unstable angina?",
            "Which defect is not unilateral?",
            "Which tooth is not under the flap?",
        ] {
            assert_eq!(found(stem), None, "{stem}");
        }
    }
}
