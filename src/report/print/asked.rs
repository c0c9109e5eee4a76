//! The items of a form in the order asked, each with its number, and a case with its parts.

use super::form::Form;
use super::page::{Numbered, Piece};
use crate::deck::model::{Deck, Item, Part};
use crate::kinds::Pose;

/// An item as a form asks it.
pub(super) struct Asked<'a> {
    /// From 1.
    pub(super) number: usize,
    pub(super) item: &'a Item,
    pub(super) pose: &'a Pose,
    parts: &'a [Pose],
}

impl<'a> Asked<'a> {
    /// The parts, none if it is no case: number, what came to light before it, the question.
    pub(super) fn parts(&self) -> impl Iterator<Item = (String, &'a Part, &'a Pose)> {
        let number = self.number;
        let parts = self.item.parts().iter().zip(self.parts).enumerate();
        parts.map(move |(place, (part, pose))| (format!("{number}.{}", place + 1), part, pose))
    }

    /// The parts as pieces: what has come to light, then what `pieces` makes of the question.
    pub(super) fn part_pieces(
        &self,
        pieces: impl Fn(&Item, &Pose) -> Vec<Piece>,
    ) -> impl Iterator<Item = Piece> {
        self.parts().map(move |(number, part, pose)| {
            let finding = part.finding.clone().map(Piece::Text);
            Piece::Part(Numbered {
                number,
                pieces: finding
                    .into_iter()
                    .chain(pieces(&part.item, pose))
                    .collect(),
            })
        })
    }
}

/// The items of `form` in the order asked.
pub(super) fn asked<'a>(deck: &'a Deck, form: &'a Form) -> impl Iterator<Item = Asked<'a>> {
    let entries = form
        .entries
        .iter()
        .filter_map(|entry| Some((entry, deck.items.get(entry.item)?)));
    entries.enumerate().map(|(place, (entry, item))| Asked {
        number: place + 1,
        item,
        pose: &entry.pose,
        parts: &entry.parts,
    })
}
