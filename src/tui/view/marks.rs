//! What drawings are made of: a small one to look at, and whether it looks whole.
//!
//! No program can see a terminal's font, so the candidate is asked.

use super::Parts;
use super::sheet::{Row, Sheet};
use super::theme::Look;
use crate::figure::base;
use crate::figure::marks::Marks;
use crate::figure::picture::{Overlay, Picture, Setting};
use crate::figure::projection::Size;
use crate::tui::model::Model;

/// The drawing that is tried, and its size: lines of every kind at the size of a small screen.
const TRIED: &str = "mandible-lateral";
const SIZE: Size = Size::new(35, 12);

pub(super) fn page(model: &Model, shown: Marks, width: usize) -> Parts {
    let mut sheet = Sheet::new(width);
    sheet.text(
        "Does this drawing of half a lower jaw look whole?",
        Look::Strong,
    );
    let setting = Setting {
        marks: shown,
        ..model.drawn_by()
    };
    if let Some(figure) = base::named(TRIED) {
        let picture = Picture::draw(figure, &Overlay::default(), SIZE, setting);
        for row in picture.rows() {
            let cells: String = row.iter().map(|cell| cell.glyph).collect();
            sheet
                .rows
                .push(Row::new([("    ", Look::Plain), (&cells, Look::Plain)]));
        }
    }
    sheet.text(made_of(shown), Look::Plain);
    ("luxate".to_owned(), "drawings".to_owned(), sheet)
}

const fn made_of(marks: Marks) -> &'static str {
    match marks {
        Marks::Braille => {
            "Made of Braille dots, the finest lines. Boxes, blanks or lines that do not join: press n."
        }
        Marks::Quadrant => {
            "Made of quarter blocks, coarser. If lines shift or do not join: press n."
        }
        Marks::Ascii => {
            "Made of plain characters, which every terminal has; fine lines are lost, and some questions are asked in words."
        }
    }
}
