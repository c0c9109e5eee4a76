//! A question for what is not so.

use super::asked::Asked;
use super::clause::{
    BE, is_asked_behind, is_main_clause, is_of_asked, is_plain, is_said_of_options,
    is_said_of_sought,
};
use super::words::{Prose, Word};
use super::{Find, Flaw, Rule};
use crate::diagnostic::Severity;

pub(super) const RULE: Rule = Rule {
    code: "deck::negative-stem",
    severity: Severity::Warning,
    why: "a negative that is read over turns the question round, so that whoever knows the answer loses the mark \
          (Haladyna, Downing & Rodriguez 2002, guideline 17; NBME item-writing guide)",
    help: "ask for what is right; if that cannot be done, write NOT, EXCEPT or LEAST in capitals",
    wrong: "Which muscle does not close the jaw?\n* Lateral pterygoid\n- Masseter\n- Temporalis",
    right: "Which muscle opens the jaw?\n* Lateral pterygoid\n- Masseter\n- Temporalis",
    find: Find::EnglishItem(find),
};

fn find(asked: &Asked<'_>, flaws: &mut Vec<Flaw>) {
    for stem in &asked.stems {
        let Some(word) = negative(&stem.lead_in) else {
            continue;
        };
        let span = asked.pin_asked(stem, word);
        if is_marked(word.raw) {
            flaws.push(
                Flaw::new(
                    "the stem asks for what is not so",
                    span,
                    "marked, but harder to read than a positive question",
                )
                .advice(),
            );
        } else {
            flaws.push(Flaw::new(
                "the stem asks for what is not so, and the word is easily read over",
                span,
                "not in capitals",
            ));
        }
    }
}

/// Whether a word stands out in plain text; of `DOESN'T` the letters count.
fn is_marked(word: &str) -> bool {
    !word.chars().any(char::is_lowercase)
}

/// The word of a lead-in that makes it ask for what is not so.
pub(super) fn negative<'a, 't>(lead_in: &'a Prose<'t>) -> Option<&'a Word<'t>> {
    let words = &lead_in.words;
    let asks = asked_from(lead_in)?;
    let is_one_of = |those: &[&str], word: &Word<'_>| those.contains(&word.low.as_ref());
    (0..words.len()).find_map(|at| {
        let low = |index: usize| words.get(index).map_or("", |word| word.low.as_ref());
        let before = |back: usize| at.checked_sub(back).map_or("", low);
        let is_it = match low(at) {
            "except" | "excepting" | "excluding" => {
                !matches!(low(at + 1), "in" | "when" | "if" | "that" | "for" | "where")
                    || !lead_in.raw.ends_with('?')
                    || at + 2 >= words.len()
            }
            "least" => {
                // Not "at least 3 mm", "the least traumatic technique".
                before(1) != "at"
                    && before(2) != "at"
                    && (before(1) != "the"
                        || matches!(
                            low(at + 1),
                            "likely"
                                | "accurate"
                                | "acceptable"
                                | "common"
                                | "commonly"
                                | "desirable"
                                | "effective"
                                | "expected"
                                | "frequent"
                                | "frequently"
                                | "indicated"
                                | "often"
                                | "reliable"
                                | "appropriate"
                                | "suitable"
                                | "useful"
                                | "probable"
                                | "important"
                                | "consistent"
                                | "typical"
                        ))
            }
            "not" | "never" | "cannot" => {
                !matches!(
                    low(at + 1),
                    "only" | "to" | "yet" | "least" | "always" | "less" | "more"
                ) && !matches!(before(1), "or" | "and" | "why")
                    && (is_main_clause(words, asks, at) || is_of_asked(words, asks, at))
            }
            word if word.ends_with("n't") => {
                is_main_clause(words, asks, at) || is_of_asked(words, asks, at)
            }
            "fail" => low(at + 1) == "to" && is_main_clause(words, asks, at),
            "fails" => low(at + 1) == "to" && is_said_of_sought(words, asks, at),
            "lacks" => is_said_of_sought(words, asks, at),
            "no" => {
                low(at + 1) == "effect"
                    && matches!(before(1), "has" | "have")
                    && is_said_of_sought(words, asks, at - 1)
            }
            "unusual" | "uncommon" | "unexpected" => before(1) == "be" && before(2) == "would",
            "hardly" | "scarcely" => words.get(asks + 1..at).is_some_and(is_plain),
            "but" => is_of_all(words) && matches!(low(at + 1), "one" | "two" | "which" | "the"),
            "save" | "bar" => {
                is_of_all(words) && matches!(low(at + 1), "" | "for" | "one" | "which")
            }
            "apart" => low(at + 1) == "from" && (is_of_all(words) || at + 2 == words.len()),
            "other" => low(at + 1) == "than" && (is_of_all(words) || at + 2 == words.len()),
            "exception" => {
                let ends = is_of_all(words) || at + 2 == words.len() || low(at + 2) == "one";
                (low(at + 1) == "of" && ends) || (before(1) == "the" && BE.contains(&before(2)))
            }
            "odd" => low(at + 1) == "one" && low(at + 2) == "out",
            "false" | "incorrect" | "untrue" | "inaccurate" | "wrong" | "erroneous" => {
                is_said_of_options(words, at)
            }
            "contraindicated" | "inappropriate" | "unlikely" | "inadvisable" | "unsuitable"
            | "uncharacteristic" | "atypical" | "unsafe" | "useless" | "unnecessary" | "unwise"
            | "unacceptable" | "unhelpful" | "undesirable" | "ineffective" => {
                let is_said = BE.contains(&before(1))
                    || (matches!(before(1), "most" | "absolutely" | "usually" | "very")
                        && BE.contains(&before(2)))
                    || (before(1) == "most" && before(2) == "the" && BE.contains(&before(3)))
                    || (matches!(before(1), "a" | "an") && BE.contains(&before(2)))
                    || is_asked_behind(words, asks, at);
                let aside = [
                    "who", "whom", "whose", "if", "when", "because", "where", "since",
                ];
                let between = words.get(asks + 1..at).unwrap_or_default();
                at > asks && is_said && !between.iter().any(|word| is_one_of(&aside, word))
            }
            _ => false,
        };
        if is_it { words.get(at) } else { None }
    })
}

/// The word from which a lead-in asks: `which` and its like, or its first word if it is to be completed. `None` if it asks
/// for a reason or a time: "Why is X not done?" asks for nothing that is not so.
fn asked_from(lead_in: &Prose<'_>) -> Option<usize> {
    // These ask at the start only: "a woman who cannot open wide", "a mark on the film".
    const FIRST: [&str; 10] = [
        "who", "whom", "whose", "where", "when", "mark", "find", "pick", "indicate", "tick",
    ];
    let words = &lead_in.words;
    let is_one_of = |asking: &[&str], word: &Word<'_>| asking.contains(&word.low.as_ref());
    let asking = [
        "which", "what", "select", "choose", "identify", "name", "why", "how",
    ];
    let asks = words
        .iter()
        .position(|word| is_one_of(&asking, word))
        .or_else(|| {
            let first = words.first()?;
            is_one_of(&FIRST, first).then_some(0)
        });
    match asks {
        Some(at) => {
            let low = words.get(at).map_or("", |word| word.low.as_ref());
            let is_of_reason = matches!(low, "why" | "how" | "when")
                || (low == "what" && lead_in.has_any(&["happens", "if", "reason"]))
                || (lead_in.raw.ends_with('?')
                    && lead_in.has_any(&["reason", "explains", "why", "because"]));
            let is_except = lead_in.has_any(&["except", "least"]);
            (!is_of_reason || is_except).then_some(at)
        }
        None if lead_in.raw.trim_end().ends_with(['.', '!']) && !lead_in.has("except") => None,
        None => Some(0),
    }
}

/// Whether a stem sets out from all of the options: "All of these but one", "Each of the following ... save".
fn is_of_all(words: &[Word<'_>]) -> bool {
    let mut low = words.iter().map(|word| word.low.as_ref());
    matches!(low.next(), Some("all" | "each" | "any" | "every"))
        && matches!(
            low.next(),
            Some("of" | "the" | "these" | "but" | "one" | "options" | "save")
        )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn found(stem: &str) -> Option<String> {
        negative(&Prose::new(stem).lead_in()).map(|word| word.raw.to_owned())
    }

    #[test]
    fn what_asks_for_the_opposite_is_found() {
        for (stem, word) in [
            (
                "Which of these is not a branch of the mandibular nerve?",
                "not",
            ),
            ("All of the following close the jaw except:", "except"),
            ("Which finding is least likely in dry socket?", "least"),
            ("Which statement about elevators is false?", "false"),
            ("Which drug should never be given with warfarin?", "never"),
            ("The lingual nerve does not supply the", "not"),
            ("A man bleeds. Which step isn't helpful?", "isn't"),
            (
                "Which structure cannot be seen on a periapical film?",
                "cannot",
            ),
            (
                "In pregnancy, which drug is contraindicated?",
                "contraindicated",
            ),
            ("Which is NOT a sign of infection?", "NOT"),
            (
                "Name the muscle of mastication that does not close the jaw.",
                "not",
            ),
            ("Which is the muscle that is not supplied by V3?", "not"),
            ("All of these but one come from V3. Which one is it?", "but"),
            ("All of the following close the jaw save", "save"),
            ("Each of these closes the jaw apart from", "apart"),
            (
                "In which tooth is a dry socket unlikely after extraction?",
                "unlikely",
            ),
            (
                "After the loss of which tooth is a dry socket unlikely?",
                "unlikely",
            ),
            ("Which drug hardly ever causes a rash?", "hardly"),
            ("Which of these is the odd one out?", "odd"),
            ("Which nerve is the exception?", "exception"),
            ("Mark the drug that must not be combined with it.", "not"),
            (
                "Which of the following is a nerve that does not supply the tongue?",
                "not",
            ),
            ("Which drug is unsafe in porphyria?", "unsafe"),
            (
                "What would be an inappropriate first step?",
                "inappropriate",
            ),
            ("Which drug need NOT be avoided?", "NOT"),
            (
                "Which would be the least expected finding in dry socket?",
                "least",
            ),
            ("Which nerve is the least often injured?", "least"),
            ("Which is the most unlikely cause?", "unlikely"),
            ("Which finding would be unusual in dry socket?", "unusual"),
            ("Which nerve does this block fail to anaesthetise?", "fail"),
            ("Which block fails to anaesthetise the molars?", "fails"),
            ("Which of the following lacks a motor part?", "lacks"),
            ("Which drug has no effect on platelets?", "no"),
            ("Which drug is a patient with asthma not fit for?", "not"),
        ] {
            assert_eq!(found(stem).as_deref(), Some(word), "{stem}");
        }
    }

    #[test]
    fn a_negative_beside_what_is_asked_is_none() {
        for stem in [
            "A woman who does not smoke has pain. What is the cause?",
            "What should be done if the bleeding does not stop?",
            "Which drug suits a patient who cannot swallow?",
            "Why should the incision not cross the papilla?",
            "At least how many millimetres of bone must be left?",
            "Which imaging gives the fewest false positives?",
            "What went wrong when the tuberosity broke?",
            "Which needle reaches the nerve in a patient that has not opened wide?",
            "What is the chief reason not to raise a lingual flap?",
            "Name the cause of pain that does not settle.",
            "Which of these is the cause of pain that does not settle?",
            "Name the condition in which teeth do not erupt.",
            "What is a tooth that does not erupt called?",
            "All of these steps save time. What is the first?",
            "Apart from the lingual nerve, which nerve is at risk?",
            "Which sign makes a fracture unlikely?",
            "Which drug is swallowed and not chewed?",
            "Which antibiotic should a patient not allergic to penicillin receive?",
            "Which is the least traumatic technique?",
            "What is unusual about the course of this nerve?",
            "What is done when the block fails to work?",
            "Which film shows that the drug has no effect?",
            "Which sign shows the block fails to work?",
            "Which nerve is that of a child who lacks a premolar?",
        ] {
            assert_eq!(found(stem), None, "{stem}");
        }
    }
}
