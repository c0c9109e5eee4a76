//! The row of teeth as a straight line: where each named point lies.
//!
//! x runs along the arch from the midline, distal positive, in mm. Widths are means ([`crate::figure::teeth`] names
//! their source); left and right rows are alike, so a quadrant and its mirror image are measured the same by
//! construction.

use crate::figure::teeth::{self, Jaw, NeckPoint, Tooth};

/// Crown and neck widths of the eight teeth of a quadrant.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Row {
    crowns_mm: [f64; 8],
    necks_mm: [f64; 8],
}

impl Row {
    /// The row of a jaw with mean widths.
    #[must_use]
    pub fn of(jaw: Jaw) -> Self {
        let mut row = Self {
            crowns_mm: [0.0; 8],
            necks_mm: [0.0; 8],
        };
        let slots = row.crowns_mm.iter_mut().zip(&mut row.necks_mm);
        for (tooth, (crown, neck)) in Tooth::all().zip(slots) {
            let means = teeth::means(jaw, tooth);
            (*crown, *neck) = (means.crown_mm, means.neck_mm);
        }
        row
    }

    /// Where a named point lies, mm from the midline.
    #[must_use]
    pub fn along_mm(&self, tooth: Tooth, point: NeckPoint) -> f64 {
        let index = usize::from(tooth.number() - 1);
        let start: f64 = self.crowns_mm.iter().take(index).sum();
        start + point.behind_contact_mm(self.crowns_mm[index], self.necks_mm[index])
    }

    /// Both line angles of a tooth, mm from the midline, mesial first.
    #[must_use]
    pub fn neck_mm(&self, tooth: Tooth) -> (f64, f64) {
        (
            self.along_mm(tooth, NeckPoint::MesialLine),
            self.along_mm(tooth, NeckPoint::DistalLine),
        )
    }

    /// Every width changed by a rule that gets the old one.
    #[cfg(test)]
    pub(super) fn reshaped(self, mut change: impl FnMut(f64) -> f64) -> Self {
        Self {
            crowns_mm: self.crowns_mm.map(&mut change),
            necks_mm: self.necks_mm.map(&mut change),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn points_lie_where_the_drawing_puts_them() {
        for jaw in [Jaw::Upper, Jaw::Lower] {
            for tooth in Tooth::all() {
                for point in NeckPoint::ALL {
                    let drawn = teeth::along_mm(jaw, tooth, point);
                    assert!((Row::of(jaw).along_mm(tooth, point) - drawn).abs() < 1e-12);
                }
            }
        }
    }

    #[test]
    fn mid_facial_points_by_hand() {
        let by_hand = [
            (Jaw::Lower, [2.5, 7.75, 14.0, 21.0, 28.0, 37.0, 47.75, 58.0]),
            (
                Jaw::Upper,
                [4.25, 11.75, 18.75, 26.0, 33.0, 41.5, 51.0, 59.75],
            ),
        ];
        for (jaw, places) in by_hand {
            for (tooth, place) in Tooth::all().zip(places) {
                let along = Row::of(jaw).along_mm(tooth, NeckPoint::MidFacial);
                assert!((along - place).abs() < 1e-12, "{tooth}");
            }
        }
    }
}
