//! A design measured on a case: widths, depths, whole teeth, distances.
//!
//! Everything is in mm on the straightened row. A distal limb adds as much to the margin as to the base and is left
//! out of both.

use super::case::{Aspect, Case};
use super::design::{Design, DesignError, End, EndSide, Release};
use super::form::EQUAL_MM;
use super::geometry::{Block, Segment, Spot};
use super::limit::Limit;
use crate::figure::teeth::{Jaw, Tooth};

/// What a design measures.
#[derive(Clone, Debug, PartialEq)]
pub struct Figures {
    /// Free margin along the necks.
    pub margin_mm: f64,
    /// Width between the feet of the sides; negative if they cross.
    pub base_mm: f64,
    /// Depth of the deepest release below its start, or of the bone below the cut if there is none.
    pub length_mm: f64,
    /// Mesial and distal end of the margin along the row.
    pub ends_mm: (f64, f64),
    /// Whole teeth freed mesial of the site, missing ones not counted.
    pub mesial_teeth: u8,
    /// Whole teeth freed distal of the site.
    pub distal_teeth: u8,
    /// Each release, mesial first.
    pub releases: Vec<ReleaseFigures>,
    /// Which cut comes nearest to the bone to be removed, and how near; none for a cut in the sulcus alone.
    pub to_bone: Option<(Part, f64)>,
    /// The defect that a cut comes nearest to, which cut, and how near; none without a defect or a cut but in the
    /// sulcus.
    pub to_defect: Option<(Tooth, Part, f64)>,
    /// Least gap along the arch between a release and the mental foramen; lower jaw from the buccal only.
    pub to_foramen_mm: Option<f64>,
    /// Least distance of a release from the infraorbital foramen; upper jaw from the buccal only.
    pub to_infraorbital_mm: Option<f64>,
}

/// What a release measures.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ReleaseFigures {
    /// At which end.
    pub side: EndSide,
    /// What was designed.
    pub release: Release,
    /// From its start to its foot.
    pub cut: Segment,
}

/// A cut that can come near the bone to be removed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    /// A release.
    Release(EndSide),
    /// A cut in attached gingiva.
    Submarginal,
}

impl ReleaseFigures {
    /// How deep it ends below the necks, mm.
    #[must_use]
    pub const fn bottom_mm(&self) -> f64 {
        self.cut.to.apical_mm
    }
}

/// Measures a design on a case.
///
/// # Errors
/// [`DesignError::LimbInUpperJaw`] if the design has a limb where no ramus rises.
pub fn measure(case: &Case, design: &Design) -> Result<Figures, DesignError> {
    if design.limb().is_some() && !case.has_ramus() {
        return Err(DesignError::LimbInUpperJaw);
    }
    let offset = design.cut().offset_mm();
    let [mesial, distal] = EndSide::BOTH.map(|side| {
        let End { tooth, point, .. } = design.end(side);
        Spot::new(case.row().along_mm(tooth, point), offset)
    });
    let releases: Vec<ReleaseFigures> = design
        .releases()
        .map(|(side, release)| {
            let from = match side {
                EndSide::Mesial => mesial,
                EndSide::Distal => distal,
            };
            let to = Spot::new(
                from.along_mm + side.outward() * release.sweep_mm(),
                from.apical_mm + release.depth_mm(),
            );
            ReleaseFigures {
                side,
                release,
                cut: Segment { from, to },
            }
        })
        .collect();
    let deepest = releases
        .iter()
        .map(|figures| figures.release.depth_mm())
        .reduce(f64::max);
    let length_mm = deepest.unwrap_or((case.bone().bottom_mm - offset).max(0.0));
    let foot = |side, end: Spot| {
        releases
            .iter()
            .find(|figures| figures.side == side)
            .map_or(Spot::new(end.along_mm, offset + length_mm), |figures| {
                figures.cut.to
            })
    };
    let feet = (foot(EndSide::Mesial, mesial), foot(EndSide::Distal, distal));
    let ends_mm = (mesial.along_mm, distal.along_mm);
    let submarginal = (offset > 0.0).then_some(Segment {
        from: mesial,
        to: distal,
    });
    Ok(Figures {
        margin_mm: ends_mm.1 - ends_mm.0,
        base_mm: feet.1.along_mm - feet.0.along_mm,
        length_mm,
        ends_mm,
        mesial_teeth: whole(case, ends_mm, case.mesial_of_site()),
        distal_teeth: whole(case, ends_mm, case.distal_of_site()),
        to_bone: nearest_cut(case.block(), &releases, submarginal),
        to_defect: to_defect(case, &releases, submarginal),
        to_foramen_mm: to_foramen(case, &releases),
        to_infraorbital_mm: to_infraorbital(case, &releases),
        releases,
    })
}

/// How many of these teeth have both line angles inside the margin.
fn whole(case: &Case, ends_mm: (f64, f64), teeth: impl Iterator<Item = Tooth>) -> u8 {
    let inside = |&tooth: &Tooth| {
        let neck = case.row().neck_mm(tooth);
        ends_mm.0 <= neck.0 + EQUAL_MM && neck.1 <= ends_mm.1 + EQUAL_MM
    };
    teeth.filter(inside).fold(0, |count, _| count + 1)
}

/// Which cut comes nearest to a block of bone, and how near. A cut in the sulcus has no such distance.
fn nearest_cut(
    block: Block,
    releases: &[ReleaseFigures],
    submarginal: Option<Segment>,
) -> Option<(Part, f64)> {
    releases
        .iter()
        .map(|figures| (Part::Release(figures.side), figures.cut))
        .chain(submarginal.map(|cut| (Part::Submarginal, cut)))
        .map(|(part, cut)| (part, block.distance_to_mm(cut)))
        .min_by(|a, b| a.1.total_cmp(&b.1))
}

fn to_defect(
    case: &Case,
    releases: &[ReleaseFigures],
    submarginal: Option<Segment>,
) -> Option<(Tooth, Part, f64)> {
    let defects = case.surroundings().defects.iter();
    defects
        .filter_map(|defect| {
            let (part, mm) = nearest_cut(case.defect_block(defect), releases, submarginal)?;
            Some((defect.tooth, part, mm))
        })
        .min_by(|a, b| a.2.total_cmp(&b.2))
}

fn to_foramen(case: &Case, releases: &[ReleaseFigures]) -> Option<f64> {
    if (case.jaw(), case.aspect()) != (Jaw::Lower, Aspect::Buccal) {
        return None;
    }
    let foramen = case.thresholds().value(Limit::MentalAlong);
    releases
        .iter()
        .map(|figures| figures.cut.gap_to_mm(foramen))
        .reduce(f64::min)
}

fn to_infraorbital(case: &Case, releases: &[ReleaseFigures]) -> Option<f64> {
    if (case.jaw(), case.aspect()) != (Jaw::Upper, Aspect::Buccal) {
        return None;
    }
    let table = case.thresholds();
    let foramen = Spot::new(
        table.value(Limit::InfraorbitalAlong),
        table.value(Limit::InfraorbitalHeight),
    );
    releases
        .iter()
        .map(|figures| figures.cut.distance_to_mm(foramen))
        .reduce(f64::min)
}
