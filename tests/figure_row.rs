//! The straightened row of teeth: named points against worked figures.

#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

use luxate::figure::point::Point;
use luxate::figure::teeth::{
    CREST_MM, Jaw, MENTAL_FORAMEN_ALONG_MM, MENTAL_FORAMEN_ROOF_MM, NeckPoint, Tooth, along_mm,
    gum_mm, junction_mm, vestibule_mm,
};

fn at(jaw: Jaw, number: u8, point: &str) -> f64 {
    let point = NeckPoint::parse(point).unwrap();
    along_mm(jaw, Tooth::new(number).unwrap(), point)
}

fn close(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-9
}

#[test]
fn middles_of_the_teeth() {
    for (jaw, middles) in [
        (Jaw::Lower, [2.5, 7.75, 14.0, 21.0, 28.0, 37.0, 47.75, 58.0]),
        (
            Jaw::Upper,
            [4.25, 11.75, 18.75, 26.0, 33.0, 41.5, 51.0, 59.75],
        ),
    ] {
        for (number, middle) in (1..).zip(middles) {
            assert!(close(at(jaw, number, "mf"), middle), "{jaw:?} {number}");
        }
    }
}

/// Free margin from the mesial to the distal end, twelve designs worked by hand.
#[test]
fn margins_between_named_points() {
    for (jaw, (mesial, from), (distal, to), margin_mm) in [
        (Jaw::Lower, (4, "ml"), (7, "dl"), 33.25),
        (Jaw::Lower, (4, "ml"), (6, "dl"), 23.0),
        (Jaw::Lower, (6, "mp"), (7, "dl"), 20.25),
        (Jaw::Upper, (2, "ml"), (4, "dl"), 19.25),
        (Jaw::Upper, (5, "ml"), (7, "dl"), 24.0),
        (Jaw::Upper, (1, "ml"), (5, "dl"), 34.75),
        (Jaw::Upper, (4, "ml"), (7, "dl"), 31.0),
        (Jaw::Lower, (4, "mp"), (6, "dl"), 24.0),
        (Jaw::Lower, (5, "ml"), (7, "dl"), 26.25),
        (Jaw::Lower, (2, "ml"), (4, "dl"), 17.75),
    ] {
        let margin = at(jaw, distal, to) - at(jaw, mesial, from);
        assert!(
            close(margin, margin_mm),
            "{mesial}{from} to {distal}{to}: {margin}"
        );
    }
}

/// A release of 10 mm slanting 20 degrees forward from the mesial line angle of the lower first premolar.
#[test]
fn one_release_worked_by_hand() {
    let (start, end) = (at(Jaw::Lower, 4, "ml"), at(Jaw::Lower, 6, "dl"));
    assert!(close(start, 18.5) && close(end, 41.5));
    let foot = start - 10.0 * 20.0_f64.to_radians().sin();
    assert!((end - foot - 26.42).abs() < 0.005);
    // The bone to be removed at 5 begins at its mesial line angle, 2 mm down.
    let corner = Point::new(at(Jaw::Lower, 5, "ml"), 2.0);
    assert!(close(corner.x, 25.5));
    assert!((corner.distance(Point::new(start, 0.0)) - 7.28).abs() < 0.005);
    assert!(close(MENTAL_FORAMEN_ALONG_MM - start, 9.5));
}

#[test]
fn soft_tissue_lines() {
    assert!(close(junction_mm(Jaw::Lower), 3.7) && close(junction_mm(Jaw::Upper), 4.2));
    assert!(close(vestibule_mm(Jaw::Lower), 14.0) && close(vestibule_mm(Jaw::Upper), 16.0));
    assert!(close(MENTAL_FORAMEN_ROOF_MM, CREST_MM + 11.2));
    // Papillae stand 4 mm above the neck line and the gum falls to it in mid tooth.
    let contact = at(Jaw::Upper, 2, "dp");
    assert!(close(gum_mm(Jaw::Upper, contact).unwrap(), 4.0));
    assert!(close(
        gum_mm(Jaw::Upper, at(Jaw::Upper, 2, "mf")).unwrap(),
        0.0
    ));
    // A papilla tip is 1 mm from each line angle beside it in the premolars.
    assert!(close(
        at(Jaw::Lower, 5, "ml") - at(Jaw::Lower, 5, "mp"),
        1.0
    ));
}
