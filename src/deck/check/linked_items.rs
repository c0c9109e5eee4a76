//! The key of one item stands in the stem of another.

use std::collections::{HashMap, HashSet};

use super::{Find, Flaw, Rule, Whole};
use crate::diagnostic::Severity;

pub(super) const RULE: Rule = Rule {
    code: "deck::linked-items",
    severity: Severity::Advice,
    why: "one item then answers the other, or whoever misses the first misses both \
          (Haladyna, Downing & Rodriguez 2002, guideline 4: keep items independent)",
    help: "ask the second item without the words of the first one's key",
    wrong: "Which sign tells of an oroantral communication?\n* Air bubbles in the fresh socket\n- Pain on biting\n- A loose neighbour\n\n\
            After an upper molar is out, air bubbles in the fresh socket are seen. What is done?\n* A figure-of-eight suture\n- A probe is passed\n- Nothing",
    right: "Which sign tells of an oroantral communication?\n* Air bubbles in the fresh socket\n- Pain on biting\n- A loose neighbour\n\n\
            An opening of 3 mm into the antrum is seen. What is done?\n* A figure-of-eight suture\n- A probe is passed\n- Nothing",
    find: Find::EnglishItems(find),
};

/// Words from which a key is more than a term.
const LEAST: usize = 4;
/// Words beyond which no key is looked for.
const MOST: usize = 12;

fn find(whole: &Whole<'_>) -> Vec<Flaw> {
    let items = &whole.outline.items;
    let mut keys: HashMap<&[u32], usize> = HashMap::new();
    let mut starts: HashSet<&[u32]> = HashSet::new();
    for (number, item) in items.iter().enumerate() {
        let key = item.answer_words.as_slice();
        if (LEAST..=MOST).contains(&key.len()) {
            keys.entry(key).or_insert(number);
            starts.extend(key.get(..LEAST));
        }
    }
    let mut flaws = Vec::new();
    for (number, item) in items.iter().enumerate() {
        // Few places start like a key; only there is every length tried.
        let words = item.stem_words.as_slice();
        let places = words.windows(LEAST).enumerate();
        let places = places.filter(|(_, window)| starts.contains(window));
        let windows = places.flat_map(|(at, _)| {
            (LEAST..=MOST).filter_map(move |length| words.get(at..at + length))
        });
        let mut hits = windows
            .filter_map(|window| keys.get(window))
            .filter(|other| **other != number);
        if let Some(linked) = hits.next().and_then(|other| items.get(*other)) {
            let message = format!("the stem holds the key of `{}`", linked.id);
            flaws.push(
                Flaw::new(message, item.span, "answers another item")
                    .related(linked.span, "this one")
                    .of_item(number),
            );
        }
    }
    flaws
}
