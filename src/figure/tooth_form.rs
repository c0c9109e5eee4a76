//! Outlines of teeth, made from their mean sizes: from the facial side with or without roots, and along the axis.
//!
//! Proportions within a tooth (how high a contact stands, where a cusp peaks, how far a root leans) are ours,
//! chosen so that each kind of tooth is told from its neighbours at a millimetre a cell. Nothing is traced.

use super::curve;
use super::model::Line;
use super::point::{Knot, Point};
use super::stroke::Stroke;
use super::teeth::{Jaw, Means, NeckPoint, Tooth, along_mm, means};

/// How far a root tip leans distally, mm.
const LEAN_MM: f64 = 0.4;

/// A crown: points from the mesial to the distal neck in half crown widths from the middle and in crown lengths
/// from the neck. The two ends on the neck line are left out.
type Crown = &'static [(f64, f64)];

const INCISOR: Crown = &[
    (-0.93, 0.45),
    (-1.0, 0.82),
    (-0.92, 0.98),
    (0.0, 1.0),
    (0.86, 0.97),
    (1.0, 0.78),
    (0.92, 0.42),
];
const CANINE: Crown = &[
    (-0.94, 0.45),
    (-1.0, 0.66),
    (-0.72, 0.82),
    (-0.06, 1.0),
    (0.68, 0.78),
    (1.0, 0.58),
    (0.92, 0.4),
];
const PREMOLAR: Crown = &[
    (-0.92, 0.42),
    (-1.0, 0.62),
    (-0.74, 0.82),
    (-0.05, 1.0),
    (0.72, 0.8),
    (1.0, 0.58),
    (0.92, 0.4),
];
const MOLAR: Crown = &[
    (-0.95, 0.38),
    (-1.0, 0.62),
    (-0.84, 0.87),
    (-0.48, 1.0),
    (0.0, 0.8),
    (0.48, 0.98),
    (0.84, 0.84),
    (1.0, 0.58),
    (0.95, 0.36),
];
/// The lower first molar shows three cusps to the cheek.
const THREE_CUSPS: Crown = &[
    (-0.95, 0.38),
    (-1.0, 0.62),
    (-0.86, 0.87),
    (-0.56, 1.0),
    (-0.2, 0.8),
    (0.16, 0.98),
    (0.46, 0.78),
    (0.72, 0.9),
    (0.95, 0.68),
    (1.0, 0.52),
    (0.95, 0.34),
];

const fn crown(jaw: Jaw, tooth: Tooth) -> Crown {
    match (jaw, tooth.number()) {
        (_, 1 | 2) => INCISOR,
        (_, 3) => CANINE,
        (_, 4 | 5) => PREMOLAR,
        (Jaw::Lower, 6) => THREE_CUSPS,
        _ => MOLAR,
    }
}

/// How roots spread, in neck widths from the middle, with the depth of the furcation in root lengths.
struct Fork {
    mesial_tip: f64,
    distal_tip: f64,
    furcation: f64,
}

const fn fork(tooth: Tooth) -> Option<Fork> {
    match tooth.number() {
        6 => Some(Fork {
            mesial_tip: -0.33,
            distal_tip: 0.4,
            furcation: 3.0 / 14.0,
        }),
        7 => Some(Fork {
            mesial_tip: -0.24,
            distal_tip: 0.32,
            furcation: 0.3,
        }),
        8 => Some(Fork {
            mesial_tip: -0.12,
            distal_tip: 0.34,
            furcation: 0.45,
        }),
        _ => None,
    }
}

/// A tooth from the facial side, put in its row: neck line at y 0, midline at x 0.
#[must_use]
pub fn facial(jaw: Jaw, tooth: Tooth, crowns_only: bool) -> Vec<Stroke> {
    let sizes = means(jaw, tooth);
    let centre = along_mm(jaw, tooth, NeckPoint::MidFacial);
    let place = |local: &[(f64, f64, bool)], closed: bool, line: Line| {
        let knots: Vec<Knot> = local
            .iter()
            .map(|&(x, y, corner)| Knot {
                at: Point::new(centre + x, y * jaw.coronal()),
                corner,
            })
            .collect();
        Stroke {
            points: curve::smooth(&knots, closed),
            closed,
            line,
        }
    };
    let mut strokes = vec![place(&crown_outline(jaw, tooth, sizes), true, Line::Plain)];
    if !crowns_only {
        strokes.push(place(&root_outline(tooth, sizes), false, Line::Plain));
        if jaw == Jaw::Upper && tooth.number() >= 6 {
            strokes.push(place(&palatal_root(sizes), false, Line::Dotted));
        }
    }
    strokes
}

/// From the mesial neck over the crown to the distal neck and back along the neck line, which bulges toward the root.
fn crown_outline(jaw: Jaw, tooth: Tooth, sizes: Means) -> Vec<(f64, f64, bool)> {
    let half_neck = sizes.neck_mm / 2.0;
    let dip = match tooth.number() {
        1..=3 => -1.2,
        4 | 5 => -0.9,
        _ => -0.7,
    };
    let mut outline = vec![(-half_neck, 0.0, true)];
    outline.extend(
        crown(jaw, tooth)
            .iter()
            .map(|&(x, y)| (x * sizes.crown_mm / 2.0, y * sizes.height_mm, false)),
    );
    outline.extend([(half_neck, 0.0, true), (0.0, dip, false)]);
    outline
}

/// From the mesial neck round the root or the two facial roots to the distal neck.
fn root_outline(tooth: Tooth, sizes: Means) -> Vec<(f64, f64, bool)> {
    let (neck, root) = (sizes.neck_mm, sizes.root_mm);
    let Some(fork) = fork(tooth) else {
        return vec![
            (-0.5 * neck, 0.0, true),
            (-0.43 * neck, -0.35 * root, false),
            (-0.26 * neck + 0.4 * LEAN_MM, -0.75 * root, false),
            (LEAN_MM - 0.12 * neck, -0.96 * root, false),
            (LEAN_MM, -root, false),
            (LEAN_MM + 0.12 * neck, -0.96 * root, false),
            (0.3 * neck + 0.4 * LEAN_MM, -0.75 * root, false),
            (0.45 * neck, -0.35 * root, false),
            (0.5 * neck, 0.0, true),
        ];
    };
    let (mesial, distal) = (fork.mesial_tip * neck, fork.distal_tip * neck);
    vec![
        (-0.5 * neck, 0.0, true),
        (-0.5 * neck, -0.35 * root, false),
        (mesial - 0.12 * neck, -0.72 * root, false),
        (mesial - 0.05 * neck, -0.97 * root, false),
        (mesial + 0.03 * neck, -root, false),
        (mesial + 0.08 * neck, -0.93 * root, false),
        (mesial + 0.1 * neck, -0.65 * root, false),
        (0.02 * neck, -fork.furcation * root, true),
        (distal - 0.13 * neck, -0.65 * root, false),
        (distal - 0.04 * neck, -0.9 * root, false),
        (distal + 0.03 * neck, -0.96 * root, false),
        (distal + 0.09 * neck, -0.9 * root, false),
        (distal + 0.12 * neck, -0.68 * root, false),
        (0.5 * neck, -0.35 * root, false),
        (0.5 * neck, 0.0, true),
    ]
}

/// The palatal root behind the two facial ones of an upper molar, 1 mm longer than they are.
fn palatal_root(sizes: Means) -> Vec<(f64, f64, bool)> {
    let (neck, root) = (sizes.neck_mm, sizes.root_mm + 1.0);
    vec![
        (-0.16 * neck, -0.5 * root, false),
        (-0.15 * neck, -0.8 * root, false),
        (0.02 * neck, -root, false),
        (0.19 * neck, -0.8 * root, false),
        (0.2 * neck, -0.5 * root, false),
    ]
}

/// Teeth along their axes: ovals of crown width by depth, side by side along a curve that starts at the mesial
/// contact of the first. The ovals follow the curve's direction.
#[must_use]
pub fn arch(jaw: Jaw, first: Tooth, last: Tooth, chain: &[Point]) -> Vec<Stroke> {
    let origin = along_mm(jaw, first, NeckPoint::MesialPapilla);
    Tooth::between(first, last)
        .filter_map(|tooth| {
            let sizes = means(jaw, tooth);
            let middle = along_mm(jaw, tooth, NeckPoint::MidFacial) - origin;
            let (centre, degrees) = curve::walk(chain, middle)?;
            let oval = curve::ellipse(centre, sizes.crown_mm, sizes.depth_mm);
            Some(Stroke {
                points: oval
                    .into_iter()
                    .map(|p| p.turned(centre, degrees))
                    .collect(),
                closed: true,
                line: Line::Plain,
            })
        })
        .collect()
}

/// Length of curve that an arch of teeth fills, mm.
#[must_use]
pub fn arch_length_mm(jaw: Jaw, first: Tooth, last: Tooth) -> f64 {
    Tooth::between(first, last)
        .map(|tooth| means(jaw, tooth).crown_mm)
        .sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figure::model::Frame;

    fn extent(jaw: Jaw, number: u8) -> Frame {
        let strokes = facial(jaw, Tooth::new(number).unwrap(), false);
        Frame::around(strokes.into_iter().flat_map(|stroke| stroke.points)).unwrap()
    }

    #[test]
    fn outlines_keep_the_mean_sizes() {
        for jaw in [Jaw::Upper, Jaw::Lower] {
            for tooth in Tooth::all() {
                let sizes = means(jaw, tooth);
                let frame = extent(jaw, tooth.number());
                assert!((frame.width_mm() - sizes.crown_mm).abs() < 0.25, "{tooth}");
                let palatal = if jaw == Jaw::Upper && tooth.number() >= 6 {
                    1.0
                } else {
                    0.0
                };
                let length = sizes.root_mm + sizes.height_mm + palatal;
                assert!((frame.height_mm() - length).abs() < 0.25, "{tooth}");
            }
        }
    }

    #[test]
    fn lower_crowns_point_up_and_upper_ones_down() {
        assert!((extent(Jaw::Lower, 3).high.y - 11.0).abs() < 0.2);
        assert!((extent(Jaw::Upper, 3).low.y + 10.0).abs() < 0.2);
    }

    #[test]
    fn an_arch_fills_its_curve() {
        let chain = [Point::new(0.0, 0.0), Point::new(100.0, 0.0)];
        let ovals = arch(
            Jaw::Upper,
            Tooth::new(1).unwrap(),
            Tooth::new(8).unwrap(),
            &chain,
        );
        let frame = Frame::around(ovals.into_iter().flat_map(|stroke| stroke.points)).unwrap();
        let full = arch_length_mm(Jaw::Upper, Tooth::new(1).unwrap(), Tooth::new(8).unwrap());
        assert!((frame.width_mm() - full).abs() < 1e-9);
        assert!((full - 64.0).abs() < 1e-9);
    }
}
