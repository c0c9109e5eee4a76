//! Asking about places: their letters, the way from one to the next, and how far off a choice is.
//!
//! A candidate chooses among named places and never places a free cursor: knowledge is tried, not aim.

use super::model::{Figure, Place};
use super::words;

/// Beyond this distance a miss is told without millimetres.
const NEAR_MM: f64 = 25.0;

/// A part of a miss is told if it is more than this.
const SAID_MM: f64 = 2.0;

/// A direction on the page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Direction {
    /// To the left.
    Left,
    /// To the right.
    Right,
    /// Upward.
    Up,
    /// Downward.
    Down,
}

/// The letter of a place: a for the first. There are at most twelve places; beyond z it is a question mark.
#[must_use]
pub fn letter(place: usize) -> char {
    u8::try_from(place)
        .ok()
        .filter(|&index| index < 26)
        .map_or('?', |index| char::from(b'a' + index))
}

/// Every place with its letter in the words that tell where it lies: "a: a dashed line across; b: the upper edge".
#[must_use]
pub fn described(figure: &Figure) -> String {
    let places = figure.places.iter().enumerate();
    let told = places.map(|(index, place)| format!("{}: {}", letter(index), place.says));
    told.collect::<Vec<String>>().join("; ")
}

/// The place with this letter, large or small.
#[must_use]
pub fn with_letter(figure: &Figure, wanted: char) -> Option<usize> {
    let wanted = wanted.to_ascii_lowercase();
    (0..figure.places.len().min(26)).find(|&place| letter(place) == wanted)
}

/// Places from top to bottom and, at one height, from left to right.
#[must_use]
pub fn reading_order(figure: &Figure) -> Vec<usize> {
    let mut order: Vec<usize> = (0..figure.places.len()).collect();
    let at = |place: usize| figure.places[place].at;
    order.sort_by(|&a, &b| {
        let (a, b) = (at(a), at(b));
        b.y.total_cmp(&a.y).then(a.x.total_cmp(&b.x))
    });
    order
}

/// The place after or before one in reading order, round and round. `None` only if there are no places.
#[must_use]
pub fn following(figure: &Figure, from: usize, forward: bool) -> Option<usize> {
    let order = reading_order(figure);
    let here = order.iter().position(|&place| place == from);
    let next = match (here, forward) {
        (None, _) => 0,
        (Some(here), true) => (here + 1) % order.len(),
        (Some(here), false) => (here + order.len() - 1) % order.len(),
    };
    order.get(next).copied()
}

/// The nearest place in a direction: least distance along it plus twice the distance across it, among those at
/// most 60° off it.
#[must_use]
pub fn neighbour(figure: &Figure, from: usize, direction: Direction) -> Option<usize> {
    let here = figure.places.get(from)?.at;
    let reach = |place: &Place| {
        let (dx, dy) = (place.at.x - here.x, place.at.y - here.y);
        let (along, across) = match direction {
            Direction::Left => (-dx, dy.abs()),
            Direction::Right => (dx, dy.abs()),
            Direction::Up => (dy, dx.abs()),
            Direction::Down => (-dy, dx.abs()),
        };
        let tan_60 = 3.0_f64.sqrt();
        (along > 0.0 && across <= along * tan_60).then_some(along + 2.0 * across)
    };
    figure
        .places
        .iter()
        .enumerate()
        .filter(|&(place, _)| place != from)
        .filter_map(|(place, spot)| Some((reach(spot)?, place)))
        .min_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, place)| place)
}

/// How a wrong choice lies to the right one.
#[derive(Clone, Debug, PartialEq)]
pub struct Miss {
    /// Distance between the two, mm.
    pub apart_mm: f64,
    /// The larger part first: how far (mm) and the figure's word for the direction. Parts of 2 mm or less are
    /// left out.
    pub parts: Vec<(f64, String)>,
}

/// How the place chosen lies to the key. `None` if there is no such place.
#[must_use]
pub fn miss(figure: &Figure, chosen: usize, key: usize) -> Option<Miss> {
    let (from, to) = (figure.places.get(key)?.at, figure.places.get(chosen)?.at);
    let (dx, dy) = (to.x - from.x, to.y - from.y);
    let toward = &figure.toward;
    let across = if dx < 0.0 {
        &toward.left
    } else {
        &toward.right
    };
    let along = if dy < 0.0 { &toward.down } else { &toward.up };
    let mut parts = vec![(dx.abs(), across.clone()), (dy.abs(), along.clone())];
    parts.sort_by(|a, b| b.0.total_cmp(&a.0));
    // A hair of slack, so that 2 mm stays 2 mm after subtraction.
    parts.retain(|(mm, _)| *mm > SAID_MM + 1e-9);
    Some(Miss {
        apart_mm: from.distance(to),
        parts,
    })
}

/// Of several right places, the one nearest to the choice.
#[must_use]
pub fn nearest_key(figure: &Figure, chosen: usize, keys: &[usize]) -> Option<usize> {
    let from = figure.places.get(chosen)?.at;
    let apart = |key: usize| figure.places.get(key).map(|place| place.at.distance(from));
    keys.iter()
        .filter_map(|&key| Some((apart(key)?, key)))
        .min_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, key)| key)
}

impl Miss {
    /// In words that stand before the name of the key: "20 mm behind", "20 mm distal and 5 mm apical of", beyond
    /// 25 mm "behind and above".
    #[must_use]
    pub fn words(&self) -> String {
        let near = self.apart_mm <= NEAR_MM;
        let parts: Vec<String> = self
            .parts
            .iter()
            .map(|(mm, word)| {
                if near {
                    format!("{mm:.0} mm {word}")
                } else {
                    word.clone()
                }
            })
            .collect();
        match self.parts.last() {
            None => "right beside".to_owned(),
            Some((_, last)) if words::needs_of(last) => format!("{} of", parts.join(" and ")),
            Some(_) => parts.join(" and "),
        }
    }
}

/// What a candidate is told after a wrong choice: "the inferior alveolar canal, 20 mm distal and 5 mm apical of the
/// mental foramen".
#[must_use]
pub fn told(figure: &Figure, chosen: usize, key: usize) -> Option<String> {
    let miss = miss(figure, chosen, key)?.words();
    let name = |place: usize| words::with_article(&figure.places[place].name);
    Some(format!("{}, {miss} {}", name(chosen), name(key)))
}
