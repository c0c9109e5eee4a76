//! Where a plan leads if it is kept: the score, the load by day, and what is never met.
//!
//! The plan is run forward on the estimate. Nothing that is remembered changes, and the plan
//! in force stays in force.

use super::candidate::chance_right;
use super::engine::Engine;
use super::forecast::{Correction, Forecast, shifted};
use super::plan::Plan;
use super::study::StudyPlan;
use super::values::{Costs, Values};
use crate::time::{Day, Moment};

/// Days that are looked ahead without an exam.
const WITHOUT_EXAM: u32 = 14;

/// Where a plan leads if it is kept.
#[derive(Clone, Debug, PartialEq)]
pub struct Outlook {
    /// The score it leads to; `None` while it is too early to say.
    pub forecast: Option<Forecast>,
    /// Unseen items that the plan never gets to.
    pub never_met: usize,
    /// The day on which the plan meets the last of the unseen items that it does get to.
    pub all_met: Option<Day>,
    /// Seconds of study on each day from today on.
    pub load: Vec<(Day, f64)>,
}

impl Engine {
    /// Where `plan` leads from `now` on; `None` without an exam ahead.
    #[must_use]
    pub fn outlook(&self, plan: &StudyPlan, now: Moment) -> Option<Outlook> {
        let exam = plan.exam?;
        let today = if plan.rest.contains(now.day) {
            0.0
        } else {
            plan.seconds_a_day
        };
        let mut ahead = self.clone();
        let (kept, days) = ahead.plan_ahead(plan, now, today)?;
        let values = ahead.values.as_mut()?;
        let day_with = |left: usize| {
            now.day
                .plus(u32::try_from(days.saturating_sub(left)).unwrap_or(0))
        };
        let load = self.walk(&kept, days, values).into_iter().enumerate();
        let unseen = || {
            let slots = self.slots.iter().zip(&kept.items);
            slots
                .filter(|(slot, _)| slot.sm2.is_none() && !slot.set_aside)
                .map(|(_, item)| item.choice.map(|choice| choice.left))
        };
        Some(Outlook {
            forecast: self
                .forecast(exam.at_days)
                .map(|_| self.kept_score(&kept, exam.at_days)),
            never_met: unseen().filter(Option::is_none).count(),
            all_met: unseen().flatten().min().map(day_with),
            load: load
                .rev()
                .map(|(left, seconds)| (day_with(left), seconds))
                .collect(),
        })
    }

    /// Seconds that the due dates ask for on each of the next two weeks' days: the load without
    /// an exam. What is overdue counts for today.
    #[must_use]
    pub fn due_load(&self, today: Day) -> Vec<(Day, f64)> {
        let mut load: Vec<(Day, f64)> = (0..WITHOUT_EXAM)
            .map(|ahead| (today.plus(ahead), 0.0))
            .collect();
        for (item, slot) in self.slots.iter().enumerate() {
            let Some(state) = slot.sm2.filter(|_| !slot.set_aside) else {
                continue;
            };
            let due = state.due().max(today);
            if let Some((_, seconds)) = load.iter_mut().find(|(day, _)| *day == due) {
                *seconds += self.seconds_expected(item);
            }
        }
        load
    }

    fn kept_score(&self, kept: &Plan, at: f64) -> Forecast {
        let correction = Correction::learn(self.candidate.ahead());
        let lean = self.lean(&correction, at);
        let chances = kept.items.iter().zip(&self.slots).map(|(item, slot)| {
            let right = chance_right(item.recall, slot.facts.chance);
            shifted(right, lean)
        });
        correction.score(self.weights().zip(chances))
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

    /// Walks every item once through its plan; seconds by days left. Evenly spread numbers
    /// decide what is recalled on the way.
    #[expect(clippy::cast_precision_loss, reason = "counts far below 2^53")]
    fn walk(&self, kept: &Plan, days: usize, values: &mut Values) -> Vec<f64> {
        let mut seconds = vec![0.0; days + 1];
        let learner = self.candidate.learner();
        let costs = Costs::rounded(self.pace.right_seconds(), self.pace.wrong_seconds());
        for (item, appraisal) in kept.items.iter().enumerate() {
            let Some(choice) = appraisal.choice else {
                continue;
            };
            let ease = self.candidate.trace(item).map_or(0.0, |trace| trace.ease);
            let table = values.table(kept.price / self.slots[item].facts.weight, ease);
            let mut draw = item as f64 * 0.618_033_988_749_894_9;
            let mut recalled = |recall: f64| {
                draw = (draw + 0.754_877_666_246_692_7).fract();
                draw < recall
            };
            seconds[choice.left] += choice.seconds;
            let mut left = choice.left;
            let mut place = if recalled(choice.recall) {
                choice.up
            } else {
                choice.down
            };
            while let Some(landing) = table.landing(left, place) {
                let recall = learner
                    .curve
                    .recall(place.strength(), (left - landing) as f64);
                seconds[landing] += costs.expected(recall);
                place = learner.place_after(place, recall, ease, recalled(recall));
                left = landing;
            }
        }
        seconds
    }
}
