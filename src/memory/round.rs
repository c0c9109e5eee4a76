//! The order of one day's review.
//!
//! Without an exam ahead: SM-2's. With one: the plan's, where re-asks compete by what they gain,
//! and every so often a question nobody chose checks the forecast.

use std::collections::VecDeque;

use super::engine::{Engine, Slot};
use super::grid::Place;
use super::horizon::{Horizon, dearness};
use super::pick::{Pick, Standing, Why};
use super::plan::Plan;
use super::prospect::Prospect;
use super::sm2::Sm2;
use super::study::{StudyPlan, within_a_day};
use super::values::{Costs, Values};
use crate::time::{Day, Moment};

/// Other items that come between an item and its re-ask, if there are any.
const REASK_DISTANCE: usize = 8;
/// One question in so many checks the forecast.
const SPOT_CHECK_EVERY: usize = 15;
/// Chance that a re-asked item is known, minutes after its explanation.
const KNOWN_AGAIN: f64 = 0.8;

/// An item waiting to be asked again.
#[derive(Clone, Copy, Debug)]
pub(super) struct Again {
    pub(super) item: usize,
    /// The study day on which it was answered below quality 4.
    pub(super) day: Day,
    /// Answers taken in by then.
    pub(super) after: usize,
    /// Comes back whatever it gains: a confident error, or a safety item.
    pub(super) must: bool,
}

/// The plan of an open day with an exam ahead.
#[derive(Clone, Debug)]
struct Agenda {
    plan: Plan,
    left: usize,
}

/// An open review.
#[derive(Clone, Debug)]
pub(super) struct Open {
    day: Day,
    queue: VecDeque<usize>,
    agenda: Option<Agenda>,
}

impl Open {
    pub(super) fn empty(day: Day) -> Self {
        Self {
            day,
            queue: VecDeque::new(),
            agenda: None,
        }
    }
}

impl Engine {
    pub(super) fn open_round(&mut self, now: Moment, seconds: f64) -> Open {
        let day = now.day;
        let plan = self.plan;
        let Some((plan, left)) = self.plan_ahead(&plan, now, seconds, Plan::make) else {
            return Open {
                queue: self.sm2_order(day),
                ..Open::empty(day)
            };
        };
        Open {
            day,
            queue: plan.order().into(),
            agenda: Some(Agenda { plan, left }),
        }
    }

    /// The plan from `now` to the exam with `seconds` left today, and the days left; `None` if no
    /// exam lies ahead.
    pub(super) fn plan_ahead(
        &mut self,
        study: &StudyPlan,
        now: Moment,
        seconds: f64,
        make: fn(&[Prospect], &mut Values, f64) -> Plan,
    ) -> Option<(Plan, usize)> {
        let horizon = Horizon::new(study, now)?;
        let costs = Costs::rounded(self.pace.right_seconds(), self.pace.wrong_seconds());
        let learner = self.candidate.learner();
        let mut values = Values::renew(self.values.take(), learner, &horizon, costs);
        let prospects: Vec<Prospect> = self
            .slots
            .iter()
            .enumerate()
            .map(|(item, slot)| {
                let weight = slot.facts.weight;
                Prospect::new(&self.candidate, &horizon, costs, (item, weight), now.days())
            })
            .collect();
        let later = within_a_day(study.seconds_a_day) * self.adherence(now.day);
        let plan = make(
            &prospects,
            &mut values,
            seconds + later * days(horizon.study_days()),
        );
        self.values = Some(values);
        Some((plan, horizon.days))
    }

    pub(super) fn pick(&mut self, open: &mut Open) -> Option<Pick> {
        while let Some(&item) = open.queue.front() {
            if self.is_open(item, open.day) {
                break;
            }
            open.queue.pop_front();
        }
        let first = open.queue.front().copied();
        let Some(agenda) = &open.agenda else {
            return self.pick_by_sm2(first, open.day);
        };
        if let Some(item) = self.reask_due(first, open.day, agenda) {
            return Some(again(item));
        }
        if let Some(item) = self
            .spot_check()
            .filter(|item| self.is_open(*item, open.day))
        {
            return Some(ask(item, Why::SpotCheck));
        }
        first.map(|item| ask(item, self.why(item, open.day, agenda.left)))
    }

    /// The item that waits longest of those that must be asked again today, or `None` if none must: what is left of
    /// a round whose time is up. Without an exam ahead all must; with one, confident errors and safety items.
    #[must_use]
    pub fn next_again(&self) -> Option<Pick> {
        let must = self.must_again(self.round_day()?);
        must.first().map(|waiting| again(waiting.item))
    }

    /// Whether the item will be asked again today, whatever else there is to do.
    #[must_use]
    pub fn comes_back(&self, item: usize) -> bool {
        let must = self.round_day().map(|day| self.must_again(day));
        must.is_some_and(|must| must.iter().any(|waiting| waiting.item == item))
    }

    /// What must be asked again on `day`, whatever it gains.
    pub(super) fn must_again(&self, day: Day) -> Vec<Again> {
        let by_gain = self.open.as_ref().is_some_and(|open| open.agenda.is_some());
        let mut waiting = self.waiting(day);
        waiting.retain(|waiting| waiting.must || !by_gain);
        waiting
    }

    /// The day of the open round, or of the last answer.
    fn round_day(&self) -> Option<Day> {
        self.open
            .as_ref()
            .map(|open| open.day)
            .or(self.attendance.last)
    }

    fn pick_by_sm2(&self, first: Option<usize>, day: Day) -> Option<Pick> {
        let waiting = self.waiting(day);
        if (waiting.len() > REASK_DISTANCE || first.is_none())
            && let Some(waiting) = waiting.first()
        {
            return Some(again(waiting.item));
        }
        let item = first?;
        let why = match Standing::on(day, self.slots[item].sm2) {
            Standing::Unseen => Why::Unseen,
            Standing::Overdue { days } => Why::Overdue { days },
            Standing::Due | Standing::Later { .. } => Why::Due,
        };
        Some(ask(item, why))
    }

    /// The item to ask again now, if one must come back or gains more than `first` does.
    fn reask_due(&mut self, first: Option<usize>, day: Day, agenda: &Agenda) -> Option<usize> {
        let answers = self.candidate.answers();
        let waiting: Vec<Again> = self
            .waiting(day)
            .into_iter()
            .filter(|waiting| first.is_none() || answers >= waiting.after + REASK_DISTANCE)
            .collect();
        if let Some(must) = waiting.iter().find(|waiting| waiting.must) {
            return Some(must.item);
        }
        let mut best = (None, first.map(|item| agenda.plan.items[item].index));
        for Again { item, .. } in waiting {
            let gain = self.reask_gain(agenda, item);
            if best.1.is_none_or(|index| gain > index) {
                best = (Some(item), Some(gain));
            }
        }
        best.0
    }

    /// What waits to be asked again on `day`, or on the next if the round runs into it.
    pub(super) fn waiting(&self, day: Day) -> Vec<Again> {
        let holds = |waiting: &&Again| waiting.day >= day;
        self.again.iter().filter(holds).copied().collect()
    }

    /// What asking the item again today gains per second, on the scale of the day's plan.
    fn reask_gain(&mut self, agenda: &Agenda, item: usize) -> f64 {
        let weight = self.slots[item].facts.weight;
        let (Some(trace), Some(values)) = (self.candidate.trace(item), self.values.as_mut()) else {
            return f64::NEG_INFINITY;
        };
        if weight <= 0.0 {
            return f64::NEG_INFINITY;
        }
        let growth = self.candidate.learner().theta.repeat_growth();
        let after = trace.strength + growth * KNOWN_AGAIN * trace.unknown;
        let table = values.table(agenda.plan.price / weight, trace.ease);
        let value = |strength: f64| table.value(agenda.left, Place::of(strength));
        weight * (value(after) - value(trace.strength)) / self.pace.reask_seconds()
            - agenda.plan.price * dearness(agenda.left)
    }

    /// The item that the next question checks the forecast with, if it is one that does: seen, not
    /// asked yet on the last day of answers, drawn by exam weight. A function of the answers.
    pub(super) fn spot_check(&self) -> Option<usize> {
        let answers = self.candidate.answers();
        if answers % SPOT_CHECK_EVERY != SPOT_CHECK_EVERY - 1 {
            return None;
        }
        let day = self.attendance.last?;
        let seen = |slot: &&Slot| slot.sm2.is_some_and(|state| state.answered < day);
        let total: f64 = self
            .slots
            .iter()
            .filter(seen)
            .map(|slot| slot.facts.weight)
            .sum();
        // The golden ratio spreads successive draws evenly.
        let mut draw = (days(answers) * 0.618_033_988_749_894_9).fract() * total;
        self.slots.iter().position(|slot| {
            let eligible = seen(&slot) && slot.facts.weight > 0.0;
            draw -= if eligible { slot.facts.weight } else { 0.0 };
            eligible && draw < 0.0
        })
    }

    fn why(&self, item: usize, day: Day, left: usize) -> Why {
        match Standing::on(day, self.slots[item].sm2) {
            Standing::Unseen => Why::Unseen,
            Standing::Due => Why::Due,
            Standing::Overdue { days } => {
                // Other items were preferred only if anything was answered since it fell due.
                let due = self.slots[item].sm2.map(Sm2::due);
                if self.attendance.before(day) >= due {
                    Why::Postponed { days }
                } else {
                    Why::Overdue { days }
                }
            }
            Standing::Later { days } if usize::try_from(days).is_ok_and(|days| days >= left) => {
                Why::BeyondExam { days }
            }
            Standing::Later { days } => Why::Early { days },
        }
    }

    /// Overdue by due date, then unseen; ties by number.
    fn sm2_order(&self, day: Day) -> VecDeque<usize> {
        let mut due: Vec<(Day, usize)> = Vec::new();
        let mut unseen = Vec::new();
        for (item, slot) in self.slots.iter().enumerate() {
            match slot.sm2 {
                None => unseen.push(item),
                Some(state) if state.due() <= day => due.push((state.due(), item)),
                Some(_) => {}
            }
        }
        due.sort_unstable();
        due.into_iter()
            .map(|(_, item)| item)
            .chain(unseen)
            .collect()
    }

    /// Whether an item still waits for its first question of `day`.
    fn is_open(&self, item: usize, day: Day) -> bool {
        let slot = &self.slots[item];
        slot.sm2.is_none_or(|state| state.answered < day)
    }
}

const fn ask(item: usize, why: Why) -> Pick {
    Pick {
        item,
        why,
        reask: false,
    }
}

const fn again(item: usize) -> Pick {
    Pick {
        item,
        why: Why::Again,
        reask: true,
    }
}

#[expect(clippy::cast_precision_loss, reason = "counts far below 2^53")]
fn days(count: usize) -> f64 {
    count as f64
}
