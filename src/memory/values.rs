//! What a memory is worth on exam day if it is studied as well as it can be from here on.
//!
//! Backward induction over days left and log half-life (Bellman 1957), every second charged
//! at a price. An item's weight divides the price of time, so there is one table per price
//! level, made when first asked for. A table depends on nothing but the learner, the days and
//! the seconds of answers.

use std::collections::BTreeMap;

use super::estimate::Learner;
use super::grid::{POINTS, Place, strength_at};
use super::horizon::{Horizon, dearness};

/// Ratio of neighbouring price levels.
const FACTOR: f64 = 1.7;
/// Price levels that are told apart: 3e-6 to 70 recalls a second.
const LEVELS: std::ops::RangeInclusive<f64> = -24.0..=8.0;
/// Step between the classes of ease that the tables are made for.
const EASE_STEP: f64 = 0.8;
/// Sittings that an item in a plan is taken to have had; the tables do not count them.
const TYPICAL_SITTINGS: f64 = 3.0;
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
    /// These, to about five per cent: so that tables outlive single answers.
    #[must_use]
    pub fn rounded(right: f64, wrong: f64) -> Self {
        let round = |seconds: f64| ((seconds.ln() * 20.0).round() / 20.0).exp();
        Self {
            right: round(right),
            wrong: round(wrong),
        }
    }

    /// Seconds expected when the item is recalled with chance `recall`.
    #[must_use]
    pub fn expected(&self, recall: f64) -> f64 {
        let right = recall + (1.0 - recall) * LUCK;
        right * self.right + (1.0 - right) * self.wrong
    }
}

impl Learner {
    /// Where an answer leads from a place on the grid, in a plan.
    #[must_use]
    pub fn place_after(&self, before: Place, recall: f64, ease: f64, recalled: bool) -> Place {
        let strength = before.strength();
        Place::of(if recalled {
            self.after_recall(strength, recall, TYPICAL_SITTINGS)
        } else {
            self.after_forgetting(strength, ease)
        })
    }
}

/// What tables depend on.
#[derive(Clone, Debug, PartialEq)]
struct Basis {
    learner: Learner,
    costs: Costs,
}

/// All tables of one learner, horizon and pace.
#[derive(Clone, Debug)]
pub struct Values {
    basis: Basis,
    horizon: Horizon,
    asks: Asks,
    tables: BTreeMap<(i32, i32), Table>,
}

impl Values {
    /// The values for this learner, horizon and pace; those made before, if they still hold.
    #[must_use]
    pub fn renew(before: Option<Self>, learner: &Learner, horizon: &Horizon, costs: Costs) -> Self {
        let basis = Basis {
            learner: *learner,
            costs,
        };
        let horizon = horizon.rounded();
        before
            .filter(|before| before.basis == basis && before.horizon.covers(&horizon))
            .unwrap_or_else(|| Self {
                asks: Asks::new(learner, &horizon, costs),
                horizon,
                tables: BTreeMap::new(),
                basis,
            })
    }

    /// The table for an item of this ease at this price of a second over weight.
    #[expect(
        clippy::cast_possible_truncation,
        reason = "rounded and clamped just before"
    )]
    pub fn table(&mut self, price: f64, ease: f64) -> &Table {
        let level = (price.ln() / FACTOR.ln())
            .round()
            .clamp(*LEVELS.start(), *LEVELS.end()) as i32;
        let class = (ease / EASE_STEP).round().clamp(-1.0, 1.0) as i32;
        let Self {
            basis,
            horizon,
            asks,
            tables,
        } = self;
        tables.entry((level, class)).or_insert_with(|| {
            Table::build(
                &basis.learner,
                horizon,
                asks,
                FACTOR.powi(level),
                f64::from(class) * EASE_STEP,
            )
        })
    }
}

/// Value, planned seconds and recall for every state just after an answer.
#[derive(Clone, Debug)]
pub struct Table {
    value: Vec<f64>,
    seconds: Vec<f64>,
    recall: Vec<f64>,
}

impl Table {
    fn build(learner: &Learner, horizon: &Horizon, asks: &Asks, price: f64, ease: f64) -> Self {
        let states = (horizon.days + 1) * POINTS;
        let mut table = Self {
            value: Vec::with_capacity(states),
            seconds: Vec::with_capacity(states),
            recall: Vec::with_capacity(states),
        };
        let down: Vec<Place> = (0..POINTS)
            .map(|point| learner.place_after(Place::of(strength_at(point)), 0.0, ease, false))
            .collect();
        for left in 0..=horizon.days {
            for (point, down) in down.iter().enumerate() {
                let stay = learner
                    .curve
                    .recall(strength_at(point), horizon.delay(left));
                let mut best = (stay, None);
                for &landing in horizon.landings(left) {
                    let ask = asks.after(left - landing, point);
                    let value = ask.mix(*down, row(&table.value, landing))
                        - price * dearness(landing) * ask.seconds;
                    if value > best.0 {
                        best = (value, Some((landing, ask)));
                    }
                }
                let (seconds, recall) = match best.1 {
                    None => (0.0, stay),
                    Some((landing, ask)) => (
                        ask.seconds + ask.mix(*down, row(&table.seconds, landing)),
                        ask.mix(*down, row(&table.recall, landing)),
                    ),
                };
                table.value.push(best.0);
                table.seconds.push(seconds);
                table.recall.push(recall);
            }
        }
        table
    }

    /// Value just after an answer with `left` days to go.
    #[must_use]
    pub fn value(&self, left: usize, place: Place) -> f64 {
        place.mix(row(&self.value, left))
    }

    /// Seconds that the best plan will take from there.
    #[must_use]
    pub fn seconds(&self, left: usize, place: Place) -> f64 {
        place.mix(row(&self.seconds, left))
    }

    /// Recall on exam day that the best plan leads to.
    #[must_use]
    pub fn recall(&self, left: usize, place: Place) -> f64 {
        place.mix(row(&self.recall, left))
    }
}

/// The row of a table for so many days left.
fn row(column: &[f64], left: usize) -> &[f64] {
    let last = column.len().saturating_sub(POINTS);
    let from = (left * POINTS).min(last);
    &column[from..from + POINTS]
}

/// What asking after each gap does to each point of the grid; the same for all prices.
#[derive(Clone, Debug)]
struct Asks(Vec<Ask>);

#[derive(Clone, Copy, Debug)]
struct Ask {
    recall: f64,
    seconds: f64,
    up: Place,
}

impl Ask {
    fn mix(&self, down: Place, row: &[f64]) -> f64 {
        self.recall * self.up.mix(row) + (1.0 - self.recall) * down.mix(row)
    }
}

impl Asks {
    #[expect(clippy::cast_precision_loss, reason = "at most 400 days")]
    fn new(learner: &Learner, horizon: &Horizon, costs: Costs) -> Self {
        let ask = |gap: usize, point: usize| {
            let strength = strength_at(point);
            let recall = learner.curve.recall(strength, gap as f64);
            Ask {
                recall,
                seconds: costs.expected(recall),
                up: learner.place_after(Place::of(strength), recall, 0.0, true),
            }
        };
        Self(
            (0..=horizon.days)
                .flat_map(|gap| (0..POINTS).map(move |point| ask(gap, point)))
                .collect(),
        )
    }

    fn after(&self, gap: usize, point: usize) -> &Ask {
        &self.0[gap * POINTS + point]
    }
}
