//! What is drawn for an item: a diagram with its lettered places, or the row of teeth that a flap is designed on.

use std::sync::Arc;

use super::page::{Drawing, Piece};
use crate::figure::model::Figure;
use crate::figure::picture::Overlay;
use crate::flap::{Case, Draft, scene};

/// A diagram with its places, those revealed marked.
pub(super) fn places(figure: Arc<Figure>, revealed: Vec<usize>) -> Piece {
    Piece::Drawing(Box::new(Drawing {
        figure,
        overlay: Overlay {
            letters: true,
            revealed,
            ..Overlay::default()
        },
        caption: String::new(),
    }))
}

/// The row of teeth with what has been designed so far.
pub(super) fn row(case: &Case, draft: &Draft) -> Piece {
    let scene = scene(case, draft);
    let overlay = scene.overlay(None);
    let lines = [
        ("bone", "Dashed frame: bone to be removed."),
        ("crest", "Line across the roots: crest of the bone."),
        ("mucogingival-junction", "Dotted: mucogingival junction."),
        ("mental-foramen", "Bold ring: mental foramen."),
    ];
    let drawn = lines
        .into_iter()
        .filter(|(id, _)| scene.figure.shape(id).is_some());
    let mut caption: Vec<&str> = drawn.map(|(_, says)| says).collect();
    if !scene.cut.is_empty() {
        caption.push("Bold line: incision, from its mesial end m to its distal end d.");
    }
    Piece::Drawing(Box::new(Drawing {
        caption: caption.join(" "),
        figure: Arc::new(scene.figure),
        overlay,
    }))
}
