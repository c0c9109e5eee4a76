//! Forms of a paper: the same items, each form with its own order of items and of options.

use crate::chance::Chance;
use crate::deck::model::Deck;
use crate::kinds::Pose;

/// Forms are lettered A to Z.
pub const FORMS_MAX: u8 = 26;

/// Seeds of poses lie below this; it fits every machine's `usize`.
const POSE_SEEDS: usize = 1 << 30;

/// One form of a paper.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Form {
    /// `A` to `Z`.
    pub letter: char,
    /// What the orders were drawn from, printed so that the form can be made again.
    pub seed: u64,
    /// The items in the order asked.
    pub entries: Vec<Entry>,
}

/// An item as one form puts it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entry {
    /// Index into the deck's items.
    pub item: usize,
    /// The order of its options. Every form asks the first wording, so that forms stay comparable.
    pub pose: Pose,
    /// The same for each of its parts, if it is a case. Parts keep their order: what has come to light by one says what was right
    /// before.
    pub parts: Vec<Pose>,
}

/// The first `count` forms (1 to [`FORMS_MAX`]; other counts are brought into that range) of a deck for `seed`. A form does not
/// depend on how many others are made.
#[must_use]
pub fn forms(deck: &Deck, seed: u64, count: u8) -> Vec<Form> {
    (0..count.clamp(1, FORMS_MAX))
        .map(|number| form(deck, seed, number))
        .collect()
}

fn form(deck: &Deck, seed: u64, number: u8) -> Form {
    // Stream 0 is a pose's own.
    let mut chance = Chance::new(seed, u64::from(number) + 1);
    let order = chance.order(deck.items.len());
    let entries = order
        .into_iter()
        .filter_map(|item| {
            let text = deck.items.get(item)?;
            let mut pose = |item| Pose::new(item, None, chance.below(POSE_SEEDS) as u64);
            Some(Entry {
                item,
                pose: pose(text),
                parts: text.parts().iter().map(|part| pose(&part.item)).collect(),
            })
        })
        .collect();
    Form {
        letter: char::from(b'A' + number),
        seed,
        entries,
    }
}
