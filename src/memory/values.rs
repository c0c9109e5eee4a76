//! What a memory is worth on exam day if it is studied as well as it can be from here on.
//!
//! Backward induction over days left and log half-life, every second charged at a price
//! (Bellman 1957). One table per price level: an item's weight divides the price of time.

use super::estimate::Learner;
use super::horizon::{Horizon, group, GROUP_COUNT};

/// Points of the strength grid.
const POINTS: usize = 36;
const LOWEST: f64 = -2.0;
const WIDTH: f64 = 9.3;
/// Price levels, a factor [`FACTOR`] apart.
const LEVELS: usize = 9;
/// Ratio of neighbouring price levels.
const FACTOR: f64 = 1.7;
/// Ease of the items that the tables are made for.
const EASES: [f64; 3] = [-0.8, 0.0, 0.8];
/// Chance of a right answer to an item not known, on average.
const LUCK: f64 = 0.24;

/// Seconds of an answer when known and when not.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Costs {
    /// Mean seconds of a right answer.
    pub right: f64,
    /// Mean seconds of a wrong answer.
    pub wrong: f64,
}

impl Costs {
    /// Seconds expected when the item is recalled with chance `recall`.
    #[must_use]
    pub fn expected(&self, recall: f64) -> f64 {
        let right = recall + (1.0 - recall) * LUCK;
        right * self.right + (1.0 - right) * self.wrong
    }
}

/// A place on the strength grid.
#[derive(Clone, Copy, Debug, Default)]
pub struct Place {
    point: usize,
    share: f64,
}

impl Place {
    /// The place of a strength.
    #[must_use]
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        clippy::cast_precision_loss,
        reason = "clamped to the grid"
    )]
    pub fn of(strength: f64) -> Self {
        let at = ((strength - LOWEST) * ((POINTS - 1) as f64 / WIDTH)).clamp(0.0, (POINTS - 1) as f64);
        let point = (at as usize).min(POINTS - 2);
        Self {
            point,
            share: at - point as f64,
        }
    }

    /// The strength at this place.
    #[must_use]
    pub fn strength(self) -> f64 {
        grid(self.point) * (1.0 - self.share) + grid(self.point + 1) * self.share
    }

    fn mix(self, row: &[f64]) -> f64 {
        row[self.point] * (1.0 - self.share) + row[self.point + 1] * self.share
    }
}

#[expect(clippy::cast_precision_loss, reason = "at most 36 points")]
fn grid(point: usize) -> f64 {
    LOWEST + WIDTH * point as f64 / (POINTS - 1) as f64
}

/// Value, planned seconds, recall and next day of study for every state.
#[derive(Clone, Debug)]
pub struct Tables {
    days: usize,
    base: f64,
    value: Vec<f64>,
    seconds: Vec<f64>,
    recall: Vec<f64>,
    landing: Vec<usize>,
}

/// A price level and ease class of the tables.
#[derive(Clone, Copy, Debug)]
pub struct Class(usize);

impl Tables {
    /// The tables for prices around `base` (price of a second over weight).
    #[must_use]
    pub fn build(
        learner: &Learner,
        horizon: &Horizon,
        costs: Costs,
        prices: &[f64; GROUP_COUNT],
        base: f64,
    ) -> Self {
        let rows = LEVELS * EASES.len() * (horizon.days + 1);
        let mut tables = Self {
            days: horizon.days,
            base,
            value: vec![0.0; rows * POINTS],
            seconds: vec![0.0; rows * POINTS],
            recall: vec![0.0; rows * POINTS],
            landing: vec![0; rows * POINTS],
        };
        let asks = Asks::new(learner, horizon, costs);
        for level in 0..LEVELS {
            let price = base * level_factor(level);
            for ease in 0..EASES.len() {
                tables.fill(Class(level * EASES.len() + ease), &asks, learner, horizon, price, prices);
            }
        }
        tables
    }

    fn fill(
        &mut self,
        class: Class,
        asks: &Asks,
        learner: &Learner,
        horizon: &Horizon,
        price: f64,
        prices: &[f64; GROUP_COUNT],
    ) {
        let down = &asks.down[class.0 % EASES.len()];
        for left in 0..=self.days {
            let landings = horizon.landings(left);
            for point in 0..POINTS {
                let stay = learner.curve.recall(grid(point), horizon.delay(left));
                let mut best = (stay, 0);
                for &landing in landings {
                    let ask = &asks.at[(left - landing) * POINTS + point];
                    let row = self.row(class, landing);
                    let row = &self.value[row..row + POINTS];
                    let value = ask.recall * ask.up.mix(row)
                        + (1.0 - ask.recall) * down[point].mix(row)
                        - price * prices[group(landing)] * ask.seconds;
                    if value > best.0 {
                        best = (value, landing);
                    }
                }
                let here = self.row(class, left) + point;
                self.value[here] = best.0;
                self.landing[here] = best.1;
                if best.1 == 0 {
                    self.recall[here] = stay;
                } else {
                    let ask = &asks.at[(left - best.1) * POINTS + point];
                    let row = self.row(class, best.1);
                    let mixed = |table: &[f64]| {
                        let row = &table[row..row + POINTS];
                        ask.recall * ask.up.mix(row) + (1.0 - ask.recall) * down[point].mix(row)
                    };
                    self.seconds[here] = ask.seconds + mixed(&self.seconds);
                    self.recall[here] = mixed(&self.recall);
                }
            }
        }
    }

    fn row(&self, class: Class, left: usize) -> usize {
        (class.0 * (self.days + 1) + left.min(self.days)) * POINTS
    }

    /// The class nearest to an item of this ease at this price over weight.
    #[must_use]
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        clippy::cast_precision_loss,
        reason = "clamped to the levels just before"
    )]
    pub fn class(&self, price: f64, ease: f64) -> Class {
        let level = (price / self.base).max(1e-9).ln() / FACTOR.ln() + (LEVELS / 2) as f64;
        let level = level.round().clamp(0.0, (LEVELS - 1) as f64) as usize;
        let ease = ((ease / 0.8).round() + 1.0).clamp(0.0, 2.0) as usize;
        Class(level * EASES.len() + ease)
    }

    /// Value just after an answer with `left` days to go.
    #[must_use]
    pub fn value(&self, class: Class, left: usize, place: Place) -> f64 {
        let row = self.row(class, left);
        place.mix(&self.value[row..row + POINTS])
    }

    /// Seconds that the best plan will take from there.
    #[must_use]
    pub fn seconds(&self, class: Class, left: usize, place: Place) -> f64 {
        let row = self.row(class, left);
        place.mix(&self.seconds[row..row + POINTS])
    }

    /// Recall on exam day that the best plan leads to.
    #[must_use]
    pub fn recall(&self, class: Class, left: usize, place: Place) -> f64 {
        let row = self.row(class, left);
        place.mix(&self.recall[row..row + POINTS])
    }

    /// The day on which the best plan asks next; 0 for never.
    #[must_use]
    pub fn landing(&self, class: Class, left: usize, place: Place) -> usize {
        let nearest = place.point + usize::from(place.share > 0.5);
        self.landing[self.row(class, left) + nearest]
    }
}

fn level_factor(level: usize) -> f64 {
    let steps = i32::try_from(level).unwrap_or(0) - i32::try_from(LEVELS / 2).unwrap_or(0);
    FACTOR.powi(steps)
}

/// What asking after each gap does to each point of the grid; the same for all prices.
struct Asks {
    at: Vec<Ask>,
    down: Vec<Vec<Place>>,
}

#[derive(Clone, Copy, Default)]
struct Ask {
    recall: f64,
    seconds: f64,
    up: Place,
}

impl Asks {
    #[expect(clippy::cast_precision_loss, reason = "at most 400 days")]
    fn new(learner: &Learner, horizon: &Horizon, costs: Costs) -> Self {
        let mut at = vec![Ask::default(); (horizon.days + 1) * POINTS];
        for gap in 1..=horizon.days {
            for point in 0..POINTS {
                let recall = learner.curve.recall(grid(point), gap as f64);
                at[gap * POINTS + point] = Ask {
                    recall,
                    seconds: costs.expected(recall),
                    up: Place::of(learner.after_recall(grid(point), recall)),
                };
            }
        }
        let down = EASES.map(|ease| {
            (0..POINTS)
                .map(|point| Place::of(learner.after_forgetting(grid(point), ease)))
                .collect()
        });
        Self {
            at,
            down: down.into(),
        }
    }
}
