//! What stands uncorrected, told by `luxate plan`: confident errors and mistaken beliefs.

use std::io::Write;

use serde_json::{Value, json};

use super::Failure;
use crate::kinds;
use crate::round::Record;
use crate::text::Shown;
use crate::words::counted;

/// Columns of a stem or a belief on one line.
const WIDTH: usize = 58;
/// Lines of each list; `--json` has all.
const MOST: usize = 12;

pub(super) fn tell(out: &mut impl Write, record: &Record) -> Result<(), Failure> {
    let errors = record.confident_errors();
    if !errors.is_empty() {
        writeln!(out, "\nWrong and certain, and not put right on a later day")?;
        for error in errors.iter().take(MOST) {
            let safety = if error.safety { "safety" } else { "" };
            let heading = heading(record, error.item);
            writeln!(
                out,
                "  {}  {safety:<6}  {}",
                error.day,
                Shown::new(&heading).cut(WIDTH)
            )?;
        }
        more(out, errors.len())?;
    }
    let beliefs = record.mistaken_beliefs();
    if !beliefs.is_empty() {
        writeln!(
            out,
            "\nMistaken beliefs behind wrong answers, not put right on a later day"
        )?;
        for belief in beliefs.iter().take(MOST) {
            let items = counted(belief.items.len(), "item", "items");
            writeln!(out, "  {items:>8}  {}", Shown::new(&belief.text))?;
        }
        more(out, beliefs.len())?;
    }
    Ok(())
}

fn more(out: &mut impl Write, count: usize) -> Result<(), Failure> {
    if count > MOST {
        writeln!(
            out,
            "  and {} more: luxate plan --json lists all",
            count - MOST
        )?;
    }
    Ok(())
}

/// All confident errors as data.
pub(super) fn errors(record: &Record) -> Vec<Value> {
    let errors = record.confident_errors().into_iter();
    errors
        .map(|error| {
            json!({"item": name(record, error.item), "day": error.day.to_string(), "safety": error.safety,
                "stem": heading(record, error.item)})
        })
        .collect()
}

/// All mistaken beliefs as data.
pub(super) fn beliefs(record: &Record) -> Vec<Value> {
    let beliefs = record.mistaken_beliefs().into_iter();
    beliefs
        .map(|belief| {
            let items: Vec<_> = belief
                .items
                .iter()
                .map(|&item| name(record, item))
                .collect();
            json!({"deck": belief.deck, "belief": belief.id, "text": belief.text, "items": items})
        })
        .collect()
}

fn name(record: &Record, item: usize) -> Option<String> {
    let entry = record.library().entries().get(item)?;
    Some(entry.reference.to_string())
}

fn heading(record: &Record, item: usize) -> String {
    record
        .library()
        .item(item)
        .map(kinds::heading)
        .unwrap_or_default()
}
