//! What is wrong with a figure that could be read: one function a rule.
//!
//! The rules guard the question, not the drawing: a candidate must be able to see each place, tell it from its
//! neighbours, and not read its name out of its description.

use std::collections::BTreeSet;

use super::curve;
use super::finding::{Fault, Finding};
use super::legible::{APART_CELLS, LEAST, USUAL, cells_apart, vanishing};
use super::model::{Figure, Form, LONGEST_LABEL, MOST_LABELS, MOST_SHAPES};
use super::overlap::overlap;
use super::picture::Setting;
use super::stroke::Stroke;
use super::tooth_form::arch_length_mm;
use super::words::shared_word;

/// How many places a question may choose from.
pub const PLACES: std::ops::RangeInclusive<usize> = 5..=12;

/// Everything that is wrong, in the order of the notation.
#[must_use]
pub fn check(figure: &Figure) -> Vec<Finding> {
    let mut findings = Vec::new();
    directions(figure, &mut findings);
    shapes(figure, &mut findings);
    labels(figure, &mut findings);
    places(figure, &mut findings);
    pairs(figure, &mut findings);
    findings
}

fn directions(figure: &Figure, findings: &mut Vec<Finding>) {
    let toward = &figure.toward;
    for (one, other) in [(&toward.left, &toward.right), (&toward.up, &toward.down)] {
        if one == other {
            findings.push(Finding::new("toward", Fault::SameDirection(one.clone())));
        }
    }
}

fn shapes(figure: &Figure, findings: &mut Vec<Finding>) {
    match figure.shapes.len() {
        0 => findings.push(Finding::new("draw", Fault::NoShapes)),
        count if count > MOST_SHAPES => {
            findings.push(Finding::new("draw", Fault::ManyShapes(count)));
            // Looking at each of thousands would take long and tell nothing more.
            return;
        }
        _ => {}
    }
    let mut seen = BTreeSet::new();
    for (index, shape) in figure.shapes.iter().enumerate() {
        let path = format!("draw[{index}]");
        if let Some(id) = &shape.id
            && !seen.insert(id)
        {
            findings.push(Finding::new(path.clone(), Fault::SecondShape(id.clone())));
        }
        if let Form::Arch {
            jaw,
            first,
            last,
            knots,
        } = &shape.form
        {
            let has_mm = curve::length(&curve::smooth(knots, false));
            let needs_mm = arch_length_mm(*jaw, *first, *last);
            if has_mm < needs_mm {
                findings.push(Finding::new(path, Fault::ShortArch { has_mm, needs_mm }));
            }
        }
    }
    for index in vanishing(figure, USUAL, Setting::default()) {
        findings.push(Finding::new(format!("draw[{index}]"), Fault::Vanishes));
    }
}

fn labels(figure: &Figure, findings: &mut Vec<Finding>) {
    if figure.labels.len() > MOST_LABELS {
        let fault = Fault::ManyLabels(figure.labels.len());
        findings.push(Finding::new("labels", fault));
        return;
    }
    for (index, label) in figure.labels.iter().enumerate() {
        let mut add = |key: &str, fault| {
            findings.push(Finding::new(format!("labels[{index}].{key}"), fault));
        };
        if label.text.chars().count() > LONGEST_LABEL {
            add("label", Fault::LongLabel);
        }
        if !figure.frame.contains(label.at) {
            add("at", Fault::OutsideFrame(label.text.clone()));
        }
        for place in &figure.places {
            if let Some(word) = shared_word(&place.name, &label.text) {
                let name = place.name.clone();
                add("label", Fault::LabelGivesAway { name, word });
            }
        }
    }
}

fn places(figure: &Figure, findings: &mut Vec<Finding>) {
    if !PLACES.contains(&figure.places.len()) {
        findings.push(Finding::new(
            "places",
            Fault::PlaceCount(figure.places.len()),
        ));
    }
    if figure.places.len() > *PLACES.end() {
        return;
    }
    let mut names = BTreeSet::new();
    for (index, place) in figure.places.iter().enumerate() {
        let path = format!("places[{index}]");
        let mut add =
            |key: &str, fault| findings.push(Finding::new(format!("{path}.{key}"), fault));
        let name = place.name.clone();
        if !names.insert(name.to_lowercase()) {
            add("place", Fault::SecondPlace(name.clone()));
        }
        if !figure.frame.contains(place.at) {
            add("at", Fault::OutsideFrame(name.clone()));
        }
        if let Some(word) = shared_word(&place.name, &place.says) {
            add(
                "says",
                Fault::GivesAway {
                    name: name.clone(),
                    word,
                },
            );
        }
        let Some(id) = &place.region else { continue };
        match figure.shape(id) {
            None => add("region", Fault::NoShape(id.clone())),
            Some(shape) if !shape.form.is_closed() => add("region", Fault::OpenRegion(id.clone())),
            Some(_)
                if figure
                    .region(index)
                    .is_some_and(|region| !region.contains(place.at)) =>
            {
                add("at", Fault::OutsideRegion(name));
            }
            Some(_) => {}
        }
    }
}

/// What two places must not have in common. Past the greatest number of places only the first few are compared.
fn pairs(figure: &Figure, findings: &mut Vec<Finding>) {
    let count = figure.places.len().min(*PLACES.end());
    let regions: Vec<Option<Stroke>> = (0..count).map(|place| figure.region(place)).collect();
    for late in 0..count {
        for early in 0..late {
            let (one, other) = (&figure.places[early], &figure.places[late]);
            let mut add = |key: &str, fault| {
                findings.push(Finding::new(format!("places[{late}].{key}"), fault));
            };
            let apart = cells_apart(figure, one.at, other.at, LEAST);
            if apart < APART_CELLS {
                add(
                    "at",
                    Fault::Close(one.name.clone(), other.name.clone(), apart),
                );
            }
            if one.says.to_lowercase() == other.says.to_lowercase() {
                add(
                    "says",
                    Fault::SameWords(one.name.clone(), other.name.clone()),
                );
            }
            let inside = |region: &Option<Stroke>, at| {
                region.as_ref().is_some_and(|region| region.contains(at))
            };
            let crossed = match (&regions[early], &regions[late]) {
                (Some(a), Some(b)) => overlap(a, b),
                _ => false,
            };
            if crossed || inside(&regions[early], other.at) || inside(&regions[late], one.at) {
                add(
                    "region",
                    Fault::Overlap(one.name.clone(), other.name.clone()),
                );
            }
        }
    }
}
