//! From shapes to chains of points: what is actually drawn, in the plane, after turning, shifting and reflecting.

use super::curve;
use super::model::{Figure, Form, Frame, Line, Placing, Reflection, Shape};
use super::point::Point;
use super::tooth_form;

/// A chain of points with its line.
#[derive(Clone, Debug, PartialEq)]
pub struct Stroke {
    /// In order, mm.
    pub points: Vec<Point>,
    /// The end is joined to the start.
    pub closed: bool,
    /// How the line runs.
    pub line: Line,
}

impl Stroke {
    /// Every two neighbouring points, the last joined to the first if closed.
    pub fn segments(&self) -> impl Iterator<Item = (Point, Point)> + '_ {
        let closing = if self.closed {
            self.points.first()
        } else {
            None
        };
        let ends = self.points.iter().skip(1).chain(closing);
        self.points.iter().copied().zip(ends.copied())
    }

    /// Whether a point lies inside a closed chain (even-odd rule; the edge counts either way).
    #[must_use]
    pub fn contains(&self, point: Point) -> bool {
        self.closed
            && self
                .segments()
                .filter(|(a, b)| (a.y > point.y) != (b.y > point.y))
                .filter(|(a, b)| point.x < a.x + (b.x - a.x) * (point.y - a.y) / (b.y - a.y))
                .count()
                % 2
                == 1
    }
}

impl Shape {
    /// What the shape draws.
    #[must_use]
    pub fn strokes(&self) -> Vec<Stroke> {
        placed(form_strokes(&self.form, self.line), self.placing)
    }
}

impl Figure {
    /// What the closed shape around a place draws, the part that holds the place first: a mirrored shape has two.
    #[must_use]
    pub fn region(&self, place: usize) -> Option<Stroke> {
        let place = self.places.get(place)?;
        let shape = self.shape(place.region.as_deref()?)?;
        let mut closed: Vec<Stroke> = shape.strokes();
        closed.retain(|stroke| stroke.closed);
        let around = closed.iter().position(|stroke| stroke.contains(place.at));
        closed.into_iter().nth(around.unwrap_or(0))
    }
}

fn form_strokes(form: &Form, line: Line) -> Vec<Stroke> {
    let stroke = |points: Vec<Point>, closed: bool| {
        vec![Stroke {
            points,
            closed,
            line,
        }]
    };
    match form {
        Form::Path {
            knots,
            closed,
            smooth: true,
        } => stroke(curve::smooth(knots, *closed), *closed),
        Form::Path { knots, closed, .. } => stroke(curve::straight(knots), *closed),
        Form::Ellipse {
            centre,
            width_mm,
            height_mm,
        } => stroke(curve::ellipse(*centre, *width_mm, *height_mm), true),
        Form::Arc {
            centre,
            width_mm,
            height_mm,
            from_deg,
            to_deg,
        } => stroke(
            curve::arc(*centre, *width_mm, *height_mm, *from_deg, *to_deg),
            false,
        ),
        Form::Teeth {
            jaw,
            first,
            last,
            crowns_only,
        } => super::teeth::Tooth::between(*first, *last)
            .flat_map(|tooth| tooth_form::facial(*jaw, tooth, *crowns_only))
            .map(|part| relined(part, line))
            .collect(),
        Form::Arch {
            jaw,
            first,
            last,
            knots,
        } => tooth_form::arch(*jaw, *first, *last, &curve::smooth(knots, false))
            .into_iter()
            .map(|part| relined(part, line))
            .collect(),
    }
}

/// A row's own line replaces the plain parts of its teeth; a root that hides behind others stays dotted.
fn relined(part: Stroke, line: Line) -> Stroke {
    Stroke {
        line: if part.line == Line::Plain {
            line
        } else {
            part.line
        },
        ..part
    }
}

fn placed(mut strokes: Vec<Stroke>, placing: Placing) -> Vec<Stroke> {
    let all = strokes
        .iter()
        .flat_map(|stroke| stroke.points.iter().copied());
    let middle = Frame::around(all).map_or(Point::default(), Frame::centre);
    for point in strokes
        .iter_mut()
        .flat_map(|stroke| stroke.points.iter_mut())
    {
        if placing.turn_deg != 0.0 {
            *point = point.turned(middle, placing.turn_deg);
        }
        *point = point.plus(placing.shift);
    }
    match placing.reflection {
        Reflection::None => strokes,
        Reflection::Flip(x_mm) => reflected(&strokes, x_mm),
        Reflection::Mirror(x_mm) => {
            let other = reflected(&strokes, x_mm);
            strokes.extend(other);
            strokes
        }
    }
}

fn reflected(strokes: &[Stroke], x_mm: f64) -> Vec<Stroke> {
    strokes
        .iter()
        .map(|stroke| Stroke {
            points: stroke.points.iter().map(|p| p.reflected(x_mm)).collect(),
            ..stroke.clone()
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn oval() -> Shape {
        Shape::new(
            None,
            Form::Ellipse {
                centre: Point::new(10.0, 5.0),
                width_mm: 8.0,
                height_mm: 2.0,
            },
        )
    }

    fn extent(shape: &Shape) -> Frame {
        Frame::around(shape.strokes().into_iter().flat_map(|s| s.points)).unwrap()
    }

    #[test]
    fn an_ellipse_turns_about_its_centre() {
        let mut shape = oval();
        shape.placing.turn_deg = 90.0;
        let frame = extent(&shape);
        assert!((frame.height_mm() - 8.0).abs() < 1e-9);
        assert!(frame.centre().distance(Point::new(10.0, 5.0)) < 1e-9);
    }

    #[test]
    fn shift_comes_before_reflection() {
        let mut shape = oval();
        shape.placing.shift = Point::new(2.0, 0.0);
        shape.placing.reflection = Reflection::Flip(0.0);
        assert!(extent(&shape).centre().distance(Point::new(-12.0, 5.0)) < 1e-9);
        shape.placing.reflection = Reflection::Mirror(0.0);
        assert_eq!(shape.strokes().len(), 2);
        assert!(extent(&shape).centre().distance(Point::new(0.0, 5.0)) < 1e-9);
    }

    #[test]
    fn inside_and_outside() {
        let stroke = oval().strokes().remove(0);
        assert!(stroke.contains(Point::new(13.0, 5.2)));
        assert!(!stroke.contains(Point::new(13.0, 6.0)));
        let open = Stroke {
            closed: false,
            ..stroke
        };
        assert!(!open.contains(Point::new(10.0, 5.0)));
    }
}
