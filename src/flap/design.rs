//! A flap design: where the cut runs along the necks and which ends carry a release.
//!
//! A [`Design`] can only be made valid: finite sizes within generous bounds, mesial end in front of the distal one.
//! Whether it is a good design is not asked here.

use std::fmt;

use crate::figure::teeth::{NeckPoint, Tooth};
use thiserror::Error;

/// Longest release or limb that can be drawn, mm.
pub const LONGEST_MM: f64 = 40.0;

/// Steepest slant of a release to either side, degrees.
pub const STEEPEST_DEG: f64 = 60.0;

/// Deepest submarginal cut, mm below the neck line.
pub const DEEPEST_OFFSET_MM: f64 = 20.0;

/// Which end of the margin.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum EndSide {
    /// The end nearer the midline.
    Mesial,
    /// The end nearer the back.
    Distal,
}

impl EndSide {
    /// Mesial, then distal.
    pub const BOTH: [Self; 2] = [Self::Mesial, Self::Distal];

    /// The word for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Mesial => "mesial",
            Self::Distal => "distal",
        }
    }

    /// Sign of "away from the flap" along the row.
    #[must_use]
    pub const fn outward(self) -> f64 {
        match self {
            Self::Mesial => -1.0,
            Self::Distal => 1.0,
        }
    }
}

impl fmt::Display for EndSide {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.word())
    }
}

/// A releasing incision.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Release {
    /// Its length, mm; above 0.
    pub length_mm: f64,
    /// Its slant from the vertical, degrees; positive spreads toward the base.
    pub spread_deg: f64,
}

impl Release {
    /// How deep it goes below where it starts, mm.
    #[must_use]
    pub fn depth_mm(self) -> f64 {
        self.length_mm * self.spread_deg.to_radians().cos()
    }

    /// How far its foot lies outside its start along the row, mm; negative leans in.
    #[must_use]
    pub fn sweep_mm(self) -> f64 {
        self.length_mm * self.spread_deg.to_radians().sin()
    }
}

/// The oblique cut behind the last tooth of the lower jaw, for the third molar.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limb {
    /// Its length, mm; above 0.
    pub length_mm: f64,
    /// Degrees to the buccal of the line of the row: 0 is straight back, negative lingual.
    pub buccal_deg: f64,
}

impl Limb {
    /// How far distal of its start it reaches along the row, mm.
    #[must_use]
    pub fn reach_mm(self) -> f64 {
        self.length_mm * self.buccal_deg.to_radians().cos()
    }
}

/// One end of the margin.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct End {
    /// The tooth.
    pub tooth: Tooth,
    /// The point on its neck line.
    pub point: NeckPoint,
    /// The release that starts there, if any.
    pub release: Option<Release>,
}

/// How the cut runs along the necks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Cut {
    /// In the gingival sulcus.
    Sulcular,
    /// In attached gingiva, this far below the neck line.
    Submarginal {
        /// Distance from the neck line, mm; above 0.
        offset_mm: f64,
    },
}

impl Cut {
    /// How far below the neck line it runs, mm: 0 if sulcular.
    #[must_use]
    pub const fn offset_mm(self) -> f64 {
        match self {
            Self::Sulcular => 0.0,
            Self::Submarginal { offset_mm } => offset_mm,
        }
    }
}

/// A valid design.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Design {
    mesial: End,
    distal: End,
    cut: Cut,
    limb: Option<Limb>,
}

/// Why something is no design.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum DesignError {
    /// A release without a usable length.
    #[error("the {side} release is {length_mm} mm long; give more than 0 and at most 40 mm")]
    ReleaseLength {
        /// Which end.
        side: EndSide,
        /// What was given, mm.
        length_mm: f64,
    },
    /// A release without a usable slant.
    #[error("the {side} release slants {spread_deg} degrees; give -60 to 60")]
    ReleaseSlant {
        /// Which end.
        side: EndSide,
        /// What was given, degrees.
        spread_deg: f64,
    },
    /// A limb without a usable length.
    #[error("the distal limb is {length_mm} mm long; give more than 0 and at most 40 mm")]
    LimbLength {
        /// What was given, mm.
        length_mm: f64,
    },
    /// A limb without a usable direction.
    #[error("the distal limb turns {buccal_deg} degrees; give -90 (lingual) to 90 (buccal)")]
    LimbTurn {
        /// What was given, degrees.
        buccal_deg: f64,
    },
    /// A submarginal cut without a usable offset.
    #[error(
        "the cut runs {offset_mm} mm below the necks; give more than 0 and at most 20 mm, or a sulcular cut"
    )]
    Offset {
        /// What was given, mm.
        offset_mm: f64,
    },
    /// Both ends on one point of the row.
    #[error("both ends stand on the same point; a margin runs from one point to another")]
    SamePoint,
    /// The mesial end lies behind the distal one.
    #[error("the mesial end lies behind the distal end; exchange them")]
    Swapped,
    /// A limb and a release at one end.
    #[error("the distal end carries a limb and a release; keep one of them")]
    LimbAndRelease,
    /// A limb where there is no ramus.
    #[error("a distal limb belongs to the lower jaw; take it away")]
    LimbInUpperJaw,
}

impl Design {
    /// The design with these parts.
    ///
    /// # Errors
    /// A [`DesignError`] if a size is not finite or out of bounds, or the ends are one point or exchanged.
    pub fn new(
        mesial: End,
        distal: End,
        cut: Cut,
        limb: Option<Limb>,
    ) -> Result<Self, DesignError> {
        match rank(mesial).cmp(&rank(distal)) {
            std::cmp::Ordering::Less => {}
            std::cmp::Ordering::Equal => return Err(DesignError::SamePoint),
            std::cmp::Ordering::Greater => return Err(DesignError::Swapped),
        }
        check_release(EndSide::Mesial, mesial.release)?;
        check_release(EndSide::Distal, distal.release)?;
        if let Cut::Submarginal { offset_mm } = cut
            && !is_size(offset_mm, DEEPEST_OFFSET_MM)
        {
            return Err(DesignError::Offset { offset_mm });
        }
        if let Some(limb) = limb {
            check_limb(limb)?;
            if distal.release.is_some() {
                return Err(DesignError::LimbAndRelease);
            }
        }
        Ok(Self {
            mesial,
            distal,
            cut,
            limb,
        })
    }

    /// The end on this side.
    #[must_use]
    pub const fn end(&self, side: EndSide) -> End {
        match side {
            EndSide::Mesial => self.mesial,
            EndSide::Distal => self.distal,
        }
    }

    /// How the cut runs.
    #[must_use]
    pub const fn cut(&self) -> Cut {
        self.cut
    }

    /// The distal limb, if any.
    #[must_use]
    pub const fn limb(&self) -> Option<Limb> {
        self.limb
    }

    /// The ends that carry a release, mesial first.
    pub fn releases(&self) -> impl Iterator<Item = (EndSide, Release)> + use<> {
        let design = *self;
        EndSide::BOTH
            .into_iter()
            .filter_map(move |side| Some((side, design.end(side).release?)))
    }

    /// Whether any end carries a release.
    #[must_use]
    pub const fn has_release(&self) -> bool {
        self.mesial.release.is_some() || self.distal.release.is_some()
    }
}

/// Order along any row: neighbours share a papilla, so the last point of one tooth is the first of the next.
fn rank(end: End) -> usize {
    let point = NeckPoint::ALL.iter().position(|&point| point == end.point);
    usize::from(end.tooth.number()) * (NeckPoint::ALL.len() - 1) + point.unwrap_or_default()
}

fn is_size(mm: f64, most_mm: f64) -> bool {
    mm > 0.0 && mm <= most_mm
}

fn check_release(side: EndSide, release: Option<Release>) -> Result<(), DesignError> {
    let Some(Release {
        length_mm,
        spread_deg,
    }) = release
    else {
        return Ok(());
    };
    if !is_size(length_mm, LONGEST_MM) {
        Err(DesignError::ReleaseLength { side, length_mm })
    } else if !(-STEEPEST_DEG..=STEEPEST_DEG).contains(&spread_deg) {
        Err(DesignError::ReleaseSlant { side, spread_deg })
    } else {
        Ok(())
    }
}

fn check_limb(limb: Limb) -> Result<(), DesignError> {
    let Limb {
        length_mm,
        buccal_deg,
    } = limb;
    if !is_size(length_mm, LONGEST_MM) {
        Err(DesignError::LimbLength { length_mm })
    } else if !(-90.0..=90.0).contains(&buccal_deg) {
        Err(DesignError::LimbTurn { buccal_deg })
    } else {
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn end(number: u8, point: NeckPoint, release: Option<(f64, f64)>) -> End {
        End {
            tooth: Tooth::new(number).unwrap(),
            point,
            release: release.map(|(length_mm, spread_deg)| Release {
                length_mm,
                spread_deg,
            }),
        }
    }

    fn refused(mesial: End, cut: Cut, limb: Option<Limb>) -> DesignError {
        let distal = end(6, NeckPoint::DistalLine, None);
        Design::new(mesial, distal, cut, limb).unwrap_err()
    }

    const LINE: NeckPoint = NeckPoint::MesialLine;

    #[test]
    fn ends_are_two_points_in_order() {
        let at = |number, point| refused(end(number, point, None), Cut::Sulcular, None);
        assert_eq!(at(6, NeckPoint::DistalLine), DesignError::SamePoint);
        assert_eq!(at(6, NeckPoint::DistalPapilla), DesignError::Swapped);
        assert_eq!(at(8, NeckPoint::MesialPapilla), DesignError::Swapped);
        // Neighbours share a papilla.
        let papilla = end(7, NeckPoint::MesialPapilla, None);
        let same = end(6, NeckPoint::DistalPapilla, None);
        let one = Design::new(same, papilla, Cut::Sulcular, None);
        assert_eq!(one, Err(DesignError::SamePoint));
    }

    #[test]
    fn sizes_are_finite_and_in_bounds() {
        for length in [f64::NAN, f64::INFINITY, 0.0, -1.0, 40.1, f64::MAX] {
            let release = refused(end(4, LINE, Some((length, 10.0))), Cut::Sulcular, None);
            assert!(matches!(release, DesignError::ReleaseLength { .. }));
            let limb = Limb {
                length_mm: length,
                buccal_deg: 45.0,
            };
            let limb = refused(end(4, LINE, None), Cut::Sulcular, Some(limb));
            assert!(matches!(limb, DesignError::LimbLength { .. }));
            let cut = Cut::Submarginal { offset_mm: length };
            let offset = refused(end(4, LINE, None), cut, None);
            assert!(matches!(offset, DesignError::Offset { .. }));
        }
        for degrees in [f64::NAN, f64::NEG_INFINITY, 90.1, -91.0] {
            let release = refused(end(4, LINE, Some((10.0, degrees))), Cut::Sulcular, None);
            assert!(matches!(release, DesignError::ReleaseSlant { .. }));
            let limb = Limb {
                length_mm: 10.0,
                buccal_deg: degrees,
            };
            let limb = refused(end(4, LINE, None), Cut::Sulcular, Some(limb));
            assert!(matches!(limb, DesignError::LimbTurn { .. }));
        }
    }

    #[test]
    fn a_limb_takes_the_place_of_a_distal_release() {
        let limb = Limb {
            length_mm: 10.0,
            buccal_deg: 45.0,
        };
        let distal = end(7, NeckPoint::DistalLine, Some((10.0, 10.0)));
        let both = Design::new(end(4, LINE, None), distal, Cut::Sulcular, Some(limb));
        assert_eq!(both, Err(DesignError::LimbAndRelease));
    }
}
