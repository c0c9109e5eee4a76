//! The language, where it is one that the rules of wording do not know.

use super::{Find, Flaw, Rule, Whole};
use crate::diagnostic::Severity;

pub(super) const RULE: Rule = Rule {
    code: "deck::wording-unchecked",
    severity: Severity::Advice,
    why: "the rules of wording go by English words: on another language they would find nothing or the wrong thing \
          (common practice)",
    help: "have the wording read by a person; `en` if the deck is in English after all",
    wrong: "language: de",
    right: "language: en",
    find: Find::Deck(find),
};

/// Whether a language tag says English, of whatever region.
pub(super) fn is_english(tag: &str) -> bool {
    let language = tag.split('-').next();
    language.is_some_and(|language| language.eq_ignore_ascii_case("en"))
}

fn find(whole: &Whole<'_>) -> Vec<Flaw> {
    let language = whole.draft.language().zip(whole.draft.language_span());
    let other = language.filter(|(tag, _)| !is_english(tag));
    let flaw = other.map(|(_, span)| {
        let message = "the rules of wording know English only and were not applied";
        Flaw::new(message, span, "another language")
    });
    flaw.into_iter().collect()
}
