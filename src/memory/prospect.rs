//! The ways in which one item can be studied from today to the exam.

use super::candidate::Candidate;
use super::estimate::Learner;
use super::grid::Place;
use super::horizon::{Horizon, dearness};
use super::values::{Costs, Table, Values};

/// One way to go on with an item: to ask it on the day with so many days left.
#[derive(Clone, Copy, Debug)]
pub struct Choice {
    /// Days left when it is asked.
    pub left: usize,
    /// Chance that it is recalled then.
    pub recall: f64,
    /// Seconds that takes.
    pub seconds: f64,
    /// Where a recall leads.
    pub up: Place,
    /// Where a miss leads.
    pub down: Place,
}

/// An item with all its choices.
#[derive(Clone, Debug)]
pub struct Prospect {
    /// Share of the exam.
    pub weight: f64,
    /// Ease of the item.
    pub ease: f64,
    /// Recall on exam day if it is never asked again.
    pub untouched: f64,
    /// Asking it today.
    pub today: Choice,
    /// Asking it on a later day, earliest first.
    pub later: Vec<Choice>,
}

/// What an item is worth at a price.
#[derive(Clone, Copy, Debug)]
pub struct Appraisal {
    /// Exam recall gained per second by asking today rather than waiting, price taken off.
    pub index: f64,
    /// The best choice; `None` if it is best left alone.
    pub choice: Option<Choice>,
    /// Seconds of study planned until the exam.
    pub seconds: f64,
    /// Recall on exam day if the plan is kept.
    pub recall: f64,
}

impl Prospect {
    /// The choices for an item of this weight at `now`, days since 1970.
    #[must_use]
    pub fn new(
        candidate: &Candidate,
        horizon: &Horizon,
        costs: Costs,
        (item, weight): (usize, f64),
        now: f64,
    ) -> Self {
        let learner = candidate.learner();
        let days = horizon.days;
        let with = |ease: f64, untouched: f64, choice: &dyn Fn(usize) -> Choice| Self {
            weight,
            ease,
            untouched,
            today: choice(days),
            later: horizon
                .landings(days)
                .iter()
                .map(|left| choice(*left))
                .collect(),
        };
        if let Some(trace) = candidate.trace(item) {
            let elapsed = trace.delay(now);
            let recall = |delay| learner.curve.recall(trace.strength, elapsed + delay);
            let down = Place::of(learner.after_forgetting(trace.strength, trace.ease));
            with(trace.ease, recall(horizon.delay(days)), &|left| {
                let recall = recall(gap(days, left));
                Choice {
                    left,
                    recall,
                    seconds: costs.expected(recall),
                    up: Place::of(learner.after_recall(
                        trace.strength,
                        recall,
                        f64::from(trace.sittings),
                    )),
                    down,
                }
            })
        } else {
            let known = candidate.prior(item);
            with(0.0, known, &|left| unseen(learner, costs, known, left))
        }
    }

    /// What the item is worth if a second costs `price` shares of exam recall ten days before
    /// the exam.
    pub fn appraise(&self, values: &mut Values, price: f64) -> Appraisal {
        let idle = Appraisal {
            index: f64::NEG_INFINITY,
            choice: None,
            seconds: 0.0,
            recall: self.untouched,
        };
        if self.weight <= 0.0 {
            return idle;
        }
        let price = price / self.weight;
        let table = values.table(price, self.ease);
        let asked = self.today.value(table, price);
        let mut waited = (self.untouched, None);
        for choice in &self.later {
            let value = choice.value(table, price);
            if value > waited.0 {
                waited = (value, Some(choice));
            }
        }
        let choice = if asked > waited.0 {
            Some(&self.today)
        } else {
            waited.1
        };
        Appraisal {
            index: self.weight * (asked - waited.0) / self.today.seconds,
            choice: choice.copied(),
            ..choice.map_or(idle, |choice| choice.outcome(table))
        }
    }
}

impl Choice {
    fn mix(&self, of: impl Fn(Place) -> f64) -> f64 {
        self.recall * of(self.up) + (1.0 - self.recall) * of(self.down)
    }

    fn value(&self, table: &Table, price: f64) -> f64 {
        self.mix(|place| table.value(self.left, place)) - price * dearness(self.left) * self.seconds
    }

    fn outcome(&self, table: &Table) -> Appraisal {
        Appraisal {
            index: 0.0,
            choice: None,
            seconds: self.seconds + self.mix(|place| table.seconds(self.left, place)),
            recall: self.mix(|place| table.recall(self.left, place)),
        }
    }
}

fn unseen(learner: &Learner, costs: Costs, known: f64, left: usize) -> Choice {
    let new = learner.theta.after_miss();
    Choice {
        left,
        recall: known,
        seconds: costs.expected(known),
        up: Place::of(new + learner.theta.known_before()),
        down: Place::of(new),
    }
}

#[expect(clippy::cast_precision_loss, reason = "at most 400 days")]
fn gap(days: usize, left: usize) -> f64 {
    days.saturating_sub(left) as f64
}
