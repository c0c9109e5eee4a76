//! Where a plan leads if it is kept: the score, the load by day, and what is never met.
//!
//! The plan is run forward on the estimate: every item goes the way that is best for it at the
//! price of time. Nothing that is remembered changes, and the plan in force stays in force.

use super::candidate::chance_right;
use super::engine::Engine;
use super::forecast::{Correction, Forecast, shifted};
use super::plan::Plan;
use super::study::StudyPlan;
use crate::time::{Day, Moment};

/// Share of a planned gain that may fail to come, or come on top: what a plan promises is not yet
/// learnt, and simulated candidates unlike the estimate have kept as little as half of it.
const PROMISE_DOUBT: f64 = 0.4;
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
    /// Seconds of study on each day from today to the eve of the exam: a plan always fills the
    /// time it is given.
    pub load: Vec<(Day, f64)>,
}

impl Engine {
    /// Where `plan` leads from `now` on, when so many seconds of today are `spent`; `None` without an exam ahead.
    #[must_use]
    pub fn outlook(&self, plan: &StudyPlan, now: Moment, spent: f64) -> Option<Outlook> {
        let exam = plan.exam?;
        let today = (plan.seconds_on(now.day) - spent).max(0.0);
        let (kept, days) = self.clone().plan_ahead(plan, now, today, Plan::fill)?;
        let seconds_on = |day: Day| {
            if day == now.day {
                today
            } else {
                plan.seconds_on(day)
            }
        };
        let without_plan = self
            .slots
            .iter()
            .zip(&kept.items)
            .filter(|(slot, item)| slot.sm2.is_none() && item.choice.is_none())
            .count();
        let (all_met, without_room) = self.all_met(&kept, &seconds_on, now.day, days);
        let ahead = u32::try_from(days).unwrap_or(0);
        Some(Outlook {
            forecast: self
                .forecast(exam.at_days)
                .map(|idle| self.kept_score(&kept, exam.at_days, idle)),
            never_met: without_plan + without_room,
            all_met,
            load: (0..ahead)
                .map(|past| now.day.plus(past))
                .map(|day| (day, seconds_on(day)))
                .collect(),
        })
    }

    /// The day on which the plan meets the last unseen item, if it meets all that it plans to, and how many it has no
    /// room for. The plan of each item knows no limit of a day, so the days are filled one after the other: what is planned
    /// for items that were met is spread evenly up to the exam, and new ones come, those that want to be met first before
    /// the others, where room is left.
    fn all_met(
        &self,
        kept: &Plan,
        seconds_on: &dyn Fn(Day) -> f64,
        today: Day,
        days: usize,
    ) -> (Option<Day>, usize) {
        let eve = u32::try_from(days).unwrap_or(0).saturating_sub(1);
        let mut waiting = Vec::new();
        let mut seconds_a_day = 0.0;
        for (slot, item) in self.slots.iter().zip(&kept.items) {
            match item.choice {
                Some(first) if slot.sm2.is_none() => {
                    waiting.push((first, item));
                }
                _ => seconds_a_day += item.seconds / f64::from(eve + 1),
            }
        }
        waiting.sort_by(|(one, a), (two, b)| {
            let earlier = two.left.cmp(&one.left);
            earlier.then(b.index.total_cmp(&a.index))
        });
        let mut waiting = waiting.into_iter().peekable();
        if waiting.peek().is_none() {
            return (None, 0);
        }
        let mut room = 0.0;
        for ahead in 0..=eve {
            let day = today.plus(ahead);
            room += seconds_on(day) - seconds_a_day;
            // A round goes on to what gains less today while its time lasts, so none waits for its best day.
            while let Some((first, item)) = waiting.next_if(|_| room > 0.0) {
                room -= first.seconds;
                seconds_a_day +=
                    (item.seconds - first.seconds).max(0.0) / f64::from(eve - ahead + 1);
            }
            if waiting.peek().is_none() {
                return (Some(day), 0);
            }
            // Time that was not needed is gone, time that was overdrawn is missed.
            room = room.min(0.0);
        }
        (None, waiting.count())
    }

    /// Seconds that the due dates ask for on each of the next two weeks' days: the load without
    /// an exam. What is overdue counts for today.
    #[must_use]
    pub fn due_load(&self, today: Day) -> Vec<(Day, f64)> {
        let mut load: Vec<(Day, f64)> = (0..WITHOUT_EXAM)
            .map(|ahead| (today.plus(ahead), 0.0))
            .collect();
        for (item, slot) in self.slots.iter().enumerate() {
            let Some(state) = slot.sm2 else {
                continue;
            };
            let due = state.due().max(today);
            if let Some((_, seconds)) = load.iter_mut().find(|(day, _)| *day == due) {
                *seconds += self.seconds_expected(item);
            }
        }
        load
    }

    /// The score of a plan that is kept, `idle` being the one without further study.
    fn kept_score(&self, kept: &Plan, at: f64, idle: Forecast) -> Forecast {
        let correction = Correction::learn(self.candidate.ahead());
        let lean = self.lean(&correction, at);
        let chances = kept.items.iter().zip(&self.slots).map(|(item, slot)| {
            let right = chance_right(item.recall, slot.facts.chance);
            shifted(right, lean)
        });
        let Forecast { score, low, high } = correction.score(self.weights().zip(chances));
        let promise = PROMISE_DOUBT * (score - idle.score);
        let half = (0.5 * (high - low)).hypot(promise);
        Forecast {
            score,
            low: (score - half).max(0.0),
            high: (score + half).min(1.0),
        }
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
}
