//! Whether two areas overlap.

use super::model::Frame;
use super::point::Point;
use super::stroke::Stroke;

/// Whether two closed chains share any area: their edges cross, or one holds the other. Touching at a point
/// counts as no overlap unless an edge passes through.
#[must_use]
pub fn overlap(a: &Stroke, b: &Stroke) -> bool {
    let (Some(around_a), Some(around_b)) = (extent(a), extent(b)) else {
        return false;
    };
    if !meet(around_a, around_b) {
        return false;
    }
    let holds = |outer: &Stroke, inner: &Stroke| {
        inner
            .points
            .first()
            .is_some_and(|&point| outer.contains(point))
    };
    holds(a, b)
        || holds(b, a)
        || a.segments()
            .any(|one| b.segments().any(|other| cross(one, other)))
}

fn extent(stroke: &Stroke) -> Option<Frame> {
    Frame::around(stroke.points.iter().copied())
}

fn meet(a: Frame, b: Frame) -> bool {
    a.low.x <= b.high.x && b.low.x <= a.high.x && a.low.y <= b.high.y && b.low.y <= a.high.y
}

/// Whether two pieces cross in their inner parts.
fn cross((a, b): (Point, Point), (c, d): (Point, Point)) -> bool {
    let side = |p: Point, q: Point, r: Point| (q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x);
    side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figure::curve::ellipse;
    use crate::figure::model::Line;

    fn disc(x: f64, width_mm: f64) -> Stroke {
        Stroke {
            points: ellipse(Point::new(x, 0.0), width_mm, 4.0),
            closed: true,
            line: Line::Plain,
        }
    }

    #[test]
    fn discs() {
        assert!(overlap(&disc(0.0, 4.0), &disc(3.0, 4.0)));
        assert!(!overlap(&disc(0.0, 4.0), &disc(5.0, 4.0)));
        let (large, small) = (disc(0.0, 20.0), disc(6.0, 2.0));
        assert!(overlap(&large, &small) && overlap(&small, &large));
    }
}
