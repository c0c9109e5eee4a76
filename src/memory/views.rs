//! What screens and reports read from the engine. Nothing here changes anything.

use super::candidate::{chance_right, recall_behind};
use super::engine::Engine;
use super::forecast::{Correction, Forecast, TOO_EARLY};
use super::pick::Standing;
use super::sm2::Sm2;
use crate::time::Day;

/// What a day holds by SM-2's due dates.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Workload {
    /// Items due on the day itself.
    pub due: usize,
    /// Items due before.
    pub overdue: usize,
    /// Items never answered.
    pub unseen: usize,
    /// Seconds that the due and overdue items will take.
    pub due_seconds: f64,
}

/// A topic with what is expected of it in an exam.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct TopicView {
    /// Share of the exam.
    pub weight: f64,
    /// Expected share of the topic that is known, 0 to 1.
    pub recall: f64,
    /// Expected share of the topic's marks, 0 to 1.
    pub score: f64,
    /// Marks at stake: share of all marks that the topic is expected to lose.
    pub at_stake: f64,
    /// Its items.
    pub items: usize,
    /// Items of it never answered.
    pub unseen: usize,
}

impl Engine {
    /// The day on which SM-2 wants the item again; `None` if unseen.
    #[must_use]
    pub fn next_due(&self, item: usize) -> Option<Day> {
        self.slots.get(item)?.sm2.map(Sm2::due)
    }

    /// What `day` holds by due dates.
    #[must_use]
    pub fn workload(&self, day: Day) -> Workload {
        let mut load = Workload::default();
        for (item, slot) in self.slots.iter().enumerate() {
            match Standing::on(day, slot.sm2) {
                Standing::Unseen => load.unseen += 1,
                Standing::Later { .. } => continue,
                Standing::Due => load.due += 1,
                Standing::Overdue { .. } => load.overdue += 1,
            }
            if slot.sm2.is_some() {
                load.due_seconds += self.seconds_expected(item);
            }
        }
        load
    }

    /// Items that must be asked again on `day`: those answered below quality 4; with an exam ahead, where others
    /// come back only if they gain enough, confident errors and safety items.
    #[must_use]
    pub fn reasks_waiting(&self, day: Day) -> usize {
        self.must_again(day).len()
    }

    /// Seconds that asking the item is expected to take.
    #[must_use]
    pub fn seconds_expected(&self, item: usize) -> f64 {
        let Some(slot) = self.slots.get(item) else {
            return self.pace.expected_seconds(0.5);
        };
        let recall = match slot.last {
            Some(seen) if seen.right => 0.85,
            Some(_) => 0.5,
            None => self.candidate.prior(item),
        };
        self.pace
            .expected_seconds(chance_right(recall, slot.facts.chance))
    }

    /// Estimated chance that the item is recalled at `now`, days since 1970.
    #[must_use]
    pub fn recall(&self, item: usize, now: f64) -> f64 {
        self.candidate.trace(item).map_or_else(
            || self.candidate.prior(item),
            |trace| {
                self.candidate
                    .learner()
                    .mean_recall(trace, trace.delay(now))
            },
        )
    }

    /// Chance of a right answer to every item at `at`, days since 1970, without further study.
    #[must_use]
    pub fn chances(&self, at: f64) -> Vec<f64> {
        self.corrected_chances(&Correction::learn(self.candidate.ahead()), at)
    }

    /// The score expected of an exam at `at`, days since 1970, without further study; `None`
    /// while it is too early to say.
    #[must_use]
    pub fn forecast(&self, at: f64) -> Option<Forecast> {
        if self.candidate.ahead().len() < TOO_EARLY {
            return None;
        }
        let correction = Correction::learn(self.candidate.ahead());
        let chances = self.corrected_chances(&correction, at);
        Some(correction.score(self.weights().zip(chances)))
    }

    /// Every topic with what is expected of it at `at`, days since 1970, by topic number.
    #[must_use]
    pub fn topics(&self, at: f64) -> Vec<TopicView> {
        let count = self.slots.iter().map(|slot| slot.facts.topic + 1).max();
        let mut topics = vec![TopicView::default(); count.unwrap_or(0)];
        for (slot, chance) in self.slots.iter().zip(self.chances(at)) {
            let topic = &mut topics[slot.facts.topic];
            let weight = slot.facts.weight;
            topic.weight += weight;
            topic.at_stake += weight * (1.0 - chance);
            topic.recall += weight * recall_behind(chance, slot.facts.chance);
            topic.items += 1;
            topic.unseen += usize::from(slot.sm2.is_none());
        }
        for topic in &mut topics {
            if topic.weight > 0.0 {
                topic.score = 1.0 - topic.at_stake / topic.weight;
                topic.recall /= topic.weight;
            }
        }
        topics
    }

    pub(super) fn corrected_chances(&self, correction: &Correction, at: f64) -> Vec<f64> {
        (0..self.slots.len())
            .map(|item| match self.candidate.basis(item, at) {
                Some(basis) => correction.apply(&basis),
                None => chance_right(self.candidate.prior(item), self.slots[item].facts.chance),
            })
            .collect()
    }

    pub(super) fn weights(&self) -> impl Iterator<Item = f64> {
        self.slots.iter().map(|slot| slot.facts.weight)
    }
}
