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
    // The edges of one and the same area never cross.
    a.points == b.points
        || holds(a, b)
        || holds(b, a)
        || edges_cross(pieces(a, around_b), pieces(b, around_a))
}

type Piece = (Point, Point);

/// The pieces of a chain that come near an area.
fn pieces(stroke: &Stroke, near: Frame) -> Vec<(Frame, Piece)> {
    let boxed = stroke.segments().filter_map(|(from, to)| {
        let around = Frame::around([from, to])?;
        meet(around, near).then_some((around, (from, to)))
    });
    boxed.collect()
}

/// Whether any piece of one chain crosses one of another. A chain has thousands of short pieces: they are compared in
/// the order in which they begin, from left to right or upward, whichever spreads them wider.
fn edges_cross(mut a: Vec<(Frame, Piece)>, mut b: Vec<(Frame, Piece)>) -> bool {
    let ends = a
        .iter()
        .chain(&b)
        .flat_map(|(around, _)| [around.low, around.high]);
    let wide = Frame::around(ends).is_none_or(|all| all.width_mm() >= all.height_mm());
    let along = |at: Point| if wide { at.x } else { at.y };
    let begins = |(around, _): &(Frame, Piece)| along(around.low);
    for list in [&mut a, &mut b] {
        list.sort_by(|one, other| begins(one).total_cmp(&begins(other)));
    }
    let longest = b
        .iter()
        .map(|(around, _)| along(around.high) - along(around.low))
        .fold(0.0, f64::max);
    a.iter().any(|(around, piece)| {
        let from = b.partition_point(|other| begins(other) < along(around.low) - longest);
        b.iter()
            .skip(from)
            .take_while(|other| begins(other) <= along(around.high))
            .any(|(other_around, other)| meet(*around, *other_around) && cross(*piece, *other))
    })
}

fn extent(stroke: &Stroke) -> Option<Frame> {
    Frame::around(stroke.points.iter().copied())
}

fn meet(a: Frame, b: Frame) -> bool {
    a.low.x <= b.high.x && b.low.x <= a.high.x && a.low.y <= b.high.y && b.low.y <= a.high.y
}

/// Whether two pieces cross in their inner parts.
fn cross((a, b): Piece, (c, d): Piece) -> bool {
    let side = |p: Point, q: Point, r: Point| (q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x);
    side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

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
        assert!(overlap(&small, &small));
    }

    proptest! {
        /// What sweeping finds is what comparing every piece with every piece finds.
        #[test]
        fn sweeping_misses_nothing(
            a in prop::collection::vec((0..12_i32, 0..12_i32), 3..9),
            b in prop::collection::vec((0..12_i32, 0..12_i32), 3..9),
        ) {
            let chain = |points: Vec<(i32, i32)>| Stroke {
                points: points
                    .into_iter()
                    .map(|(x, y)| Point::new(f64::from(x), f64::from(2 * y)))
                    .collect(),
                closed: true,
                line: Line::Plain,
            };
            let (a, b) = (chain(a), chain(b));
            let mut all = a.segments().flat_map(|one| b.segments().map(move |other| (one, other)));
            let crossed = all.any(|(one, other)| cross(one, other));
            let (around_a, around_b) = (extent(&a).unwrap(), extent(&b).unwrap());
            prop_assert_eq!(edges_cross(pieces(&a, around_b), pieces(&b, around_a)), crossed);
        }
    }

    /// A comb with its teeth up, of as many pieces as a figure can give a region.
    fn comb(x: f64, y: f64) -> Stroke {
        let teeth = (0..1200_u32).flat_map(|tooth| {
            let left = x + f64::from(tooth) * 4.0;
            [
                (left, y),
                (left, y + 50.0),
                (left + 1.0, y + 50.0),
                (left + 1.0, y),
            ]
        });
        let back = [(x + 4797.0, y - 5.0), (x, y - 5.0)];
        Stroke {
            points: teeth.chain(back).map(|(x, y)| Point::new(x, y)).collect(),
            closed: true,
            line: Line::Plain,
        }
    }

    /// All pieces against all would be 23 million a pair, here and upright a few thousand.
    #[test]
    fn chains_of_thousands_of_pieces() {
        let upright = |stroke: Stroke| Stroke {
            points: stroke
                .points
                .iter()
                .map(|at| Point::new(at.y, at.x))
                .collect(),
            ..stroke
        };
        let mut other = comb(2.0, 10.0);
        // Teeth down, between the teeth of the first, touching none.
        for at in &mut other.points {
            at.y = 70.0 - at.y;
        }
        let crossing = comb(0.5, 20.0);
        for _ in 0..10 {
            assert!(!overlap(&comb(0.0, 0.0), &other));
            assert!(!overlap(&upright(comb(0.0, 0.0)), &upright(other.clone())));
        }
        assert!(overlap(&comb(0.0, 0.0), &crossing));
        assert!(overlap(&upright(crossing), &upright(comb(0.0, 0.0))));
    }
}
