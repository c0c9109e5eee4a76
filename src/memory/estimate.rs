//! The memory estimate of an item and how answers move it.
//!
//! An answer does two things. It is evidence about what was known (mark and confidence
//! together, since a right answer may be a guess), and it teaches. Both are steps on the
//! log half-life. Same-day repeats say little and teach little, and are kept apart
//! (Murre & Dros 2015: minutes and days do not lie on one curve).

use super::recall::{Curve, strength};
use super::theta::Theta;
use crate::answer::Confidence;

/// Answers closer together than this, in days, belong to one sitting.
pub const ONE_SITTING: f64 = 0.3;
/// Chance of a wrong answer although known.
pub const SLIP: f64 = 0.03;
/// Least chance of any outcome.
const LEAST: f64 = 1e-4;

/// What one answer looked like.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Response {
    /// Days since 1970.
    pub at: f64,
    /// Whether it was right.
    pub right: bool,
    /// How sure the candidate was.
    pub confidence: Confidence,
}

/// What is believed of the memory of one item.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Trace {
    /// Log of the half-life in days.
    pub strength: f64,
    /// Variance of that.
    pub variance: f64,
    /// How much easier the item is than the average one, in the same unit.
    pub ease: f64,
    /// Time of the last answer, days since 1970.
    pub at: f64,
    /// Chance that it was not known at the last answer.
    pub unknown: f64,
    /// Sittings in which it was answered.
    pub sittings: u32,
    /// Sum over these sittings of the chance that it was known.
    pub known_sittings: f64,
}

impl Trace {
    /// Days from the last answer to `now`; never negative.
    #[must_use]
    pub fn delay(&self, now: f64) -> f64 {
        (now - self.at).max(0.0)
    }
}

impl Learner {
    /// Chance of recall `delay` days after the last answer, averaged over what is not known
    /// of the strength (three points, Gauss and Hermite).
    #[must_use]
    pub fn mean_recall(&self, trace: &Trace, delay: f64) -> f64 {
        let spread = (3.0 * trace.variance).sqrt();
        let at = |shift: f64| self.curve.recall(trace.strength + shift, delay);
        (at(-spread) + 4.0 * at(0.0) + at(spread)) / 6.0
    }
}

/// How one step went: what was expected and what is now believed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Step {
    /// Chance of recall that was expected.
    pub recall: f64,
    /// Chance that was given to what happened.
    pub likelihood: f64,
    /// Chance that the item was known, seen the answer.
    pub known: f64,
}

/// How often each confidence is said when known and when not known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Honesty {
    /// Counts for known items, lowest confidence first.
    pub known: [f64; 3],
    /// Counts for items not known.
    pub unknown: [f64; 3],
}

impl Default for Honesty {
    fn default() -> Self {
        Self {
            known: [2.0, 7.0, 11.0],
            unknown: [11.0, 7.0, 2.0],
        }
    }
}

/// A candidate's memory: parameters and habits of confidence.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Learner {
    /// Its parameters.
    pub theta: Theta,
    /// Its forgetting curve.
    pub curve: Curve,
    said_known: [f64; 3],
    said_unknown: [f64; 3],
}

impl Learner {
    /// A candidate with these parameters and this record of confidence.
    #[must_use]
    pub fn new(theta: Theta, honesty: &Honesty) -> Self {
        let shares = |counts: [f64; 3]| {
            let sum: f64 = counts.iter().sum();
            counts.map(|count| (count / sum).max(LEAST))
        };
        Self {
            theta,
            curve: Curve::new(theta.ln_psi()),
            said_known: shares(honesty.known),
            said_unknown: shares(honesty.unknown),
        }
    }

    /// Chance of mark and confidence if known, and if not known, for an item with this chance of
    /// a right guess.
    #[must_use]
    pub fn likelihoods(&self, chance: f64, right: bool, confidence: Confidence) -> (f64, f64) {
        let said = confidence as usize;
        let (known, unknown) = if right {
            (1.0 - SLIP, chance)
        } else {
            (SLIP, 1.0 - chance)
        };
        (
            known * self.said_known[said],
            (unknown * self.said_unknown[said]).max(LEAST),
        )
    }

    /// The estimate after the first meeting with an item that was known with chance `prior`.
    #[must_use]
    pub fn meet(&self, prior: f64, chance: f64, seen: &Response) -> (Trace, Step) {
        let (if_known, if_not) = self.likelihoods(chance, seen.right, seen.confidence);
        let likelihood = prior * if_known + (1.0 - prior) * if_not;
        let known = prior * if_known / likelihood;
        let trace = Trace {
            strength: strength(self.theta.after_miss() + known * self.theta.known_before()),
            variance: self.theta.ln_variance().exp(),
            ease: 0.0,
            at: seen.at,
            unknown: 1.0 - known,
            sittings: 1,
            known_sittings: known,
        };
        let step = Step {
            recall: prior,
            likelihood,
            known,
        };
        (trace, step)
    }

    /// Takes in a later answer.
    pub fn step(&self, trace: &mut Trace, chance: f64, seen: &Response) -> Step {
        let delay = trace.delay(seen.at);
        let at = seen.at.max(trace.at);
        let (if_known, if_not) = self.likelihoods(chance, seen.right, seen.confidence);
        if delay < ONE_SITTING {
            let known = if_known / (if_known + if_not);
            trace.strength =
                strength(trace.strength + self.theta.repeat_growth() * known * trace.unknown);
            trace.unknown *= 1.0 - known;
            trace.at = at;
            return Step {
                recall: known,
                likelihood: 1.0,
                known,
            };
        }
        let (recall, slope) = self.curve.recall_and_slope(trace.strength, delay);
        let likelihood = recall * if_known + (1.0 - recall) * if_not;
        let known = recall * if_known / likelihood;
        self.weigh_evidence(
            trace,
            chance,
            recall,
            slope,
            (if_known - if_not) / likelihood,
        );
        let recall_now = self.curve.recall(trace.strength, delay);
        let up = self.after_recall(trace.strength, recall_now, f64::from(trace.sittings));
        let down = self.after_forgetting(trace.strength, trace.ease);
        trace.strength = strength(known * up + (1.0 - known) * down);
        trace.variance = (trace.variance + 0.05).min(1.5);
        trace.unknown = 1.0 - known;
        trace.at = at;
        trace.sittings = trace.sittings.saturating_add(1);
        trace.known_sittings += known;
        Step {
            recall,
            likelihood,
            known,
        }
    }

    /// One scoring step on the strength: gradient of the log likelihood, Fisher's information.
    fn weigh_evidence(&self, trace: &mut Trace, chance: f64, recall: f64, slope: f64, score: f64) {
        let mut information = 0.0;
        for right in [false, true] {
            for confidence in Confidence::ALL {
                let (if_known, if_not) = self.likelihoods(chance, right, confidence);
                let outcome = recall * if_known + (1.0 - recall) * if_not;
                information += (if_known - if_not).powi(2) / outcome;
            }
        }
        trace.variance = 1.0 / (1.0 / trace.variance + slope * slope * information);
        let shift = (trace.variance * slope * score).clamp(-1.0, 1.0);
        trace.strength += shift;
        trace.ease = (trace.ease + 0.5 * shift).clamp(-1.5, 1.5);
    }

    /// Strength after a recall whose chance was `recall`, after so many sittings: the more had
    /// been forgotten the more it grows, and the less the more often it was studied.
    #[must_use]
    pub fn after_recall(&self, before: f64, recall: f64, sittings: f64) -> f64 {
        let growth = (self.theta.spaced_growth() * (1.0 - recall) + self.theta.massed_growth())
            * sittings.powf(-self.theta.fatigue());
        strength(before + growth * (-self.theta.damping() * (before - 2.0).max(0.0)).exp())
    }

    /// Strength after a miss and its explanation: part of what was above a new item's is kept.
    #[must_use]
    pub fn after_forgetting(&self, before: f64, ease: f64) -> f64 {
        let new = self.theta.after_miss() + ease;
        let kept = if before > new {
            new + self.theta.kept_after_miss() * (before - new)
        } else {
            before
        };
        strength(kept + self.theta.explained())
    }
}
