//! The expected exam score, with the interval it lies in nine times out of ten.
//!
//! The memory estimate alone flatters: items are asked because they look weak and left
//! because they look strong. So its odds are corrected by the candidate's own record of
//! forecasts one answer ahead, and by answers to items that nobody chose.

use super::candidate::{Ahead, Basis};

/// Features of a forecast for a seen item.
const FEATURES: usize = 6;
/// Prior means of the coefficients: the memory estimate as it is.
const MEANS: [f64; FEATURES] = [0.0, 1.0, 0.0, 0.0, 0.0, 0.0];
/// Their prior standard deviations.
const SDS: [f64; FEATURES] = [0.3, 0.2, 0.3, 0.3, 1.0, 0.5];
/// Latest forecasts that the correction learns from.
const LATEST: usize = 2500;
/// Precision of the prior on the offset that unchosen answers correct by: 0.3 either way.
const OFFSET_PRECISION: f64 = 1.0 / 0.09;
/// Standard deviation of the log odds that no record can take away.
const DOUBT: f64 = 0.12;
/// Half the width of a 90 % interval in standard deviations.
const NINETY: f64 = 1.645;
/// Steps of Newton's method, at most.
const NEWTON_STEPS: usize = 8;
/// Later-day answers before which no forecast is made.
pub const TOO_EARLY: usize = 60;

/// Expected score of the exam, as a share of all marks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Forecast {
    /// Expected share of marks.
    pub score: f64,
    /// Lower end of the 90 % interval.
    pub low: f64,
    /// Upper end of the 90 % interval.
    pub high: f64,
}

/// How the memory estimate's odds are to be corrected for this candidate.
#[derive(Clone, Debug, PartialEq)]
pub struct Correction {
    coefficients: [f64; FEATURES],
    offset: f64,
    offset_information: f64,
}

/// A chance with its log odds moved by `shift`.
#[must_use]
pub fn shifted(chance: f64, shift: f64) -> f64 {
    logistic(logit(chance) + shift)
}

fn logit(chance: f64) -> f64 {
    let chance = chance.clamp(1e-4, 1.0 - 1e-4);
    (chance / (1.0 - chance)).ln()
}

fn logistic(odds: f64) -> f64 {
    1.0 / (1.0 + (-odds).exp())
}

fn features(basis: &Basis) -> [f64; FEATURES] {
    [
        1.0,
        logit(basis.right),
        (basis.delay.max(0.02) / 4.0).ln(),
        (basis.sittings / 4.0).ln(),
        basis.share_known - 0.6,
        basis.last_known,
    ]
}

fn dot(a: &[f64; FEATURES], b: &[f64; FEATURES]) -> f64 {
    a.iter().zip(b).map(|(x, y)| x * y).sum()
}

impl Correction {
    /// Learns the correction from forecasts and what came of them.
    #[must_use]
    pub fn learn(ahead: &[Ahead]) -> Self {
        let coefficients = regress(&ahead[ahead.len().saturating_sub(LATEST)..]);
        let unchosen: Vec<(f64, f64)> = ahead
            .iter()
            .filter(|forecast| forecast.unchosen)
            .map(|forecast| {
                let odds = dot(&features(&forecast.basis), &coefficients);
                (odds, f64::from(u8::from(forecast.right)))
            })
            .collect();
        let mut offset = 0.0;
        let mut information = OFFSET_PRECISION;
        for _ in 0..NEWTON_STEPS {
            let mut gradient = -offset * OFFSET_PRECISION;
            information = OFFSET_PRECISION;
            for (odds, right) in &unchosen {
                let chance = logistic(odds + offset);
                gradient += right - chance;
                information += chance * (1.0 - chance);
            }
            offset += gradient / information;
        }
        Self {
            coefficients,
            offset,
            offset_information: information,
        }
    }

    /// By how much the correction moves the log odds of the memory estimate.
    #[must_use]
    pub fn shift(&self, basis: &Basis) -> f64 {
        logit(self.apply(basis)) - logit(basis.right)
    }

    /// The corrected chance of a right answer.
    #[must_use]
    pub fn apply(&self, basis: &Basis) -> f64 {
        logistic(dot(&features(basis), &self.coefficients) + self.offset).clamp(0.001, 0.999)
    }

    /// Score and interval for items of which each carries a weight and has a chance to be right.
    #[must_use]
    pub fn score(&self, items: impl Iterator<Item = (f64, f64)>) -> Forecast {
        let (mut all, mut score, mut luck, mut lean) = (0.0, 0.0, 0.0, 0.0);
        for (weight, right) in items {
            all += weight;
            let variance = right * (1.0 - right);
            score += weight * right;
            luck += weight * weight * variance;
            lean += weight * variance;
        }
        if all <= 0.0 {
            return Forecast {
                score: 0.0,
                low: 0.0,
                high: 1.0,
            };
        }
        let (score, luck, lean) = (score / all, luck / (all * all), lean / all);
        let doubt = DOUBT * DOUBT + 1.0 / self.offset_information;
        let half = NINETY * (luck + doubt * lean * lean).sqrt();
        Forecast {
            score: score.clamp(0.0, 1.0),
            low: (score - half).clamp(0.0, 1.0),
            high: (score + half).clamp(0.0, 1.0),
        }
    }
}

/// Logistic regression with independent Gaussian priors, by Newton's method.
fn regress(forecasts: &[Ahead]) -> [f64; FEATURES] {
    let rows: Vec<([f64; FEATURES], f64)> = forecasts
        .iter()
        .map(|forecast| {
            (
                features(&forecast.basis),
                f64::from(u8::from(forecast.right)),
            )
        })
        .collect();
    let mut at = MEANS;
    for _ in 0..NEWTON_STEPS {
        let mut gradient = [0.0; FEATURES];
        let mut information = [[0.0; FEATURES]; FEATURES];
        for index in 0..FEATURES {
            let precision = 1.0 / (SDS[index] * SDS[index]);
            gradient[index] = (MEANS[index] - at[index]) * precision;
            information[index][index] = precision;
        }
        for (x, right) in &rows {
            let chance = logistic(dot(x, &at));
            let spread = chance * (1.0 - chance);
            for row in 0..FEATURES {
                gradient[row] += (right - chance) * x[row];
                for column in 0..FEATURES {
                    information[row][column] += spread * x[row] * x[column];
                }
            }
        }
        let step = solve(information, gradient);
        for (value, step) in at.iter_mut().zip(step) {
            *value += step.clamp(-1.0, 1.0);
        }
        if step.iter().all(|step| step.abs() < 1e-7) {
            break;
        }
    }
    at
}

/// Solves a positive definite system by elimination.
fn solve(mut a: [[f64; FEATURES]; FEATURES], mut b: [f64; FEATURES]) -> [f64; FEATURES] {
    for pivot in 0..FEATURES {
        for row in pivot + 1..FEATURES {
            let factor = a[row][pivot] / a[pivot][pivot];
            let above = a[pivot];
            for (cell, above) in a[row].iter_mut().zip(above).skip(pivot) {
                *cell -= factor * above;
            }
            b[row] -= factor * b[pivot];
        }
    }
    let mut x = [0.0; FEATURES];
    for row in (0..FEATURES).rev() {
        let known: f64 = (row + 1..FEATURES)
            .map(|column| a[row][column] * x[column])
            .sum();
        x[row] = (b[row] - known) / a[row][row];
    }
    x
}
