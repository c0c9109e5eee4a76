//! How a number is measured: rounding, tolerance, unit.

use super::Reader;
use super::fields::Fields;
use super::shape::longest;
use crate::deck::numeric::{Rounding, Side, Tolerance};
use crate::deck::unit;
use crate::deck::yaml::{Entry, Node, Value, brief};
use crate::diagnostic::Diagnostic;

impl Reader<'_> {
    /// `down 1`, `up 0.5` or `nearest 10`.
    pub(super) fn rounding(&mut self, entry: &Entry<'_>) -> Option<Rounding> {
        let text = self.line("round", &entry.value, longest::TERM)?;
        let read = || {
            let (side, step) = text.split_once(' ')?;
            let side = match side {
                "down" => Side::Down,
                "up" => Side::Up,
                "nearest" => Side::Nearest,
                _ => return None,
            };
            let step: f64 = plain_number(step.trim())?;
            (step > 0.0).then_some(Rounding { side, step })
        };
        let rounding = read();
        if rounding.is_none() {
            let message = format!("`{}` is no way to round", brief(&text));
            let diagnostic =
                Diagnostic::error("deck::bad-rounding", message, entry.value.span, "not known");
            self.report(
                diagnostic
                    .help("write a side and a step above 0: `down 1`, `up 0.5`, `nearest 10`"),
            );
        }
        rounding
    }

    /// `1` or `2 %`.
    pub(super) fn tolerance(&mut self, entry: &Entry<'_>) -> Option<Tolerance> {
        let Value::Scalar(scalar) = &entry.value.value else {
            let diagnostic = self.wrong_type("tolerance", "a number or a share", &entry.value);
            self.report(diagnostic);
            return None;
        };
        let text = scalar.text.trim();
        let share = text.strip_suffix('%').map(str::trim_end);
        let tolerance = match share {
            Some(share) => plain_number(share)
                .filter(|share| *share > 0.0 && *share <= 50.0)
                .map(|share| Tolerance::Relative(share / 100.0)),
            None => plain_number(text)
                .filter(|room| *room >= 0.0)
                .map(Tolerance::Absolute),
        };
        if tolerance.is_none() {
            let message = format!("`{}` is no tolerance", brief(text));
            let diagnostic = Diagnostic::error(
                "deck::bad-tolerance",
                message,
                entry.value.span,
                "must be 0 or more, or a share of at most 50 %",
            );
            self.report(diagnostic.help(
                "write how far an answer may lie from the key: `1` in its unit, or `2 %` of it",
            ));
        }
        tolerance
    }

    pub(super) fn unit(&mut self, name: &str, node: &Node<'_>) -> Option<String> {
        let unit = self.line(name, node, longest::TERM)?;
        let is_good = unit.starts_with(|first: char| first.is_alphabetic() || "%°".contains(first))
            && !unit
                .split(' ')
                .any(|word| word.starts_with(|first: char| first.is_ascii_digit()))
            && unit
                .chars()
                .all(|character| character.is_alphanumeric() || " %°/.^-·".contains(character));
        if !is_good {
            let message = format!("`{}` is not fit to be typed behind a number", brief(&unit));
            let diagnostic = Diagnostic::error(
                "deck::bad-unit",
                message,
                node.span,
                "must start with a letter, % or °, and hold no numbers of its own",
            );
            self.report(diagnostic);
            return None;
        }
        Some(unit)
    }

    pub(super) fn units(&mut self, fields: Fields<'_, '_>) -> Option<Vec<String>> {
        let Some(entry) = fields.get("units") else {
            return Some(Vec::new());
        };
        let nodes = self.list(entry, 1..=20)?;
        let Some(unit_entry) = fields.get("unit") else {
            let message = "other spellings of a unit, but no `unit`";
            self.error(
                "deck::units-without-unit",
                message,
                entry.key_span,
                "of which unit?",
            );
            return None;
        };
        let unit = unit_entry.value.text().unwrap_or_default();
        let mut units = Vec::new();
        for node in nodes {
            let other = self.unit("units", node);
            let differs = |other: &String| {
                let (own, other) = (unit::known(unit), unit::known(other));
                own.is_some() && other.is_some() && own != other
            };
            if let Some(other) = other.as_ref().filter(|other| differs(other)) {
                let message = format!(
                    "{} is not another spelling of {}",
                    brief(other),
                    brief(unit)
                );
                let diagnostic =
                    Diagnostic::error("deck::unit-mismatch", message, node.span, "another unit")
                        .related(unit_entry.value.span, "the unit of the key")
                        .help(
                            "units that measure the same are converted by themselves; take it out",
                        );
                self.report(diagnostic);
            }
            units.push(other);
        }
        units.into_iter().collect()
    }
}

/// A number of digits with at most one point.
fn plain_number(text: &str) -> Option<f64> {
    let is_plain = text
        .bytes()
        .all(|byte| byte.is_ascii_digit() || byte == b'.');
    text.parse()
        .ok()
        .filter(|number: &f64| is_plain && *number < 1e9)
}
