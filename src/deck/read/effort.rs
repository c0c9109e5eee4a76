//! How much is tried of computed numbers, and with which draws.
//!
//! Where an item has few draws all of them are tried; otherwise the corners (each value at one of its ends, every row) and a
//! fixed sample, smaller in a deck of many computed numbers. The same item of the same deck is always tried with the same draws.

use super::Reader;
use crate::chance::Chance;
use crate::deck::yaml::Node;
use crate::diagnostic::{Diagnostic, Severity};
use crate::source::Span;

/// How much is tried.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(in crate::deck) enum Trial {
    #[default]
    /// Thousands of draws: when a deck is checked or added.
    Thorough,
    /// A few dozen: at each start, for decks that were checked before.
    Brief,
}

/// Draws of a sample: of an item tried thoroughly, of one in a deck of very many, of one tried briefly.
pub(super) const MOST_DRAWS: usize = 3_000;
const FEWEST_DRAWS: usize = 300;
const BRIEF_DRAWS: usize = 24;

/// Evaluations of one deck's expressions, so that no deck takes minutes: enough for a hundred items of the usual size. With more
/// of them each is tried with fewer draws, and once nothing is left the remaining ones are tried briefly.
const MOST_STEPS: usize = 3_000_000;

/// The stream of chance that samples come from; 0 shuffles, 1 draws.
const STREAM: u64 = 2;

/// How much trying a deck's computed numbers may still take.
pub(super) struct Effort {
    trial: Trial,
    steps_left: usize,
    /// Computed numbers that are still to be read.
    items_left: usize,
    /// Those for which no steps were left: where the first one is asked and its item, and how many there are.
    brief: Option<(Span, Option<String>, usize)>,
}

impl Effort {
    pub(super) fn of(trial: Trial, tree: &Node<'_>) -> Self {
        let is_computed =
            |node: &&Node<'_>| node.get("kind").and_then(Node::text) == Some("numeric");
        let items = listed(tree, "items");
        let parts = items.iter().flat_map(|item| listed(item, "parts"));
        Self {
            trial,
            steps_left: MOST_STEPS,
            items_left: items.iter().chain(parts).filter(is_computed).count(),
            brief: None,
        }
    }

    /// Notes that a computed number is read, whether it will be tried or not.
    pub(super) const fn begin(&mut self) {
        self.items_left = self.items_left.saturating_sub(1);
    }

    /// Draws for an item each of whose draws takes these steps; `None` if it is to be tried briefly.
    pub(super) fn draws(&self, steps: usize) -> Option<usize> {
        if self.trial == Trial::Brief || self.steps_left == 0 {
            return None;
        }
        let share = self.steps_left / (self.items_left + 1);
        Some((share / steps).clamp(FEWEST_DRAWS, MOST_DRAWS))
    }

    pub(super) const fn spend(&mut self, steps: usize) {
        self.steps_left = self.steps_left.saturating_sub(steps);
    }

    /// Notes that nothing was left for an item; it is no matter if all are tried briefly.
    pub(super) fn note_brief(&mut self, span: Span, item: Option<&str>) {
        if self.trial == Trial::Thorough {
            let first = || (span, item.map(str::to_owned), 0);
            self.brief.get_or_insert_with(first).2 += 1;
        }
    }
}

impl Reader<'_> {
    /// Says once that the deck has more computed numbers than could be tried.
    pub(super) fn tried_briefly(&mut self) {
        let Some((span, item, count)) = self.effort.brief.take() else {
            return;
        };
        let message = match count {
            1 => "this computed number was tried with a few draws only".to_owned(),
            _ => format!(
                "this and {} more computed numbers were tried with a few draws only",
                count - 1
            ),
        };
        let mut diagnostic = Diagnostic::new(
            Severity::Warning,
            "deck::tried-briefly",
            message,
            span,
            "from here on",
        )
        .why("a deck is checked in seconds; with very many computed numbers that is not enough for all")
        .help("split the deck; topics of one id stay one topic");
        diagnostic.item = item;
        self.found.push(diagnostic);
    }
}

fn listed<'t, 's>(node: &'t Node<'s>, key: &str) -> &'t [Node<'s>] {
    node.get(key).map(Node::nodes).unwrap_or_default()
}

/// The draws to try.
pub(super) struct Tries {
    /// Each with whether it belongs to the sample that shares are counted in.
    pub(super) picks: Vec<(Vec<usize>, bool)>,
    /// Whether there are no others.
    pub(super) are_all: bool,
}

/// The draws to try of values with so many choices each; `draws` is the size of the sample, if it is to be a thorough one.
pub(super) fn tries(counts: &[usize], draws: Option<usize>) -> Tries {
    let all = product(counts);
    let size = draws.unwrap_or(BRIEF_DRAWS);
    if all <= size {
        let picks = (0..all).map(|number| (mixed(number, counts), true));
        return Tries {
            picks: picks.collect(),
            are_all: true,
        };
    }
    let mut chance = Chance::new(0, STREAM);
    let sample = (0..size).map(|_| {
        let picks = counts.iter().map(|&count| chance.below(count)).collect();
        (picks, true)
    });
    let corners = corners(counts, draws).into_iter();
    Tries {
        picks: corners.map(|picks| (picks, false)).chain(sample).collect(),
        are_all: false,
    }
}

/// Draws with each value at one of its ends: all of them if they are few, otherwise some, and thorough ones with each value
/// once alone at either end.
fn corners(counts: &[usize], draws: Option<usize>) -> Vec<Vec<usize>> {
    let most = draws.map_or(16, |draws| draws / 6);
    let ends: Vec<usize> = counts.iter().map(|&count| count.min(2)).collect();
    let all = product(&ends);
    let mut sides: Vec<Vec<usize>> = (0..all.min(most))
        .map(|number| mixed(number, &ends))
        .collect();
    if all > most && draws.is_some() {
        for alone in 0..counts.len() {
            for side in [0, 1] {
                let others = ends.iter().enumerate();
                let sides_of = others.map(|(name, end)| {
                    usize::from((name == alone) != (side == 1)).min(end.saturating_sub(1))
                });
                sides.push(sides_of.collect());
            }
        }
    }
    let place = |(&side, &count): (&usize, &usize)| {
        if side == 0 {
            0
        } else {
            count.saturating_sub(1)
        }
    };
    let placed = sides
        .iter()
        .map(|sides| sides.iter().zip(counts).map(place).collect());
    placed.collect()
}

fn product(counts: &[usize]) -> usize {
    let counts = counts.iter();
    counts.fold(1, |product, &count| product.saturating_mul(count))
}

/// The digits of a number whose places have these bases.
fn mixed(mut number: usize, bases: &[usize]) -> Vec<usize> {
    bases
        .iter()
        .map(|&base| {
            let digit = number % base.max(1);
            number /= base.max(1);
            digit
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn few_draws_are_all_tried_and_many_at_their_corners() {
        assert_eq!(tries(&[2, 3], Some(MOST_DRAWS)).picks.len(), 6);
        let many = tries(&[1000, 1000, 4], Some(MOST_DRAWS)).picks;
        assert_eq!(many.len(), 8 + MOST_DRAWS);
        assert!(many.contains(&(vec![999, 0, 3], false)));
        let mut different = tries(&[5, 4, 3], Some(MOST_DRAWS)).picks;
        different.sort();
        different.dedup();
        assert_eq!(different.len(), 60);
    }

    #[test]
    fn every_value_is_tried_at_either_end_however_many_there_are() {
        let many = tries(&[9; 12], Some(MOST_DRAWS)).picks;
        for alone in 0..12 {
            for (own, others) in [(8, 0), (0, 8)] {
                let mut wanted = vec![others; 12];
                wanted[alone] = own;
                assert!(many.contains(&(wanted, false)), "{alone} at {own}");
            }
        }
        assert!(tries(&[9; 12], None).picks.len() < 50);
    }

    #[test]
    fn draws_are_divided_evenly() {
        let mut effort = Effort {
            trial: Trial::Thorough,
            steps_left: MOST_STEPS,
            items_left: 400,
            brief: None,
        };
        for _ in 0..400 {
            effort.begin();
            assert_eq!(effort.draws(10), Some(750));
            effort.steps_left -= 7_500;
        }
        effort.items_left = 1_000_000;
        effort.steps_left = 1;
        assert_eq!(effort.draws(10), Some(FEWEST_DRAWS));
        effort.steps_left = 0;
        assert_eq!(effort.draws(10), None);
    }
}
