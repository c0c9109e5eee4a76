//! Distances in the base figures against published measurements.
//!
//! A figure is schematic and no question may be keyed on its numbers, but where a distance was measured on
//! people the drawing follows it, within the tolerance that stands at each check.

#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

use luxate::figure::base;
use luxate::figure::model::{Figure, Frame};
use luxate::figure::point::Point;
use luxate::figure::stroke::Stroke;
use luxate::figure::teeth::{Jaw, Tooth};
use luxate::figure::tooth_form::facial;

fn figure(id: &str) -> &'static Figure {
    base::named(id).unwrap()
}

fn drawn(figure: &Figure, id: &str) -> Stroke {
    figure.shape(id).unwrap().strokes().remove(0)
}

fn centre(figure: &Figure, id: &str) -> Point {
    Frame::around(drawn(figure, id).points).unwrap().centre()
}

/// Where a chain crosses the vertical line at x, from the bottom.
fn heights_at(stroke: &Stroke, x: f64) -> Vec<f64> {
    let mut heights: Vec<f64> = stroke
        .segments()
        .filter(|(a, b)| (a.x > x) != (b.x > x))
        .map(|(a, b)| a.y + (b.y - a.y) * (x - a.x) / (b.x - a.x))
        .collect();
    heights.sort_by(f64::total_cmp);
    heights
}

/// Where a chain crosses the horizontal line at y, from the left.
fn widths_at(stroke: &Stroke, y: f64) -> Vec<f64> {
    let turned = Stroke {
        points: stroke.points.iter().map(|p| Point::new(p.y, p.x)).collect(),
        ..stroke.clone()
    };
    heights_at(&turned, y)
}

fn near(value: f64, published: f64, tolerance: f64) -> bool {
    (value - published).abs() <= tolerance
}

/// dos Santos Oliveira R et al. 2018, Int J Dent 2018:4571895, and Sheikhi M, Karbasi Kheir M 2016, Int J Dent
/// 2016:5821048: 12.3 to 13.4 mm above the lower border.
#[test]
fn mental_foramen_above_the_lower_border() {
    let mandible = figure("mandible-lateral");
    let foramen = centre(mandible, "mental-foramen");
    let border = heights_at(&drawn(mandible, "mandible"), foramen.x)[0];
    assert!(
        (12.3..=13.6).contains(&(foramen.y - border)),
        "{}",
        foramen.y - border
    );
}

/// dos Santos Oliveira R et al. 2018: 11.2 mm from the crest to the foramen.
#[test]
fn mental_foramen_below_the_crest() {
    let quadrant = figure("quadrant-lower-buccal");
    let roof = Frame::around(drawn(quadrant, "mental-foramen").points)
        .unwrap()
        .high
        .y;
    let crest = heights_at(&drawn(quadrant, "crest"), 28.0)[0];
    assert!(near(crest - roof, 11.2, 0.1), "{}", crest - roof);
}

/// Al-Siweedi SY et al. 2014, Sci World J: the canal descends to about 20 mm behind the mental foramen.
#[test]
fn the_canal_is_lowest_behind_the_mental_foramen() {
    for (id, canal, foramen) in [
        ("mandible-lateral", "canal", "mental-foramen"),
        ("quadrant-lower-buccal", "canal-floor", "mental-foramen"),
    ] {
        let figure = figure(id);
        let canal = drawn(figure, canal).points;
        let lowest = canal.iter().min_by(|a, b| a.y.total_cmp(&b.y)).unwrap();
        let behind = lowest.x - centre(figure, foramen).x;
        assert!(near(behind, 20.0, 3.0), "{id}: {behind}");
    }
}

/// Aziz SR, Marchena JM, Puran A 2000, J Oral Maxillofac Surg 58:992-996: 8.5 mm below the rim and 27.7 mm from
/// the midline in men.
#[test]
fn infraorbital_foramen() {
    let maxilla = figure("maxilla-facial");
    let foramen = centre(maxilla, "infraorbital-foramen");
    assert!(near(foramen.x, 27.7, 0.1));
    let rim = heights_at(&drawn(maxilla, "orbit"), foramen.x)[0];
    assert!(near(rim - foramen.y, 8.5, 0.6), "{}", rim - foramen.y);
}

/// Review of 75 studies, 2023, Surg Radiol Anat 45: 15.2 mm from the midline, 2.6 mm from the rear edge, 37 mm
/// from the incisive foramen.
#[test]
fn greater_palatine_foramen() {
    let palate = figure("palate-occlusal");
    let foramen = centre(palate, "greater-palatine-foramen");
    assert!(near(foramen.x, 15.2, 0.1));
    let rear = heights_at(&drawn(palate, "rear-border"), foramen.x)[0];
    assert!(near(foramen.y - rear, 2.6, 0.6), "{}", foramen.y - rear);
    let incisive = centre(palate, "incisive-foramen");
    assert!(
        near(foramen.distance(incisive), 37.0, 1.0),
        "{}",
        foramen.distance(incisive)
    );
}

/// Behnia H, Kheradvar A, Shahrokhi M 2000, J Oral Maxillofac Surg 58:649-651: 2.06 mm from the plate and 3.01
/// below its rim. Wang D et al. 2016, Sci Rep 6:39268: the plate is 1.02 mm thick at the apex, drawn up to 0.5
/// mm thicker.
#[test]
fn lingual_nerve_and_plate() {
    let slice = figure("third-molar-coronal");
    let jaw = drawn(slice, "jaw");
    let nerve = Frame::around(drawn(slice, "lingual-nerve").points).unwrap();
    let at = nerve.centre();
    let plate = *widths_at(&jaw, at.y).last().unwrap();
    assert!(
        near(nerve.low.x - plate, 2.06, 0.3),
        "{}",
        nerve.low.x - plate
    );
    let rim = jaw
        .points
        .iter()
        .filter(|point| point.x > 4.0)
        .map(|point| point.y)
        .fold(f64::MIN, f64::max);
    assert!(near(rim - at.y, 3.01, 0.3), "{}", rim - at.y);
    let walls = widths_at(&jaw, -11.5);
    let thick = walls[walls.len() - 1] - walls[walls.len() - 2];
    assert!((1.02..=1.52).contains(&thick), "{thick}");
}

/// Parvini P et al. 2019, Int J Implant Dent 5:13: as little as 0.5 mm between root and sinus, least at the
/// second molar.
#[test]
fn sinus_floor_over_the_molars() {
    let quadrant = figure("quadrant-upper-buccal");
    let floor = drawn(quadrant, "sinus-floor");
    let gaps: Vec<f64> = [6, 7, 8]
        .into_iter()
        .map(|number| {
            // The facial roots; the palatal one of the first molar may stand higher than the floor beside it.
            let roots = facial(Jaw::Upper, Tooth::new(number).unwrap(), false).remove(1);
            let gap = |tip: &Point| {
                let near = floor.points.iter().map(|point| point.distance(*tip));
                near.fold(f64::MAX, f64::min)
            };
            roots.points.iter().map(gap).fold(f64::MAX, f64::min)
        })
        .collect();
    assert!(gaps[1] <= gaps[0] && gaps[1] <= gaps[2], "{gaps:?}");
    assert!(gaps[1] >= 0.4, "{gaps:?}");
}
