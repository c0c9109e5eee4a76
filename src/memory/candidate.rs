//! All that is estimated of a candidate, kept as a fold over the answers.
//!
//! Fits happen at fixed lengths of the log and start from the fit before, so the estimate
//! is a function of the answers alone, whether they were replayed at once or came one by one.

use super::estimate::{Honesty, Learner, ONE_SITTING, Response, SLIP, Trace};
use super::fit::{History, fit, recount};
use super::prior::{First, Prior};
use super::theta::Theta;

/// Answers that a fit looks at, at most (whole items are left out evenly beyond).
const FIT_ANSWERS: usize = 3000;
/// Recounts of confidence after one fit.
const RECOUNTS: usize = 5;
/// Sweeps of one fit.
const SWEEPS: usize = 3;

/// A forecast made one answer ahead, with what came of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ahead {
    /// What was known of the item before.
    pub basis: Basis,
    /// Whether the answer was right.
    pub right: bool,
    /// Whether chance and not the plan had picked the item.
    pub unchosen: bool,
}

/// What a forecast for a seen item rests on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Basis {
    /// Chance of a right answer by the memory estimate alone.
    pub right: f64,
    /// Days since the last answer.
    pub delay: f64,
    /// Sittings so far.
    pub sittings: f64,
    /// Share of them in which it was known.
    pub share_known: f64,
    /// Chance that it was known at the last.
    pub last_known: f64,
}

#[derive(Clone, Copy, Debug)]
struct Logged {
    item: usize,
    seen: Response,
    unchosen: bool,
}

/// What is fixed about an item.
#[derive(Clone, Copy, Debug)]
pub struct Fixed {
    /// Chance of a right guess.
    pub chance: f64,
    /// Number of its topic.
    pub topic: usize,
}

/// The estimate of one candidate.
#[derive(Clone, Debug)]
pub struct Candidate {
    items: Vec<Fixed>,
    log: Vec<Logged>,
    learner: Learner,
    honesty: Honesty,
    traces: Vec<Option<Trace>>,
    priors: Vec<f64>,
    histories: Vec<Vec<Response>>,
    topics: usize,
    prior: Prior,
    ahead: Vec<Ahead>,
    fitted: usize,
}

impl Candidate {
    /// A candidate who has not answered anything.
    #[must_use]
    pub fn new(items: Vec<Fixed>) -> Self {
        let honesty = Honesty::default();
        let topics = items.iter().map(|item| item.topic + 1).max().unwrap_or(0);
        Self {
            learner: Learner::new(Theta::default(), &honesty),
            honesty,
            traces: vec![None; items.len()],
            priors: vec![0.0; items.len()],
            histories: vec![Vec::new(); items.len()],
            topics,
            prior: Prior::new(topics),
            ahead: Vec::new(),
            fitted: 0,
            log: Vec::new(),
            items,
        }
    }

    /// Takes in an answer; `unchosen` if chance or a paper had picked the item. An answer that
    /// is already there, to the last field, is dropped.
    pub fn observe(&mut self, item: usize, seen: Response, unchosen: bool) {
        let Some(history) = self.histories.get_mut(item) else {
            return;
        };
        if history.contains(&seen) {
            return;
        }
        history.push(seen);
        let logged = Logged {
            item,
            seen,
            unchosen,
        };
        self.log.push(logged);
        self.fold(logged, true);
    }

    /// Whether exactly this answer has been taken in before.
    #[must_use]
    pub fn has(&self, item: usize, seen: &Response) -> bool {
        self.histories
            .get(item)
            .is_some_and(|history| history.contains(seen))
    }

    /// Answers taken in.
    #[must_use]
    pub fn answers(&self) -> usize {
        self.log.len()
    }

    /// The memory of the candidate.
    #[must_use]
    pub const fn learner(&self) -> &Learner {
        &self.learner
    }

    /// The estimate of an item; `None` if unseen.
    #[must_use]
    pub fn trace(&self, item: usize) -> Option<&Trace> {
        self.traces.get(item)?.as_ref()
    }

    /// Chance that an unseen item is known, from what was known of its topic.
    #[must_use]
    pub fn prior(&self, item: usize) -> f64 {
        self.items
            .get(item)
            .map_or(0.001, |fixed| self.prior.chance(fixed.topic))
    }

    /// What a forecast for a seen item at `now` rests on; `None` if unseen.
    #[must_use]
    pub fn basis(&self, item: usize, now: f64) -> Option<Basis> {
        let trace = self.trace(item)?;
        let chance = self.items.get(item)?.chance;
        let delay = trace.delay(now);
        Some(basis(&self.learner, trace, chance, delay))
    }

    /// The forecasts made one answer ahead so far.
    #[must_use]
    pub fn ahead(&self) -> &[Ahead] {
        &self.ahead
    }

    /// Catches up with the fits that the log is long enough for. Tells whether there were any.
    pub fn refit(&mut self) -> bool {
        let mut changed = false;
        loop {
            let next = self.fitted + self.fitted * 12 / 100 + 40;
            if next > self.log.len() {
                break;
            }
            self.fit_to(next);
            changed = true;
        }
        changed
    }

    /// Fits to the first `length` answers, then folds the whole log again.
    fn fit_to(&mut self, length: usize) {
        let mut lengths = vec![0_usize; self.items.len()];
        for logged in &self.log[..length] {
            lengths[logged.item] += 1;
        }
        let stride = length.div_ceil(FIT_ANSWERS).max(1);
        let histories: Vec<History<'_>> = (0..self.items.len())
            .filter(|item| lengths[*item] > 0)
            .step_by(stride)
            .map(|item| History {
                chance: self.items[item].chance,
                prior: self.priors[item],
                answers: &self.histories[item][..lengths[item]],
            })
            .collect();
        let theta = fit(self.learner.theta, &self.honesty, &histories, SWEEPS);
        let mut learner = Learner::new(theta, &self.honesty);
        for _ in 0..RECOUNTS {
            self.honesty = recount(&learner, &histories);
            learner = Learner::new(theta, &self.honesty);
        }
        self.learner = learner;
        self.prior = Prior::settle(self.topics, &self.firsts(length));
        self.fitted = length;
        self.traces.fill(None);
        self.ahead.clear();
        for index in 0..self.log.len() {
            self.fold(self.log[index], index >= length);
        }
    }

    /// The first answers to items among the first `length` answers.
    fn firsts(&self, length: usize) -> Vec<First> {
        let mut met = vec![false; self.items.len()];
        let mut out = Vec::new();
        for logged in &self.log[..length] {
            if std::mem::replace(&mut met[logged.item], true) {
                continue;
            }
            let Fixed { chance, topic } = self.items[logged.item];
            let seen = &logged.seen;
            let (if_known, if_not) = self
                .learner
                .likelihoods(chance, seen.right, seen.confidence);
            out.push(First {
                topic,
                if_known,
                if_not,
            });
        }
        out
    }

    fn fold(&mut self, logged: Logged, new: bool) {
        let Logged {
            item,
            seen,
            unchosen,
        } = logged;
        let chance = self.items[item].chance;
        let prior = self.prior(item);
        match &mut self.traces[item] {
            empty @ None => {
                let (trace, step) = self.learner.meet(prior, chance, &seen);
                *empty = Some(trace);
                self.priors[item] = prior;
                if new {
                    self.prior.add(self.items[item].topic, step.known);
                }
            }
            Some(trace) => {
                let delay = trace.delay(seen.at);
                if delay >= ONE_SITTING {
                    self.ahead.push(Ahead {
                        basis: basis(&self.learner, trace, chance, delay),
                        right: seen.right,
                        unchosen,
                    });
                }
                self.learner.step(trace, chance, &seen);
            }
        }
    }
}

fn basis(learner: &Learner, trace: &Trace, chance: f64, delay: f64) -> Basis {
    let sittings = f64::from(trace.sittings);
    Basis {
        right: chance_right(learner.mean_recall(trace, delay), chance),
        delay,
        sittings,
        share_known: trace.known_sittings / sittings,
        last_known: 1.0 - trace.unknown,
    }
}

/// Chance of a right answer to an item that is recalled with chance `recall`.
#[must_use]
pub fn chance_right(recall: f64, chance: f64) -> f64 {
    recall * (1.0 - SLIP) + (1.0 - recall) * chance
}
