//! Which clause of a lead-in a negative belongs to: what is asked, or something beside it.

use super::words::Word;

/// Whether a negative belongs to what is asked and to no clause beside it: "a patient who does not smoke".
pub(super) fn is_main_clause(words: &[Word<'_>], asks: usize, at: usize) -> bool {
    const ASIDE: [&str; 26] = [
        "if", "when", "that", "who", "whose", "because", "although", "while", "since", "unless",
        "but", "after", "until", "though", "once", "because", "whom", "even", "so", "whether",
        "where", "before", "provided", "given", "despite", "without",
    ];
    if at < asks {
        return false;
    }
    let Some(between) = words.get(asks + 1..at) else {
        return at == asks;
    };
    let is_aside = between
        .iter()
        .any(|word| ASIDE.contains(&word.low.as_ref()));
    // "Name the condition in which teeth do not erupt."
    let is_aside = is_aside
        || between.windows(2).any(|pair| {
            pair[1].low == "which"
                && matches!(
                    pair[0].low.as_ref(),
                    "in" | "by" | "of" | "for" | "with" | "on"
                )
        });
    // "A tooth which does not erupt ... is called": a later verb carries what is asked.
    let is_relative = asks > 0
        && words
            .get(asks)
            .is_some_and(|word| word.low == "which" && !is_asking_place(words, asks));
    let itself = words
        .get(at)
        .is_some_and(|word| word.low.ends_with("n't") || word.low == "cannot");
    let has_verb = itself
        || between.iter().any(|word| is_helper(&word.low))
        || between.last().is_some_and(|word| word.low == "need");
    !is_aside && !is_relative && has_verb && (itself || !is_attribute(words, between, at))
}

/// Whether a negative is said of a thing beside the verb: "should a patient not allergic to it receive", not "is not
/// allergic", nor "is a patient usually not allergic".
fn is_attribute(words: &[Word<'_>], between: &[Word<'_>], at: usize) -> bool {
    const SAID: [&str; 7] = [
        "allergic",
        "known",
        "on",
        "pregnant",
        "receiving",
        "taking",
        "using",
    ];
    let is_said = words
        .get(at + 1)
        .is_some_and(|word| SAID.contains(&word.low.as_ref()));
    let Some(helper) = between.iter().rposition(|word| is_helper(&word.low)) else {
        return false;
    };
    let behind = between.get(helper + 1..).unwrap_or_default();
    let is_of_verb = between
        .get(helper)
        .is_some_and(|word| BE.contains(&word.low.as_ref()));
    let beside = ["for", "in", "of", "to", "with", "by"];
    let is_beside = behind
        .iter()
        .any(|word| beside.contains(&word.low.as_ref()));
    is_said && !behind.is_empty() && (!is_of_verb || is_beside)
}

/// Whether words in front hold no clause of their own.
pub(super) fn is_plain(words: &[Word<'_>]) -> bool {
    let clause = [
        "if", "when", "that", "who", "because", "although", "since", "where",
    ];
    !words.iter().any(|word| clause.contains(&word.low.as_ref()))
}

/// Whether a negative is in the clause that says what is asked for: "Name the muscle that does not close the jaw".
pub(super) fn is_of_asked(words: &[Word<'_>], asks: usize, at: usize) -> bool {
    // What stands beside the thing asked for takes the clause to itself: "the cause of pain that does not settle".
    const ABOUT: [&str; 14] = [
        "cause",
        "causes",
        "treatment",
        "management",
        "diagnosis",
        "name",
        "term",
        "reason",
        "consequence",
        "complication",
        "result",
        "site",
        "sign",
        "word",
    ];
    const PLACE: [&str; 12] = [
        "in", "for", "from", "to", "with", "by", "at", "on", "after", "during", "and", "before",
    ];
    let low = |index: usize| words.get(index).map_or("", |word| word.low.as_ref());
    let Some(between) = words.get(asks + 1..at) else {
        return false;
    };
    let is_that = |word: &Word<'_>| matches!(word.low.as_ref(), "that" | "which" | "who");
    let Some(clause) = between.iter().position(is_that) else {
        return false;
    };
    let (noun, verb) = between.split_at(clause);
    let asks_for_one = !matches!(low(asks), "which" | "what" | "who")
        || noun
            .iter()
            .any(|word| matches!(word.low.as_ref(), "is" | "are"));
    let is_free = noun.iter().all(|word| !PLACE.contains(&word.low.as_ref()));
    let of = noun.iter().rposition(|word| word.low == "of");
    let head = of.and_then(|of| noun.get(of.checked_sub(1)?));
    let is_head = head.is_none_or(|word| !ABOUT.contains(&word.low.as_ref()));
    let itself = low(at).ends_with("n't") || low(at) == "cannot" || low(at) == "never";
    let is_said = (verb.len() <= 1 && itself) || (verb.len() == 2 && is_helper(&verb[1].low));
    let is_named = words
        .iter()
        .any(|word| matches!(word.low.as_ref(), "called" | "termed" | "named"));
    asks_for_one && is_free && is_head && is_said && !is_named
}

/// Whether a word is said of a thing behind its verb: "In which tooth is a dry socket unlikely?"
pub(super) fn is_asked_behind(words: &[Word<'_>], asks: usize, at: usize) -> bool {
    let after = words.get(at + 1).map_or("", |word| word.low.as_ref());
    let is_end = matches!(after, "" | "after" | "in" | "with" | "during" | "following");
    let between = words.get(asks + 1..at).unwrap_or_default();
    let be = between
        .iter()
        .position(|word| matches!(word.low.as_ref(), "is" | "are" | "was" | "were"));
    is_end && be.is_some_and(|be| between.len() - be <= 5)
}

/// Whether `which` asks: at the start, or behind a preposition, a comma or `the`.
fn is_asking_place(words: &[Word<'_>], at: usize) -> bool {
    let before = at.checked_sub(1).and_then(|at| words.get(at));
    before.is_none_or(|word| {
        matches!(
            word.low.as_ref(),
            "in" | "of"
                | "for"
                | "from"
                | "to"
                | "with"
                | "by"
                | "at"
                | "on"
                | "through"
                | "into"
                | "these"
                | "below"
                | "listed"
                | "and"
                | "then"
                | "following"
                | "so"
                | "under"
        ) || word.raw.starts_with(char::is_uppercase)
            || at > 4
    })
}

/// Whether `false` or `wrong` is said of a statement and is no part of a name: "false negative".
pub(super) fn is_said_of_options(words: &[Word<'_>], at: usize) -> bool {
    let low = |index: usize| words.get(index).map_or("", |word| word.low.as_ref());
    let before = at.checked_sub(1).map_or("", low);
    let after = low(at + 1);
    let says = matches!(
        after,
        "statement"
            | "statements"
            | "answer"
            | "option"
            | "one"
            | "assertion"
            | "claim"
            | "description"
            | "combination"
            | "match"
            | "pairing"
    );
    let is_last = matches!(
        after,
        "" | "about" | "regarding" | "concerning" | "of" | "with" | "for" | "in" | "when" | "as"
    );
    says || (is_last
        && (BE.contains(&before)
            || matches!(
                before,
                "statement" | "which" | "the" | "following" | "statements" | "being"
            ))
        && low(0) != "what")
}

/// Whether a verb is said of the thing asked for: "Which of the following lacks", "Which nerve lacks".
pub(super) fn is_said_of_sought(words: &[Word<'_>], asks: usize, at: usize) -> bool {
    let low = |index: usize| words.get(index).map_or("", |word| word.low.as_ref());
    let most = if low(asks + 1) == "of" { 4 } else { 2 };
    matches!(low(asks), "which" | "what") && (1..=most + 1).contains(&at.saturating_sub(asks))
}

/// Forms of to be, and words in their place.
pub(super) const BE: [&str; 10] = [
    "is",
    "are",
    "was",
    "were",
    "be",
    "being",
    "considered",
    "been",
    "as",
    "seems",
];

fn is_helper(word: &str) -> bool {
    BE.contains(&word)
        || matches!(
            word,
            "do" | "does"
                | "did"
                | "has"
                | "have"
                | "had"
                | "can"
                | "could"
                | "will"
                | "would"
                | "should"
                | "may"
                | "might"
                | "must"
                | "shall"
                | "ought"
        )
}
