//! One quadrant from the facial side as a figure: teeth, gum, crest, mucogingival junction, mental foramen.
//!
//! What a flap is drawn upon. It has no places; its points are named along the neck line by
//! [`teeth::along_mm`]. On the page x is that length and y is up; the left side, mesial
//! to the left. The right side is its [mirror image](Figure::mirrored).

use super::model::{Figure, Form, Frame, Line, Placing, Shape, Toward};
use super::point::{Knot, Point};
use super::teeth::{
    self, CREST_MM, Jaw, MENTAL_FORAMEN_ALONG_MM, MENTAL_FORAMEN_ROOF_MM, NeckPoint, Tooth,
};

/// Height of the mental foramen as drawn, mm.
const FORAMEN_HEIGHT_MM: f64 = 3.0;

/// Straight pieces of the gum line a tooth.
const GUM_STEPS: u16 = 16;

/// A point `apical_mm` below the neck line, `along_mm` from the midline, as it lies on the page.
#[must_use]
pub fn on_page(jaw: Jaw, along_mm: f64, apical_mm: f64) -> Point {
    Point::new(along_mm, -jaw.coronal() * apical_mm)
}

/// The gum line from one length along the row to another, as it lies on the page. Empty where it leaves the row.
#[must_use]
pub fn gum_line(jaw: Jaw, from_mm: f64, to_mm: f64) -> Vec<Point> {
    // The scallop turns at contacts: they must be among the points, or papillae lose their tips.
    let contacts = Tooth::all().map(|tooth| teeth::mesial_contact_mm(jaw, tooth));
    let steps = Tooth::all().flat_map(|tooth| {
        let start = teeth::mesial_contact_mm(jaw, tooth);
        let step = teeth::means(jaw, tooth).crown_mm / f64::from(GUM_STEPS);
        (1..GUM_STEPS).map(move |index| start + step * f64::from(index))
    });
    let mut along: Vec<f64> = contacts
        .chain(steps)
        .filter(|mm| (from_mm..=to_mm).contains(mm))
        .chain([from_mm, to_mm])
        .collect();
    along.sort_by(f64::total_cmp);
    along.dedup();
    along
        .into_iter()
        .filter_map(|mm| Some(on_page(jaw, mm, -teeth::gum_mm(jaw, mm)?)))
        .collect()
}

/// A quadrant with some teeth missing, as much of it as the frame shows.
#[must_use]
pub fn quadrant(jaw: Jaw, missing: &[Tooth], frame: Frame) -> Figure {
    let end_mm = teeth::along_mm(jaw, Tooth::LAST, NeckPoint::DistalPapilla);
    let present = Tooth::all().filter(|tooth| !missing.contains(tooth));
    let mut shapes: Vec<Shape> = present
        .map(|tooth| {
            let form = Form::Teeth {
                jaw,
                first: tooth,
                last: tooth,
                crowns_only: false,
            };
            Shape::new(None, form)
        })
        .collect();
    let level = |id: &str, apical_mm: f64, line: Line| {
        let ends = [0.0, end_mm].map(|mm| on_page(jaw, mm, apical_mm));
        path(id, ends.to_vec(), line)
    };
    shapes.push(path("gum", gum_line(jaw, 0.0, end_mm), Line::Plain));
    shapes.push(level("crest", CREST_MM, Line::Dashed));
    shapes.push(level(
        "mucogingival-junction",
        teeth::junction_mm(jaw),
        Line::Dotted,
    ));
    if jaw == Jaw::Lower {
        let depth = MENTAL_FORAMEN_ROOF_MM + FORAMEN_HEIGHT_MM / 2.0;
        let form = Form::Ellipse {
            centre: on_page(jaw, MENTAL_FORAMEN_ALONG_MM, depth),
            width_mm: 4.0,
            height_mm: FORAMEN_HEIGHT_MM,
        };
        shapes.push(Shape::new(Some("mental-foramen".to_owned()), form).lined(Line::Bold));
    }
    let (up, down) = match jaw {
        Jaw::Upper => ("apical", "coronal"),
        Jaw::Lower => ("coronal", "apical"),
    };
    Figure {
        id: format!("quadrant-{}", jaw.word()),
        view: format!("{} left teeth from the cheek, roots shown", jaw.word()),
        frame,
        toward: Toward {
            left: "mesial".to_owned(),
            right: "distal".to_owned(),
            up: up.to_owned(),
            down: down.to_owned(),
        },
        shapes,
        labels: Vec::new(),
        places: Vec::new(),
    }
}

fn path(id: &str, points: Vec<Point>, line: Line) -> Shape {
    let knots = points.into_iter().map(|at| Knot { at, corner: true });
    Shape {
        id: Some(id.to_owned()),
        form: Form::Path {
            knots: knots.collect(),
            closed: false,
            smooth: false,
        },
        line,
        placing: Placing::default(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const FRAME: Frame = Frame {
        low: Point::new(0.0, -20.0),
        high: Point::new(63.0, 12.0),
    };

    #[test]
    fn missing_teeth_are_left_out() {
        let whole = quadrant(Jaw::Lower, &[], FRAME);
        let gap = quadrant(Jaw::Lower, &[Tooth::LAST], FRAME);
        assert_eq!(whole.shapes.len(), gap.shapes.len() + 1);
        assert!(whole.shape("mental-foramen").is_some());
        assert!(
            quadrant(Jaw::Upper, &[], FRAME)
                .shape("mental-foramen")
                .is_none()
        );
    }

    #[test]
    fn the_gum_line_runs_from_papilla_to_papilla() {
        let line = gum_line(Jaw::Lower, 18.5, 41.5);
        assert!(line.is_sorted_by(|a, b| a.x < b.x));
        assert!(line.contains(&Point::new(24.5, 4.0)));
        assert!(line.contains(&Point::new(31.5, 4.0)));
        assert!(line.contains(&Point::new(28.0, 0.0)));
        // Upper gum hangs below the neck line on the page.
        assert!(gum_line(Jaw::Upper, 0.0, 8.5).contains(&Point::new(0.0, -4.0)));
    }
}
