//! How many seconds a candidate's answers take.
//!
//! Running means with a prior, so that the first answers do not decide. Absurd times (left
//! the desk, a key held down) are clipped and never refused.

/// Seconds below which nobody reads a question.
const SHORTEST: f64 = 3.0;
/// Seconds beyond which the candidate is taken to have left the desk.
const LONGEST: f64 = 120.0;
/// Answers that the prior counts for.
const PRIOR_ANSWERS: f64 = 8.0;

/// A running mean of seconds.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Mean {
    sum: f64,
    count: f64,
}

impl Mean {
    const fn prior(seconds: f64) -> Self {
        Self {
            sum: seconds * PRIOR_ANSWERS,
            count: PRIOR_ANSWERS,
        }
    }

    fn add(&mut self, seconds: f64) {
        self.sum += seconds;
        self.count += 1.0;
    }

    fn value(self) -> f64 {
        self.sum / self.count
    }
}

/// Mean seconds of right and wrong answers, and of same-day repeats.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pace {
    right: Mean,
    wrong: Mean,
    reask: Mean,
}

impl Default for Pace {
    fn default() -> Self {
        Self {
            right: Mean::prior(20.0),
            wrong: Mean::prior(35.0),
            reask: Mean::prior(18.0),
        }
    }
}

impl Pace {
    /// Takes in one answer.
    pub fn observe(&mut self, seconds: f64, right: bool, reask: bool) {
        let seconds = if seconds.is_nan() {
            return;
        } else {
            seconds.clamp(SHORTEST, LONGEST)
        };
        if reask {
            self.reask.add(seconds);
        } else if right {
            self.right.add(seconds);
        } else {
            self.wrong.add(seconds);
        }
    }

    /// Mean seconds of a right answer.
    #[must_use]
    pub fn right_seconds(&self) -> f64 {
        self.right.value()
    }

    /// Mean seconds of a wrong answer.
    #[must_use]
    pub fn wrong_seconds(&self) -> f64 {
        self.wrong.value()
    }

    /// Mean seconds of a same-day repeat.
    #[must_use]
    pub fn reask_seconds(&self) -> f64 {
        self.reask.value()
    }

    /// Seconds expected for an answer that is right with chance `right`.
    #[must_use]
    pub fn expected_seconds(&self, right: f64) -> f64 {
        right * self.right_seconds() + (1.0 - right) * self.wrong_seconds()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn absurd_seconds_are_clipped() {
        let mut pace = Pace::default();
        for seconds in [f64::NAN, f64::INFINITY, -5.0, 1e300, 0.0] {
            pace.observe(seconds, true, false);
            pace.observe(seconds, false, true);
        }
        for mean in [
            pace.right_seconds(),
            pace.wrong_seconds(),
            pace.reask_seconds(),
        ] {
            assert!((SHORTEST..=LONGEST).contains(&mean));
        }
    }

    #[test]
    fn the_record_outweighs_the_prior() {
        let mut pace = Pace::default();
        (0..200).for_each(|_| pace.observe(11.0, true, false));
        assert!((pace.right_seconds() - 11.0).abs() < 0.5);
        assert!((pace.expected_seconds(1.0) - pace.right_seconds()).abs() < 1e-12);
    }
}
