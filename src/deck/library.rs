//! All decks in use as one list of items, each with its topic.
//!
//! Items are numbered so that topics alternate; the schedule speaks of these
//! numbers, the log of [`ItemRef`]s.

use std::collections::BTreeMap;

use super::fingerprint;
use super::model::{Deck, Item};
use crate::answer::{ItemRef, PartNumber};

/// The decks in use.
#[derive(Clone, Debug, Default)]
pub struct Library {
    decks: Vec<Deck>,
    entries: Vec<Entry>,
    numbers: BTreeMap<ItemRef, usize>,
    topics: Vec<LibraryTopic>,
}

/// An item with its place in the library.
#[derive(Clone, Debug)]
pub struct Entry {
    /// Its name for good.
    pub reference: ItemRef,
    /// What it means, see [`fingerprint()`].
    pub fingerprint: String,
    /// Number of its topic in [`Library::topics`].
    pub topic: usize,
    deck: usize,
    item: usize,
}

/// A topic over all decks.
#[derive(Clone, Debug, PartialEq)]
pub struct LibraryTopic {
    /// Id, the same in every deck.
    pub id: String,
    /// Title, as the first deck has it.
    pub title: String,
    /// Per cent of the exam, as the first deck has it.
    pub weight: f64,
    /// How many items it has.
    pub items: usize,
}

impl Library {
    /// The library of these decks. Of two decks with one id the first is kept.
    #[must_use]
    pub fn new(decks: Vec<Deck>) -> Self {
        let mut library = Self::default();
        for deck in decks {
            if library.deck(&deck.id).is_none() {
                library.add(deck);
            }
        }
        library.interleave();
        library
    }

    /// Numbers the items so that every stretch of them holds each topic in proportion: whoever meets them by
    /// number meets the whole exam from the first day on, not one deck after the other.
    fn interleave(&mut self) {
        let mut met = vec![0_usize; self.topics.len()];
        let mut order: Vec<(u64, usize)> = Vec::with_capacity(self.entries.len());
        for (number, entry) in self.entries.iter().enumerate() {
            // The middle of the item's place in its topic, as a fraction in 2^32nds.
            let place = (2 * met[entry.topic] + 1) as u64;
            order.push((
                (place << 32) / (2 * self.topics[entry.topic].items) as u64,
                number,
            ));
            met[entry.topic] += 1;
        }
        order.sort_unstable();
        self.entries = order
            .iter()
            .map(|&(_, number)| self.entries[number].clone())
            .collect();
        let named = self.entries.iter().enumerate();
        self.numbers = named
            .map(|(number, entry)| (entry.reference.clone(), number))
            .collect();
    }

    fn add(&mut self, deck: Deck) {
        for topic in &deck.topics {
            if !self.topics.iter().any(|known| known.id == topic.id) {
                let (id, title) = (topic.id.clone(), topic.title.clone());
                self.topics.push(LibraryTopic {
                    id,
                    title,
                    weight: topic.weight,
                    items: 0,
                });
            }
        }
        for (index, item) in deck.items.iter().enumerate() {
            // The reader admits no item of an unknown topic.
            let Some(topic) = self.topics.iter().position(|topic| topic.id == item.topic) else {
                continue;
            };
            self.topics[topic].items += 1;
            let reference = ItemRef::new(&deck.id, &item.id);
            let fingerprint = fingerprint(item);
            self.entries.push(Entry {
                reference,
                fingerprint,
                topic,
                deck: self.decks.len(),
                item: index,
            });
        }
        self.decks.push(deck);
    }

    /// Per cent of the exam that topics with items stand for; may exceed 100 if decks disagree with each other.
    #[must_use]
    pub fn covered(&self) -> f64 {
        self.topics
            .iter()
            .filter(|topic| topic.items > 0)
            .map(|topic| topic.weight)
            .sum()
    }

    /// All items by number.
    #[must_use]
    pub fn entries(&self) -> &[Entry] {
        &self.entries
    }

    /// The text of an item. `number` is one of this library's.
    #[must_use]
    pub fn item(&self, number: usize) -> Option<&Item> {
        let entry = self.entries.get(number)?;
        self.decks.get(entry.deck)?.items.get(entry.item)
    }

    /// What is asked of an item: itself, or this part of it if it is a case.
    #[must_use]
    pub fn asked(&self, number: usize, part: Option<PartNumber>) -> Option<&Item> {
        let item = self.item(number)?;
        part.map_or(Some(item), |part| {
            item.parts().get(part.index()).map(|part| &part.item)
        })
    }

    /// The deck of an item.
    #[must_use]
    pub fn deck_of(&self, number: usize) -> Option<&Deck> {
        self.decks.get(self.entries.get(number)?.deck)
    }

    /// The number of the item with this name.
    #[must_use]
    pub fn number(&self, reference: &ItemRef) -> Option<usize> {
        self.numbers.get(reference).copied()
    }

    /// What an item, or a part of it, rests on, in full, one line a source.
    #[must_use]
    pub fn citations(&self, number: usize, part: Option<PartNumber>) -> Vec<String> {
        let (Some(item), Some(deck)) = (self.asked(number, part), self.deck_of(number)) else {
            return Vec::new();
        };
        let cited = deck.sources.iter().filter_map(|source| {
            let mut places = item
                .sources
                .iter()
                .filter(|cited| cited.source == source.id)
                .peekable();
            places.peek()?;
            let places: Vec<&str> = places
                .map(|cited| cited.place.as_str())
                .filter(|place| !place.is_empty())
                .collect();
            let cite = source.cite.trim_end_matches('.');
            let comma = if places.is_empty() { "" } else { ", " };
            Some(format!("{cite}{comma}{}.", places.join("; ")))
        });
        cited.collect()
    }

    /// The sentences of these beliefs of the item's deck.
    #[must_use]
    pub fn beliefs(&self, number: usize, ids: &[String]) -> Vec<&str> {
        let beliefs = self.deck_of(number).map_or(&[][..], |deck| &deck.beliefs);
        beliefs
            .iter()
            .filter(|belief| ids.contains(&belief.id))
            .map(|belief| belief.text.as_str())
            .collect()
    }

    /// All decks in order.
    #[must_use]
    pub fn decks(&self) -> &[Deck] {
        &self.decks
    }

    /// The deck with this id.
    #[must_use]
    pub fn deck(&self, id: &str) -> Option<&Deck> {
        self.decks.iter().find(|deck| deck.id == id)
    }

    /// All topics in the order they were first met.
    #[must_use]
    pub fn topics(&self) -> &[LibraryTopic] {
        &self.topics
    }
}
