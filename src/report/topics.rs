//! Topics that several decks have under one id: they are one topic, with the weight and title that come first.

use crate::deck::model::Deck;

/// A topic that a later deck gives another weight or title than the first deck that has it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Clash {
    /// Id of the deck of which weight and title count.
    pub first: String,
    /// Id of the deck of which they do not.
    pub other: String,
    /// Both in a sentence.
    pub told: String,
}

/// The topics on which some decks differ, in the order of the decks.
#[must_use]
pub fn clashes(decks: &[Deck]) -> Vec<Clash> {
    let mut clashes = Vec::new();
    for (place, deck) in decks.iter().enumerate() {
        for topic in &deck.topics {
            let before = decks.iter().take(place).find_map(|first| {
                let known = first.topics.iter().find(|known| known.id == topic.id)?;
                Some((first, known))
            });
            let Some((first, known)) = before else {
                continue;
            };
            #[expect(clippy::float_cmp, reason = "both are as written in a deck")]
            if known.weight == topic.weight && known.title == topic.title {
                continue;
            }
            clashes.push(Clash {
                first: first.id.clone(),
                other: deck.id.clone(),
                told: format!(
                    "topic {} is one topic in {} and {}: {} % \"{}\" counts, {} % \"{}\" does not",
                    topic.id,
                    first.id,
                    deck.id,
                    known.weight,
                    known.title,
                    topic.weight,
                    topic.title
                ),
            });
        }
    }
    clashes
}
