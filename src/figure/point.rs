//! Points in millimetres and the text they are written in: `"0,0 5,3 9,0!"`.
//!
//! x grows to the right and y upward. A value that this module hands out from text is finite and at most
//! 1000 mm from the origin; values built in code carry no such promise, and drawing copes with any.

use thiserror::Error;

/// Largest coordinate that a figure may use, in mm either way.
pub const REACH_MM: f64 = 1000.0;

/// Most points that one shape may have.
pub const MOST_POINTS: usize = 200;

/// A point or a displacement, in millimetres.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Point {
    /// To the right, mm.
    pub x: f64,
    /// Upward, mm.
    pub y: f64,
}

impl Point {
    /// The point `x` mm right of and `y` mm above the origin.
    #[must_use]
    pub const fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }

    /// Distance to another point in mm.
    #[must_use]
    pub fn distance(self, other: Self) -> f64 {
        (self.x - other.x).hypot(self.y - other.y)
    }

    /// Moved by a displacement.
    #[must_use]
    pub fn plus(self, by: Self) -> Self {
        Self::new(self.x + by.x, self.y + by.y)
    }

    /// The point this share of the way to another: 0 is here, 1 is there.
    #[must_use]
    pub fn toward(self, other: Self, share: f64) -> Self {
        Self::new(
            self.x + (other.x - self.x) * share,
            self.y + (other.y - self.y) * share,
        )
    }

    /// Turned about a centre, degrees counter-clockwise.
    #[must_use]
    pub fn turned(self, about: Self, degrees: f64) -> Self {
        let (sin, cos) = degrees.to_radians().sin_cos();
        let (x, y) = (self.x - about.x, self.y - about.y);
        Self::new(about.x + x * cos - y * sin, about.y + x * sin + y * cos)
    }

    /// Reflected in the vertical line at `x_mm`.
    #[must_use]
    pub fn reflected(self, x_mm: f64) -> Self {
        Self::new(2.0 * x_mm - self.x, self.y)
    }

    /// Whether both coordinates are finite.
    #[must_use]
    pub const fn is_finite(self) -> bool {
        self.x.is_finite() && self.y.is_finite()
    }
}

/// A point of a curve.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Knot {
    /// Where, mm.
    pub at: Point,
    /// The curve turns sharply here.
    pub corner: bool,
}

/// Why a text is no list of points. Offsets count bytes from the start of the text.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum PointsError {
    /// Nothing but blanks.
    #[error("there are no points; write pairs such as \"0,0 5,3\"")]
    Empty,
    /// Not two numbers with a comma between them.
    #[error("byte {offset}: not a pair of numbers; write x,y in mm, with `!` after a corner")]
    Pair {
        /// Where the pair begins.
        offset: usize,
    },
    /// Infinite, not a number, or too far out.
    #[error("byte {offset}: a coordinate must lie between -1000 and 1000 mm")]
    Reach {
        /// Where the pair begins.
        offset: usize,
    },
    /// More than [`MOST_POINTS`].
    #[error("byte {offset}: more than {MOST_POINTS} points in one shape")]
    TooMany {
        /// Where the first point too many begins.
        offset: usize,
    },
}

/// Reads points from text: pairs `x,y` in units of so many mm with blanks between them, `!` after a corner.
///
/// # Errors
/// What is wrong first, and at which byte.
pub fn points(text: &str, unit_mm: f64) -> Result<Vec<Knot>, PointsError> {
    let mut knots = Vec::new();
    for word in text.split_whitespace() {
        // Both slices come from one text: their distance is the offset.
        let offset = word.as_ptr().addr() - text.as_ptr().addr();
        if knots.len() == MOST_POINTS {
            return Err(PointsError::TooMany { offset });
        }
        knots.push(knot(word, offset, unit_mm)?);
    }
    if knots.is_empty() {
        return Err(PointsError::Empty);
    }
    Ok(knots)
}

fn knot(word: &str, offset: usize, unit_mm: f64) -> Result<Knot, PointsError> {
    let corner = word.ends_with('!');
    let pair = word.strip_suffix('!').unwrap_or(word);
    let (x, y) = pair.split_once(',').ok_or(PointsError::Pair { offset })?;
    let number = |text: &str| {
        text.parse::<f64>()
            .map(|units| units * unit_mm)
            .map_err(|_| PointsError::Pair { offset })
    };
    let at = Point::new(number(x)?, number(y)?);
    if !(at.x.abs() <= REACH_MM && at.y.abs() <= REACH_MM) {
        return Err(PointsError::Reach { offset });
    }
    Ok(Knot { at, corner })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pairs_and_corners_are_read() {
        let knots = points(" 0,0 5.5,-3  9,0! ", 1.0).unwrap();
        assert_eq!(knots.len(), 3);
        assert_eq!(knots[1].at, Point::new(5.5, -3.0));
        assert_eq!(
            knots.iter().map(|knot| knot.corner).collect::<Vec<_>>(),
            [false, false, true]
        );
    }

    #[test]
    fn errors_say_where() {
        let many = "0,0 ".repeat(201);
        for (text, error) in [
            ("", PointsError::Empty),
            (" \n", PointsError::Empty),
            ("0,0 5", PointsError::Pair { offset: 4 }),
            ("0,0 5;3", PointsError::Pair { offset: 4 }),
            ("0,0 5,3,1", PointsError::Pair { offset: 4 }),
            ("é,0", PointsError::Pair { offset: 0 }),
            ("0,0 1,!", PointsError::Pair { offset: 4 }),
            ("0,0 inf,0", PointsError::Reach { offset: 4 }),
            ("NaN,0", PointsError::Reach { offset: 0 }),
            ("0,1000.5", PointsError::Reach { offset: 0 }),
            (&many, PointsError::TooMany { offset: 800 }),
        ] {
            assert_eq!(points(text, 1.0), Err(error), "{text:?}");
        }
        assert_eq!(points("1000,-1000", 1.0).unwrap().len(), 1);
        // What counts is the length in mm.
        let far = points("0,0! 5,0! 5,120! 0,3!", 10.0);
        assert_eq!(far, Err(PointsError::Reach { offset: 10 }));
        let near = points("5000,0", 0.1).unwrap();
        assert!((near[0].at.x - 500.0).abs() < 1e-9);
    }

    #[test]
    fn turning_and_reflecting() {
        let point = Point::new(3.0, 1.0);
        let turned = point.turned(Point::new(1.0, 1.0), 90.0);
        assert!(turned.distance(Point::new(1.0, 3.0)) < 1e-12);
        assert_eq!(point.reflected(5.0), Point::new(7.0, 1.0));
    }
}
