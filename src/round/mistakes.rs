//! What a candidate has wrong and has not put right: confident errors and mistaken beliefs.
//!
//! A mistake stands until the same item, or the same part of a case, is answered right on a later study day: a
//! right answer minutes after the reveal proves nothing.

use std::collections::BTreeMap;

use super::Record;
use crate::answer::{Answer, Confidence};
use crate::deck::model::Item;
use crate::kinds;
use crate::time::Day;

/// The mistakes that stand, by item and number of its part (0 for an item without parts).
#[derive(Clone, Debug, Default)]
pub(super) struct Mistakes(BTreeMap<(usize, u8), Mistake>);

#[derive(Clone, Debug)]
struct Mistake {
    /// The study day of the latest wrong answer.
    day: Day,
    /// Whether one of the wrong answers was certain.
    certain: bool,
    /// Ids of the beliefs that the wrong answers betrayed.
    beliefs: Vec<String>,
}

/// An item that was answered wrong and certain and has not been put right.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ConfidentError {
    /// Number of the item in the library.
    pub item: usize,
    /// The study day of its latest wrong answer.
    pub day: Day,
    /// Whether a wrong answer to it could harm a patient.
    pub safety: bool,
}

/// A mistaken belief that wrong answers betrayed and that has not been put right.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HeldBelief {
    /// Id of the deck that states it.
    pub deck: String,
    /// Its id in that deck.
    pub id: String,
    /// What is believed, as the deck says it.
    pub text: String,
    /// Numbers of the items that betrayed it.
    pub items: Vec<usize>,
}

impl Mistakes {
    /// Takes in an answer to `asked`, the item with this number or a part of it.
    pub(super) fn note(&mut self, number: usize, asked: &Item, answer: &Answer, day: Day) {
        let place = (number, answer.part.map_or(0, |part| part.number));
        if answer.right {
            if self.0.get(&place).is_some_and(|mistake| mistake.day < day) {
                self.0.remove(&place);
            }
            return;
        }
        let mistake = self.0.entry(place).or_insert(Mistake {
            day,
            certain: false,
            beliefs: Vec::new(),
        });
        mistake.day = day;
        mistake.certain |= answer.confidence == Confidence::Certain;
        for belief in kinds::betrayed(asked, answer) {
            if !mistake.beliefs.contains(&belief) {
                mistake.beliefs.push(belief);
            }
        }
    }

    /// Forgets an item whose key has changed: its mistakes were made on another question.
    pub(super) fn forget(&mut self, number: usize) {
        self.0.retain(|(item, _), _| *item != number);
    }
}

impl Record {
    /// Items answered wrong and certain and not put right since: safety items first, then the latest.
    #[must_use]
    pub fn confident_errors(&self) -> Vec<ConfidentError> {
        let mut errors: Vec<ConfidentError> = Vec::new();
        for (&(item, _), mistake) in &self.mistakes.0 {
            if !mistake.certain {
                continue;
            }
            let safety = self.library.item(item).is_some_and(Item::is_safety);
            match errors.last_mut().filter(|error| error.item == item) {
                Some(error) => error.day = error.day.max(mistake.day),
                None => errors.push(ConfidentError {
                    item,
                    day: mistake.day,
                    safety,
                }),
            }
        }
        errors.sort_by_key(|error| (!error.safety, std::cmp::Reverse(error.day), error.item));
        errors
    }

    /// Mistaken beliefs that wrong answers betrayed and that were not put right since: those behind most items first.
    #[must_use]
    pub fn mistaken_beliefs(&self) -> Vec<HeldBelief> {
        let mut held: BTreeMap<(&str, &str), Vec<usize>> = BTreeMap::new();
        for (&(item, _), mistake) in &self.mistakes.0 {
            let Some(deck) = self.library.deck_of(item) else {
                continue;
            };
            for belief in &mistake.beliefs {
                let items = held.entry((&deck.id, belief)).or_default();
                if items.last() != Some(&item) {
                    items.push(item);
                }
            }
        }
        let mut beliefs: Vec<HeldBelief> = held
            .into_iter()
            .filter_map(|((deck, id), items)| {
                let stated = self.library.deck(deck)?.beliefs.iter();
                let text = stated.clone().find(|belief| belief.id == id)?.text.clone();
                Some(HeldBelief {
                    deck: deck.to_owned(),
                    id: id.to_owned(),
                    text,
                    items,
                })
            })
            .collect();
        // A stable sort: otherwise by deck and id.
        beliefs.sort_by_key(|belief| std::cmp::Reverse(belief.items.len()));
        beliefs
    }
}
