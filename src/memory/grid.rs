//! The grid of log half-lives that values are tabulated on.

use super::recall::STRENGTH;

/// Points of the grid.
pub const POINTS: usize = 36;

#[expect(clippy::cast_precision_loss, reason = "35")]
const LAST: f64 = (POINTS - 1) as f64;

/// The log half-life at a point.
#[must_use]
#[expect(clippy::cast_precision_loss, reason = "at most 35")]
pub fn strength_at(point: usize) -> f64 {
    let (low, high) = (*STRENGTH.start(), *STRENGTH.end());
    low + (high - low) * point as f64 / LAST
}

/// A place on the grid: a point and the share of the way to the next.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Place {
    point: usize,
    share: f64,
}

impl Place {
    /// The place of a strength, or the nearest end.
    #[must_use]
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        clippy::cast_precision_loss,
        reason = "clamped to the grid just before"
    )]
    pub fn of(strength: f64) -> Self {
        let (low, high) = (*STRENGTH.start(), *STRENGTH.end());
        let at = ((strength - low) * LAST / (high - low)).clamp(0.0, LAST);
        let point = (at as usize).min(POINTS - 2);
        Self {
            point,
            share: at - point as f64,
        }
    }

    /// The strength at this place.
    #[must_use]
    pub fn strength(self) -> f64 {
        let (below, above) = (strength_at(self.point), strength_at(self.point + 1));
        below + (above - below) * self.share
    }

    /// What lies at this place of a row with one value a point.
    #[must_use]
    pub fn mix(self, row: &[f64]) -> f64 {
        row[self.point] * (1.0 - self.share) + row[self.point + 1] * self.share
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_are_where_they_say() {
        for strength in [-2.0, -1.37, 0.0, 2.5, 7.3] {
            assert!((Place::of(strength).strength() - strength).abs() < 1e-12);
        }
        let row: Vec<f64> = (0..POINTS).map(strength_at).collect();
        assert!((Place::of(3.21).mix(&row) - 3.21).abs() < 1e-12);
        assert!((Place::of(99.0).strength() - 7.3).abs() < 1e-12);
    }
}
