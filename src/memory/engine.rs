//! The engine that every face drives: answers in, the next item out.
//!
//! Its state is a function of the items and of the answers observed, in order; the plan only
//! decides what is asked today. Replaying a log and answering live are the same calls.
//! It must never read a clock, draw by chance, or panic whatever it is told.

use std::collections::VecDeque;

use super::candidate::{Candidate, Fixed};
use super::estimate::Response;
use super::pace::Pace;
use super::pick::Pick;
use super::round::{Again, Open};
use super::sm2::Sm2;
use super::study::{ItemFacts, Seen, StudyPlan, within_a_day};
use super::values::Values;
use crate::answer::RoundKind;
use crate::time::{Day, Moment};

/// What the engine keeps of one item.
#[derive(Clone, Debug)]
pub(super) struct Slot {
    pub(super) facts: ItemFacts,
    pub(super) sm2: Option<Sm2>,
    pub(super) last: Option<Seen>,
}

/// The days on which anything was answered.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Attendance {
    pub(super) first: Option<Day>,
    pub(super) last: Option<Day>,
    /// The day before `last`.
    previous: Option<Day>,
    days: u32,
}

/// The schedule of one candidate.
#[derive(Clone, Debug)]
pub struct Engine {
    pub(super) slots: Vec<Slot>,
    pub(super) plan: StudyPlan,
    pub(super) pace: Pace,
    pub(super) candidate: Candidate,
    pub(super) attendance: Attendance,
    pub(super) values: Option<Values>,
    pub(super) open: Option<Open>,
    /// Items last answered below quality 4: asked again if the day is still that day.
    pub(super) again: VecDeque<Again>,
}

impl Engine {
    /// An engine for these items, named by their position from now on.
    ///
    /// Weights are taken as shares of their sum (see [`super::blueprint::shares`]). Leave out items that
    /// were retired, and observe only answers to items that still mean what they meant.
    #[must_use]
    pub fn new(items: Vec<ItemFacts>, plan: StudyPlan) -> Self {
        let mut items: Vec<ItemFacts> = items.into_iter().map(clean).collect();
        let total: f64 = items.iter().map(|facts| facts.weight).sum();
        if total > 0.0 {
            for facts in &mut items {
                facts.weight /= total;
            }
        }
        let fixed = |facts: &ItemFacts| Fixed {
            chance: facts.chance,
            topic: facts.topic,
        };
        let candidate = Candidate::new(items.iter().map(fixed).collect());
        let slots = items
            .into_iter()
            .map(|facts| Slot {
                facts,
                sm2: None,
                last: None,
            })
            .collect();
        Self {
            slots,
            plan,
            pace: Pace::default(),
            candidate,
            attendance: Attendance::default(),
            values: None,
            open: None,
            again: VecDeque::new(),
        }
    }

    /// Sets, moves or removes the exam, the minutes or the rest days. Takes effect with the next
    /// [`Self::open_day`]; nothing that is remembered of an item changes.
    pub fn set_plan(&mut self, plan: StudyPlan) {
        self.plan = plan;
    }

    /// The plan in force.
    #[must_use]
    pub const fn plan(&self) -> &StudyPlan {
        &self.plan
    }

    /// The facts of an item; `None` if there is no such item.
    #[must_use]
    pub fn facts(&self, item: usize) -> Option<&ItemFacts> {
        self.slots.get(item).map(|slot| &slot.facts)
    }

    /// Takes in an answer, live or replayed. Answers to items that do not exist are ignored, and
    /// so is an answer that was taken in before.
    pub fn observe(&mut self, item: usize, seen: &Seen) {
        let response = Response {
            at: seen.at.days(),
            right: seen.right,
            confidence: seen.confidence,
        };
        if item >= self.slots.len() || self.candidate.has(item, &response) {
            return;
        }
        let unchosen = seen.round == RoundKind::Paper || self.spot_check() == Some(item);
        self.candidate.observe(item, response, unchosen);
        self.attendance.note(seen.at.day);
        let slot = &mut self.slots[item];
        let reask = slot.sm2.is_some_and(|state| seen.at.day <= state.answered);
        self.pace.observe(seen.seconds, seen.right, reask);
        let quality = seen.quality();
        slot.sm2 = Some(match slot.sm2 {
            None => Sm2::first(quality, seen.at.day),
            Some(state) => state.after(quality, seen.at.day),
        });
        slot.last = Some(*seen);
        self.again.retain(|waiting| waiting.item != item);
        // A paper gives no feedback until it is handed in: nothing comes back within it.
        if quality.asks_again() && seen.round != RoundKind::Paper {
            self.again.push_back(Again {
                item,
                day: seen.at.day,
                after: self.candidate.answers(),
                must: slot.facts.safety || seen.is_confident_error(),
            });
        }
    }

    /// Fits the estimate of memory to all answers so far. A round does so when it opens; whoever wants figures without
    /// a round asks for it. Asked twice it changes nothing.
    pub fn refit(&mut self) {
        self.candidate.refit();
    }

    /// Opens a review on the study day of `now` with `seconds` to spend. To be called before
    /// [`Self::next`], and again whenever a review begins; re-asks of the same day are kept.
    pub fn open_day(&mut self, now: Moment, seconds: f64) {
        self.refit();
        self.open = Some(self.open_round(now, within_a_day(seconds)));
    }

    /// The item to ask now, or `None` if nothing is left today. Asking twice gives the same item
    /// until it is observed. Without an exam ahead the order is SM-2's.
    pub fn next(&mut self, now: Moment) -> Option<Pick> {
        let mut open = self.open.take().unwrap_or_else(|| Open::empty(now.day));
        let pick = self.pick(&mut open);
        self.open = Some(open);
        pick
    }

    /// Share of study days on which the candidate does study, with a prior of nine in ten.
    pub(super) fn adherence(&self, today: Day) -> f64 {
        let Some(first) = self.attendance.first else {
            return 0.9;
        };
        let span = today.since(first).clamp(0, 36_500);
        let planned = (0..u32::try_from(span).unwrap_or(0))
            .filter(|day| !self.plan.rest.contains(first.plus(*day)))
            .fold(0.0, |days, _| days + 1.0);
        ((f64::from(self.attendance.days) + 4.5) / (planned + 5.0)).min(1.0)
    }
}

impl Attendance {
    /// The last of them before `day`.
    pub(super) fn before(&self, day: Day) -> Option<Day> {
        self.last.filter(|last| *last < day).or(self.previous)
    }

    fn note(&mut self, day: Day) {
        self.first.get_or_insert(day);
        if self.last.is_none_or(|last| last < day) {
            self.previous = self.last;
            self.last = Some(day);
            self.days = self.days.saturating_add(1);
        }
    }
}

/// Facts without anything that could turn a sum into no number.
fn clean(facts: ItemFacts) -> ItemFacts {
    let up_to = |value: f64, most: f64| if value > 0.0 { value.min(most) } else { 0.0 };
    ItemFacts {
        weight: up_to(facts.weight, 1e9),
        chance: up_to(facts.chance, 0.95),
        topic: facts.topic.min(100_000),
        ..facts
    }
}

#[cfg(test)]
mod tests;
