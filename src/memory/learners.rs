//! Simulated candidates whose memory is known: to rehearse a preparation, and to try the schedule.
//!
//! Two open models, unlike each other and unlike the estimate that the schedule makes of them.
//! They stand for nobody in particular.

use super::luck::Luck;
use super::study::ItemFacts;

/// Item and learner spreads are drawn from streams with these names.
const HALF_LIFE_STREAM: u64 = 0xA;
const TRACES_STREAM: u64 = 0xB;

/// A candidate whose memory is known.
pub trait TrueMemory {
    /// Chance that the item is recalled at `now`, in days.
    fn recall(&self, item: usize, now: f64) -> f64;
    /// What answering, known or not, and reading the explanation do to memory.
    fn answer(&mut self, item: usize, now: f64, known: bool);
    /// Shares of guessing, likely and certain.
    fn confidence(&self, known: bool) -> [f64; 3];
}

/// Exponential forgetting. A recall lengthens the half-life the more, the more had been
/// forgotten (after Settles & Meeder 2016: `p = 2^(-t/h)`).
#[derive(Clone, Debug)]
pub struct HalfLife {
    items: Vec<HalfLifeItem>,
    gain: f64,
    pace: f64,
}

#[derive(Clone, Copy, Debug)]
struct HalfLifeItem {
    difficulty: f64,
    known_before: f64,
    log_half_life: f64,
    last: Option<f64>,
    missed: bool,
}

impl HalfLife {
    /// The candidate number `seed` before these items.
    #[must_use]
    pub fn new(items: &[ItemFacts], seed: u64) -> Self {
        let mut luck = Luck::of(&[HALF_LIFE_STREAM, seed]);
        let gain = 1.5 * (0.15 * luck.normal()).exp();
        let pace = 0.2 * luck.normal();
        let items = items
            .iter()
            .map(|facts| {
                let topic = topic_luck(HALF_LIFE_STREAM, seed, facts.topic).normal();
                let difficulty = luck.normal();
                let odds = -1.6 + 0.7 * topic - 0.5 * difficulty;
                HalfLifeItem {
                    difficulty,
                    known_before: 1.0 / (1.0 + (-odds).exp()),
                    log_half_life: 0.0,
                    last: None,
                    missed: false,
                }
            })
            .collect();
        Self { items, gain, pace }
    }
}

impl TrueMemory for HalfLife {
    fn recall(&self, item: usize, now: f64) -> f64 {
        let item = &self.items[item];
        item.last.map_or(item.known_before, |last| {
            (-(now - last).max(0.0) / item.log_half_life.exp()).exp2()
        })
    }

    fn answer(&mut self, item: usize, now: f64, known: bool) {
        let recall = self.recall(item, now);
        let item = &mut self.items[item];
        let base = 1.8_f64.ln() - 0.45 * item.difficulty + self.pace;
        item.log_half_life = match item.last {
            None => base + if known { 1.8 } else { 0.0 },
            Some(_) if !known => (item.log_half_life - 1.1).max(base - 0.1),
            Some(last) => {
                let spaced = self.gain * (-0.25 * item.difficulty).exp() * (1.0 - recall.powf(1.5));
                let again = if now - last < 0.3 && item.missed {
                    0.25
                } else {
                    0.0
                };
                item.log_half_life + spaced + 0.03 + again
            }
        }
        .min(500.0_f64.ln());
        item.last = Some(now);
        item.missed = !known;
    }

    fn confidence(&self, known: bool) -> [f64; 3] {
        if known {
            [0.07, 0.33, 0.60]
        } else {
            [0.60, 0.32, 0.08]
        }
    }
}

/// Activation from many traces, each decaying by a power of time; a trace laid while activation
/// is high decays fast (Pavlik & Anderson 2005, Cognitive Science 29: 559-586).
#[derive(Clone, Debug)]
pub struct Traces {
    items: Vec<TracesItem>,
    decay: f64,
}

#[derive(Clone, Debug)]
struct TracesItem {
    beta: f64,
    traces: Vec<OneTrace>,
}

#[derive(Clone, Copy, Debug)]
struct OneTrace {
    at: f64,
    decay: f64,
    size: f64,
}

impl Traces {
    const CONTEXT: f64 = 0.217;
    const THRESHOLD: f64 = -0.704;
    const NOISE: f64 = 0.255;
    /// Time outside the sitting of a trace runs slower by this factor.
    const SLOWER: f64 = 0.025;

    /// The candidate number `seed` before these items.
    #[must_use]
    pub fn new(items: &[ItemFacts], seed: u64) -> Self {
        let mut luck = Luck::of(&[TRACES_STREAM, seed]);
        let decay = 0.177 * (0.08 * luck.normal()).exp();
        let learner = 0.25 + 0.2 * luck.normal();
        let items = items
            .iter()
            .map(|facts| {
                let share = 0.28 + 0.12 * topic_luck(TRACES_STREAM, seed, facts.topic).normal();
                let beta = learner + 0.4 * luck.normal();
                let (met, count) = (luck.uniform() < share, 1.0 + (6.0 * luck.uniform()).floor());
                let old = |number: u8| OneTrace {
                    at: -60.0 - 45.0 * f64::from(number),
                    decay,
                    size: 1.0,
                };
                let traces = (0..6)
                    .filter(|number| met && f64::from(*number) < count)
                    .map(old)
                    .collect();
                TracesItem { beta, traces }
            })
            .collect();
        Self { items, decay }
    }

    fn activation(&self, item: usize, now: f64) -> f64 {
        let item = &self.items[item];
        let sum: f64 = item
            .traces
            .iter()
            .map(|trace| {
                let seconds = (now - trace.at).max(0.0) * 86_400.0;
                let same_day = (trace.at.floor() - now.floor()).abs() < 0.5;
                let felt = if same_day {
                    seconds.max(1.0)
                } else {
                    (seconds * Self::SLOWER).max(30.0)
                };
                trace.size * (-trace.decay * felt.ln()).exp()
            })
            .sum();
        item.beta + if sum > 0.0 { sum.ln() } else { -8.0 }
    }
}

impl TrueMemory for Traces {
    fn recall(&self, item: usize, now: f64) -> f64 {
        let over = self.activation(item, now) - Self::THRESHOLD;
        1.0 / (1.0 + (-over / Self::NOISE).exp())
    }

    fn answer(&mut self, item: usize, now: f64, known: bool) {
        let decay = Self::CONTEXT * self.activation(item, now).min(3.0).exp() + self.decay;
        self.items[item].traces.push(OneTrace {
            at: now,
            decay,
            size: if known { 1.25 } else { 1.0 },
        });
    }

    fn confidence(&self, known: bool) -> [f64; 3] {
        if known {
            [0.08, 0.37, 0.55]
        } else {
            [0.55, 0.35, 0.10]
        }
    }
}

/// The stream of a topic, so that items of one topic share their luck.
fn topic_luck(stream: u64, seed: u64, topic: usize) -> Luck {
    Luck::of(&[stream, seed, 1, u64::try_from(topic).unwrap_or(u64::MAX)])
}
