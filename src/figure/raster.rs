//! Shapes to dots: a grid of two by four dots a terminal cell.
//!
//! One scale serves both axes, the drawing stands in the middle, and nothing outside the frame is painted. Painting ends for
//! any input, however large, small or broken its numbers.

use super::model::{Figure, Frame, Line, Shape};
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
    /// Fits a frame into a grid of cells whose height is `cell_ratio` times their width (2 where nothing better is known). `None` if
    /// there is nothing to fit or nowhere to put it.
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
    fn trace(&self, stroke: &Stroke) -> Vec<Vec<(i32, i32)>> {
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

/// Dots, eight a cell.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Grid {
    size: Size,
    /// One bit a dot; bit `4 * column + row` within the cell.
    tiles: Vec<u8>,
}

impl Grid {
    /// No dots.
    #[must_use]
    pub fn empty(size: Size) -> Self {
        let size = size.capped();
        Self {
            size,
            tiles: vec![0; size.area()],
        }
    }

    /// Cells of the grid.
    #[must_use]
    pub const fn size(&self) -> Size {
        self.size
    }

    /// The dots of a cell: bit `4 * column + row`, column 0 the left one, row 0 the top one.
    #[must_use]
    pub fn tile(&self, cell: CellAt) -> u8 {
        self.index(cell).map_or(0, |index| self.tiles[index])
    }

    /// Number of dots that are set.
    #[must_use]
    pub fn count(&self) -> u32 {
        self.tiles.iter().map(|tile| tile.count_ones()).sum()
    }

    /// Number of dots set here and not in another grid of the same size.
    #[must_use]
    pub fn count_beside(&self, other: &Self) -> u32 {
        let pairs = self.tiles.iter().zip(&other.tiles);
        pairs
            .map(|(mine, theirs)| (mine & !theirs).count_ones())
            .sum()
    }

    /// Number of cells with dots here, and of those without any in another grid of the same size.
    #[must_use]
    pub fn cells_beside(&self, other: &Self) -> (usize, usize) {
        let pairs = self.tiles.iter().zip(&other.tiles);
        let mine = pairs.filter(|(mine, _)| **mine != 0);
        mine.fold((0, 0), |(all, own), (_, theirs)| {
            (all + 1, own + usize::from(*theirs == 0))
        })
    }

    /// Sets every dot that another grid of the same size has.
    pub fn add(&mut self, other: &Self) {
        for (mine, theirs) in self.tiles.iter_mut().zip(&other.tiles) {
            *mine |= theirs;
        }
    }

    fn index(&self, cell: CellAt) -> Option<usize> {
        (cell.col < self.size.cols && cell.row < self.size.rows)
            .then(|| usize::from(cell.row) * usize::from(self.size.cols) + usize::from(cell.col))
    }

    fn set(&mut self, (x, y): (i32, i32)) {
        let cell = |value: i32, dots: i32| u16::try_from(value.div_euclid(dots)).ok();
        let (Some(col), Some(row)) = (cell(x, 2), cell(y, 4)) else {
            return;
        };
        if let Some(index) = self.index(CellAt { row, col }) {
            self.tiles[index] |= 1 << (4 * x.rem_euclid(2) + y.rem_euclid(4));
        }
    }

    /// Paints a chain.
    pub fn stroke(&mut self, projection: &Projection, stroke: &Stroke) {
        for run in projection.trace(stroke) {
            for (step, &(x, y)) in run.iter().enumerate() {
                if !inked(stroke.line, step) {
                    continue;
                }
                self.set((x, y));
                if stroke.line.is_bold() {
                    for dot in [(x + 1, y), (x, y + 1), (x + 1, y + 1)] {
                        self.set(dot);
                    }
                }
            }
        }
    }

    /// Paints a shape.
    pub fn shape(&mut self, projection: &Projection, shape: &Shape) {
        for stroke in shape.strokes() {
            self.stroke(projection, &stroke);
        }
    }
}

/// Whether a line leaves a dot at this step. A bold dash ends one dot later than it is stepped, so it steps one less.
const fn inked(line: Line, step: usize) -> bool {
    match line {
        Line::Plain | Line::Bold => true,
        Line::Dashed => step % 7 < 4,
        Line::BoldDashed => step % 7 < 3,
        Line::Dotted => step.is_multiple_of(3),
    }
}

/// Paints a whole figure; an empty grid if it cannot be laid on one.
#[must_use]
pub fn paint(figure: &Figure, size: Size, cell_ratio: f64) -> Grid {
    let mut grid = Grid::empty(size);
    if let Some(projection) = Projection::fit(figure.frame, size, cell_ratio) {
        for shape in &figure.shapes {
            grid.shape(&projection, shape);
        }
    }
    grid
}
