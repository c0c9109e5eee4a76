//! Millimetres to dots: how the plane is laid on a grid of terminal cells, two by four dots each.
//!
//! One scale serves both axes, the drawing stands in the middle, and nothing outside the frame is traced. Tracing
//! ends for any input, however large, small or broken its numbers.

use super::model::Frame;
use super::point::Point;
use super::stroke::Stroke;

/// Largest grid that is painted; a larger window gets this size.
pub const MOST: Size = Size {
    cols: 400,
    rows: 200,
};

/// A size in terminal cells.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Size {
    /// Cells across.
    pub cols: u16,
    /// Cells down.
    pub rows: u16,
}

/// A cell by its place in a grid, from the top left.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct CellAt {
    /// Down from the top.
    pub row: u16,
    /// Right from the left edge.
    pub col: u16,
}

impl Size {
    /// A size in cells.
    #[must_use]
    pub const fn new(cols: u16, rows: u16) -> Self {
        Self { cols, rows }
    }

    /// The same, or [`MOST`] where it is larger.
    #[must_use]
    pub fn capped(self) -> Self {
        Self::new(self.cols.min(MOST.cols), self.rows.min(MOST.rows))
    }

    /// Number of cells.
    #[must_use]
    pub fn area(self) -> usize {
        usize::from(self.cols) * usize::from(self.rows)
    }
}

/// How the plane is laid on the grid.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Projection {
    size: Size,
    frame: Frame,
    /// Dots a mm across and down.
    scale: (f64, f64),
    /// Position of the frame's upper left corner, in dots.
    corner: (f64, f64),
}

impl Projection {
    /// Fits a frame into a grid of cells whose height is `cell_ratio` times their width (2 where nothing better
    /// is known). `None` if there is nothing to fit or nowhere to put it.
    #[must_use]
    pub fn fit(frame: Frame, size: Size, cell_ratio: f64) -> Option<Self> {
        let size = size.capped();
        let (width, height) = (frame.width_mm(), frame.height_mm());
        let usable = |number: f64| number.is_finite() && number > 0.0;
        if size.area() == 0 || !usable(width) || !usable(height) || !usable(cell_ratio) {
            return None;
        }
        // Dots are half a cell wide and a quarter of it high.
        let dot_ratio = cell_ratio / 2.0;
        let across = f64::from(size.cols) * 2.0 - 1.0;
        let down = f64::from(size.rows) * 4.0 - 1.0;
        let scale = (across / width).min(down * dot_ratio / height);
        let scale = (scale, scale / dot_ratio);
        if !usable(scale.0) || !usable(scale.1) || !frame.low.is_finite() {
            return None;
        }
        Some(Self {
            size,
            frame,
            scale,
            corner: (
                (across - width * scale.0) / 2.0,
                (down - height * scale.1) / 2.0,
            ),
        })
    }

    /// Cells of the grid.
    #[must_use]
    pub const fn size(&self) -> Size {
        self.size
    }

    /// Width of a cell, mm.
    #[must_use]
    pub fn cell_mm(&self) -> f64 {
        2.0 / self.scale.0
    }

    /// Where a point falls, in dots from the middle of the upper left dot.
    fn dots(&self, point: Point) -> (f64, f64) {
        (
            self.corner.0 + (point.x - self.frame.low.x) * self.scale.0,
            self.corner.1 + (self.frame.high.y - point.y) * self.scale.1,
        )
    }

    /// Where a point falls, in cells, with fractions; not held to the grid.
    #[must_use]
    pub fn cells(&self, point: Point) -> (f64, f64) {
        let (x, y) = self.dots(point);
        (x / 2.0 + 0.25, y / 4.0 + 0.125)
    }

    /// The cell that holds a point, the nearest one if it lies off the grid.
    #[must_use]
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "held between 0 and a u16 first; NaN becomes 0"
    )]
    pub fn cell(&self, point: Point) -> CellAt {
        let (x, y) = self.cells(point);
        let held = |value: f64, count: u16| value.clamp(0.0, f64::from(count - 1)) as u16;
        CellAt {
            col: held(x, self.size.cols),
            row: held(y, self.size.rows),
        }
    }

    /// Whether a point lies in the part of the plane that is shown.
    #[must_use]
    pub fn shows(&self, point: Point) -> bool {
        self.frame.contains(point)
    }

    /// The point in the middle of a cell.
    #[must_use]
    pub fn middle(&self, cell: CellAt) -> Point {
        let (x, y) = (
            f64::from(cell.col) * 2.0 + 0.5,
            f64::from(cell.row) * 4.0 + 1.5,
        );
        Point::new(
            self.frame.low.x + (x - self.corner.0) / self.scale.0,
            self.frame.high.y - (y - self.corner.1) / self.scale.1,
        )
    }

    /// Dots along the longest visible part of a chain.
    #[must_use]
    pub fn steps(&self, stroke: &Stroke) -> usize {
        self.trace(stroke).iter().map(Vec::len).max().unwrap_or(0)
    }

    /// The dots of a chain in order, without repeats and without stairs; one run for each part inside the frame.
    pub(super) fn trace(&self, stroke: &Stroke) -> Vec<Vec<(i32, i32)>> {
        let mut runs: Vec<Vec<(i32, i32)>> = Vec::new();
        let mut last_end: Option<Point> = None;
        for (from, to) in stroke.segments() {
            let Some((a, b)) = clip(self.frame, from, to) else {
                last_end = None;
                continue;
            };
            if last_end != Some(a) || runs.is_empty() {
                runs.push(Vec::new());
            }
            last_end = (b == to).then_some(b);
            if let Some(run) = runs.last_mut() {
                self.line(a, b, run);
            }
        }
        runs
    }

    /// Appends the dots of a straight piece, end included.
    #[expect(
        clippy::cast_possible_truncation,
        reason = "clipped to the frame, so at most twice four dots a cell"
    )]
    fn line(&self, from: Point, to: Point, run: &mut Vec<(i32, i32)>) {
        let ((x0, y0), (x1, y1)) = (self.dots(from), self.dots(to));
        let steps = (x1 - x0).abs().max((y1 - y0).abs()).ceil().max(1.0) as i32;
        for step in 0..=steps {
            let share = f64::from(step) / f64::from(steps);
            let dot = (
                (x0 + (x1 - x0) * share).round() as i32,
                (y0 + (y1 - y0) * share).round() as i32,
            );
            push_dot(run, dot);
        }
    }
}

/// Adds a dot unless it repeats the last; takes the last out where it was only the corner of a stair.
fn push_dot(run: &mut Vec<(i32, i32)>, dot: (i32, i32)) {
    if run.last() == Some(&dot) {
        return;
    }
    if let [.., before, corner] = run[..]
        && (dot.0 - before.0).abs() == 1
        && (dot.1 - before.1).abs() == 1
        && (corner.0 == before.0 || corner.1 == before.1)
    {
        run.pop();
    }
    run.push(dot);
}

/// The part of a line inside a frame (Liang and Barsky 1984). `None` if there is none or a number is broken.
fn clip(frame: Frame, from: Point, to: Point) -> Option<(Point, Point)> {
    if !from.is_finite() || !to.is_finite() {
        return None;
    }
    let (dx, dy) = (to.x - from.x, to.y - from.y);
    let (mut start, mut end) = (0.0_f64, 1.0_f64);
    for (run, room) in [
        (-dx, from.x - frame.low.x),
        (dx, frame.high.x - from.x),
        (-dy, from.y - frame.low.y),
        (dy, frame.high.y - from.y),
    ] {
        if run == 0.0 {
            if room < 0.0 {
                return None;
            }
        } else if run < 0.0 {
            start = start.max(room / run);
        } else {
            end = end.min(room / run);
        }
    }
    (start <= end).then(|| {
        let at = |share: f64, whole: Point| match share {
            0.0 => from,
            1.0 => to,
            _ => from.toward(whole, share),
        };
        (at(start, to), at(end, to))
    })
}
