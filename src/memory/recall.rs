//! The forgetting curve.
//!
//! `r = (1 + (2^(1/psi) - 1) t/S)^(-psi)`: the form of Wickelgren 1974 (Memory & Cognition 2:
//! 775-780), scaled so that half is left after `S` days whatever the shape `psi`. A large `psi`
//! tends to the exponential, a small one has a heavy tail. This module must never let a
//! number out that is not a chance.

/// Log half-lives are kept between these: a bit over three hours and four years.
pub const STRENGTH: std::ops::RangeInclusive<f64> = -2.0..=7.3;
/// No recall is taken to be surer or more hopeless than this.
const CERTAINTY: f64 = 0.001;

/// A forgetting curve of one shape.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Curve {
    psi: f64,
    scale: f64,
}

impl Curve {
    /// The curve with shape `exp(ln_psi)`.
    #[must_use]
    pub fn new(ln_psi: f64) -> Self {
        let psi = ln_psi.clamp(-1.6, 3.0).exp();
        Self {
            psi,
            scale: (1.0 / psi).exp2() - 1.0,
        }
    }

    /// Chance of recall after `delay` days of a memory whose log half-life in days is `strength`.
    #[must_use]
    pub fn recall(self, strength: f64, delay: f64) -> f64 {
        self.recall_and_slope(strength, delay).0
    }

    /// The chance of recall and its derivative by `strength`.
    #[must_use]
    pub fn recall_and_slope(self, strength: f64, delay: f64) -> (f64, f64) {
        let spent = self.scale * delay.max(0.0) * (-strength).exp();
        let recall = (-self.psi * spent.ln_1p()).exp();
        let recall = recall.clamp(CERTAINTY, 1.0 - CERTAINTY);
        (recall, self.psi * recall * spent / (1.0 + spent))
    }
}

/// A log half-life within its range.
#[must_use]
pub fn strength(value: f64) -> f64 {
    value.clamp(*STRENGTH.start(), *STRENGTH.end())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn half_is_left_after_the_half_life_whatever_the_shape() {
        for ln_psi in [-1.6, -0.5, 0.0, 0.7, 3.0] {
            for log_half_life in [-2.0, 0.0, 3.0, 7.0_f64] {
                let left = Curve::new(ln_psi).recall(log_half_life, log_half_life.exp());
                assert!(
                    (left - 0.5).abs() < 1e-12,
                    "{ln_psi} {log_half_life}: {left}"
                );
            }
        }
    }

    #[test]
    fn the_slope_is_the_derivative() {
        let curve = Curve::new(0.3);
        let (_, slope) = curve.recall_and_slope(1.2, 5.0);
        let by_difference = (curve.recall(1.2 + 1e-5, 5.0) - curve.recall(1.2 - 1e-5, 5.0)) / 2e-5;
        assert!((slope - by_difference).abs() < 1e-6);
    }
}
