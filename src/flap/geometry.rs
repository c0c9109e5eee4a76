//! Plane geometry on the straightened row: a point, a cut, a block of bone, and how far apart they are.
//!
//! Along the row in mm from the midline, apical of the neck line in mm.

/// A point in the plane of the row.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spot {
    /// Distal of the midline, mm.
    pub along_mm: f64,
    /// Apical of the neck line, mm.
    pub apical_mm: f64,
}

/// A straight cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Segment {
    /// Where it begins.
    pub from: Spot,
    /// Where it ends.
    pub to: Spot,
}

/// An upright rectangle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Block {
    /// Its mesial, coronal corner.
    pub low: Spot,
    /// Its distal, apical corner.
    pub high: Spot,
}

impl Spot {
    /// The point at these coordinates, mm.
    #[must_use]
    pub const fn new(along_mm: f64, apical_mm: f64) -> Self {
        Self {
            along_mm,
            apical_mm,
        }
    }

    /// Distance to another point, mm.
    #[must_use]
    pub fn distance_mm(self, other: Self) -> f64 {
        (self.along_mm - other.along_mm).hypot(self.apical_mm - other.apical_mm)
    }
}

impl Segment {
    /// The least and the greatest place along the row, mm.
    #[must_use]
    pub fn reach_mm(self) -> (f64, f64) {
        let (a, b) = (self.from.along_mm, self.to.along_mm);
        (a.min(b), a.max(b))
    }

    /// Horizontal gap between the cut, whole, and a place along the row, mm; 0 if it passes over.
    #[must_use]
    pub fn gap_to_mm(self, along_mm: f64) -> f64 {
        let (low, high) = self.reach_mm();
        (low - along_mm).max(along_mm - high).max(0.0)
    }

    /// Distance from a point, mm.
    #[must_use]
    pub fn distance_to_mm(self, spot: Spot) -> f64 {
        let (dx, dy) = (
            self.to.along_mm - self.from.along_mm,
            self.to.apical_mm - self.from.apical_mm,
        );
        let square = dx * dx + dy * dy;
        let share = if square > 0.0 {
            let along = (spot.along_mm - self.from.along_mm) * dx
                + (spot.apical_mm - self.from.apical_mm) * dy;
            (along / square).clamp(0.0, 1.0)
        } else {
            0.0
        };
        spot.distance_mm(Spot::new(
            self.from.along_mm + share * dx,
            self.from.apical_mm + share * dy,
        ))
    }
}

impl Block {
    /// Its corners, from the mesial coronal one around by the distal coronal one.
    #[must_use]
    pub const fn corners(self) -> [Spot; 4] {
        [
            self.low,
            Spot::new(self.high.along_mm, self.low.apical_mm),
            self.high,
            Spot::new(self.low.along_mm, self.high.apical_mm),
        ]
    }

    /// Distance from a cut, mm; 0 if it touches or crosses.
    #[must_use]
    pub fn distance_to_mm(self, cut: Segment) -> f64 {
        if self.is_crossed_by(cut) {
            return 0.0;
        }
        // Two convex shapes apart: a corner of one or an end of the other is nearest.
        let from_corners = self.corners().map(|corner| cut.distance_to_mm(corner));
        let from_ends = [cut.from, cut.to].map(|end| self.distance_to_spot_mm(end));
        from_corners
            .into_iter()
            .chain(from_ends)
            .fold(f64::INFINITY, f64::min)
    }

    fn distance_to_spot_mm(self, spot: Spot) -> f64 {
        let outside = |value: f64, low: f64, high: f64| (low - value).max(value - high).max(0.0);
        outside(spot.along_mm, self.low.along_mm, self.high.along_mm).hypot(outside(
            spot.apical_mm,
            self.low.apical_mm,
            self.high.apical_mm,
        ))
    }

    /// Whether any part of a cut lies inside: the cut is clipped to the block side by side (Liang and Barsky 1984).
    fn is_crossed_by(self, cut: Segment) -> bool {
        let (dx, dy) = (
            cut.to.along_mm - cut.from.along_mm,
            cut.to.apical_mm - cut.from.apical_mm,
        );
        let sides = [
            (-dx, cut.from.along_mm - self.low.along_mm),
            (dx, self.high.along_mm - cut.from.along_mm),
            (-dy, cut.from.apical_mm - self.low.apical_mm),
            (dy, self.high.apical_mm - cut.from.apical_mm),
        ];
        let (mut enters, mut leaves) = (0.0_f64, 1.0_f64);
        for (toward, room) in sides {
            if toward == 0.0 {
                if room < 0.0 {
                    return false;
                }
            } else if toward < 0.0 {
                enters = enters.max(room / toward);
            } else {
                leaves = leaves.min(room / toward);
            }
        }
        enters <= leaves
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn segment(a: (f64, f64), b: (f64, f64)) -> Segment {
        Segment {
            from: Spot::new(a.0, a.1),
            to: Spot::new(b.0, b.1),
        }
    }

    const BLOCK: Block = Block {
        low: Spot::new(10.0, 2.0),
        high: Spot::new(15.0, 8.0),
    };

    fn close(a: f64, b: f64) {
        assert!((a - b).abs() < 1e-9, "{a} {b}");
    }

    #[test]
    fn distance_from_a_block() {
        close(BLOCK.distance_to_mm(segment((4.0, 0.0), (4.0, 9.0))), 6.0);
        close(BLOCK.distance_to_mm(segment((7.0, -2.0), (4.0, -2.0))), 5.0);
        close(
            BLOCK.distance_to_mm(segment((18.0, 12.0), (20.0, 20.0))),
            5.0,
        );
        // Passes a corner on the slant: the line x + y = 8 is 4 / sqrt 2 from (10, 2).
        let expected = 4.0 / 2.0_f64.sqrt();
        close(
            BLOCK.distance_to_mm(segment((0.0, 8.0), (16.0, -8.0))),
            expected,
        );
    }

    #[test]
    fn crossing_and_touching_are_no_distance() {
        for cut in [
            segment((12.0, 0.0), (12.0, 20.0)),
            segment((0.0, 5.0), (30.0, 5.0)),
            segment((11.0, 3.0), (12.0, 4.0)),
            segment((10.0, 0.0), (10.0, 2.0)),
            segment((9.0, 1.0), (11.0, 3.0)),
        ] {
            close(BLOCK.distance_to_mm(cut), 0.0);
        }
    }

    #[test]
    fn gap_along_the_row() {
        let cut = segment((5.0, 0.0), (3.0, 9.0));
        close(cut.gap_to_mm(8.0), 3.0);
        close(cut.gap_to_mm(1.0), 2.0);
        close(cut.gap_to_mm(4.0), 0.0);
    }
}
