//! The figures that come with the program: they are read, they are sound, and they look as they did when last
//! looked at.

#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

use luxate::figure::base;
use luxate::figure::check::check;
use luxate::figure::legible::{LEAST, USUAL, is_legible};
use luxate::figure::marks::Marks;
use luxate::figure::model::Figure;
use luxate::figure::picture::{Overlay, Picture, Setting};
use luxate::figure::read::read;
use luxate::figure::svg::svg;

fn figures() -> Vec<Figure> {
    base::TEXTS
        .iter()
        .map(|(id, text)| {
            let figure = read(&serde_yaml::from_str(text).unwrap()).unwrap();
            assert_eq!(figure.id, *id);
            figure
        })
        .collect()
}

fn drawn(figure: &Figure, marks: Marks, letters: bool) -> String {
    let overlay = Overlay {
        letters,
        ..Overlay::default()
    };
    let setting = Setting {
        marks,
        ..Setting::default()
    };
    Picture::draw(figure, &overlay, USUAL, setting).text()
}

#[test]
fn every_text_is_a_figure_and_is_found_by_its_id() {
    for figure in figures() {
        assert_eq!(base::named(&figure.id), Some(&figure));
    }
    assert_eq!(base::all().len(), base::TEXTS.len());
    assert_eq!(base::named("nothing"), None);
}

#[test]
fn every_figure_is_sound() {
    for figure in figures() {
        assert_eq!(check(&figure), [], "{}", figure.id);
    }
}

#[test]
fn every_figure_can_be_made_out() {
    for figure in figures() {
        let setting = Setting::default();
        assert!(is_legible(&figure, USUAL, setting), "{}", figure.id);
        // The fracture lines of the skull break up below 50 columns.
        let small = figure.id != "skull-front";
        assert_eq!(is_legible(&figure, LEAST, setting), small, "{}", figure.id);
    }
}

#[test]
fn every_figure_looks_as_it_did() {
    for figure in figures() {
        for (marks, letters) in [
            (Marks::Braille, false),
            (Marks::Braille, true),
            (Marks::Ascii, false),
        ] {
            let name = format!(
                "{}-{}{}",
                figure.id,
                marks.word(),
                if letters { "-letters" } else { "" }
            );
            insta::assert_snapshot!(name, drawn(&figure, marks, letters));
        }
    }
}

#[test]
fn print_is_the_same_each_time() {
    for figure in figures() {
        let overlay = Overlay {
            letters: true,
            revealed: vec![0],
            ..Overlay::default()
        };
        let once = svg(&figure, &overlay);
        assert_eq!(once, svg(&figure, &overlay));
        assert!(!once.contains("NaN") && !once.contains("inf"));
    }
    let coronal = base::named("third-molar-coronal").unwrap();
    insta::assert_snapshot!("third-molar-coronal-svg", svg(coronal, &Overlay::default()));
}

#[test]
fn the_places_of_every_diagram_stand_in_the_description() {
    let told = include_str!("../decks/pictures.md");
    for figure in base::all() {
        let places: Vec<&str> = figure
            .places
            .iter()
            .map(|place| place.name.as_str())
            .collect();
        let row = format!("| `{}` | {} |\n", figure.id, places.join(", "));
        assert!(told.contains(&row), "decks/pictures.md lacks\n{row}");
    }
}
