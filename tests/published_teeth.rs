//! The table of teeth against what is published.
//!
//! The means behind every drawing are those of one textbook; a part of them is from memory. Here they are held
//! against measurements of other people's casts, as far as their abstracts give figures, and against the few
//! rows that were read.

#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

use luxate::figure::teeth::{Grounds, Jaw, Means, Tooth, means};

fn tooth(jaw: Jaw, number: u8) -> Means {
    means(jaw, Tooth::new(number).unwrap())
}

/// Nelson SJ, Ash MM. Wheeler's Dental Anatomy, Physiology and Occlusion. Saunders/Elsevier: mesiodistal crown,
/// mesiodistal neck, root, crown length of the teeth whose rows were read (5 and 6 also crown depth).
#[test]
fn rows_that_were_read_are_as_printed() {
    for (number, crown, neck, root, height) in [
        (1, 8.5, 7.0, 13.0, 10.5),
        (2, 6.5, 5.0, 13.0, 9.0),
        (5, 7.0, 5.0, 14.0, 8.5),
        (6, 10.0, 8.0, 12.0, 7.5),
    ] {
        let row = tooth(Jaw::Upper, number);
        assert_eq!(row.grounds, Grounds::Read);
        assert_eq!(
            (row.crown_mm, row.neck_mm, row.root_mm, row.height_mm),
            (crown, neck, root, height)
        );
    }
    let depths = [5, 6].map(|number| tooth(Jaw::Upper, number).depth_mm);
    assert_eq!(format!("{depths:?}"), "[9.0, 11.0]");
}

/// Biometric analysis of the clinical crown and the width/length ratio in the maxillary anterior region. J
/// Prosthet Dent 2015;113:565-570: mean widths and lengths of 412 adults.
#[test]
fn upper_front_teeth_agree_with_412_adults() {
    for (number, width, length) in [(1, 8.71, 10.23), (2, 6.75, 8.59), (3, 7.81, 9.93)] {
        let row = tooth(Jaw::Upper, number);
        assert!((row.crown_mm - width).abs() < 0.5, "{number}");
        assert!((row.height_mm - length).abs() < 0.5, "{number}");
    }
}

/// A study of 152 scanned upper casts (abstract, Czech, on upper premolars of orthodontic patients): mesiodistal and
/// buccolingual means.
#[test]
fn upper_premolars_agree_with_152_casts() {
    for (number, width, depth) in [(4, 6.68, 9.48), (5, 6.43, 9.67)] {
        let row = tooth(Jaw::Upper, number);
        assert!((row.crown_mm - width).abs() < 0.75, "{number}");
        assert!((row.depth_mm - depth).abs() < 0.75, "{number}");
    }
}

/// Intramaxillary tooth width ratios and mesiodistal crown dimensions of the permanent dentition in a Tanzanian
/// population (204 casts; the authors found their values rather above those of most populations).
#[test]
fn the_order_of_widths_agrees_with_204_casts() {
    let published = [
        (Jaw::Lower, 6, 11.55),
        (Jaw::Upper, 6, 10.53),
        (Jaw::Upper, 1, 9.22),
        (Jaw::Upper, 5, 7.12),
        (Jaw::Lower, 1, 5.67),
    ];
    let ours: Vec<f64> = published
        .iter()
        .map(|&(jaw, number, _)| tooth(jaw, number).crown_mm)
        .collect();
    assert!(ours.is_sorted_by(|wider, narrower| wider > narrower));
    for (ours, (_, number, theirs)) in ours.iter().zip(published) {
        let less = theirs - ours;
        assert!((0.0..0.75).contains(&less), "{number}: {less}");
    }
    let widest = Tooth::all()
        .take(6)
        .map(|tooth| means(Jaw::Lower, tooth).crown_mm);
    assert!(widest.is_sorted_by(|&a, &b| a <= b));
}
