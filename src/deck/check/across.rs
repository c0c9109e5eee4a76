//! What only shows when decks lie side by side: items asked twice, words spelt otherwise than elsewhere.

use super::{Outline, near_duplicate, odd_spelling};
use crate::deck::Reading;

/// Adds to the diagnostics of each deck what shows beside the others. `known` are decks to compare with that are not
/// reported on themselves.
pub fn across(readings: &mut [Reading], known: &[Outline]) {
    let outlines: Vec<&Outline> = readings.iter().map(|reading| &reading.outline).collect();
    let mut found = near_duplicate::find(readings, &outlines);
    found.extend(odd_spelling::find(readings, &outlines, known));
    for (number, diagnostic) in found {
        if let Some(reading) = readings.get_mut(number) {
            reading.diagnostics.push(diagnostic);
        }
    }
    for reading in readings {
        reading.diagnostics.settle();
    }
}
