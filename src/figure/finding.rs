//! What can be wrong with a figure, as values: where in its notation, and what.
//!
//! A finding knows no file and no line. Its path is that of the keys from the figure down, such as
//! `draw[3].through`, so that whoever has the file can point at the text.

use std::fmt;

use thiserror::Error;

use super::model::{LONGEST_LABEL, MOST_LABELS, MOST_SHAPES};
use super::point::PointsError;

/// Something wrong at a place in the notation.
#[derive(Clone, Debug, PartialEq, Error)]
#[error("{path}: {fault}")]
pub struct Finding {
    /// Keys from the figure down: `frame`, `draw[3].through`, `places[0]`. Empty for the figure itself.
    pub path: String,
    /// What is wrong.
    pub fault: Fault,
}

impl Finding {
    /// A fault at a path.
    #[must_use]
    pub fn new(path: impl Into<String>, fault: Fault) -> Self {
        Self {
            path: path.into(),
            fault,
        }
    }
}

/// What is expected where something else was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Wanted {
    /// Keys with values.
    Map,
    /// A list.
    List,
    /// Text that is not empty.
    Text,
    /// A finite number from -1000 to 1000.
    Number,
    /// How many mm a unit is.
    UnitMm,
    /// One point.
    OnePoint,
    /// Two points.
    TwoPoints,
    /// One or two positive numbers: width and height in mm.
    Extent,
    /// Two angles in degrees.
    TwoAngles,
    /// Jaw, first and last tooth, perhaps `crowns`.
    Teeth,
    /// A line style.
    Line,
}

impl fmt::Display for Wanted {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Map => "keys with values",
            Self::List => "a list",
            Self::Text => "text",
            Self::Number => "a number from -1000 to 1000",
            Self::UnitMm => "how many mm one unit is, above 0 and at most 1000",
            Self::OnePoint => "one point such as \"25,15\"",
            Self::TwoPoints => "two points, lower left and upper right, such as 0,-1 102,78",
            Self::Extent => "width and height in mm, both above 0, such as \"5,3.5\"",
            Self::TwoAngles => "two angles in degrees such as \"0,180\"",
            Self::Teeth => {
                "jaw, first and last tooth such as `lower 3 8` (teeth: `crowns` may follow)"
            }
            Self::Line => "plain, bold, dashed, dotted or bold-dashed",
        })
    }
}

/// What is wrong. Texts from a deck are quoted with their control characters escaped.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum Fault {
    /// Not what belongs here.
    #[error("expected {0}")]
    Expected(Wanted),
    /// A key that must be there is not.
    #[error("`{0}` is missing")]
    Missing(&'static str),
    /// A key that does not belong in the mapping that the path leads to.
    #[error("{key:?} is no key here{}", hint(*.near))]
    UnknownKey {
        /// As written.
        key: String,
        /// One that is spelt almost like it.
        near: Option<&'static str>,
    },
    /// A shape needs exactly one key that says what it is.
    #[error(
        "a shape is one of outline, curve, polygon, polyline, ellipse, circle, arc, teeth, arch; this is {0} of them"
    )]
    Forms(usize),
    /// Points that cannot be read.
    #[error(transparent)]
    Points(#[from] PointsError),
    /// Too few points for a line or an area.
    #[error("needs at least {0} points")]
    FewPoints(usize),
    /// Both `mirror` and `flip`.
    #[error("either `mirror` (the shape and its reflection) or `flip` (the reflection alone)")]
    TwoReflections,
    /// The frame has no area of at least 1 mm by 1 mm.
    #[error("the frame must be at least 1 mm wide and high, lower left corner first")]
    EmptyFrame,
    /// Too many shapes.
    #[error("{0} shapes; at most {MOST_SHAPES} can be told apart and are drawn")]
    ManyShapes(usize),
    /// Nothing is drawn.
    #[error("nothing is drawn")]
    NoShapes,
    /// Two shapes with one id.
    #[error("a second shape with the id {0:?}")]
    SecondShape(String),
    /// Two places with one name.
    #[error("a second place with the name {0:?}")]
    SecondPlace(String),
    /// Too few or too many places.
    #[error("{0} places; a question needs 5 to 12 to choose from")]
    PlaceCount(usize),
    /// A place outside the frame.
    #[error("{0:?} lies outside the frame")]
    OutsideFrame(String),
    /// A region that names no shape.
    #[error("there is no shape with the id {0:?}")]
    NoShape(String),
    /// A region that is not closed.
    #[error("{0:?} is not closed: a region is an outline, a polygon, an ellipse or a circle")]
    OpenRegion(String),
    /// A place outside its own region.
    #[error("{0:?} lies outside its own region")]
    OutsideRegion(String),
    /// Two places whose regions overlap, or one inside another's region.
    #[error("{0:?} and {1:?} overlap: one answer would be both")]
    Overlap(String, String),
    /// Two places too near to tell apart in the smallest window.
    #[error(
        "{0:?} and {1:?} are {below} cells apart in the smallest drawing (35 by 18 cells); 2 are needed",
        below = tenths_below(*.2)
    )]
    Close(String, String, f64),
    /// A shape that cannot be seen.
    #[error("the shape cannot be seen in a window of 80 by 24 cells")]
    Vanishes,
    /// A description that gives the name away.
    #[error("the description shares the word {word:?} with the name {name:?}")]
    GivesAway {
        /// The place.
        name: String,
        /// The word in both.
        word: String,
    },
    /// A label that gives a name away.
    #[error("the label shares the word {word:?} with the name of the place {name:?}")]
    LabelGivesAway {
        /// The place.
        name: String,
        /// The word in both.
        word: String,
    },
    /// A label longer than a drawing has room for.
    #[error("a label has at most {LONGEST_LABEL} characters; say more in `view`")]
    LongLabel,
    /// Too many labels.
    #[error("{0} labels; at most {MOST_LABELS} leave the drawing to be seen")]
    ManyLabels(usize),
    /// Two places that read the same.
    #[error("{0:?} and {1:?} are described in the same words")]
    SameWords(String, String),
    /// An arch whose curve ends before its teeth do.
    #[error(
        "the curve is {} mm long, the teeth along it are {}",
        tenths_below(*.has_mm),
        tenths_above(*.needs_mm)
    )]
    ShortArch {
        /// Length of the curve, mm.
        has_mm: f64,
        /// Sum of the crowns, mm.
        needs_mm: f64,
    },
    /// A direction and its opposite are called the same.
    #[error("two opposite directions are both called {0:?}")]
    SameDirection(String),
}

fn hint(near: Option<&str>) -> String {
    near.map_or_else(String::new, |near| format!("; did you mean `{near}`?"))
}

/// To a tenth, but never up: what falls short is not told as if it did not.
fn tenths_below(value: f64) -> String {
    format!("{:.1}", (value * 10.0).floor() / 10.0)
}

fn tenths_above(value: f64) -> String {
    format!("{:.1}", (value * 10.0).ceil() / 10.0)
}

impl Fault {
    /// Whether a figure with this fault can be drawn but should not be asked about without a second look. All
    /// other faults refuse it.
    #[must_use]
    pub const fn is_remark(&self) -> bool {
        matches!(self, Self::ShortArch { .. } | Self::SameDirection(_))
    }
}
