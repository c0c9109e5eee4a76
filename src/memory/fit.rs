//! Fits the parameters to a candidate's own answers.
//!
//! Maximises the one-step-ahead log likelihood of later answers plus the log density of the
//! beliefs, by a plain coordinate search: robust, and the same on every machine.

use super::estimate::{Honesty, Learner, ONE_SITTING, Response};
use super::theta::{BELIEFS, COUNT, Theta};

/// The answers to one item, in order.
#[derive(Clone, Copy, Debug)]
pub struct History<'a> {
    /// Chance of a right guess.
    pub chance: f64,
    /// Chance that it was known before the first answer.
    pub prior: f64,
    /// Its answers.
    pub answers: &'a [Response],
}

/// Log likelihood of all later answers.
fn log_likelihood(learner: &Learner, histories: &[History<'_>]) -> f64 {
    let mut sum = 0.0;
    for history in histories {
        let Some((first, later)) = history.answers.split_first() else {
            continue;
        };
        let (mut trace, _) = learner.meet(history.prior, history.chance, first);
        for seen in later {
            let counts = trace.delay(seen.at) >= ONE_SITTING;
            let step = learner.step(&mut trace, history.chance, seen);
            if counts {
                sum += step.likelihood.ln();
            }
        }
    }
    sum
}

/// Better parameters than `start` for these histories, after `sweeps` through all of them.
#[must_use]
pub fn fit(start: Theta, honesty: &Honesty, histories: &[History<'_>], sweeps: usize) -> Theta {
    let score = |theta: Theta| {
        theta.log_belief() + log_likelihood(&Learner::new(theta, honesty), histories)
    };
    let mut best = start;
    let mut best_score = score(best);
    let mut steps = BELIEFS.map(|belief| 0.4 * belief.sd);
    for _ in 0..sweeps {
        for index in 0..COUNT {
            let belief = BELIEFS[index];
            let mut improved = false;
            for direction in [1.0, -1.0] {
                let mut trial = best;
                trial.0[index] =
                    (best.0[index] + direction * steps[index]).clamp(belief.least, belief.most);
                if trial == best {
                    continue;
                }
                let trial_score = score(trial);
                if trial_score > best_score {
                    best = trial;
                    best_score = trial_score;
                    improved = true;
                    break;
                }
            }
            steps[index] *= if improved { 1.3 } else { 0.5 };
        }
    }
    best
}

/// Recounts how often each confidence is said, from chances of having known.
#[must_use]
pub fn recount(learner: &Learner, histories: &[History<'_>]) -> Honesty {
    let mut honesty = Honesty::default();
    let mut count = |known: f64, seen: &Response| {
        honesty.known[seen.confidence as usize] += known;
        honesty.unknown[seen.confidence as usize] += 1.0 - known;
    };
    for history in histories {
        let Some((first, later)) = history.answers.split_first() else {
            continue;
        };
        let (mut trace, step) = learner.meet(history.prior, history.chance, first);
        count(step.known, first);
        for seen in later {
            let counts = trace.delay(seen.at) >= ONE_SITTING;
            let step = learner.step(&mut trace, history.chance, seen);
            if counts {
                count(step.known, seen);
            }
        }
    }
    honesty
}
