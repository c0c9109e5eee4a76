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
use super::study::StudyPlan;

/// Ratio of neighbouring price levels.
const FACTOR: f64 = 1.7;
/// Price levels that are told apart: 3e-6 to 70 recalls a second.
const LEVELS: std::ops::RangeInclusive<f64> = -24.0..=8.0;
/// Step between the classes of ease that the tables are made for.
const EASE_STEP: f64 = 0.8;
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

/// What tables depend on.
#[derive(Clone, Debug, PartialEq)]
struct Basis {
    learner: Learner,
    costs: Costs,
    plan: StudyPlan,
    lead: f64,
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
    /// The values for this learner, plan, horizon and pace; those made before, if they still hold.
    #[must_use]
    pub fn renew(
        before: Option<Self>,
        learner: &Learner,
        plan: &StudyPlan,
        horizon: &Horizon,
        costs: Costs,
    ) -> Self {
        let basis = Basis {
            learner: *learner,
            costs,
            // How long a day's round is does not matter here.
            plan: StudyPlan {
                seconds_a_day: 0.0,
                ..*plan
            },
            lead: horizon.lead(),
        };
        before
            .filter(|before| before.basis == basis && before.horizon.days >= horizon.days)
            .unwrap_or_else(|| Self {
                asks: Asks::new(learner, horizon, costs),
                horizon: horizon.clone(),
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

/// Value, planned seconds, recall and next day of study for every state just after an answer.
#[derive(Clone, Debug)]
pub struct Table {
    value: Vec<f64>,
    seconds: Vec<f64>,
    recall: Vec<f64>,
    landing: Vec<usize>,
}

impl Table {
    fn build(learner: &Learner, horizon: &Horizon, asks: &Asks, price: f64, ease: f64) -> Self {
        let states = (horizon.days + 1) * POINTS;
        let mut table = Self {
            value: Vec::with_capacity(states),
            seconds: Vec::with_capacity(states),
            recall: Vec::with_capacity(states),
            landing: Vec::with_capacity(states),
        };
        let down: Vec<Place> = (0..POINTS)
            .map(|point| Place::of(learner.after_forgetting(strength_at(point), ease)))
            .collect();
        for left in 0..=horizon.days {
            for (point, down) in down.iter().enumerate() {
                let stay = learner
                    .curve
                    .recall(strength_at(point), horizon.delay(left));
                let mut best = (stay, None);
                for &landing in horizon.landings(left) {
                    let ask = asks.after(left - landing, point);
                    let value = ask.mix(*down, table.row(&table.value, landing))
                        - price * dearness(landing) * ask.seconds;
                    if value > best.0 {
                        best = (value, Some((landing, ask)));
                    }
                }
                let (seconds, recall, landing) = match best.1 {
                    None => (0.0, stay, 0),
                    Some((landing, ask)) => (
                        ask.seconds + ask.mix(*down, table.row(&table.seconds, landing)),
                        ask.mix(*down, table.row(&table.recall, landing)),
                        landing,
                    ),
                };
                table.value.push(best.0);
                table.seconds.push(seconds);
                table.recall.push(recall);
                table.landing.push(landing);
            }
        }
        table
    }

    fn row<'a>(&self, column: &'a [f64], left: usize) -> &'a [f64] {
        let last = self.landing.len().saturating_sub(POINTS);
        let from = (left * POINTS).min(last);
        &column[from..from + POINTS]
    }

    /// Value just after an answer with `left` days to go.
    #[must_use]
    pub fn value(&self, left: usize, place: Place) -> f64 {
        place.mix(self.row(&self.value, left))
    }

    /// Seconds that the best plan will take from there.
    #[must_use]
    pub fn seconds(&self, left: usize, place: Place) -> f64 {
        place.mix(self.row(&self.seconds, left))
    }

    /// Recall on exam day that the best plan leads to.
    #[must_use]
    pub fn recall(&self, left: usize, place: Place) -> f64 {
        place.mix(self.row(&self.recall, left))
    }

    /// The day on which the best plan asks next; `None` for never.
    #[must_use]
    pub fn landing(&self, left: usize, place: Place) -> Option<usize> {
        let landing = self.landing.get(left * POINTS + place.nearest())?;
        (*landing > 0).then_some(*landing)
    }
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
                up: Place::of(learner.after_recall(strength, recall)),
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
