//! Steps to be put in order. Right means the whole sequence.

use super::{Line, Pose, Standing, Verdict, letter};
use crate::chance::Chance;
use crate::deck::model::Step;

/// An order that is not the right one, since that would give the answer away to whoever hands in what is shown.
pub(super) fn mixed(len: usize, chance: &mut Chance) -> Vec<usize> {
    let mut order = chance.order(len);
    if len > 1 && order.is_sorted() {
        order.rotate_left(1);
    }
    order
}

pub(super) fn texts(steps: &[Step], pose: &Pose) -> Vec<String> {
    pose.order
        .iter()
        .filter_map(|&index| steps.get(index))
        .map(|step| step.text.clone())
        .collect()
}

pub(super) fn mark(steps: &[Step], pose: &Pose, places: &[usize]) -> Verdict {
    // The deck holds the steps in the right order, so index n belongs in position n.
    let given: Vec<usize> = places
        .iter()
        .filter_map(|&place| pose.order.get(place).copied())
        .collect();
    let mut key = Vec::new();
    let mut lines = Vec::new();
    for (index, step) in steps.iter().enumerate() {
        let place = pose
            .order
            .iter()
            .position(|&shown| shown == index)
            .unwrap_or(index);
        let put = given
            .iter()
            .position(|&step| step == index)
            .unwrap_or(index);
        key.push(letter(place));
        lines.push(Line {
            label: letter(place),
            text: step.text.clone(),
            standing: if put == index {
                Standing::Hit
            } else {
                Standing::Wrong
            },
            given: (put != index).then(|| format!("you put this {}", ordinal(put))),
            why: step.why.clone(),
        });
    }
    Verdict {
        right: given.iter().copied().eq(0..steps.len()),
        key,
        logged: given.into_iter().map(letter).collect(),
        lines,
        beliefs: Vec::new(),
    }
}

fn ordinal(place: usize) -> String {
    const WORDS: [&str; 8] = [
        "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth",
    ];
    WORDS
        .get(place)
        .map_or_else(|| format!("in place {}", place + 1), ToString::to_string)
}
