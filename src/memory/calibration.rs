//! How good forecasts of single answers were.
//!
//! Brier's score (1950) and its partition by Murphy 1973 (Journal of Applied Meteorology 12:
//! 595-600): reliability (how far stated chances are from shares that came true), resolution
//! (how far those shares are from the mean) and uncertainty (of the outcomes themselves).

/// Steps that chances are rounded to: twentieths.
const STEPS: usize = 20;

/// Forecasts that stated about the same chance.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Level {
    /// The chance that was stated, to the nearest twentieth.
    pub stated: f64,
    /// Forecasts that stated it.
    pub count: u32,
    /// How many of them came true.
    pub came_true: u32,
}

/// The record of a forecaster.
#[derive(Clone, Debug, PartialEq)]
pub struct Calibration {
    /// One entry a stated chance, lowest first; chances never stated are left out.
    pub levels: Vec<Level>,
    /// Mean squared error of the stated chances.
    pub brier: f64,
    /// Part of it that comes from chances that were not true to themselves.
    pub reliability: f64,
    /// Part of the uncertainty that the forecasts resolved.
    pub resolution: f64,
    /// What a forecaster who always stated the mean would get.
    pub uncertainty: f64,
}

impl Calibration {
    /// The record of these forecasts (chance, and whether it came true); `None` if there are none.
    #[must_use]
    pub fn of(forecasts: impl IntoIterator<Item = (f64, bool)>) -> Option<Self> {
        let mut levels = [Level::default(); STEPS + 1];
        let mut squares = 0.0;
        for (chance, came_true) in forecasts {
            let step = nearest(chance);
            let level = &mut levels[step];
            level.stated = stated(step);
            level.count += 1;
            level.came_true += u32::from(came_true);
            squares += (level.stated - f64::from(u8::from(came_true))).powi(2);
        }
        let levels: Vec<Level> = levels.into_iter().filter(|level| level.count > 0).collect();
        let count: f64 = levels.iter().map(|level| f64::from(level.count)).sum();
        let true_ones: f64 = levels.iter().map(|level| f64::from(level.came_true)).sum();
        if levels.is_empty() {
            return None;
        }
        let mean = true_ones / count;
        let part = |distance: &dyn Fn(&Level) -> f64| {
            let weighted = |level: &Level| f64::from(level.count) * distance(level).powi(2);
            levels.iter().map(weighted).sum::<f64>() / count
        };
        let reliability = part(&|level| level.stated - level.share());
        let resolution = part(&|level| level.share() - mean);
        Some(Self {
            brier: squares / count,
            reliability,
            resolution,
            uncertainty: mean * (1.0 - mean),
            levels,
        })
    }
}

impl Level {
    /// Share of these forecasts that came true.
    #[must_use]
    pub fn share(&self) -> f64 {
        f64::from(self.came_true) / f64::from(self.count.max(1))
    }
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    clippy::cast_precision_loss,
    reason = "clamped to 0..=20 just before; no number becomes 0"
)]
fn nearest(chance: f64) -> usize {
    (chance * STEPS as f64).round().clamp(0.0, STEPS as f64) as usize
}

#[expect(clippy::cast_precision_loss, reason = "at most 20")]
fn stated(step: usize) -> f64 {
    step as f64 / STEPS as f64
}
