//! A figure as text cells, with what a question lays over it: letters, cursor, regions, names, a cut.
//!
//! The result is a plain value, so every face shows the same picture: each cell has a character and a reason to
//! stand out. How standing out looks (reversed, as a rule) is the face's affair.

use unicode_width::UnicodeWidthChar;

use super::marks::Marks;
use super::model::{Figure, Frame};
use super::places::letter;
use super::point::Point;
use super::projection::{CellAt, Projection, Size};
use super::raster::paint;
use super::stroke::Stroke;

/// Why a cell stands out.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Emphasis {
    /// It does not.
    #[default]
    None,
    /// The letter of a place, or the bracket of the cursor around one.
    Letter,
    /// Inside a region that is revealed.
    Region,
    /// Part of a written name.
    Name,
    /// Part of a cut.
    Incision,
}

/// One cell of a picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Cell {
    /// One cell wide, never a control character.
    pub glyph: char,
    /// Why it stands out.
    pub emphasis: Emphasis,
}

/// What is laid over a figure; nothing by default.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Overlay {
    /// A letter at every place.
    pub letters: bool,
    /// The place the cursor is on, by index.
    pub cursor: Option<usize>,
    /// Places whose extent is shown, by index.
    pub revealed: Vec<usize>,
    /// Places whose names are written beside them, by index.
    pub named: Vec<usize>,
    /// Lines of a cut, as chains of points in mm.
    pub incision: Vec<Vec<Point>>,
    /// Short texts, each in the middle of a point in mm.
    pub labels: Vec<(Point, String)>,
}

/// How a figure is shown.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Setting {
    /// What it is made of.
    pub marks: Marks,
    /// Height of a cell over its width; 2 where nothing better is known.
    pub cell_ratio: f64,
}

impl Default for Setting {
    fn default() -> Self {
        Self {
            marks: Marks::Braille,
            cell_ratio: 2.0,
        }
    }
}

/// A drawing in text cells.
#[derive(Clone, Debug, PartialEq)]
pub struct Picture {
    size: Size,
    cells: Vec<Cell>,
    letters: Vec<(usize, CellAt)>,
}

impl Picture {
    /// Draws a figure into a window of this size, or into the largest size there is if the window is larger.
    #[must_use]
    pub fn draw(figure: &Figure, overlay: &Overlay, size: Size, setting: Setting) -> Self {
        let grid = paint(figure, size, setting.cell_ratio);
        let size = grid.size();
        let cells = all_cells(size)
            .map(|at| Cell {
                glyph: setting.marks.glyph(grid.tile(at)),
                emphasis: Emphasis::None,
            })
            .collect();
        let mut picture = Self {
            size,
            cells,
            letters: Vec::new(),
        };
        if let Some(projection) = Projection::fit(figure.frame, size, setting.cell_ratio) {
            picture.lay(figure, overlay, &projection, setting.marks);
        }
        picture
    }

    fn lay(&mut self, figure: &Figure, overlay: &Overlay, on: &Projection, marks: Marks) {
        for label in &figure.labels {
            self.lay_label(on.cell(label.at), &label.text, Emphasis::None);
        }
        for chain in &overlay.incision {
            self.lay_cut(chain, on, marks);
        }
        for &place in &overlay.revealed {
            for at in extent(figure, place, on) {
                if let Some(cell) = self.cell_mut(at) {
                    cell.emphasis = Emphasis::Region;
                }
            }
        }
        if overlay.letters {
            self.letters = letter_cells(figure, on);
            for (place, at) in self.letters.clone() {
                self.put(at, letter(place), Emphasis::Letter);
            }
        }
        if let Some(&(place, at)) = overlay
            .cursor
            .and_then(|cursor| self.letters.iter().find(|(place, _)| *place == cursor))
        {
            self.lay_cursor(at, place);
        }
        for (at, text) in &overlay.labels {
            self.lay_label(on.cell(*at), text, Emphasis::Letter);
        }
        for &place in &overlay.named {
            if let Some(place) = figure.places.get(place) {
                self.lay_name(on.cell(place.at), &place.name);
            }
        }
    }

    /// The letter of a place in brackets; they are left out where the picture ends.
    fn lay_cursor(&mut self, at: CellAt, place: usize) {
        if let Some(col) = at.col.checked_sub(1) {
            self.put(CellAt { col, ..at }, '[', Emphasis::Letter);
        }
        self.put(at, letter(place), Emphasis::Letter);
        let col = at.col + 1;
        self.put(CellAt { col, ..at }, ']', Emphasis::Letter);
    }

    /// Solid cells along a line: blanks to be reversed, or `#` where the terminal may know no reversing.
    fn lay_cut(&mut self, chain: &[Point], on: &Projection, marks: Marks) {
        let glyph = if marks == Marks::Ascii { '#' } else { ' ' };
        for pair in chain.windows(2) {
            let ((x0, y0), (x1, y1)) = (on.cells(pair[0]), on.cells(pair[1]));
            let steps = (2.0 * (x1 - x0).abs().max((y1 - y0).abs())).ceil();
            let most = 4.0 * f64::from(self.size.cols.max(self.size.rows));
            if !(steps.is_finite() && pair[0].is_finite()) || steps > most {
                continue;
            }
            let mut step = 0.0;
            while step <= steps.max(1.0) {
                let point = pair[0].toward(pair[1], step / steps.max(1.0));
                if on.shows(point) {
                    self.put(on.cell(point), glyph, Emphasis::Incision);
                }
                step += 1.0;
            }
        }
    }

    /// A name from its place to the right, or moved left as far as it must to end inside the picture; shortened if
    /// it is wider than that. It stands in the nearest row above or below the place that has no other name there.
    fn lay_name(&mut self, at: CellAt, name: &str) {
        const CUT: &str = "..";
        let mut glyphs: Vec<char> = name
            .chars()
            .filter(|glyph| glyph.width() == Some(1))
            .collect();
        let room = usize::from(self.size.cols);
        if glyphs.len() > room {
            glyphs.truncate(room.saturating_sub(CUT.len()));
            glyphs.extend(CUT.chars().take(room));
        }
        let width = u16::try_from(glyphs.len()).unwrap_or(self.size.cols);
        let col = at.col.min(self.size.cols - width);
        let rows = [
            at.row.checked_sub(1),
            Some(at.row + 1),
            at.row.checked_sub(2),
            Some(at.row + 2),
        ];
        let is_free = |row: &u16| {
            let beside = col.saturating_sub(1)..=col.saturating_add(width);
            let mut cells = beside.filter_map(|col| self.cell(CellAt { row: *row, col }));
            *row < self.size.rows && cells.all(|cell| cell.emphasis != Emphasis::Name)
        };
        let Some(row) = rows.into_iter().flatten().find(is_free) else {
            return;
        };
        for (offset, glyph) in (0..).zip(glyphs) {
            let col = col + offset;
            self.put(CellAt { row, col }, glyph, Emphasis::Name);
        }
    }

    /// A short text around a cell, moved as far as it must to stay inside; what is not one cell wide is left out.
    fn lay_label(&mut self, at: CellAt, text: &str, emphasis: Emphasis) {
        let glyphs = text.chars().filter(|glyph| glyph.width() == Some(1));
        let glyphs: Vec<char> = glyphs.take(usize::from(self.size.cols)).collect();
        let width = u16::try_from(glyphs.len()).unwrap_or(self.size.cols);
        let col = at.col.saturating_sub(width / 2).min(self.size.cols - width);
        for (col, glyph) in (col..).zip(glyphs) {
            self.put(CellAt { col, ..at }, glyph, emphasis);
        }
    }

    fn put(&mut self, at: CellAt, glyph: char, emphasis: Emphasis) {
        if let Some(cell) = self.cell_mut(at) {
            *cell = Cell { glyph, emphasis };
        }
    }

    fn index(&self, at: CellAt) -> Option<usize> {
        let index = usize::from(at.row) * usize::from(self.size.cols) + usize::from(at.col);
        (at.col < self.size.cols).then_some(index)
    }

    fn cell(&self, at: CellAt) -> Option<&Cell> {
        self.cells.get(self.index(at)?)
    }

    fn cell_mut(&mut self, at: CellAt) -> Option<&mut Cell> {
        let index = self.index(at)?;
        self.cells.get_mut(index)
    }

    /// Cells across and down; smaller than the window only where that is enormous.
    #[must_use]
    pub const fn size(&self) -> Size {
        self.size
    }

    /// Rows of cells from the top.
    pub fn rows(&self) -> impl Iterator<Item = &[Cell]> {
        self.cells.chunks(usize::from(self.size.cols).max(1))
    }

    /// The place whose letter stands nearest to a cell, if one stands within two cells of it.
    #[must_use]
    pub fn place_at(&self, cell: CellAt) -> Option<usize> {
        self.letters
            .iter()
            .map(|&(place, at)| {
                // A cell is twice as high as wide.
                let apart = at.col.abs_diff(cell.col).max(2 * at.row.abs_diff(cell.row));
                (apart, place)
            })
            .filter(|&(apart, _)| apart <= 2)
            .min()
            .map(|(_, place)| place)
    }

    /// The characters alone, a line a row, blanks at the ends left out.
    #[must_use]
    pub fn text(&self) -> String {
        let mut text = String::with_capacity(self.cells.len() * 3);
        for row in self.rows() {
            let line: String = row.iter().map(|cell| cell.glyph).collect();
            text.push_str(line.trim_end());
            text.push('\n');
        }
        text
    }
}

fn all_cells(size: Size) -> impl Iterator<Item = CellAt> {
    (0..size.rows).flat_map(move |row| (0..size.cols).map(move |col| CellAt { row, col }))
}

/// Cells whose middle lies in the region of a place, and in any case the cell of the place. Without a region:
/// that cell and its two neighbours.
fn extent(figure: &Figure, place: usize, on: &Projection) -> Vec<CellAt> {
    let Some(anchor) = figure.places.get(place).map(|place| on.cell(place.at)) else {
        return Vec::new();
    };
    let mut cells = match figure.region(place) {
        Some(region) => inside(&region, on),
        None => [anchor.col.saturating_sub(1), anchor.col.saturating_add(1)]
            .map(|col| CellAt { col, ..anchor })
            .to_vec(),
    };
    cells.push(anchor);
    cells
}

/// Cells whose middle lies inside a chain.
fn inside(region: &Stroke, on: &Projection) -> Vec<CellAt> {
    let Some(around) = Frame::around(region.points.iter().copied()) else {
        return Vec::new();
    };
    let (first, last) = (on.cell(around.low), on.cell(around.high));
    (last.row..=first.row)
        .flat_map(|row| (first.col..=last.col).map(move |col| CellAt { row, col }))
        .filter(|&cell| region.contains(on.middle(cell)))
        .collect()
}

/// A cell for every letter: that of the place, or the nearest free one if another letter already stands there.
fn letter_cells(figure: &Figure, on: &Projection) -> Vec<(usize, CellAt)> {
    let mut taken: Vec<(usize, CellAt)> = Vec::new();
    for (place, spot) in figure.places.iter().enumerate() {
        let home = on.cell(spot.at);
        let free = |at: CellAt| taken.iter().all(|(_, other)| *other != at);
        let nearby = || {
            const REACH: u16 = 3;
            let rows = home.row.saturating_sub(REACH)..=home.row + REACH;
            let cols = home.col.saturating_sub(2 * REACH)..=home.col + 2 * REACH;
            rows.flat_map(move |row| cols.clone().map(move |col| CellAt { row, col }))
                .filter(|at| at.row < on.size().rows && at.col < on.size().cols)
                .filter(|&at| free(at))
                .min_by_key(|at| {
                    let (across, down) = (at.col.abs_diff(home.col), at.row.abs_diff(home.row));
                    (across * across + 4 * down * down, *at)
                })
        };
        if let Some(at) = if free(home) { Some(home) } else { nearby() } {
            taken.push((place, at));
        }
    }
    taken
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figure::base;

    fn draw(overlay: &Overlay, size: Size) -> Picture {
        let mandible = base::named("mandible-lateral").unwrap();
        Picture::draw(mandible, overlay, size, Setting::default())
    }

    #[test]
    fn a_window_of_no_size_gives_an_empty_picture() {
        for size in [Size::new(0, 0), Size::new(0, 9), Size::new(9, 0)] {
            let picture = draw(&Overlay::default(), size);
            assert_eq!(picture.size(), size);
            assert_eq!(picture.rows().flatten().count(), 0);
        }
    }

    #[test]
    fn an_enormous_window_gives_the_largest_picture() {
        let picture = draw(&Overlay::default(), Size::new(u16::MAX, u16::MAX));
        assert_eq!(picture.size(), crate::figure::projection::MOST);
    }

    #[test]
    fn letters_that_fall_on_each_other_step_aside() {
        let overlay = Overlay {
            letters: true,
            ..Overlay::default()
        };
        let picture = draw(&overlay, Size::new(12, 6));
        let mut cells: Vec<CellAt> = picture.letters.iter().map(|(_, at)| *at).collect();
        cells.sort();
        cells.dedup();
        assert_eq!(cells.len(), 10);
    }

    #[test]
    fn names_stay_in_the_picture_and_drop_what_is_not_one_cell_wide() {
        let mut mandible = base::named("mandible-lateral").unwrap().clone();
        mandible.places[0].name = "顎con\u{1b}dyle\u{202e}".to_owned();
        let overlay = Overlay {
            named: vec![0],
            ..Overlay::default()
        };
        for (cols, shown) in [(53, "condyle"), (5, "con..")] {
            let size = Size::new(cols, 22);
            let picture = Picture::draw(&mandible, &overlay, size, Setting::default());
            let name: String = picture
                .rows()
                .flatten()
                .filter(|cell| cell.emphasis == Emphasis::Name)
                .map(|cell| cell.glyph)
                .collect();
            assert_eq!(name, shown);
        }
    }
}
