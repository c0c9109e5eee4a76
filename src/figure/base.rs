//! The figures that come with the program: our own drawings by numbers, schematic, traced from nothing.
//!
//! Their texts are files of the notation under `decks/diagrams/`, compiled in. Where a distance follows a
//! publication, a comment in the file names it.

use std::sync::LazyLock;

use super::model::Figure;
use super::read::read;

/// Id and text of each figure.
pub const TEXTS: [(&str, &str); 11] = [
    (
        "mandible-lateral",
        include_str!("../../decks/diagrams/mandible-lateral.yaml"),
    ),
    (
        "mandible-medial",
        include_str!("../../decks/diagrams/mandible-medial.yaml"),
    ),
    (
        "maxilla-facial",
        include_str!("../../decks/diagrams/maxilla-facial.yaml"),
    ),
    (
        "palate-occlusal",
        include_str!("../../decks/diagrams/palate-occlusal.yaml"),
    ),
    (
        "quadrant-lower-buccal",
        include_str!("../../decks/diagrams/quadrant-lower-buccal.yaml"),
    ),
    (
        "quadrant-upper-buccal",
        include_str!("../../decks/diagrams/quadrant-upper-buccal.yaml"),
    ),
    (
        "third-molar-coronal",
        include_str!("../../decks/diagrams/third-molar-coronal.yaml"),
    ),
    (
        "third-molar-sagittal",
        include_str!("../../decks/diagrams/third-molar-sagittal.yaml"),
    ),
    (
        "molar-section",
        include_str!("../../decks/diagrams/molar-section.yaml"),
    ),
    ("roots", include_str!("../../decks/diagrams/roots.yaml")),
    (
        "skull-front",
        include_str!("../../decks/diagrams/skull-front.yaml"),
    ),
];

static FIGURES: LazyLock<Vec<Figure>> = LazyLock::new(|| {
    // A test reads every text, so none is lost here.
    TEXTS
        .iter()
        .filter_map(|(_, text)| read(&serde_yaml::from_str(text).ok()?).ok())
        .collect()
});

/// All figures that come with the program.
#[must_use]
pub fn all() -> &'static [Figure] {
    &FIGURES
}

/// The figure with this id.
#[must_use]
pub fn named(id: &str) -> Option<&'static Figure> {
    FIGURES.iter().find(|figure| figure.id == id)
}
