//! What screens and reports read from the engine. Nothing here changes anything.

use super::candidate::chance_right;
use super::engine::Engine;
use super::forecast::{Correction, Forecast, TOO_EARLY};
use super::pick::Standing;
use super::sm2::Sm2;
use super::study::{Seen, StudyPlan};
use crate::time::{Day, Moment};

/// An item as screens show it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ItemView {
    /// Where it stands on the day asked for.
    pub standing: Standing,
    /// Its SM-2 state; `None` if unseen.
    pub sm2: Option<Sm2>,
    /// Answers so far, repeats included.
    pub answers: u32,
    /// Wrong ones among them.
    pub misses: u32,
    /// The last answer.
    pub last: Option<Seen>,
    /// Whether the candidate has set it aside.
    pub set_aside: bool,
}

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
    /// Expected share of the topic's marks, 0 to 1.
    pub score: f64,
    /// Marks at stake: share of all marks that the topic is expected to lose.
    pub at_stake: f64,
    /// Its items.
    pub items: usize,
    /// Items of it never answered.
    pub unseen: usize,
}

/// Where a plan leads if it is kept.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Outlook {
    /// The score it leads to.
    pub forecast: Forecast,
    /// Unseen items that the plan never gets to.
    pub never_met: usize,
    /// Days left when the last of the unseen items is met; `None` if there is none to meet.
    pub all_met: Option<usize>,
}

impl Engine {
    /// The item as screens show it on `day`; `None` if there is no such item.
    #[must_use]
    pub fn item(&self, item: usize, day: Day) -> Option<ItemView> {
        self.slots.get(item).map(|slot| ItemView {
            standing: Standing::on(day, slot.sm2),
            sm2: slot.sm2,
            answers: slot.answers,
            misses: slot.misses,
            last: slot.last,
            set_aside: slot.set_aside,
        })
    }

    /// The day on which SM-2 wants the item again; `None` if unseen.
    #[must_use]
    pub fn next_due(&self, item: usize) -> Option<Day> {
        self.slots.get(item)?.sm2.map(Sm2::due)
    }

    /// Items due or overdue on `day`, those set aside left out.
    #[must_use]
    pub fn due_count(&self, day: Day) -> usize {
        let load = self.workload(day);
        load.due + load.overdue
    }

    /// What `day` holds by due dates, items set aside left out.
    #[must_use]
    pub fn workload(&self, day: Day) -> Workload {
        let mut load = Workload::default();
        for (item, slot) in self.slots.iter().enumerate() {
            if slot.set_aside {
                continue;
            }
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
            topic.items += 1;
            topic.unseen += usize::from(slot.sm2.is_none());
        }
        for topic in &mut topics {
            if topic.weight > 0.0 {
                topic.score = 1.0 - topic.at_stake / topic.weight;
            }
        }
        topics
    }

    /// Where `plan` leads from `now` on if it is kept; `None` without an exam ahead or while it
    /// is too early to say. The plan in force stays as it is.
    #[must_use]
    pub fn outlook(&self, plan: &StudyPlan, now: Moment) -> Option<Outlook> {
        let exam = plan.exam?;
        self.forecast(exam.at_days)?;
        let today = if plan.rest.contains(now.day) {
            0.0
        } else {
            plan.seconds_a_day
        };
        let (kept, _) = self.clone().plan_ahead(plan, now, today)?;
        let correction = Correction::learn(self.candidate.ahead());
        let lean = self.lean(&correction, exam.at_days);
        let chances = kept.items.iter().zip(&self.slots).map(|(item, slot)| {
            let right = chance_right(item.recall, slot.facts.chance);
            super::forecast::shifted(right, lean)
        });
        let unseen = || {
            kept.items
                .iter()
                .zip(&self.slots)
                .filter(|(_, slot)| slot.sm2.is_none() && !slot.set_aside)
                .map(|(item, _)| item.choice.map(|choice| choice.left))
        };
        Some(Outlook {
            forecast: correction.score(self.weights().zip(chances)),
            never_met: unseen().filter(Option::is_none).count(),
            all_met: unseen().flatten().min(),
        })
    }

    /// By how much the record corrects log odds at `at`, on average over seen items.
    fn lean(&self, correction: &Correction, at: f64) -> f64 {
        let (mut sum, mut count) = (0.0, 0.0);
        for item in 0..self.slots.len() {
            if let Some(basis) = self.candidate.basis(item, at) {
                sum += correction.shift(&basis);
                count += 1.0;
            }
        }
        if count > 0.0 { sum / count } else { 0.0 }
    }

    fn corrected_chances(&self, correction: &Correction, at: f64) -> Vec<f64> {
        (0..self.slots.len())
            .map(|item| match self.candidate.basis(item, at) {
                Some(basis) => correction.apply(&basis),
                None => chance_right(self.candidate.prior(item), self.slots[item].facts.chance),
            })
            .collect()
    }

    fn weights(&self) -> impl Iterator<Item = f64> {
        self.slots.iter().map(|slot| slot.facts.weight)
    }
}
