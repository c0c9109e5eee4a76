//! What a figure is: shapes by numbers, and the places in it that can be pointed at.
//!
//! Plain values in millimetres, x to the right and y upward. A figure is schematic: it shows where things lie
//! beside each other, and no number may be keyed on it.

use super::point::{Knot, Point};
use super::teeth::{Jaw, Tooth};

/// Most shapes in a figure.
pub const MOST_SHAPES: usize = 60;

/// Most labels in a figure.
pub const MOST_LABELS: usize = 12;

/// Most characters in a label.
pub const LONGEST_LABEL: usize = 12;

/// A drawing that questions point into.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    /// Names the figure in its deck.
    pub id: String,
    /// What is seen and from where, for those who do not see it too.
    pub view: String,
    /// The part of the plane that is shown.
    pub frame: Frame,
    /// What the four directions are called in the body.
    pub toward: Toward,
    /// Painted in this order.
    pub shapes: Vec<Shape>,
    /// Short texts that stay on the drawing, whatever is asked.
    pub labels: Vec<Label>,
    /// What can be pointed at; a place is known by its index here.
    pub places: Vec<Place>,
}

/// A short text on a drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct Label {
    /// What it says.
    pub text: String,
    /// The middle of it.
    pub at: Point,
}

/// A rectangle, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Frame {
    /// Lower left corner.
    pub low: Point,
    /// Upper right corner.
    pub high: Point,
}

/// The word for each direction on the page, such as "mesial" for left.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Toward {
    /// Left on the page.
    pub left: String,
    /// Right on the page.
    pub right: String,
    /// Up on the page.
    pub up: String,
    /// Down on the page.
    pub down: String,
}

/// A place that can be pointed at.
#[derive(Clone, Debug, PartialEq)]
pub struct Place {
    /// Its anatomical name.
    pub name: String,
    /// Where its letter stands.
    pub at: Point,
    /// Id of the closed shape that is its extent, if one is drawn.
    pub region: Option<String>,
    /// Where it lies, in words that do not give the name away.
    pub says: String,
}

/// One thing drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct Shape {
    /// Its name in the figure; rows of teeth have none.
    pub id: Option<String>,
    /// What is drawn.
    pub form: Form,
    /// How the line runs.
    pub line: Line,
    /// How it is put on the page.
    pub placing: Placing,
}

/// The geometry of a shape before it is placed.
#[derive(Clone, Debug, PartialEq)]
pub enum Form {
    /// A line through points.
    Path {
        /// At least two, or three if closed.
        knots: Vec<Knot>,
        /// The end is joined to the start.
        closed: bool,
        /// Curved between corners rather than straight between points.
        smooth: bool,
    },
    /// A whole ellipse.
    Ellipse {
        /// Its centre.
        centre: Point,
        /// Full width, mm.
        width_mm: f64,
        /// Full height, mm.
        height_mm: f64,
    },
    /// Part of an ellipse, open.
    Arc {
        /// Centre of the whole ellipse.
        centre: Point,
        /// Full width of the whole ellipse, mm.
        width_mm: f64,
        /// Full height of the whole ellipse, mm.
        height_mm: f64,
        /// Where it starts, degrees counter-clockwise from the right.
        from_deg: f64,
        /// Where it ends, degrees.
        to_deg: f64,
    },
    /// Teeth of one quadrant from the facial side, neck line at y 0, midline at x 0, distal to the right.
    Teeth {
        /// Which jaw: lower crowns point up, upper ones down.
        jaw: Jaw,
        /// Most mesial tooth.
        first: Tooth,
        /// Most distal tooth.
        last: Tooth,
        /// Crowns without roots.
        crowns_only: bool,
    },
    /// Teeth seen along their axes, as ovals side by side along a curve from the midline.
    Arch {
        /// Which jaw.
        jaw: Jaw,
        /// Tooth at the start of the curve.
        first: Tooth,
        /// Last tooth along the curve.
        last: Tooth,
        /// The curve through the middle of the crowns.
        knots: Vec<Knot>,
    },
}

/// How a line is drawn. The weight says which layer a question asks about, not how stout the bone is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Line {
    /// One dot wide.
    #[default]
    Plain,
    /// Two dots wide.
    Bold,
    /// Four dots on, three off.
    Dashed,
    /// One dot on, two off.
    Dotted,
    /// Two dots wide, four on, three off.
    BoldDashed,
}

impl Line {
    /// All of them.
    pub const ALL: [Self; 5] = [
        Self::Plain,
        Self::Bold,
        Self::Dashed,
        Self::Dotted,
        Self::BoldDashed,
    ];

    /// The word for it in a deck.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Plain => "plain",
            Self::Bold => "bold",
            Self::Dashed => "dashed",
            Self::Dotted => "dotted",
            Self::BoldDashed => "bold-dashed",
        }
    }

    /// The line with this word.
    #[must_use]
    pub fn parse(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|line| line.word() == word)
    }

    /// Whether it is two dots wide.
    #[must_use]
    pub const fn is_bold(self) -> bool {
        matches!(self, Self::Bold | Self::BoldDashed)
    }
}

/// What is done to a form, in this order: turned, shifted, reflected.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Placing {
    /// Degrees counter-clockwise about the middle of the form's own extent.
    pub turn_deg: f64,
    /// Displacement, mm.
    pub shift: Point,
    /// Reflection in a vertical line.
    pub reflection: Reflection,
}

/// Reflection in a vertical line at some x, mm.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Reflection {
    /// As it is.
    #[default]
    None,
    /// The reflection alone.
    Flip(f64),
    /// The form and its reflection.
    Mirror(f64),
}

impl Frame {
    /// Width, mm.
    #[must_use]
    pub fn width_mm(self) -> f64 {
        self.high.x - self.low.x
    }

    /// Height, mm.
    #[must_use]
    pub fn height_mm(self) -> f64 {
        self.high.y - self.low.y
    }

    /// Whether a point lies in it or on its edge.
    #[must_use]
    pub fn contains(self, point: Point) -> bool {
        (self.low.x..=self.high.x).contains(&point.x)
            && (self.low.y..=self.high.y).contains(&point.y)
    }

    /// The smallest frame around points, if there are any.
    #[must_use]
    pub fn around(points: impl IntoIterator<Item = Point>) -> Option<Self> {
        points.into_iter().fold(None, |frame, point| {
            let Self { low, high } = frame.unwrap_or(Self {
                low: point,
                high: point,
            });
            Some(Self {
                low: Point::new(low.x.min(point.x), low.y.min(point.y)),
                high: Point::new(high.x.max(point.x), high.y.max(point.y)),
            })
        })
    }

    /// The middle.
    #[must_use]
    pub fn centre(self) -> Point {
        self.low.toward(self.high, 0.5)
    }

    /// Wider by `by_mm` on each of the four sides.
    #[must_use]
    pub fn grown(self, by_mm: f64) -> Self {
        let by = Point::new(by_mm, by_mm);
        Self {
            low: Point::new(self.low.x - by.x, self.low.y - by.y),
            high: self.high.plus(by),
        }
    }
}

impl Form {
    /// Whether it encloses an area that can be a region.
    #[must_use]
    pub const fn is_closed(&self) -> bool {
        matches!(self, Self::Path { closed: true, .. } | Self::Ellipse { .. })
    }
}

impl Shape {
    /// A shape as it is, with a plain line.
    #[must_use]
    pub fn new(id: Option<String>, form: Form) -> Self {
        Self {
            id,
            form,
            line: Line::default(),
            placing: Placing::default(),
        }
    }

    /// The same with another line.
    #[must_use]
    pub fn lined(self, line: Line) -> Self {
        Self { line, ..self }
    }
}

impl Figure {
    /// The shape with this id.
    #[must_use]
    pub fn shape(&self, id: &str) -> Option<&Shape> {
        self.shapes
            .iter()
            .find(|shape| shape.id.as_deref() == Some(id))
    }
}
