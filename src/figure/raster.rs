//! Shapes to dots: line weights and dashes on a grid of two by four dots a terminal cell.

use super::model::{Figure, Line, Shape};
use super::projection::{CellAt, Projection, Size};
use super::stroke::Stroke;

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
