//! Today's plan with an exam ahead: which items gain most exam recall per second.
//!
//! For every item, asking it today and then following the best plan is compared with not asking
//! it today and then following the best plan. The price of time is the one at which all
//! plans together just take the seconds left. A plan is a function of what it is made from.

use super::prospect::{Appraisal, Prospect};
use super::values::Values;

/// Steps of the search for the price, either way and then by halving.
const WIDENING: usize = 16;
const HALVING: usize = 6;
/// Steps of halving where items are told apart that nearly equal prices part.
const HALVING_FINELY: usize = 14;
/// First guess of the price of all seconds left, in shares of exam recall.
const FIRST_GUESS: f64 = 2.0;

/// The plan of a day.
#[derive(Clone, Debug)]
pub struct Plan {
    /// Price of a second ten days before the exam, in shares of exam recall.
    pub price: f64,
    /// What each item is worth at that price.
    pub items: Vec<Appraisal>,
}

impl Plan {
    /// The plan that spends `seconds` until the exam, as nearly as one price for all can.
    pub fn make(prospects: &[Prospect], values: &mut Values, seconds: f64) -> Self {
        let (low, high) = clear(prospects, values, seconds.max(1.0), HALVING);
        Self::at(prospects, values, (low * high).sqrt())
    }

    /// The plan that spends `seconds` and no more. Items of equal weight of which nothing is known cross one price
    /// together, so of those for which there is no time for all, as many are taken as there is time for.
    pub fn fill(prospects: &[Prospect], values: &mut Values, seconds: f64) -> Self {
        let (low, high) = clear(prospects, values, seconds.max(1.0), HALVING_FINELY);
        let cheap = Self::at(prospects, values, low);
        let mut plan = Self::at(prospects, values, high);
        let mut left = seconds - plan.items.iter().map(|item| item.seconds).sum::<f64>();
        for number in cheap.order() {
            let more = cheap.items[number].seconds - plan.items[number].seconds;
            if more > 0.0 && more <= left {
                left -= more;
                plan.items[number] = cheap.items[number];
            }
        }
        plan
    }

    fn at(prospects: &[Prospect], values: &mut Values, price: f64) -> Self {
        let items = prospects
            .iter()
            .map(|prospect| prospect.appraise(values, price))
            .collect();
        Self { price, items }
    }

    /// Items by gain per second, best first; ties by number.
    #[must_use]
    pub fn order(&self) -> Vec<usize> {
        let mut order: Vec<usize> = (0..self.items.len()).collect();
        let index = |item: usize| self.items[item].index;
        order.sort_by(|a, b| index(*b).total_cmp(&index(*a)).then(a.cmp(b)));
        order
    }
}

/// Two neighbouring prices: at the lower one all plans together take more than `seconds`, at the higher one less.
fn clear(prospects: &[Prospect], values: &mut Values, seconds: f64, halving: usize) -> (f64, f64) {
    let mut too_cheap = |price: f64| {
        let planned: f64 = prospects
            .iter()
            .map(|prospect| prospect.appraise(values, price).seconds)
            .sum();
        planned > seconds
    };
    let mut low = FIRST_GUESS / seconds;
    let mut high = low;
    if too_cheap(low) {
        for _ in 0..WIDENING {
            low = high;
            high *= 1.7;
            if !too_cheap(high) {
                break;
            }
        }
    } else {
        for _ in 0..WIDENING {
            high = low;
            low /= 1.7;
            if too_cheap(low) {
                break;
            }
        }
    }
    for _ in 0..halving {
        let middle = (low * high).sqrt();
        if too_cheap(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    (low, high)
}
