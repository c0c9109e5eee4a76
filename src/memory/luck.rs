//! Chance as a value: numbers that look random and are a function of their keys.
//!
//! `SplitMix64` (Steele, Lea & Flood 2014, OOPSLA: 453-472). Good enough for simulated
//! candidates; never for secrets.

/// One stream of draws.
#[derive(Clone, Copy, Debug)]
pub struct Luck(u64);

impl Luck {
    /// The stream named by these keys.
    #[must_use]
    pub fn of(keys: &[u64]) -> Self {
        Self(keys.iter().fold(0, |state, key| mixed(state ^ mixed(*key))))
    }

    /// A number from 0 to 1, ends left out.
    #[expect(clippy::cast_precision_loss, reason = "53 bits fit")]
    pub fn uniform(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        ((mixed(self.0) >> 11) as f64 + 0.5) / 9_007_199_254_740_992.0
    }

    /// A standard normal number (Box & Muller 1958).
    pub fn normal(&mut self) -> f64 {
        let radius = (-2.0 * self.uniform().ln()).sqrt();
        radius * (std::f64::consts::TAU * self.uniform()).cos()
    }
}

fn mixed(state: u64) -> u64 {
    let state = (state ^ (state >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    let state = (state ^ (state >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
    state ^ (state >> 31)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn draws_are_even_and_repeatable() {
        let mut luck = Luck::of(&[1, 2]);
        let draws: Vec<f64> = (0..4000).map(|_| luck.uniform()).collect();
        let mean = draws.iter().sum::<f64>() / 4000.0;
        assert!((mean - 0.5).abs() < 0.02);
        let mut again = Luck::of(&[1, 2]);
        assert!((again.uniform() - draws[0]).abs() < f64::EPSILON);
        let mut normal = Luck::of(&[3]);
        let square = (0..4000).map(|_| normal.normal().powi(2)).sum::<f64>() / 4000.0;
        assert!((square - 1.0).abs() < 0.1);
    }
}
