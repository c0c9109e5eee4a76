//! Curves as chains of points: smooth curves, ellipses, arcs, and walking along a chain.
//!
//! Smooth curves are centripetal Catmull-Rom splines (Catmull and Rom 1974; the centripetal choice of knots,
//! which has neither cusps nor loops within a span: Yuksel, Schaefer and Keyser 2011), worked out by the pyramid of
//! Barry and Goldman (1988). Nothing here knows what a curve stands for.

use super::point::{Knot, Point};

/// Straight pieces that stand for one span of a curve.
pub const STEPS: u16 = 24;

/// Straight pieces that stand for a whole ellipse.
const ELLIPSE_STEPS: u16 = 72;

/// The chain through the knots in straight pieces.
#[must_use]
pub fn straight(knots: &[Knot]) -> Vec<Point> {
    knots.iter().map(|knot| knot.at).collect()
}

/// The smooth chain through the knots. A corner ends the tangent on both sides. A closed chain does not repeat
/// its first point.
#[must_use]
pub fn smooth(knots: &[Knot], closed: bool) -> Vec<Point> {
    let mut knots = distinct(knots);
    if closed && knots.len() > 1 && knots.first().map(|k| k.at) == knots.last().map(|k| k.at) {
        knots.pop();
    }
    if knots.len() < 3 {
        return straight(&knots);
    }
    if !closed {
        return runs(&knots);
    }
    match knots.iter().position(|knot| knot.corner) {
        Some(corner) => {
            knots.rotate_left(corner);
            knots.extend(knots.first().copied());
            let mut chain = runs(&knots);
            chain.pop();
            chain
        }
        None => ring(&knots),
    }
}

/// Without points that repeat the one before: a span of no length has no direction.
fn distinct(knots: &[Knot]) -> Vec<Knot> {
    let mut kept: Vec<Knot> = Vec::with_capacity(knots.len());
    for &knot in knots {
        match kept.last_mut() {
            Some(last) if last.at == knot.at => last.corner |= knot.corner,
            _ => kept.push(knot),
        }
    }
    kept
}

/// An open chain, cut at its corners and smoothed between them.
fn runs(knots: &[Knot]) -> Vec<Point> {
    let mut chain: Vec<Point> = Vec::new();
    let mut start = 0;
    for end in 1..knots.len() {
        if knots[end].corner || end + 1 == knots.len() {
            chain.extend(run(&knots[start..=end]));
            start = end;
        }
    }
    chain.extend(knots.last().map(|knot| knot.at));
    chain
}

/// One smooth piece without its last point. Beyond its ends the first and last spans are continued by reflection.
fn run(knots: &[Knot]) -> Vec<Point> {
    let at = |index: usize| knots[index].at;
    let last = knots.len() - 1;
    let beyond = |end: Point, inner: Point| inner.toward(end, 2.0);
    (0..last)
        .flat_map(|index| {
            let before = match index {
                0 => beyond(at(0), at(1)),
                _ => at(index - 1),
            };
            let after = match index + 2 {
                next if next <= last => at(next),
                _ => beyond(at(last), at(last - 1)),
            };
            span([before, at(index), at(index + 1), after])
        })
        .collect()
}

/// A closed chain without corners.
fn ring(knots: &[Knot]) -> Vec<Point> {
    let at = |index: usize| knots[index % knots.len()].at;
    (0..knots.len())
        .flat_map(|index| {
            span([
                at(index + knots.len() - 1),
                at(index),
                at(index + 1),
                at(index + 2),
            ])
        })
        .collect()
}

/// The curve from the second of four points to the third, without its end.
fn span(p: [Point; 4]) -> Vec<Point> {
    let mut t = [0.0_f64; 4];
    for index in 1..4 {
        t[index] = t[index - 1] + p[index].distance(p[index - 1]).sqrt();
    }
    let between = |a: Point, b: Point, from: f64, to: f64, now: f64| {
        if to > from {
            a.toward(b, (now - from) / (to - from))
        } else {
            a
        }
    };
    (0..STEPS)
        .map(|step| {
            let now = t[1] + (t[2] - t[1]) * f64::from(step) / f64::from(STEPS);
            let a1 = between(p[0], p[1], t[0], t[1], now);
            let a2 = between(p[1], p[2], t[1], t[2], now);
            let a3 = between(p[2], p[3], t[2], t[3], now);
            let b1 = between(a1, a2, t[0], t[2], now);
            let b2 = between(a2, a3, t[1], t[3], now);
            between(b1, b2, t[1], t[2], now)
        })
        .collect()
}

/// An ellipse by its full width and height, mm.
#[must_use]
pub fn ellipse(centre: Point, width_mm: f64, height_mm: f64) -> Vec<Point> {
    (0..ELLIPSE_STEPS)
        .map(|step| {
            let degrees = 360.0 * f64::from(step) / f64::from(ELLIPSE_STEPS);
            on_ellipse(centre, width_mm, height_mm, degrees)
        })
        .collect()
}

/// The part of an ellipse from one angle to another, degrees counter-clockwise from the right.
#[must_use]
pub fn arc(centre: Point, width_mm: f64, height_mm: f64, from_deg: f64, to_deg: f64) -> Vec<Point> {
    (0..=ELLIPSE_STEPS)
        .map(|step| {
            let share = f64::from(step) / f64::from(ELLIPSE_STEPS);
            let degrees = from_deg + (to_deg - from_deg) * share;
            on_ellipse(centre, width_mm, height_mm, degrees)
        })
        .collect()
}

fn on_ellipse(centre: Point, width_mm: f64, height_mm: f64, degrees: f64) -> Point {
    let (sin, cos) = degrees.to_radians().sin_cos();
    Point::new(
        centre.x + width_mm / 2.0 * cos,
        centre.y + height_mm / 2.0 * sin,
    )
}

/// Length of a chain, mm.
#[must_use]
pub fn length(chain: &[Point]) -> f64 {
    chain.windows(2).map(|pair| pair[0].distance(pair[1])).sum()
}

/// The point `along_mm` from the start of a chain and the direction there, degrees from the right. Beyond its
/// end the chain goes on straight. `None` for a chain without length.
#[must_use]
pub fn walk(chain: &[Point], along_mm: f64) -> Option<(Point, f64)> {
    let mut left = along_mm;
    let mut last = None;
    for pair in chain.windows(2) {
        let step = pair[0].distance(pair[1]);
        if step <= 0.0 {
            continue;
        }
        let degrees = (pair[1].y - pair[0].y)
            .atan2(pair[1].x - pair[0].x)
            .to_degrees();
        last = Some((pair[0].toward(pair[1], left / step), degrees));
        if left <= step {
            break;
        }
        left -= step;
    }
    last
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figure::point::points;

    #[test]
    fn a_curve_passes_its_points() {
        for closed in [false, true] {
            let knots = points("0,0 5,3 9,0! 4,-4 2,-2", 1.0).unwrap();
            let chain = smooth(&knots, closed);
            for knot in &knots {
                let nearest = chain
                    .iter()
                    .map(|p| p.distance(knot.at))
                    .fold(9.0, f64::min);
                assert!(nearest < 1e-9, "{:?} missed by {nearest}", knot.at);
            }
        }
    }

    #[test]
    fn between_corners_a_line_is_straight() {
        let chain = smooth(&points("0,0! 4,0! 4,4! 0,4!", 1.0).unwrap(), true);
        assert!(chain.iter().all(|p| {
            [p.x, p.y, 4.0 - p.x, 4.0 - p.y]
                .iter()
                .any(|side| side.abs() < 1e-9)
        }));
    }

    #[test]
    fn a_smooth_ring_through_a_square_bulges() {
        let chain = smooth(&points("0,0 4,0 4,4 0,4", 1.0).unwrap(), true);
        assert_eq!(chain.len(), 4 * usize::from(STEPS));
        assert!(chain.iter().any(|p| p.y < -0.3));
    }

    #[test]
    fn repeated_points_do_no_harm() {
        for text in ["1,1", "1,1 1,1", "1,1 1,1 1,1 2,2", "0,0 1,0 0,0"] {
            for closed in [false, true] {
                let chain = smooth(&points(text, 1.0).unwrap(), closed);
                assert!(chain.iter().all(|p| p.is_finite()), "{text}");
            }
        }
    }

    #[test]
    fn walking_a_chain() {
        let chain = [
            Point::new(0.0, 0.0),
            Point::new(3.0, 0.0),
            Point::new(3.0, 4.0),
        ];
        assert!((length(&chain) - 7.0).abs() < 1e-12);
        assert_eq!(walk(&chain, 5.0), Some((Point::new(3.0, 2.0), 90.0)));
        assert_eq!(walk(&chain, 9.0), Some((Point::new(3.0, 6.0), 90.0)));
        assert_eq!(walk(&chain[..1], 1.0), None);
    }
}
