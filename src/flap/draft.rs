//! A design while it grows: ends are placed in any order, releases added and turned, all in the steps that a face
//! offers.
//!
//! A draft may be anything a candidate can reach; [`Draft::design`] says whether it is a design yet.

use super::design::{Cut, Design, DesignError, End, EndSide, Limb, Release};
use crate::figure::teeth::{NeckPoint, Tooth};
use thiserror::Error;

/// Length of a release or limb when first added, mm.
const FIRST_LENGTH_MM: f64 = 10.0;
/// By how much a release grows or shrinks in a step, mm; also the shortest it can be.
const LENGTH_STEP_MM: f64 = 2.0;
/// The longest that steps lead to, mm.
const LONGEST_STEP_MM: f64 = 30.0;
/// Slant of a release when first added, degrees.
const FIRST_SPREAD_DEG: f64 = 20.0;
/// By how much a release turns in a step, degrees.
const SPREAD_STEP_DEG: f64 = 10.0;
/// The slants that steps lead to, degrees.
const SPREADS_DEG: (f64, f64) = (-20.0, 40.0);
/// Turn of a limb to either side, degrees.
const LIMB_DEG: f64 = 45.0;
/// The deepest submarginal cut that steps lead to, mm.
const DEEPEST_STEP_MM: f64 = 4.0;

/// A design that is not finished.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Draft {
    mesial: Option<End>,
    distal: Option<End>,
    cut: Cut,
    limb: Option<Limb>,
}

/// Why a draft is no design yet.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum DraftError {
    /// An end has not been placed.
    #[error("the {0} end is not placed yet")]
    Unplaced(EndSide),
    /// The parts do not go together.
    #[error(transparent)]
    Design(#[from] DesignError),
}

impl Default for Draft {
    /// The bare site: nothing placed, a sulcular cut.
    fn default() -> Self {
        Self {
            mesial: None,
            distal: None,
            cut: Cut::Sulcular,
            limb: None,
        }
    }
}

impl Draft {
    /// The end on this side, if it is placed.
    #[must_use]
    pub const fn end(&self, side: EndSide) -> Option<End> {
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

    /// Puts an end on a tooth, the mesial one at its mesial line angle, the distal one at its distal; a release
    /// stays.
    #[must_use]
    pub fn on_tooth(self, side: EndSide, tooth: Tooth) -> Self {
        let point = match side {
            EndSide::Mesial => NeckPoint::MesialLine,
            EndSide::Distal => NeckPoint::DistalLine,
        };
        self.at(side, tooth, point)
    }

    /// Puts an end on a point; a release stays.
    #[must_use]
    pub fn at(self, side: EndSide, tooth: Tooth, point: NeckPoint) -> Self {
        let release = self.end(side).and_then(|end| end.release);
        self.with_end(
            side,
            End {
                tooth,
                point,
                release,
            },
        )
    }

    /// Walks an end to the next point along the row, from tooth to tooth; neighbours share a papilla. It stops at the
    /// ends of the row.
    #[must_use]
    pub fn walked(self, side: EndSide, distally: bool) -> Self {
        let Some(end) = self.end(side) else {
            return self;
        };
        let points = row_points();
        let here = points.iter().position(|&(tooth, point)| {
            (tooth, point) == (end.tooth, end.point)
                // The distal papilla of a tooth stands in the list as the mesial one of the next.
                || (end.point == NeckPoint::DistalPapilla
                    && point == NeckPoint::MesialPapilla
                    && tooth.number() == end.tooth.number() + 1)
        });
        let next = here.and_then(|here| {
            if distally {
                here.checked_add(1)
            } else {
                here.checked_sub(1)
            }
        });
        match next.and_then(|next| points.get(next)) {
            Some(&(tooth, point)) => self.at(side, tooth, point),
            None => self,
        }
    }

    /// Adds a release at an end that is placed, or makes it a step longer. A limb gives way to a distal release.
    #[must_use]
    pub fn lengthened(self, side: EndSide) -> Self {
        self.with_release(side, |release| {
            let first = Release {
                length_mm: FIRST_LENGTH_MM,
                spread_deg: FIRST_SPREAD_DEG,
            };
            Some(release.map_or(first, |release| Release {
                length_mm: (release.length_mm + LENGTH_STEP_MM).min(LONGEST_STEP_MM),
                ..release
            }))
        })
    }

    /// Makes a release a step shorter, and takes it away when nothing is left.
    #[must_use]
    pub fn shortened(self, side: EndSide) -> Self {
        self.with_release(side, |release| {
            release.and_then(|release| {
                let length_mm = release.length_mm - LENGTH_STEP_MM;
                (length_mm >= LENGTH_STEP_MM).then_some(Release {
                    length_mm,
                    ..release
                })
            })
        })
    }

    /// Turns the foot of a release a step mesially or distally.
    #[must_use]
    pub fn slanted(self, side: EndSide, distally: bool) -> Self {
        let toward = if distally { 1.0 } else { -1.0 };
        self.with_release(side, |release| {
            release.map(|release| {
                let spread = release.spread_deg + toward * side.outward() * SPREAD_STEP_DEG;
                Release {
                    spread_deg: spread.clamp(SPREADS_DEG.0, SPREADS_DEG.1),
                    ..release
                }
            })
        })
    }

    /// Takes the limb through none, lingual, straight back, buccal. A distal release gives way to it.
    #[must_use]
    pub fn limb_turned(self) -> Self {
        let turn = match self.limb.map(|limb| limb.buccal_deg) {
            None => Some(-LIMB_DEG),
            Some(turn) if turn < 0.0 => Some(0.0),
            Some(turn) if turn < LIMB_DEG => Some(LIMB_DEG),
            Some(_) => None,
        };
        let limb = turn.map(|buccal_deg| Limb {
            length_mm: FIRST_LENGTH_MM,
            buccal_deg,
        });
        self.with_limb(limb)
    }

    /// Takes the cut through the sulcus and 1 to 4 mm below the necks.
    #[must_use]
    pub fn cut_lowered(self) -> Self {
        let offset_mm = (self.cut.offset_mm() + 1.0).floor();
        let cut = if offset_mm > DEEPEST_STEP_MM {
            Cut::Sulcular
        } else {
            Cut::Submarginal { offset_mm }
        };
        self.with_cut(cut)
    }

    /// With this release at an end, if the end is placed.
    #[must_use]
    pub fn released(self, side: EndSide, release: Option<Release>) -> Self {
        self.with_release(side, |_| release)
    }

    /// With this limb; a distal release gives way to it.
    #[must_use]
    pub fn with_limb(self, limb: Option<Limb>) -> Self {
        let distal = self.distal.map(|end| End {
            release: end.release.filter(|_| limb.is_none()),
            ..end
        });
        Self {
            distal,
            limb,
            ..self
        }
    }

    /// With this cut.
    #[must_use]
    pub const fn with_cut(self, cut: Cut) -> Self {
        Self { cut, ..self }
    }

    /// The finished design.
    ///
    /// # Errors
    /// [`DraftError`] if an end is missing or the parts make no design.
    pub fn design(&self) -> Result<Design, DraftError> {
        let placed = |side| self.end(side).ok_or(DraftError::Unplaced(side));
        let (mesial, distal) = (placed(EndSide::Mesial)?, placed(EndSide::Distal)?);
        Ok(Design::new(mesial, distal, self.cut, self.limb)?)
    }

    fn with_end(self, side: EndSide, end: End) -> Self {
        match side {
            EndSide::Mesial => Self {
                mesial: Some(end),
                ..self
            },
            EndSide::Distal => Self {
                distal: Some(end),
                ..self
            },
        }
    }

    fn with_release(
        self,
        side: EndSide,
        change: impl FnOnce(Option<Release>) -> Option<Release>,
    ) -> Self {
        let Some(end) = self.end(side) else {
            return self;
        };
        let release = change(end.release);
        let changed = self.with_end(side, End { release, ..end });
        if side == EndSide::Distal && release.is_some() {
            Self {
                limb: None,
                ..changed
            }
        } else {
            changed
        }
    }
}

impl From<&Design> for Draft {
    fn from(design: &Design) -> Self {
        Self {
            mesial: Some(design.end(EndSide::Mesial)),
            distal: Some(design.end(EndSide::Distal)),
            cut: design.cut(),
            limb: design.limb(),
        }
    }
}

/// Every point of the row once, mesial first: a shared papilla as the mesial one of the tooth behind.
fn row_points() -> Vec<(Tooth, NeckPoint)> {
    Tooth::all()
        .flat_map(|tooth| NeckPoint::ALL.map(|point| (tooth, point)))
        .filter(|&(tooth, point)| point != NeckPoint::DistalPapilla || tooth.number() == 8)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use EndSide::{Distal, Mesial};

    fn tooth(number: u8) -> Tooth {
        Tooth::new(number).unwrap()
    }

    fn text(draft: Draft) -> String {
        draft.design().unwrap().to_string()
    }

    #[test]
    fn a_three_cornered_flap_in_three_steps() {
        let draft = Draft::default()
            .on_tooth(Mesial, tooth(4))
            .lengthened(Mesial);
        assert_eq!(draft.design(), Err(DraftError::Unplaced(Distal)));
        assert_eq!(text(draft.on_tooth(Distal, tooth(6))), "4ml r10@20 .. 6dl");
    }

    #[test]
    fn order_of_placing_does_not_matter() {
        let release = Some(Release {
            length_mm: 12.0,
            spread_deg: 15.0,
        });
        let one = Draft::default()
            .on_tooth(Mesial, tooth(2))
            .released(Mesial, release)
            .on_tooth(Distal, tooth(4))
            .released(Distal, release);
        let other = Draft::default()
            .on_tooth(Distal, tooth(7))
            .released(Distal, release)
            .on_tooth(Mesial, tooth(2))
            .on_tooth(Distal, tooth(4))
            .released(Mesial, release);
        assert_eq!(one.design(), other.design());
    }

    #[test]
    fn an_end_walks_the_whole_row_and_stops() {
        let mut draft = Draft::default().at(Mesial, tooth(1), NeckPoint::MesialPapilla);
        assert_eq!(draft.walked(Mesial, false), draft);
        let mut steps = 0;
        while draft.walked(Mesial, true) != draft {
            draft = draft.walked(Mesial, true);
            steps += 1;
        }
        assert_eq!(steps, 32);
        let papilla = Draft::default().at(Distal, tooth(4), NeckPoint::DistalPapilla);
        let back = papilla.walked(Distal, false).end(Distal).unwrap();
        assert_eq!((back.tooth, back.point), (tooth(4), NeckPoint::DistalLine));
        let on = papilla.walked(Distal, true).end(Distal).unwrap();
        assert_eq!((on.tooth, on.point), (tooth(5), NeckPoint::MesialLine));
    }

    #[test]
    fn releases_grow_turn_and_go() {
        let draft = Draft::default()
            .on_tooth(Mesial, tooth(4))
            .on_tooth(Distal, tooth(6));
        let released = draft.lengthened(Mesial).lengthened(Mesial);
        assert_eq!(text(released), "4ml r12@20 .. 6dl");
        assert_eq!(text(released.slanted(Mesial, true)), "4ml r12@10 .. 6dl");
        let steepest = (0..9).fold(released, |draft, _| draft.slanted(Mesial, false));
        assert_eq!(text(steepest), "4ml r12@40 .. 6dl");
        let gone = (0..6).fold(released, |draft, _| draft.shortened(Mesial));
        assert_eq!(gone, draft);
    }

    #[test]
    fn limb_and_distal_release_exclude_each_other() {
        let draft = Draft::default()
            .on_tooth(Mesial, tooth(6))
            .on_tooth(Distal, tooth(7))
            .lengthened(Distal)
            .limb_turned();
        assert_eq!(text(draft), "6ml .. 7dl limb10@-45");
        let straight = draft.limb_turned();
        let buccal = straight.limb_turned();
        assert_eq!(text(straight), "6ml .. 7dl limb10@0");
        assert_eq!(text(buccal), "6ml .. 7dl limb10@45");
        assert_eq!(text(buccal.limb_turned()), "6ml .. 7dl");
        assert_eq!(text(buccal.lengthened(Distal)), "6ml .. 7dl r10@20");
    }

    #[test]
    fn the_cut_goes_down_and_back_to_the_sulcus() {
        let draft = Draft::from(&"6ml .. 7dl".parse().unwrap());
        assert_eq!(text(draft.cut_lowered()), "6ml .. 7dl sub1");
        let around = (0..5).fold(draft, |draft, _| draft.cut_lowered());
        assert_eq!(around, draft);
    }
}
