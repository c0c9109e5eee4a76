//! Pointing to a place of a diagram, by its letter, by walking, or by a click.
//!
//! There is no free cursor: a candidate chooses among named places, so that knowledge is tried and not aim.

use std::sync::Arc;

use super::entry::Pressed;
use super::event::Key;
use crate::figure::model::Figure;
use crate::figure::places::{self, Direction};

/// A place being chosen.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Pointing {
    figure: Arc<Figure>,
    chosen: Option<usize>,
}

impl Pointing {
    pub(super) const fn new(figure: Arc<Figure>) -> Self {
        Self {
            figure,
            chosen: None,
        }
    }

    /// The place pointed to.
    pub(super) const fn chosen(&self) -> Option<usize> {
        self.chosen
    }

    /// How many places there are.
    pub(super) fn places(&self) -> usize {
        self.figure.places.len()
    }

    /// Points to a place.
    pub(super) fn point(&mut self, place: usize) {
        if place < self.places() {
            self.chosen = Some(place);
        }
    }

    /// Takes a key. Arrows go to the nearest place that way on a drawing, and up and down a list of words.
    pub(super) fn press(&mut self, key: Key, drawn: bool) -> Pressed {
        let next = match key {
            Key::Char(letter) => places::with_letter(&self.figure, letter),
            Key::Tab if drawn => self.following(true),
            Key::BackTab if drawn => self.following(false),
            Key::Tab => self.listed(true),
            Key::BackTab => self.listed(false),
            Key::Up | Key::Down if !drawn => self.listed(key == Key::Down),
            _ => match direction(key) {
                Some(direction) if drawn => match self.chosen {
                    // At the edge it stays where it is.
                    Some(from) => places::neighbour(&self.figure, from, direction).or(Some(from)),
                    None => self.following(matches!(direction, Direction::Right | Direction::Down)),
                },
                _ => return Pressed::Passed,
            },
        };
        match next {
            Some(place) => {
                self.chosen = Some(place);
                Pressed::Taken
            }
            None => Pressed::Passed,
        }
    }

    /// The next place as one reads the drawing.
    fn following(&self, forward: bool) -> Option<usize> {
        let order = places::reading_order(&self.figure);
        match self.chosen {
            Some(from) => places::following(&self.figure, from, forward),
            None if forward => order.first().copied(),
            None => order.last().copied(),
        }
    }

    /// The next place in the list of words, held at its ends.
    fn listed(&self, forward: bool) -> Option<usize> {
        let last = self.places().checked_sub(1)?;
        Some(match (self.chosen, forward) {
            (None, true) => 0,
            (None, false) => last,
            (Some(here), true) => last.min(here + 1),
            (Some(here), false) => here.saturating_sub(1),
        })
    }
}

const fn direction(key: Key) -> Option<Direction> {
    Some(match key {
        Key::Left => Direction::Left,
        Key::Right => Direction::Right,
        Key::Up => Direction::Up,
        Key::Down => Direction::Down,
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figure::base;

    fn pointing() -> Pointing {
        Pointing::new(Arc::new(base::named("mandible-lateral").unwrap().clone()))
    }

    fn after(keys: &[Key], drawn: bool) -> Option<usize> {
        let mut pointing = pointing();
        for key in keys {
            pointing.press(*key, drawn);
        }
        pointing.chosen()
    }

    #[test]
    fn letters_point_and_others_do_nothing() {
        assert_eq!(after(&[Key::Char('h')], true), Some(7));
        assert_eq!(after(&[Key::Char('H'), Key::Char('z')], true), Some(7));
        assert_eq!(after(&[Key::Char('q')], true), None);
    }

    #[test]
    fn arrows_go_to_the_nearest_place_and_stay_at_the_edge() {
        let figure = base::named("mandible-lateral").unwrap();
        let to_the_right = places::neighbour(figure, 7, Direction::Right);
        assert!(to_the_right.is_some());
        assert_eq!(after(&[Key::Char('h'), Key::Right], true), to_the_right);
        assert_eq!(after(&[Key::Char('h'), Key::Left], true), Some(7));
        let order = places::reading_order(figure);
        assert_eq!(after(&[Key::Down], true), order.first().copied());
        assert_eq!(after(&[Key::Up], true), order.last().copied());
        assert_eq!(after(&[Key::Tab, Key::Tab], true), order.get(1).copied());
        assert_eq!(
            after(&[Key::Tab, Key::Tab, Key::BackTab], true),
            order.first().copied()
        );
    }

    #[test]
    fn a_list_of_words_is_walked_up_and_down() {
        assert_eq!(after(&[Key::Down, Key::Down], false), Some(1));
        assert_eq!(after(&[Key::Up], false), Some(9));
        assert_eq!(after(&[Key::Down, Key::Up], false), Some(0));
        assert_eq!(after(&[Key::Down, Key::Right], false), Some(0));
    }
}
