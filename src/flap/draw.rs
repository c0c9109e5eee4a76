//! A design as lines on the page, in the frame in which figures draw their teeth.
//!
//! mm, midline at x 0, neck line at y 0, y up: apical is down in the lower jaw and up in the upper. The patient's
//! right quadrant is the mirror image. The cut follows the gum, which is for the eye alone; judging measures along
//! the neck line.

use super::case::{Case, Quadrant};
use super::design::{Cut, Design, DesignError, End, EndSide};
use super::geometry::Spot;
use super::measure::measure;
use crate::figure::teeth;

/// A point of the page: x to the right, y up, mm.
pub type PagePoint = (f64, f64);

/// Step between points of a cut along the gum, mm.
const STEP_MM: f64 = 0.5;

/// A design, ready to be painted.
#[derive(Clone, Debug, PartialEq)]
pub struct Sketch {
    /// The cut along the gum, mesial end first.
    pub cut: Vec<PagePoint>,
    /// Each release from the edge of the gum to its foot, mesial first.
    pub releases: Vec<Vec<PagePoint>>,
    /// The distal limb, the gum behind the last tooth laid flat: a turn to the buccal runs apically.
    pub limb: Option<Vec<PagePoint>>,
}

/// Lays a design on the page.
///
/// # Errors
/// [`DesignError`] if the design cannot be laid on this case.
pub fn sketch(case: &Case, design: &Design) -> Result<Sketch, DesignError> {
    let figures = measure(case, design)?;
    let (first, last) = figures.ends_mm;
    let releases = figures.releases.iter().map(|release| {
        let start = release.cut.from;
        let edge = edge(case, design.cut(), start.along_mm);
        [edge, start, release.cut.to]
            .map(|spot| page(case, spot))
            .to_vec()
    });
    let limb = design.limb().map(|limb| {
        let start = edge(case, design.cut(), last);
        let (sin, cos) = limb.buccal_deg.to_radians().sin_cos();
        let end = Spot::new(
            start.along_mm + limb.length_mm * cos,
            start.apical_mm + limb.length_mm * sin,
        );
        [start, end].map(|spot| page(case, spot)).to_vec()
    });
    Ok(Sketch {
        cut: stations(first, last)
            .map(|along| page(case, edge(case, design.cut(), along)))
            .collect(),
        releases: releases.collect(),
        limb,
    })
}

/// One end before the other is placed: the edge at its point, and its release.
#[must_use]
pub fn sketch_end(case: &Case, side: EndSide, end: End, cut: Cut) -> Vec<PagePoint> {
    let along = case.row().along_mm(end.tooth, end.point);
    let start = Spot::new(along, cut.offset_mm());
    let foot = end.release.map(|release| {
        Spot::new(
            along + side.outward() * release.sweep_mm(),
            start.apical_mm + release.depth_mm(),
        )
    });
    let spots = [Some(edge(case, cut, along)), Some(start), foot];
    spots
        .into_iter()
        .flatten()
        .map(|spot| page(case, spot))
        .collect()
}

/// Places from one end to the other, both included.
fn stations(first: f64, last: f64) -> impl Iterator<Item = f64> {
    // A row is at most some 70 mm long.
    let steps = (1..=200_u32)
        .find(|&steps| f64::from(steps) * STEP_MM >= last - first)
        .unwrap_or(200);
    (0..=steps).map(move |step| {
        let share = f64::from(step) / f64::from(steps);
        first + (last - first) * share
    })
}

/// The edge of what is raised: the gum margin, or the submarginal cut. Where a tooth is missing the ridge is flat.
fn edge(case: &Case, cut: Cut, along_mm: f64) -> Spot {
    let apical = match cut {
        Cut::Submarginal { offset_mm } => offset_mm,
        Cut::Sulcular => {
            let bare = teeth::tooth_at(case.jaw(), along_mm).is_some_and(|tooth| !case.has(tooth));
            let gum = teeth::gum_mm(case.jaw(), along_mm).filter(|_| !bare);
            -gum.unwrap_or(0.0)
        }
    };
    Spot::new(along_mm, apical)
}

fn page(case: &Case, spot: Spot) -> PagePoint {
    let x = match case.quadrant() {
        Quadrant::Left => spot.along_mm,
        Quadrant::Right => -spot.along_mm,
    };
    (x, -case.jaw().coronal() * spot.apical_mm)
}
