//! A case and what is designed on it so far, as a figure to be painted: teeth, bone, landmarks, the cut and its ends.
//!
//! The page is that of [`super::draw`]. What is shown of the row grows with the design by whole teeth, so that it
//! stands still while an end is walked.

use super::case::{Aspect, Case, Quadrant};
use super::design::{Design, EndSide};
use super::draft::Draft;
use super::draw::{PagePoint, sketch, sketch_end};
use super::form::EQUAL_MM;
use super::geometry::Block;
use super::limit::Limit;
use super::words::describe_case;
use crate::figure::model::{Figure, Form, Frame, Line, Placing, Reflection, Shape, Toward};
use crate::figure::picture::Overlay;
use crate::figure::point::{Knot, Point};
use crate::figure::teeth::{self, Jaw, NeckPoint, Tooth};

/// Teeth shown mesial and distal of the site before anything is placed.
const AROUND: (u8, u8) = (3, 2);
/// How far the page reaches beyond the teeth shown, mm.
const BESIDE_MM: f64 = 1.0;
/// Room behind the last tooth for a limb, mm.
const RAMUS_MM: f64 = 10.0;
/// What is always shown apical of the necks: roots and the mental foramen, mm.
const APICAL_MM: f64 = 17.5;
/// What is shown coronal of the necks, mm.
const CORONAL_MM: f64 = 11.0;
/// Size of the mental foramen as drawn, mm: our assumption.
const FORAMEN_MM: (f64, f64) = (4.0, 3.0);

/// A case as a drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct Scene {
    /// Teeth, crest, junction, foramen, bone to be removed.
    pub figure: Figure,
    /// The cut, as chains of points.
    pub cut: Vec<Vec<Point>>,
    /// Where the number of each tooth stands.
    pub teeth: Vec<(Tooth, Point)>,
    /// Where each placed end is marked, above its point.
    pub ends: Vec<(EndSide, Point)>,
}

impl Scene {
    /// What is laid over the figure: the cut, the number of each tooth, and a mark at each end, that of the active one
    /// in brackets.
    #[must_use]
    pub fn overlay(&self, active: Option<EndSide>) -> Overlay {
        let teeth = self.teeth.iter();
        let teeth = teeth.map(|(tooth, at)| (*at, tooth.to_string()));
        let ends = self.ends.iter().map(|(side, at)| {
            let mark = match side {
                EndSide::Mesial => "m",
                EndSide::Distal => "d",
            };
            let mark = if active == Some(*side) {
                format!("[{mark}]")
            } else {
                mark.to_owned()
            };
            (*at, mark)
        });
        Overlay {
            labels: teeth.chain(ends).collect(),
            incision: self.cut.clone(),
            ..Overlay::default()
        }
    }
}

/// Draws a case with a draft on it.
#[must_use]
pub fn scene(case: &Case, draft: &Draft) -> Scene {
    let (first, last) = shown(case, draft);
    let placed = || {
        EndSide::BOTH
            .into_iter()
            .filter_map(|side| Some((side, draft.end(side)?)))
    };
    let cut = match draft.design().ok().and_then(|design| cut_of(case, &design)) {
        Some(cut) => cut,
        None => placed()
            .map(|(side, end)| chain(&sketch_end(case, side, end, draft.cut())))
            .collect(),
    };
    let deepest = cut
        .iter()
        .flatten()
        .map(|at| at.y * apical(case))
        .chain(
            case.surroundings()
                .defects
                .iter()
                .map(|defect| defect.bone.bottom_mm),
        )
        .fold(case.bone().bottom_mm.max(APICAL_MM), f64::max);
    let ends = placed().map(|(side, end)| {
        let along = case.row().along_mm(end.tooth, end.point);
        (side, page(case, along, 1.0 - CORONAL_MM))
    });
    Scene {
        ends: ends.collect(),
        teeth: Tooth::between(first, last)
            .filter(|&tooth| case.has(tooth))
            .map(|tooth| {
                let along = case.row().along_mm(tooth, NeckPoint::MidFacial);
                (tooth, page(case, along, -3.0))
            })
            .collect(),
        figure: figure(
            case,
            (first, last),
            along_mm(case, (first, last), &cut),
            deepest + 1.0,
        ),
        cut,
    }
}

/// The lines of a whole design; none if it cannot be laid on this case.
fn cut_of(case: &Case, design: &Design) -> Option<Vec<Vec<Point>>> {
    let sketch = sketch(case, design).ok()?;
    let mut cut = vec![chain(&sketch.cut)];
    cut.extend(sketch.releases.iter().map(|points| chain(points)));
    cut.extend(sketch.limb.as_deref().map(chain));
    Some(cut)
}

fn chain(points: &[PagePoint]) -> Vec<Point> {
    points.iter().map(|&(x, y)| Point::new(x, y)).collect()
}

/// The first and last tooth shown.
fn shown(case: &Case, draft: &Draft) -> (Tooth, Tooth) {
    let site = case.site().iter().copied();
    let (first, last) = (site.clone().min(), site.max());
    let (first, last) = (first.unwrap_or(Tooth::LAST), last.unwrap_or(Tooth::LAST));
    let tooth = |number: u8| Tooth::new(number.clamp(1, 8)).unwrap_or(Tooth::LAST);
    let around = [
        tooth(first.number().saturating_sub(AROUND.0)),
        tooth(last.number() + AROUND.1),
    ];
    let ends = EndSide::BOTH.into_iter().filter_map(|side| draft.end(side));
    let defects = case
        .surroundings()
        .defects
        .iter()
        .map(|defect| defect.tooth);
    let all = around
        .into_iter()
        .chain(ends.map(|end| end.tooth))
        .chain(defects);
    all.fold((first, last), |(first, last), tooth| {
        (first.min(tooth), last.max(tooth))
    })
}

/// +1 where apical is up on the page.
fn apical(case: &Case) -> f64 {
    -case.jaw().coronal()
}

fn page(case: &Case, along_mm: f64, apical_mm: f64) -> Point {
    let x = match case.quadrant() {
        Quadrant::Left => along_mm,
        Quadrant::Right => -along_mm,
    };
    Point::new(x, apical(case) * apical_mm)
}

/// The part of the row that is shown: the teeth and what is cut beside them, mm. A cut adds whole millimetres, so that
/// the page stands still while a release turns a little.
fn along_mm(case: &Case, (first, last): (Tooth, Tooth), cut: &[Vec<Point>]) -> (f64, f64) {
    let row = case.row();
    let has_ramus = case.has_ramus() && last == Tooth::LAST;
    let behind = if has_ramus { RAMUS_MM } else { BESIDE_MM };
    let teeth = (
        row.along_mm(first, NeckPoint::MesialPapilla) - BESIDE_MM,
        row.along_mm(last, NeckPoint::DistalPapilla) + behind,
    );
    let cut = cut.iter().flatten().map(|at| match case.quadrant() {
        Quadrant::Left => at.x,
        Quadrant::Right => -at.x,
    });
    cut.fold(teeth, |(start, end), along| {
        let (low, high) = (along - BESIDE_MM, along + BESIDE_MM);
        (
            if low < start - EQUAL_MM {
                low.floor()
            } else {
                start
            },
            if high > end + EQUAL_MM {
                high.ceil()
            } else {
                end
            },
        )
    })
}

fn figure(
    case: &Case,
    (first, last): (Tooth, Tooth),
    (start, end): (f64, f64),
    deepest_mm: f64,
) -> Figure {
    let jaw = case.jaw();
    let corners = [page(case, start, -CORONAL_MM), page(case, end, deepest_mm)];
    let mut shapes = rows(case, first, last);
    let level = |name: &str, apical_mm: f64, line: Line| {
        let ends = [page(case, start, apical_mm), page(case, end, apical_mm)];
        path(name, &ends, false).lined(line)
    };
    shapes.push(level("crest", teeth::CREST_MM, Line::Plain));
    if case.aspect() != Aspect::Palatal {
        let junction = case.thresholds().value(Limit::junction(jaw));
        shapes.push(level("mucogingival-junction", junction, Line::Dotted));
    }
    if (jaw, case.aspect()) == (Jaw::Lower, Aspect::Buccal) {
        let along = case.thresholds().value(Limit::MentalAlong);
        let (width_mm, height_mm) = FORAMEN_MM;
        let form = Form::Ellipse {
            centre: page(case, along, teeth::MENTAL_FORAMEN_ROOF_MM + height_mm / 2.0),
            width_mm,
            height_mm,
        };
        shapes.push(Shape::new(Some("mental-foramen".to_owned()), form).lined(Line::Bold));
    }
    let block = |name: &str, block: Block| {
        let corners = block.corners();
        let corners = corners.map(|spot| page(case, spot.along_mm, spot.apical_mm));
        path(name, &corners, true)
    };
    shapes.push(block("bone", case.block()).lined(Line::Dashed));
    for defect in &case.surroundings().defects {
        shapes.push(block("defect", case.defect_block(defect)).lined(Line::BoldDashed));
    }
    Figure {
        id: "flap".to_owned(),
        view: describe_case(case),
        // Two corners are never nothing to go round.
        frame: Frame::around(corners).unwrap_or(Frame {
            low: corners[0],
            high: corners[1],
        }),
        toward: toward(case),
        shapes,
        labels: Vec::new(),
        places: Vec::new(),
    }
}

/// The teeth that stand, in runs without a gap.
fn rows(case: &Case, first: Tooth, last: Tooth) -> Vec<Shape> {
    let reflection = match case.quadrant() {
        Quadrant::Left => Reflection::None,
        Quadrant::Right => Reflection::Flip(0.0),
    };
    let standing: Vec<Tooth> = Tooth::between(first, last)
        .filter(|&tooth| case.has(tooth))
        .collect();
    let runs = standing.chunk_by(|one, next| one.number() + 1 == next.number());
    let rows = runs.filter_map(|run| {
        let form = Form::Teeth {
            jaw: case.jaw(),
            first: *run.first()?,
            last: *run.last()?,
            crowns_only: false,
        };
        Some(Shape {
            placing: Placing {
                reflection,
                ..Placing::default()
            },
            ..Shape::new(None, form)
        })
    });
    rows.collect()
}

fn path(name: &str, points: &[Point], closed: bool) -> Shape {
    let knots = points.iter().map(|&at| Knot { at, corner: true });
    let form = Form::Path {
        knots: knots.collect(),
        closed,
        smooth: false,
    };
    Shape::new(Some(name.to_owned()), form)
}

fn toward(case: &Case) -> Toward {
    let (left, right) = match case.quadrant() {
        Quadrant::Left => ("mesial", "distal"),
        Quadrant::Right => ("distal", "mesial"),
    };
    let (up, down) = match case.jaw() {
        Jaw::Lower => ("coronal", "apical"),
        Jaw::Upper => ("apical", "coronal"),
    };
    let [left, right, up, down] = [left, right, up, down].map(str::to_owned);
    Toward {
        left,
        right,
        up,
        down,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::flap::{Bone, Operation, Thresholds};

    fn case(quadrant: Quadrant) -> Case {
        let operation = Operation {
            jaw: Jaw::Lower,
            quadrant,
            aspect: Aspect::Buccal,
            site: vec![Tooth::new(5).unwrap()],
            bone: Bone {
                top_mm: 2.0,
                bottom_mm: 8.0,
            },
            missing: vec![Tooth::new(6).unwrap()],
        };
        Case::new(operation, Thresholds::default()).unwrap()
    }

    fn draft() -> Draft {
        let tooth = |number| Tooth::new(number).unwrap();
        Draft::default()
            .on_tooth(EndSide::Mesial, tooth(4))
            .lengthened(EndSide::Mesial)
            .on_tooth(EndSide::Distal, tooth(7))
    }

    #[test]
    fn the_right_quadrant_is_the_mirror_image() {
        let [left, right] =
            [Quadrant::Left, Quadrant::Right].map(|side| scene(&case(side), &draft()));
        let (one, other) = (left.figure.frame, right.figure.frame);
        assert_eq!((one.low.x, one.high.x), (-other.high.x, -other.low.x));
        let mirrored = |chains: &[Vec<Point>]| -> Vec<Vec<Point>> {
            let mirror = |chain: &Vec<Point>| chain.iter().map(|at| at.reflected(0.0)).collect();
            chains.iter().map(mirror).collect()
        };
        assert_eq!(mirrored(&left.cut), right.cut);
        assert_eq!(left.figure.toward.left, right.figure.toward.right);
    }

    #[test]
    fn everything_that_is_cut_lies_in_the_frame() {
        for number in 1..=8 {
            let mut draft = draft().on_tooth(EndSide::Mesial, Tooth::new(number).unwrap());
            for _ in 0..12 {
                draft = draft.lengthened(EndSide::Mesial);
                for quadrant in [Quadrant::Left, Quadrant::Right] {
                    let scene = scene(&case(quadrant), &draft);
                    let frame = scene.figure.frame;
                    for at in scene.cut.iter().flatten() {
                        assert!(frame.contains(*at), "{number}: {at:?} {frame:?}");
                    }
                }
            }
        }
        // Beyond the teeth that are shown, on either side: 3 mesial of the site, 2 distal of it, or a limb.
        for text in [
            "2ml r14@60 .. 7dl",
            "4ml .. 7dl r20@60",
            "1mp r40@60 .. 8dp r40@60",
            "4ml .. 5dl limb40@0",
            "4ml .. 8dl limb40@30",
        ] {
            let design: Design = text.parse().unwrap();
            let scene = scene(&case(Quadrant::Right), &Draft::from(&design));
            let frame = scene.figure.frame;
            let cut = scene.cut.iter().flatten();
            let (low, high) = cut.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| {
                (low.min(at.x), high.max(at.x))
            });
            assert!(frame.low.x <= low - BESIDE_MM, "{text}: {low} {frame:?}");
            assert!(high + BESIDE_MM <= frame.high.x, "{text}: {high} {frame:?}");
            assert!(scene.cut.iter().flatten().all(|at| frame.contains(*at)));
        }
    }

    #[test]
    fn the_page_grows_by_whole_millimetres_and_only_for_a_cut_beyond_it() {
        let frame = |text: &str| {
            let design: Design = text.parse().unwrap();
            scene(&case(Quadrant::Left), &Draft::from(&design))
                .figure
                .frame
        };
        // Tooth 2 begins at 5: the page, 1 mm in front of it.
        let usual = frame("4ml .. 7dl");
        assert_eq!((usual.low.x, usual.high.x), (4.0, 54.0));
        assert_eq!(frame("2mp .. 7dp"), usual);
        assert_eq!(frame("3ml r4@10 .. 7dl"), usual);
        let wider = frame("2ml r10@30 .. 7dl");
        assert_eq!((wider.low.x, wider.high.x), (-1.0, usual.high.x));
        assert_eq!(frame("2ml r10@31 .. 7dl"), wider);
    }

    #[test]
    fn missing_teeth_are_not_drawn_or_numbered() {
        let scene = scene(&case(Quadrant::Left), &Draft::default());
        let numbers: Vec<u8> = scene
            .teeth
            .iter()
            .map(|(tooth, _)| tooth.number())
            .collect();
        assert_eq!(numbers, [2, 3, 4, 5, 7]);
        let rows = scene
            .figure
            .shapes
            .iter()
            .filter(|shape| shape.id.is_none());
        assert_eq!(rows.count(), 2);
        assert!(scene.cut.is_empty() && scene.ends.is_empty());
    }

    #[test]
    fn a_lone_end_is_drawn_before_the_other_is_placed() {
        let draft = Draft::default()
            .on_tooth(EndSide::Distal, Tooth::new(7).unwrap())
            .lengthened(EndSide::Distal);
        let scene = scene(&case(Quadrant::Left), &draft);
        assert_eq!((scene.cut.len(), scene.ends.len()), (1, 1));
        assert!(scene.cut[0].len() > 1);
    }
}
