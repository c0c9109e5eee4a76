//! Today's plan with an exam ahead: which items gain most exam recall per second.
//!
//! For every item, asking today and then following the best plan is compared with not asking
//! today and then following the best plan. The price of time is set so that all plans together
//! just fit the seconds left.

use super::candidate::Candidate;
use super::estimate::Trace;
use super::horizon::{GROUP_COUNT, Horizon, group};
use super::values::{Class, Costs, Place, Tables};

/// What a plan is made from.
#[derive(Clone, Copy, Debug)]
pub struct Situation<'a> {
    /// What is estimated of the candidate.
    pub candidate: &'a Candidate,
    /// Share of the exam of each item; 0 for items that are not to be asked.
    pub weights: &'a [f64],
    /// The days to the exam.
    pub horizon: &'a Horizon,
    /// Seconds of answers.
    pub costs: Costs,
    /// Now, in days since 1970.
    pub now: f64,
    /// Seconds of study today.
    pub today: f64,
    /// Seconds of study expected on a later study day.
    pub daily: f64,
}

/// One way to ask an item: on the day with so many days left.
#[derive(Clone, Copy, Debug)]
struct Choice {
    left: usize,
    recall: f64,
    seconds: f64,
    up: Place,
    down: Place,
}

/// An item with its choices; the first is today.
#[derive(Clone, Debug)]
struct Prospect {
    weight: f64,
    ease: f64,
    untouched: f64,
    choices: Vec<Choice>,
}

/// Prices of study time.
#[derive(Clone, Debug)]
pub struct Prices {
    /// Price of a second, in shares of exam recall.
    pub second: f64,
    /// Price of a second on each group of days over the average.
    pub groups: [f64; GROUP_COUNT],
}

/// The plan of a day.
#[derive(Clone, Debug)]
pub struct Plan {
    /// Prices it was made at.
    pub prices: Prices,
    /// What memories are worth.
    pub tables: Tables,
    /// Items by gain per second, best first.
    pub order: Vec<(usize, f64)>,
    /// Recall on exam day that all plans together lead to.
    pub recall: f64,
}

impl Situation<'_> {
    fn prospects(&self) -> Vec<Prospect> {
        (0..self.weights.len()).map(|item| self.prospect(item)).collect()
    }

    #[expect(clippy::cast_precision_loss, reason = "at most 400 days")]
    fn prospect(&self, item: usize) -> Prospect {
        let days = self.horizon.days;
        let learner = self.candidate.learner();
        let lefts = std::iter::once(days).chain(self.horizon.landings(days).iter().copied());
        let weight = self.weights[item];
        match self.candidate.trace(item) {
            Some(trace) => {
                let elapsed = trace.delay(self.now);
                let down = Place::of(learner.after_forgetting(trace.strength, trace.ease));
                let choice = |left: usize| {
                    let recall = self.recall(trace, elapsed + (days - left) as f64);
                    Choice {
                        left,
                        recall,
                        seconds: self.costs.expected(recall),
                        up: Place::of(learner.after_recall(trace.strength, recall)),
                        down,
                    }
                };
                Prospect {
                    weight,
                    ease: trace.ease,
                    untouched: self.recall(trace, elapsed + self.horizon.delay(days)),
                    choices: lefts.map(choice).collect(),
                }
            }
            None => {
                let recall = self.candidate.prior(item);
                let theta = &learner.theta;
                let up = Place::of(theta.after_miss() + theta.known_before());
                let down = Place::of(theta.after_miss());
                let choice = |left| Choice {
                    left,
                    recall,
                    seconds: self.costs.expected(recall),
                    up,
                    down,
                };
                Prospect {
                    weight,
                    ease: 0.0,
                    untouched: recall,
                    choices: lefts.map(choice).collect(),
                }
            }
        }
    }

    fn recall(&self, trace: &Trace, delay: f64) -> f64 {
        if std::env::var("LUX_MEAN").is_ok() {
            self.candidate.learner().mean_recall(trace, delay)
        } else {
            self.candidate.learner().curve.recall(trace.strength, delay)
        }
    }
}

impl Prospect {
    fn value(&self, choice: &Choice, class: Class, price: f64, plan: (&Tables, &Prices)) -> f64 {
        let (tables, prices) = plan;
        choice.recall * tables.value(class, choice.left, choice.up)
            + (1.0 - choice.recall) * tables.value(class, choice.left, choice.down)
            - price * prices.groups[group(choice.left)] * choice.seconds
    }

    /// The best choice from the second on, and its value; `None` if leaving it is better.
    fn wait(&self, class: Class, price: f64, plan: (&Tables, &Prices)) -> (Option<&Choice>, f64) {
        let mut best = (None, self.untouched);
        for choice in self.choices.iter().skip(1) {
            let value = self.value(choice, class, price, plan);
            if value > best.1 {
                best = (Some(choice), value);
            }
        }
        best
    }

    /// Index (gain per second), planned seconds and planned recall.
    fn appraise(&self, plan: (&Tables, &Prices)) -> (f64, f64, f64) {
        let (tables, prices) = plan;
        let Some(now) = self.choices.first().filter(|_| self.weight > 0.0) else {
            return (f64::NEG_INFINITY, 0.0, self.untouched);
        };
        let price = prices.second / self.weight;
        let class = tables.class(price, self.ease);
        let asked = self.value(now, class, price, plan);
        let (later, waited) = self.wait(class, price, plan);
        let index = self.weight * (asked - waited) / now.seconds;
        let chosen = if asked > waited { Some(now) } else { later };
        let (seconds, recall) = chosen.map_or((0.0, self.untouched), |choice| {
            let mix = |of: fn(&Tables, Class, usize, Place) -> f64| {
                choice.recall * of(tables, class, choice.left, choice.up)
                    + (1.0 - choice.recall) * of(tables, class, choice.left, choice.down)
            };
            (choice.seconds + mix(Tables::seconds), mix(Tables::recall))
        });
        (index, seconds, recall)
    }
}

impl Plan {
    /// Makes the plan of the day. `before` is the plan of a day before, if there is one.
    #[must_use]
    pub fn make(situation: &Situation<'_>, before: Option<Prices>, rounds: usize) -> Self {
        let prospects = situation.prospects();
        let horizon = situation.horizon;
        let available = horizon.seconds(situation.today, situation.daily);
        let left: f64 = available.iter().sum();
        let mut prices = before.unwrap_or_else(|| Prices {
            second: 1.0 / left.max(1.0),
            groups: [1.0; GROUP_COUNT],
        });
        let learner = situation.candidate.learner();
        let mean_weight = mean_weight(&prospects);
        let build = |prices: &Prices| {
            Tables::build(learner, horizon, situation.costs, &prices.groups, prices.second / mean_weight)
        };
        let mut tables = build(&prices);
        for _ in 0..rounds {
            prices.second = clear(&prospects, &tables, &prices, left);
            tables = build(&prices);
            prices.second = clear(&prospects, &tables, &prices, left);
            let used = rehearse(&prospects, &tables, &prices, situation);
            reprice(&mut prices.groups, &used, &available);
            tables = build(&prices);
        }
        prices.second = clear(&prospects, &tables, &prices, left);
        let mut order = Vec::with_capacity(prospects.len());
        let mut recall = 0.0;
        for (item, prospect) in prospects.iter().enumerate() {
            let (index, _, planned) = prospect.appraise((&tables, &prices));
            order.push((item, index));
            recall += prospect.weight * planned;
        }
        order.sort_by(|a, b| b.1.total_cmp(&a.1).then(a.0.cmp(&b.0)));
        if std::env::var("LUX_DEBUG").is_ok() {
            eprintln!("days {} price*sec {:.3e} groups {:.2?}", horizon.days, prices.second * left, prices.groups);
        }
        Self {
            prices,
            tables,
            order,
            recall,
        }
    }
}

#[expect(clippy::cast_precision_loss, reason = "a count of items")]
fn mean_weight(prospects: &[Prospect]) -> f64 {
    let (sum, count) = prospects
        .iter()
        .filter(|prospect| prospect.weight > 0.0)
        .fold((0.0, 0_usize), |(sum, count), prospect| (sum + prospect.weight, count + 1));
    if count > 0 { sum / count as f64 } else { 1.0 }
}

/// The price of a second at which all plans together take `left` seconds.
fn clear(prospects: &[Prospect], tables: &Tables, prices: &Prices, left: f64) -> f64 {
    let planned = |second: f64| -> f64 {
        let prices = Prices {
            second,
            groups: prices.groups,
        };
        prospects
            .iter()
            .map(|prospect| prospect.appraise((tables, &prices)).1)
            .sum()
    };
    let (mut low, mut high) = (prices.second / 30.0, prices.second * 30.0);
    for _ in 0..14 {
        let middle = (low * high).sqrt();
        if planned(middle) > left {
            low = middle;
        } else {
            high = middle;
        }
    }
    (low * high).sqrt()
}

/// Walks every item once through its plan; returns the seconds spent in each group.
#[expect(clippy::cast_precision_loss, reason = "counts and days far below 2^53")]
fn rehearse(
    prospects: &[Prospect],
    tables: &Tables,
    prices: &Prices,
    situation: &Situation<'_>,
) -> [f64; GROUP_COUNT] {
    let learner = situation.candidate.learner();
    let mut used = [0.0; GROUP_COUNT];
    for (item, prospect) in prospects.iter().enumerate() {
        if prospect.weight <= 0.0 {
            continue;
        }
        let price = prices.second / prospect.weight;
        let class = tables.class(price, prospect.ease);
        let plan = (tables, prices);
        let (later, waited) = prospect.wait(class, price, plan);
        let now = &prospect.choices[0];
        let first = if prospect.value(now, class, price, plan) > waited {
            Some(now)
        } else {
            later
        };
        let Some(first) = first else { continue };
        let mut luck = item as f64 * 0.618_033_988_749_894_9;
        let mut draw = || {
            luck += 0.754_877_666_246_692_7;
            luck.fract()
        };
        used[group(first.left)] += first.seconds;
        let mut place = if draw() < first.recall { first.up } else { first.down };
        let mut left = first.left;
        loop {
            let landing = tables.landing(class, left, place);
            if landing == 0 {
                break;
            }
            let strength = place.strength();
            let recall = learner.curve.recall(strength, (left - landing) as f64);
            used[group(landing)] += situation.costs.expected(recall);
            place = Place::of(if draw() < recall {
                learner.after_recall(strength, recall)
            } else {
                learner.after_forgetting(strength, prospect.ease)
            });
            left = landing;
        }
    }
    used
}

/// Moves the prices of the groups towards what is asked of them; their mean stays 1.
fn reprice(groups: &mut [f64; GROUP_COUNT], used: &[f64; GROUP_COUNT], available: &[f64; GROUP_COUNT]) {
    let total: f64 = available.iter().sum();
    let mut mean = 0.0;
    for index in 0..GROUP_COUNT {
        if available[index] > 0.0 {
            let factor = (used[index] / available[index]).powf(0.4).clamp(0.6, 1.7);
            groups[index] *= factor;
            mean += groups[index].ln() * available[index] / total;
        }
    }
    let scale = (-mean).exp();
    for price in groups {
        *price = (*price * scale).clamp(0.02, 50.0);
    }
}
