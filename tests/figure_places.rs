//! Pointing at places: the way by keys, and what a wrong choice is told.

#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

use luxate::figure::base;
use luxate::figure::model::Figure;
use luxate::figure::picture::{Emphasis, Overlay, Picture, Setting};
use luxate::figure::places::{
    Direction, following, letter, miss, nearest_key, neighbour, reading_order, told, with_letter,
};
use luxate::figure::point::Point;
use luxate::figure::projection::{CellAt, Size};

fn figure(id: &str) -> &'static Figure {
    base::named(id).unwrap()
}

fn place(figure: &Figure, name: &str) -> usize {
    figure
        .places
        .iter()
        .position(|place| place.name == name)
        .unwrap_or_else(|| panic!("no {name}"))
}

/// Two misses worked by hand.
#[test]
fn a_near_miss_is_told_in_millimetres() {
    let quadrant = figure("quadrant-lower-buccal");
    let chosen = place(quadrant, "inferior alveolar canal");
    let key = place(quadrant, "mental foramen");
    assert_eq!(
        told(quadrant, chosen, key).unwrap(),
        "the inferior alveolar canal, 20 mm distal and 5 mm apical of the mental foramen"
    );
    // 20 mm behind and exactly 2 mm lower: the 2 mm stay unsaid.
    let mandible = figure("mandible-lateral");
    let chosen = place(mandible, "lowest course of the canal");
    let key = place(mandible, "mental foramen");
    assert_eq!(
        told(mandible, chosen, key).unwrap(),
        "the lowest course of the canal, 20 mm behind the mental foramen"
    );
}

#[test]
fn a_far_miss_is_told_without_millimetres() {
    let mandible = figure("mandible-lateral");
    let (condyle, foramen) = (
        place(mandible, "condyle"),
        place(mandible, "mental foramen"),
    );
    assert_eq!(
        told(mandible, condyle, foramen).unwrap(),
        "the condyle, behind and above the mental foramen"
    );
    assert_eq!(
        told(mandible, foramen, condyle).unwrap(),
        "the mental foramen, in front and below the condyle"
    );
}

#[test]
fn the_larger_part_comes_first_and_sides_are_the_patients() {
    let maxilla = figure("maxilla-facial");
    let chosen = place(maxilla, "lateral rim of the nasal opening");
    let key = place(maxilla, "anterior nasal spine");
    assert_eq!(
        told(maxilla, chosen, key).unwrap(),
        "the lateral rim of the nasal opening, 12 mm to the patient's right and 10 mm above the anterior nasal spine"
    );
    let parts = miss(maxilla, chosen, key).unwrap().parts;
    assert!(parts[0].0 > parts[1].0);
    assert_eq!(miss(maxilla, key, key).unwrap().words(), "right beside");
    assert_eq!(miss(maxilla, 99, key), None);
}

#[test]
fn of_several_keys_the_nearest_counts() {
    let mandible = figure("mandible-lateral");
    let keys = [
        place(mandible, "condyle"),
        place(mandible, "mental foramen"),
    ];
    let chosen = place(mandible, "neck of the condyle");
    assert_eq!(nearest_key(mandible, chosen, &keys), Some(keys[0]));
    assert_eq!(nearest_key(mandible, chosen, &[]), None);
}

#[test]
fn arrows_go_to_the_nearest_place_that_way() {
    let mandible = figure("mandible-lateral");
    let from = place(mandible, "mandibular notch");
    for (direction, name) in [
        (Direction::Left, "coronoid process"),
        (Direction::Right, "neck of the condyle"),
        (Direction::Down, "mandibular foramen"),
    ] {
        assert_eq!(
            neighbour(mandible, from, direction),
            Some(place(mandible, name)),
            "{direction:?}"
        );
    }
    assert_eq!(
        neighbour(mandible, place(mandible, "condyle"), Direction::Up),
        None
    );
}

#[test]
fn tab_walks_every_place_once_from_top_to_bottom() {
    for figure in base::all() {
        let order = reading_order(figure);
        let heights: Vec<f64> = order.iter().map(|&p| -figure.places[p].at.y).collect();
        assert!(heights.is_sorted());
        let mut at = order[0];
        for &expected in order.iter().cycle().skip(1).take(order.len()) {
            let next = following(figure, at, true).unwrap();
            assert_eq!(next, expected);
            assert_eq!(following(figure, next, false), Some(at));
            at = next;
        }
        assert_eq!(at, order[0]);
    }
}

#[test]
fn letters_name_places() {
    let mandible = figure("mandible-lateral");
    assert_eq!((letter(0), letter(11), letter(26)), ('a', 'l', '?'));
    assert_eq!(with_letter(mandible, 'H'), Some(7));
    assert_eq!(with_letter(mandible, 'k'), None);
    assert_eq!(with_letter(mandible, 'é'), None);
}

#[test]
fn regions_hold_their_places() {
    let palate = figure("palate-occlusal");
    let foramen = place(palate, "greater palatine foramen");
    // Drawn on both sides, but the place is on one.
    assert!(
        palate
            .region(foramen)
            .unwrap()
            .points
            .iter()
            .all(|point| point.x > 0.0)
    );
}

#[test]
fn letters_cursor_region_and_names_are_laid_over() {
    let quadrant = figure("quadrant-lower-buccal");
    let foramen = place(quadrant, "mental foramen");
    let overlay = Overlay {
        letters: true,
        cursor: Some(foramen),
        revealed: vec![foramen],
        named: vec![foramen],
        incision: vec![vec![Point::new(18.5, 0.0), Point::new(15.0, -9.4)]],
        labels: vec![(Point::new(66.0, 0.0), "x".to_owned())],
    };
    let picture = Picture::draw(quadrant, &overlay, Size::new(70, 30), Setting::default());
    let lettered = |glyph: char| {
        picture.rows().zip(0..).find_map(|(cells, row)| {
            let mut found = cells.iter().zip(0..);
            found
                .find(|(cell, _)| cell.glyph == glyph && cell.emphasis == Emphasis::Letter)
                .map(|(_, col)| CellAt { row, col })
        })
    };
    assert!((0..quadrant.places.len()).all(|place| lettered(letter(place)).is_some()));
    let at = lettered(letter(foramen)).unwrap();
    assert_eq!(picture.place_at(at), Some(foramen));
    assert_eq!(picture.place_at(CellAt { row: 0, col: 0 }), None);
    let row: Vec<_> = picture.rows().nth(usize::from(at.row)).unwrap().to_vec();
    let around: String = row[usize::from(at.col) - 1..=usize::from(at.col) + 1]
        .iter()
        .map(|cell| cell.glyph)
        .collect();
    assert_eq!(around, "[a]");
    let count = |wanted| {
        picture
            .rows()
            .flatten()
            .filter(|cell| cell.emphasis == wanted)
            .count()
    };
    assert_eq!(count(Emphasis::Name), "mental foramen".len());
    assert!(count(Emphasis::Region) >= 2);
    // 9.4 mm down at 1.6 mm a row touch seven rows, one cell in each.
    assert_eq!(count(Emphasis::Incision), 7);
    assert!(picture.text().contains("mental foramen"));
}
