//! A stem that asks nothing until the options are read.

use super::asked::Asked;
use super::open_question::is_open;
use super::words::Prose;
use super::{Find, Flaw, Rule};
use crate::diagnostic::Severity;

pub(super) const RULE: Rule = Rule {
    code: "deck::unfocused-stem",
    severity: Severity::Warning,
    why: "if the stem cannot be answered with the options covered, each option is a true-or-false question of its own \
          (Haladyna, Downing & Rodriguez 2002, guidelines 14 and 15; NBME item-writing guide, \"cover the options\")",
    help: "ask one whole question that a well-read candidate answers before looking at the options",
    wrong: "Dry socket:\n* starts to hurt after two days\n- is an infection\n- needs curettage",
    right: "When does the pain of a dry socket usually start?\n* After two days\n- In the first hours\n- After two weeks",
    find: Find::EnglishItem(find),
};

const ASKING: &[&str] = &[
    "which",
    "what",
    "who",
    "whom",
    "whose",
    "where",
    "when",
    "why",
    "how",
    "does",
    "do",
    "did",
    "name",
    "give",
    "select",
    "choose",
    "identify",
    "state",
    "match",
    "put",
    "order",
    "arrange",
    "calculate",
    "pick",
    "complete",
    "decide",
    "list",
    "indicate",
    "find",
    "estimate",
    "work",
    "place",
    "sort",
    "pair",
    "rank",
    "classify",
    "determine",
    "describe",
    "draw",
    "type",
    "write",
    "assign",
    "compute",
    "convert",
    "tell",
    "say",
    "mark",
    "define",
    "true",
];

const VERBS: &[&str] = &[
    "is",
    "are",
    "was",
    "were",
    "has",
    "have",
    "had",
    "should",
    "can",
    "could",
    "may",
    "might",
    "must",
    "will",
    "would",
    "does",
    "do",
    "did",
    "occurs",
    "occur",
    "requires",
    "require",
    "needs",
    "need",
    "causes",
    "cause",
    "includes",
    "include",
    "indicates",
    "indicate",
    "shows",
    "show",
    "supplies",
    "supply",
    "leads",
    "lead",
    "means",
    "called",
    "known",
    "lies",
    "lie",
    "runs",
    "run",
    "comes",
    "passes",
    "enters",
    "leaves",
    "begins",
    "starts",
    "carries",
    "prevents",
    "reduces",
    "increases",
    "depends",
    "follows",
    "results",
    "arises",
    "suggests",
    "contains",
    "allows",
    "makes",
    "gives",
    "takes",
    "used",
    "involves",
    "reaches",
    "drains",
    "innervates",
    "affects",
    "acts",
    "inhibits",
    "blocks",
];

fn find(asked: &Asked<'_>, flaws: &mut Vec<Flaw>) {
    // Steps and pairs ask by their form: "Extraction of an upper molar" tells what to put in order.
    if asked.options.is_empty() {
        return;
    }
    for stem in &asked.stems {
        if is_bare(&stem.text) {
            flaws.push(Flaw::new(
                "the stem names a topic and asks nothing",
                stem.span,
                "what is the question?",
            ));
        } else if is_open(&stem.lead_in) {
            flaws.push(
                Flaw::new(
                    "the stem asks only which statement is right",
                    stem.span,
                    "cannot be answered with the options covered",
                )
                .advice(),
            );
        }
    }
}

/// Whether a stem is a bare topic, with or without a copula behind it.
fn is_bare(text: &Prose<'_>) -> bool {
    let raw = text.raw.trim_end();
    if raw.ends_with('?') || raw.contains('?') || raw.contains("__") || text.has_any(ASKING) {
        return false;
    }
    let content = text.content().count();
    let verbs = verbs(text);
    let last = text.low().next_back().unwrap_or_default();
    let is_copula = matches!(
        last,
        "is" | "are"
            | "was"
            | "were"
            | "has"
            | "have"
            | "can"
            | "should"
            | "may"
            | "will"
            | "does"
            | "must"
    );
    // "The nerve most at risk is" asks for one thing.
    let is_narrow = text.low().any(|word| {
        matches!(
            word,
            "most"
                | "least"
                | "first"
                | "best"
                | "main"
                | "commonest"
                | "chief"
                | "maximum"
                | "minimum"
                | "usual"
                | "except"
                | "not"
                | "called"
                | "a"
                | "an"
        ) || (word.len() > 4 && word.ends_with("est"))
    }) || text.words.last().is_some_and(|word| {
        matches!(
            word.low.as_ref(),
            "the" | "by" | "of" | "with" | "to" | "from" | "for" | "in"
        )
    });
    if is_copula {
        verbs == 1
            && content <= 3
            && !is_narrow
            && !text.has_any(&[
                "of", "for", "in", "at", "after", "from", "with", "to", "by", "on", "between",
                "during",
            ])
    } else {
        verbs == 0 && content < 6 && !is_narrow && !text.words.is_empty() && !ends_open(last)
    }
}

/// How many verbs a stem has; "cause of trismus", "needs" at the start are nouns.
fn verbs(text: &Prose<'_>) -> usize {
    const NOUNS: [&str; 11] = [
        "cause", "causes", "lead", "leads", "means", "need", "needs", "results", "run", "show",
        "supply",
    ];
    let next = text.low().skip(1).chain([""]);
    let verbs = text
        .low()
        .zip(next)
        .enumerate()
        .filter(|(at, (word, next))| {
            let is_noun = NOUNS.contains(word) && (*at == 0 || *next == "of");
            VERBS.contains(word) && !is_noun
        });
    verbs.count()
}

/// Whether a stem breaks off in the middle of a sentence that the options end.
fn ends_open(last: &str) -> bool {
    matches!(
        last,
        "the"
            | "by"
            | "of"
            | "with"
            | "to"
            | "from"
            | "for"
            | "in"
            | "a"
            | "an"
            | "at"
            | "on"
            | "through"
            | "into"
            | "because"
            | "that"
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_topic_is_no_question() {
        for text in [
            "Dry socket:",
            "The lingual nerve",
            "Regarding warfarin",
            "Dry socket is:",
            "With respect to impacted canines,",
            "Cause of trismus",
            "Causes of trismus",
        ] {
            assert!(is_bare(&Prose::new(text)), "{text}");
        }
        for text in [
            "Which nerve is at risk?",
            "A cyst around the crown of an unerupted tooth is called:",
            "The nerve most at risk is",
            "Name the nerve of taste",
            "The mental nerve leaves the mandible through the",
            "The commonest cause of death after a dental abscess",
            "Trismus causes",
        ] {
            assert!(!is_bare(&Prose::new(text)), "{text}");
        }
    }
}
