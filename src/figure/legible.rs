//! Whether a figure can be made out at a size: which shapes vanish, and whether letters stand apart.
//!
//! The bounds are ours, set so that they agree with what was seen: at 35 by 18 cells the jaws, the palate, the
//! quadrants and the slice at the third molar hold and the fracture lines of the skull do not.

use super::marks::Marks;
use super::model::{Figure, Line, Shape};
use super::picture::Setting;
use super::point::Point;
use super::projection::{Projection, Size};
use super::raster::Grid;

/// The smallest drawing: what a window of 60 by 20 cells leaves beside the text.
pub const LEAST: Size = Size { cols: 35, rows: 18 };

/// The usual drawing: what a window of 80 by 24 cells leaves beside the text.
pub const USUAL: Size = Size { cols: 53, rows: 22 };

/// Cells two places must lie apart to be told from each other.
pub const APART_CELLS: f64 = 2.0;

/// Dots of the smallest closed line that is more than a speck.
const RING_DOTS: u32 = 5;

/// Dots along a line below which it cannot be told what line it is: two dashes and the start of a third, three
/// dots. In ASCII, where a dash is one glyph, twice as many.
const fn least_steps(line: Line, marks: Marks) -> usize {
    let least = match line {
        Line::Plain | Line::Bold => 3,
        Line::Dotted => 7,
        Line::Dashed | Line::BoldDashed => 15,
    };
    match marks {
        Marks::Ascii => 2 * least,
        Marks::Braille | Marks::Quadrant => least,
    }
}

/// Shapes, by index, that cannot be made out at a size: too short for their line, or less than a quarter of them
/// their own because other shapes cover them. Dots are counted, in ASCII cells, of which a glyph shows no more
/// than one line.
#[must_use]
pub fn vanishing(figure: &Figure, size: Size, setting: Setting) -> Vec<usize> {
    let Some(on) = Projection::fit(figure.frame, size, setting.cell_ratio) else {
        return (0..figure.shapes.len()).collect();
    };
    let alone: Vec<Grid> = figure
        .shapes
        .iter()
        .map(|shape| {
            let mut grid = Grid::empty(size);
            grid.shape(&on, shape);
            grid
        })
        .collect();
    let hidden = |index: usize| {
        let mut others = Grid::empty(size);
        for (other, grid) in alone.iter().enumerate() {
            if other != index {
                others.add(grid);
            }
        }
        let grid = &alone[index];
        if setting.marks == Marks::Ascii {
            let (all, own) = grid.cells_beside(&others);
            4 * own < all
        } else {
            4 * grid.count_beside(&others) < grid.count()
        }
    };
    (0..alone.len())
        .filter(|&index| {
            let shape = &figure.shapes[index];
            let speck = shape.form.is_closed() && alone[index].count() < RING_DOTS;
            speck || hidden(index) || is_short(shape, &on, setting.marks)
        })
        .collect()
}

fn is_short(shape: &Shape, on: &Projection, marks: Marks) -> bool {
    let strokes = shape.strokes();
    strokes
        .iter()
        .all(|stroke| on.steps(stroke) < least_steps(stroke.line, marks))
}

/// Distance of two points in cell widths at a size; a row counts as much as its height. Infinite if nothing can
/// be drawn.
#[must_use]
pub fn cells_apart(figure: &Figure, a: Point, b: Point, size: Size) -> f64 {
    Projection::fit(figure.frame, size, 2.0)
        .map_or(f64::INFINITY, |on| a.distance(b) / on.cell_mm())
}

/// Whether a figure is worth drawing in a window of this size: not below [`LEAST`], and no shape lost. Where it
/// is not, a face offers the places in words.
#[must_use]
pub fn is_legible(figure: &Figure, size: Size, setting: Setting) -> bool {
    size.cols >= LEAST.cols
        && size.rows >= LEAST.rows
        && vanishing(figure, size, setting).is_empty()
}
