//! The parameters of a candidate's memory, with what is believed of them beforehand.
//!
//! They are fitted to the candidate's own answers in [`super::fit`]; the beliefs keep them
//! sober while there are few answers.

/// Number of parameters.
pub const COUNT: usize = 11;

/// What is believed of one parameter before any answer: mean, standard deviation, range.
#[derive(Clone, Copy, Debug)]
pub struct Belief {
    /// Most likely value.
    pub mean: f64,
    /// Standard deviation.
    pub sd: f64,
    /// Least value.
    pub least: f64,
    /// Greatest value.
    pub most: f64,
}

const fn belief(mean: f64, sd: f64, least: f64, most: f64) -> Belief {
    Belief {
        mean,
        sd,
        least,
        most,
    }
}

/// The beliefs, in the order of the accessors of [`Theta`].
pub const BELIEFS: [Belief; COUNT] = [
    belief(0.7, 0.6, -1.0, 3.0),
    belief(1.7, 0.6, 0.0, 4.0),
    belief(1.5, 0.5, 0.2, 4.0),
    belief(0.15, 0.12, 0.0, 0.8),
    belief(0.45, 0.2, 0.0, 1.0),
    belief(0.7, 0.7, -1.6, 3.0),
    belief(0.06, 0.08, 0.0, 0.5),
    belief(-0.7, 0.6, -2.5, 0.7),
    belief(0.2, 0.15, 0.0, 0.8),
    belief(0.2, 0.2, 0.0, 1.0),
    belief(0.15, 0.2, 0.0, 1.2),
];

/// One set of parameters. Strengths are logs of half-lives in days.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Theta(pub [f64; COUNT]);

impl Default for Theta {
    fn default() -> Self {
        Self(BELIEFS.map(|belief| belief.mean))
    }
}

impl Theta {
    /// Strength after a first miss and its explanation.
    #[must_use]
    pub const fn after_miss(&self) -> f64 {
        self.0[0]
    }
    /// What knowing the item at the first meeting adds to that.
    #[must_use]
    pub const fn known_before(&self) -> f64 {
        self.0[1]
    }
    /// Growth by a recall when all but forgotten: the effect of spacing.
    #[must_use]
    pub const fn spaced_growth(&self) -> f64 {
        self.0[2]
    }
    /// Growth by a recall when nothing was forgotten.
    #[must_use]
    pub const fn massed_growth(&self) -> f64 {
        self.0[3]
    }
    /// Share of the strength above that of a new item that a miss leaves.
    #[must_use]
    pub const fn kept_after_miss(&self) -> f64 {
        self.0[4]
    }
    /// Log of the curve's shape.
    #[must_use]
    pub const fn ln_psi(&self) -> f64 {
        self.0[5]
    }
    /// How fast growth falls off beyond a week.
    #[must_use]
    pub const fn damping(&self) -> f64 {
        self.0[6]
    }
    /// Log variance of a new item's strength.
    #[must_use]
    pub const fn ln_variance(&self) -> f64 {
        self.0[7]
    }
    /// Growth by a same-day repeat after a miss.
    #[must_use]
    pub const fn repeat_growth(&self) -> f64 {
        self.0[8]
    }
    /// Growth by reading the explanation after a later miss.
    #[must_use]
    pub const fn explained(&self) -> f64 {
        self.0[9]
    }

    /// How fast growth falls off with the number of sittings: a power of it.
    #[must_use]
    pub const fn fatigue(&self) -> f64 {
        self.0[10]
    }

    /// Log density of these parameters under the beliefs, but for a constant.
    #[must_use]
    pub fn log_belief(&self) -> f64 {
        self.0
            .iter()
            .zip(BELIEFS)
            .map(|(value, belief)| -0.5 * ((value - belief.mean) / belief.sd).powi(2))
            .sum()
    }
}
