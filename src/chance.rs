//! Chance as a function of a seed: the same seed gives the same order on every machine and version.
//!
//! Orders are logged and must survive upgrades, so the shuffle is our own and the generator is one whose
//! stream is fixed by its specification. Nothing here draws a seed.

use rand::{Rng, SeedableRng, rngs::ChaCha8Rng};

/// A stream of draws from one seed.
#[derive(Debug)]
pub struct Chance(ChaCha8Rng);

impl Chance {
    /// The stream of `seed`; `number` tells streams of one seed apart.
    #[must_use]
    pub fn new(seed: u64, number: u64) -> Self {
        let mut rng = ChaCha8Rng::seed_from_u64(seed);
        rng.set_stream(number);
        Self(rng)
    }

    /// A whole number from 0 up to but not including `bound`; 0 if `bound` is 0.
    pub fn below(&mut self, bound: usize) -> usize {
        // Multiply and shift: unbiased enough for lists of this length (error below 2^-32).
        let wide = u128::from(self.0.next_u64()) * bound as u128;
        usize::try_from(wide >> 64).unwrap_or(0)
    }

    /// The numbers 0 to `len` - 1 in an order of this stream (Fisher and Yates 1938).
    pub fn order(&mut self, len: usize) -> Vec<usize> {
        let mut order: Vec<usize> = (0..len).collect();
        for last in (1..len).rev() {
            order.swap(last, self.below(last + 1));
        }
        order
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_seed_fixes_the_order_for_good() {
        // Recorded once: an upgrade that changes this would change what logged seeds mean.
        assert_eq!(Chance::new(7, 0).order(8), [5, 0, 6, 2, 3, 4, 7, 1]);
        assert_ne!(Chance::new(7, 0).order(8), Chance::new(7, 1).order(8));
    }

    #[test]
    fn every_place_is_reached_evenly() {
        let mut counts = [0_u32; 4];
        for seed in 0..4000 {
            counts[Chance::new(seed, 0).order(4)[0]] += 1;
        }
        // Binomial with n = 4000, p = 1/4: five standard deviations are 137.
        assert!(
            counts.iter().all(|count| count.abs_diff(1000) < 137),
            "{counts:?}"
        );
    }

    #[test]
    fn nothing_to_choose_from_is_no_fault() {
        assert_eq!(Chance::new(1, 1).below(0), 0);
        assert!(Chance::new(1, 1).order(0).is_empty());
    }
}
