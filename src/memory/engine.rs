//! The engine that every face drives: answers in, the next item out.
//!
//! Its state is a function of the items and of the answers observed, in order; the plan only
//! decides what is asked today. Replaying a log and answering live are the same calls.
//! It must never read a clock, draw by chance, or panic whatever it is told.

use std::collections::VecDeque;

use super::candidate::{Candidate, Fixed, chance_right};
use super::estimate::{ONE_SITTING, Response};
use super::forecast::{Correction, Forecast, TOO_EARLY};
use super::horizon::{Horizon, group};
use super::pace::Pace;
use super::plan::{Plan, Prices, Situation};
use super::values::{Costs, Place};
use super::pick::{Pick, Standing, Why};
use super::sm2::Sm2;
use super::study::{ItemFacts, Seen, StudyPlan};
use crate::answer::RoundKind;
use crate::time::{Day, Moment};

/// Other items that come between an item and its re-ask, if there are any.
const REASK_DISTANCE: usize = 8;

/// What the engine keeps of one item.
#[derive(Clone, Debug)]
struct Slot {
    facts: ItemFacts,
    set_aside: bool,
    sm2: Option<Sm2>,
    answers: u32,
    misses: u32,
    last: Option<Seen>,
}

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

/// The schedule of one candidate.
#[derive(Clone, Debug)]
pub struct Engine {
    slots: Vec<Slot>,
    plan: StudyPlan,
    pace: Pace,
    today: Option<Day>,
    seconds_today: f64,
    queue: VecDeque<usize>,
    /// Items to be asked again today, with the day they were missed on.
    again: VecDeque<Again>,
    candidate: Candidate,
    prices: Option<Prices>,
    agenda: Option<Agenda>,
    first_day: Option<Day>,
    rounds: u32,
    last_day: Option<Day>,
}

/// The plan of an open day with an exam ahead.
#[derive(Clone, Debug)]
struct Agenda {
    plan: Plan,
    index: Vec<f64>,
    left: usize,
}

#[derive(Clone, Copy, Debug)]
struct Again {
    item: usize,
    day: Day,
    /// Answers taken in when it was answered.
    at: usize,
    /// Comes back whatever it gains: a confident error or a safety item.
    must: bool,
}

impl Engine {
    /// An engine for these items, named by their position from now on.
    ///
    /// Weights are shares of the exam (see [`super::blueprint::shares`]). Leave out items that
    /// were retired, and observe only answers to items that still mean what they meant.
    #[must_use]
    pub fn new(items: Vec<ItemFacts>, plan: StudyPlan) -> Self {
        let items: Vec<ItemFacts> = items.into_iter().map(clean).collect();
        let fixed = |facts: &ItemFacts| Fixed {
            chance: facts.chance,
            topic: facts.topic,
        };
        let candidate = Candidate::new(items.iter().map(fixed).collect());
        let slots = items
            .into_iter()
            .map(|facts| Slot {
                facts,
                set_aside: false,
                sm2: None,
                answers: 0,
                misses: 0,
                last: None,
            })
            .collect();
        Self {
            slots,
            plan,
            pace: Pace::default(),
            today: None,
            seconds_today: 0.0,
            queue: VecDeque::new(),
            again: VecDeque::new(),
            candidate,
            prices: None,
            agenda: None,
            first_day: None,
            rounds: 0,
            last_day: None,
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

    /// Seconds that the open round may take.
    #[must_use]
    pub const fn seconds_today(&self) -> f64 {
        self.seconds_today
    }

    /// Takes an item out of rounds, or back in. It stays in the exam and in the forecast.
    pub fn set_aside(&mut self, item: usize, aside: bool) {
        if let Some(slot) = self.slots.get_mut(item) {
            slot.set_aside = aside;
        }
    }

    /// Takes in an answer, live or replayed. Answers to items that do not exist are ignored.
    pub fn observe(&mut self, item: usize, seen: &Seen) {
        if item >= self.slots.len() {
            return;
        }
        let response = Response {
            at: seen.at.days(),
            right: seen.right,
            confidence: seen.confidence,
        };
        if self.candidate.has(item, &response) {
            return;
        }
        let unchosen = seen.round == RoundKind::Paper || self.spot_check() == Some(item);
        self.candidate.observe(item, response, unchosen);
        let slot = &mut self.slots[item];
        let day = seen.at.day;
        self.first_day.get_or_insert(day);
        if self.last_day.is_none_or(|last| last < day) {
            self.last_day = Some(day);
            self.rounds += 1;
        }
        let quality = seen.quality();
        let reask = slot.sm2.is_some_and(|state| day <= state.answered);
        self.pace.observe(seen.seconds, seen.right, reask);
        slot.sm2 = Some(match slot.sm2 {
            None => Sm2::first(quality, day),
            Some(state) => state.after(quality, day),
        });
        slot.answers = slot.answers.saturating_add(1);
        slot.misses = slot.misses.saturating_add(u32::from(!seen.right));
        slot.last = Some(*seen);
        self.again.retain(|waiting| waiting.item != item);
        // A paper gives no feedback until it is handed in: nothing comes back within it.
        if quality.asks_again() && seen.round != RoundKind::Paper {
            self.again.push_back(Again {
                item,
                day,
                at: self.candidate.answers(),
                must: slot.facts.safety || seen.is_confident_error(),
            });
        }
    }

    /// Opens a review on the study day of `now` with `seconds` to spend. To be called before
    /// [`Self::next`], and again whenever a review begins; re-asks of the same day are kept.
    pub fn open_day(&mut self, now: Moment, seconds: f64) {
        let day = now.day;
        self.today = Some(day);
        self.again.retain(|waiting| waiting.day == day);
        self.seconds_today = if seconds > 0.0 {
            seconds.min(86_400.0)
        } else {
            0.0
        };
        self.candidate.refit();
        self.agenda = Horizon::new(&self.plan, now).map(|horizon| self.make_agenda(&horizon, now));
        self.queue = match &self.agenda {
            None => self.sm2_order(day),
            Some(agenda) => agenda.plan.order.iter().map(|(item, _)| *item).collect(),
        };
    }

    fn make_agenda(&mut self, horizon: &Horizon, now: Moment) -> Agenda {
        let days = self.first_day.map_or(0, |first| now.day.since(first).max(0));
        let adherence = ((f64::from(self.rounds) + 4.5) / (days as f64 + 5.0)).min(1.0);
        let weights: Vec<f64> = self
            .slots
            .iter()
            .map(|slot| if slot.set_aside { 0.0 } else { slot.facts.weight })
            .collect();
        let situation = Situation {
            candidate: &self.candidate,
            weights: &weights,
            horizon,
            costs: Costs {
                right: self.pace.right_seconds(),
                wrong: self.pace.wrong_seconds(),
            },
            now: now.days(),
            today: self.seconds_today,
            daily: self.plan.seconds_a_day * adherence,
        };
        let rounds = if self.prices.is_some() { 1 } else { 12 };
        let plan = Plan::make(&situation, self.prices.clone(), rounds);
        self.prices = Some(plan.prices.clone());
        let mut index = vec![0.0; self.slots.len()];
        for (item, gain) in &plan.order {
            index[*item] = *gain;
        }
        Agenda {
            plan,
            index,
            left: horizon.days,
        }
    }

    /// The item that the next question checks the forecast with, if it is one that does.
    fn spot_check(&self) -> Option<usize> {
        let answers = self.candidate.answers();
        if answers % 25 != 24 {
            return None;
        }
        let day = self.last_day?;
        let eligible = |slot: &Slot| {
            slot.facts.weight > 0.0 && slot.sm2.is_some_and(|state| state.answered < day)
        };
        let total: f64 = self.slots.iter().filter(|slot| eligible(slot)).map(|slot| slot.facts.weight).sum();
        if total <= 0.0 {
            return None;
        }
        let draw = (answers as f64 * 0.618_033_988_749_894_9).fract();
        let mut left = draw * total;
        let mut last = None;
        for (item, slot) in self.slots.iter().enumerate().filter(|(_, slot)| eligible(slot)) {
            left -= slot.facts.weight;
            last = Some(item);
            if left < 0.0 {
                break;
            }
        }
        last
    }

    /// What asking the item again today gains per second, on the scale of the day's plan.
    fn reask_gain(&self, agenda: &Agenda, item: usize) -> f64 {
        let Some(trace) = self.candidate.trace(item) else {
            return f64::NEG_INFINITY;
        };
        let weight = self.slots[item].facts.weight;
        if weight <= 0.0 {
            return f64::NEG_INFINITY;
        }
        let prices = &agenda.plan.prices;
        let tables = &agenda.plan.tables;
        let price = prices.second / weight;
        let class = tables.class(price, trace.ease);
        let known = 0.8;
        let after = trace.strength + self.candidate.learner().theta.repeat_growth() * known * trace.unknown;
        let gain = tables.value(class, agenda.left, Place::of(after))
            - tables.value(class, agenda.left, Place::of(trace.strength));
        let seconds = self.pace.reask_seconds();
        weight * (gain / seconds - price * prices.groups[group(agenda.left)])
    }

    fn next_planned(&mut self, agenda: &Agenda, day: Day) -> Option<Pick> {
        let answers = self.candidate.answers();
        let rested = |waiting: &Again| answers >= waiting.at + REASK_DISTANCE;
        let again = |item| Pick { item, why: Why::Again, reask: true };
        if let Some(waiting) = self.again.iter().find(|waiting| waiting.must && rested(waiting)) {
            return Some(again(waiting.item));
        }
        if let Some(item) = self.spot_check()
            && self.last_day == Some(day)
            && self.is_open(item, day)
        {
            return Some(Pick { item, why: Why::SpotCheck, reask: false });
        }
        let first = self.queue.front().copied();
        let bar = first.map_or(f64::NEG_INFINITY, |item| agenda.index[item]);
        let mut best = None;
        for waiting in self.again.iter().filter(|waiting| first.is_none() || rested(waiting)) {
            let gain = self.reask_gain(agenda, waiting.item);
            if gain > best.map_or(bar, |(_, gain)| gain) || (first.is_none() && best.is_none()) {
                best = Some((waiting.item, gain));
            }
        }
        if let Some((item, _)) = best {
            return Some(again(item));
        }
        let item = first?;
        let why = match self.standing(item, day) {
            Standing::Unseen => Why::Unseen,
            Standing::Due => Why::Due,
            Standing::Overdue { days } => Why::Postponed { days },
            Standing::Later { days } if days >= i64::try_from(agenda.left).unwrap_or(0) => Why::BeyondExam { days },
            Standing::Later { days } => Why::Early { days },
        };
        Some(Pick { item, why, reask: false })
    }

    /// Chance of a right answer to each item at a time, and the score expected of an exam
    /// then without further study. The score is `None` while it is too early to say.
    #[must_use]
    pub fn forecast(&self, at_days: f64) -> (Option<Forecast>, Vec<f64>) {
        let correction = Correction::learn(self.candidate.ahead());
        let chances: Vec<f64> = (0..self.slots.len())
            .map(|item| match self.candidate.basis(item, at_days) {
                Some(basis) => correction.apply(&basis),
                None => chance_right(self.candidate.prior(item), self.slots[item].facts.chance),
            })
            .collect();
        let later = self.candidate.ahead().len();
        let _ = ONE_SITTING;
        let forecast = (later >= TOO_EARLY).then(|| {
            correction.score(self.slots.iter().map(|slot| slot.facts.weight).zip(chances.iter().copied()))
        });
        (forecast, chances)
    }

    /// The item to ask now, or `None` if nothing is left today. Asking twice gives the same item
    /// until it is observed or set aside.
    pub fn next(&mut self, now: Moment) -> Option<Pick> {
        let day = self.today.unwrap_or(now.day);
        while let Some(&item) = self.queue.front() {
            if self.is_open(item, day) {
                break;
            }
            self.queue.pop_front();
        }
        let slots = &self.slots;
        self.again
            .retain(|waiting| slots.get(waiting.item).is_some_and(|slot| !slot.set_aside));
        if let Some(agenda) = self.agenda.take() {
            let pick = self.next_planned(&agenda, day);
            self.agenda = Some(agenda);
            return pick;
        }
        if (self.again.len() > REASK_DISTANCE || self.queue.is_empty())
            && let Some(&Again { item, .. }) = self.again.front()
        {
            return Some(Pick {
                item,
                why: Why::Again,
                reask: true,
            });
        }
        let item = *self.queue.front()?;
        let why = match self.standing(item, day) {
            Standing::Unseen => Why::Unseen,
            Standing::Overdue { days } => Why::Overdue { days },
            Standing::Due | Standing::Later { .. } => Why::Due,
        };
        Some(Pick {
            item,
            why,
            reask: false,
        })
    }

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

    /// Items waiting to be asked again today.
    #[must_use]
    pub fn reasks_waiting(&self) -> usize {
        self.again.len()
    }

    /// Seconds that asking the item now is expected to take.
    #[must_use]
    pub fn seconds_expected(&self, item: usize) -> f64 {
        let right = self.slots.get(item).map_or(0.5, |slot| match slot.last {
            Some(seen) if seen.right => 0.8,
            _ => 0.4,
        });
        self.pace.expected_seconds(right)
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

    /// Whether a queued item still waits for its first question of `day`.
    fn is_open(&self, item: usize, day: Day) -> bool {
        self.slots.get(item).is_some_and(|slot| {
            !slot.set_aside && slot.sm2.is_none_or(|state| state.answered < day)
        })
    }

    fn standing(&self, item: usize, day: Day) -> Standing {
        Standing::on(day, self.slots.get(item).and_then(|slot| slot.sm2))
    }
}

/// Facts without anything that could turn a sum into no number.
fn clean(facts: ItemFacts) -> ItemFacts {
    let weight = if facts.weight > 0.0 {
        facts.weight.min(1e9)
    } else {
        0.0
    };
    let chance = if facts.chance > 0.0 {
        facts.chance.min(0.95)
    } else {
        0.0
    };
    ItemFacts {
        weight,
        chance,
        ..facts
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::answer::Confidence;

    fn moment(day: i64, second: i64) -> Moment {
        Moment {
            utc_ms: day * 86_400_000 + 64_800_000 + second * 1000,
            day: Day::from_number(day),
            offset_min: 0,
        }
    }

    fn engine(items: usize) -> Engine {
        let facts = ItemFacts {
            weight: 0.1,
            chance: 0.25,
            topic: 0,
            safety: false,
        };
        Engine::new(vec![facts; items], StudyPlan::default())
    }

    fn answer(engine: &mut Engine, item: usize, at: Moment, right: bool) {
        let seen = Seen {
            at,
            right,
            confidence: Confidence::Certain,
            seconds: 20.0,
            round: RoundKind::Review,
        };
        engine.observe(item, &seen);
    }

    #[test]
    fn unseen_items_come_by_number_and_due_ones_before_them() {
        let mut engine = engine(4);
        engine.open_day(moment(100, 0), 1800.0);
        for item in [0, 1] {
            let pick = engine.next(moment(100, 0)).unwrap();
            assert_eq!((pick.item, pick.why), (item, Why::Unseen));
            answer(&mut engine, item, moment(100, 1), true);
        }
        engine.open_day(moment(101, 0), 1800.0);
        let order: Vec<(usize, Why)> = (0..4)
            .map(|second| {
                let pick = engine.next(moment(101, second)).unwrap();
                answer(&mut engine, pick.item, moment(101, second), true);
                (pick.item, pick.why)
            })
            .collect();
        let expected = [
            (0, Why::Due),
            (1, Why::Due),
            (2, Why::Unseen),
            (3, Why::Unseen),
        ];
        assert_eq!(order, expected);
        assert_eq!(engine.next(moment(101, 9)), None);
    }

    #[test]
    fn a_missed_item_comes_back_after_eight_others_or_at_the_end() {
        let mut engine = engine(12);
        engine.open_day(moment(100, 0), 1800.0);
        let mut asked = Vec::new();
        while let Some(pick) = engine.next(moment(100, 0)) {
            asked.push(pick.item);
            // everything is wrong at first and right when re-asked
            answer(&mut engine, pick.item, moment(100, 1), pick.reask);
        }
        assert_eq!(asked[..10], [0, 1, 2, 3, 4, 5, 6, 7, 8, 0]);
        assert_eq!(asked.len(), 24);
        assert_eq!(engine.reasks_waiting(), 0);
    }

    #[test]
    fn next_is_the_same_until_something_happens() {
        let mut engine = engine(3);
        engine.open_day(moment(100, 0), 1800.0);
        assert_eq!(engine.next(moment(100, 0)), engine.next(moment(100, 50)));
        engine.set_aside(0, true);
        assert_eq!(engine.next(moment(100, 0)).unwrap().item, 1);
        assert_eq!(engine.workload(Day::from_number(100)).unseen, 2);
    }

    #[test]
    fn a_round_taken_up_again_keeps_its_re_asks_and_the_next_day_drops_them() {
        let mut engine = engine(2);
        engine.open_day(moment(100, 0), 1800.0);
        answer(&mut engine, 0, moment(100, 1), false);
        engine.open_day(moment(100, 600), 1800.0);
        assert_eq!(engine.reasks_waiting(), 1);
        engine.open_day(moment(101, 0), 1800.0);
        assert_eq!(engine.reasks_waiting(), 0);
        assert_eq!(engine.due_count(Day::from_number(101)), 1);
        assert_eq!(engine.next_due(0), Some(Day::from_number(101)));
    }

    #[test]
    fn a_paper_is_never_interrupted_by_re_asks() {
        let mut engine = engine(2);
        let seen = Seen {
            at: moment(100, 0),
            right: false,
            confidence: Confidence::Certain,
            seconds: 20.0,
            round: RoundKind::Paper,
        };
        engine.observe(0, &seen);
        engine.observe(99, &seen);
        assert_eq!(engine.reasks_waiting(), 0);
        assert!(seen.is_confident_error());
    }
}
