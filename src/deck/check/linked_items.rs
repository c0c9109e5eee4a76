//! The key of one item stands in the stem of another.

use std::collections::{HashMap, HashSet};

use super::outline::Sketch;
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

/// Words from which a key is more than a term: it is looked for in any stem. A term is looked for only in stems that also
/// have most of what its own stem is about.
const LEAST: usize = 4;
/// Words beyond which no key is looked for.
const MOST: usize = 12;
/// Most items with terms that begin alike.
const MOST_ALIKE: usize = 4;

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
    let terms = terms(items);
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
            .filter_map(|window| keys.get(window).copied())
            .filter(|other| *other != number);
        let linked = hits
            .next()
            .or_else(|| told(items, &terms, number, item))
            .and_then(|other| items.get(other));
        if let Some(linked) = linked {
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

/// Items whose key is a term, by the first word of it.
fn terms(items: &[Sketch]) -> HashMap<u32, Vec<usize>> {
    let mut terms: HashMap<u32, Vec<usize>> = HashMap::new();
    for (number, item) in items.iter().enumerate() {
        let is_term = (1..LEAST).contains(&item.answer_words.len()) && !item.answer.is_empty();
        if let Some(first) = item.answer_words.first().filter(|_| is_term) {
            let known = terms.entry(*first).or_default();
            // A term that many items have for a key is what the deck is about and gives none away.
            if known.len() < MOST_ALIKE {
                known.push(number);
            }
        }
    }
    terms
}

/// The item whose term stands in a stem together with most of what its own stem is about.
fn told(
    items: &[Sketch],
    terms: &HashMap<u32, Vec<usize>>,
    number: usize,
    item: &Sketch,
) -> Option<usize> {
    let has = |word: &u32| item.stem.binary_search(word).is_ok();
    item.stem_words.iter().enumerate().find_map(|(at, word)| {
        terms.get(word)?.iter().copied().find(|other| {
            let Some(linked) = items.get(*other).filter(|_| *other != number) else {
                return false;
            };
            let term = item.stem_words.get(at..at + linked.answer_words.len());
            let about: Vec<&u32> = linked
                .stem
                .iter()
                .filter(|word| !linked.answer.contains(word))
                .collect();
            let shared = about.iter().filter(|word| has(word)).count();
            term == Some(linked.answer_words.as_slice())
                && !linked
                    .offered
                    .iter()
                    .any(|word| !linked.answer.contains(word) && has(word))
                && shared >= 2
                && 2 * shared >= about.len()
        })
    })
}
