//! Expressions and texts with values in them, with every name in its place.

use std::collections::{BTreeSet, HashSet};

use super::Reader;
use super::fields::Fields;
use super::names::{Name, Names};
use super::shape::longest;
use crate::deck::expression::Expression;
use crate::deck::numeric::{ANSWER, Piece, pieces};
use crate::deck::yaml::{Entry, Node, Scalar, Value, brief};
use crate::diagnostic::Diagnostic;
use crate::source::Span;

impl Reader<'_> {
    /// An expression under a key, with every name in it known.
    pub(super) fn expression(
        &mut self,
        entry: &Entry<'_>,
        names: &mut Names<'_>,
    ) -> Option<(Expression, Span)> {
        let expression = self.known_expression(entry, names);
        names.is_unread |= expression.is_none();
        expression
    }

    fn known_expression(
        &mut self,
        entry: &Entry<'_>,
        names: &mut Names<'_>,
    ) -> Option<(Expression, Span)> {
        let node = &entry.value;
        let Value::Scalar(scalar) = &node.value else {
            let diagnostic = self.wrong_type(&entry.key, "an expression", node);
            self.report(diagnostic.help("write it after the key; put it in double quotes if YAML takes it for something else"));
            return None;
        };
        if self.is_cut(node, scalar) {
            return None;
        }
        let text = scalar.text.trim_end();
        let expression = match Expression::read(text) {
            Ok(expression) => expression,
            Err(error) => {
                let span = self.within(node, scalar, error.start, error.end);
                let message = format!("`{}` holds no expression", brief(&entry.key));
                let diagnostic = Diagnostic::error(
                    "deck::bad-expression",
                    message,
                    span,
                    error.problem.to_string(),
                );
                self.report(diagnostic.help(
                    "an expression has numbers, names, + - * /, brackets, < <= > >= == !=, and, or, not, min, max, floor, ceil, round, abs, if(condition, then, otherwise)",
                ));
                return None;
            }
        };
        let mut is_sound = true;
        for name in expression.names() {
            let at = word(text, name);
            let span = self.within(node, scalar, at, at + name.len());
            is_sound &= self.uses(name, span, false, names);
        }
        is_sound.then_some((expression, self.head(node)))
    }

    /// A stretch of a scalar's text as a place in the file; the first line of the scalar if it is not there as it was written.
    fn within(&self, node: &Node<'_>, scalar: &Scalar<'_>, start: usize, end: usize) -> Span {
        let raw = self.source.slice(node.span);
        match raw.find(scalar.text.trim_end()) {
            Some(base) => {
                let base = node.span.start() + base;
                self.source.span(base + start..base + end)
            }
            None => self.head(node),
        }
    }

    /// Checks the values that a text shows.
    pub(super) fn template(
        &mut self,
        node: &Node<'_>,
        text: &str,
        knows_answer: bool,
        names: &mut Names<'_>,
    ) -> Vec<String> {
        let mut shown = Vec::new();
        for piece in pieces(text) {
            let (Piece::Value { place, .. } | Piece::Wrong(_, place)) = piece else {
                continue;
            };
            let run = text.get(place.0..place.1).unwrap_or_default();
            // Folded and quoted texts differ from the file, but a pair of braces stands there as it is.
            let before = text.get(..place.0).unwrap_or_default().matches(run).count();
            let raw = self.source.slice(node.span);
            let at = raw.match_indices(run).nth(before).map(|(at, _)| at);
            let span = at.map_or_else(
                || self.head(node),
                |at| {
                    let start = node.span.start() + at;
                    self.source.span(start..start + run.len())
                },
            );
            match piece {
                Piece::Value { name: ANSWER, .. } if knows_answer => {}
                Piece::Value { name: ANSWER, .. } => {
                    let message = "the key would be shown before it is asked for";
                    self.error(
                        "deck::key-shown",
                        message,
                        span,
                        "only the solution and a slip's `why` may",
                    );
                }
                Piece::Value { name, .. } => {
                    if self.uses(name, span, true, names) {
                        shown.push(name.to_owned());
                    }
                }
                Piece::Wrong(..) | Piece::Text(_) => {
                    let message = "braces that show no value";
                    let diagnostic = Diagnostic::error(
                        "deck::bad-placeholder",
                        message,
                        span,
                        "nothing to show",
                    );
                    self.report(diagnostic.help("write `{name}`, or `{name:1}` for one decimal; texts of computed numbers have no other braces"));
                }
            }
        }
        shown
    }

    /// Every wording must tell what was drawn, itself or by what follows from it.
    pub(super) fn stems_show(&mut self, fields: Fields<'_, '_>, names: &mut Names<'_>) {
        let stem = fields.get("stem").map(|entry| &entry.value);
        let wordings = fields.get("wordings").map(|entry| entry.value.nodes());
        for node in stem.into_iter().chain(wordings.unwrap_or_default()) {
            // One that is too long is refused already, and each pair of braces is looked for from its start.
            let text = node.text().map(str::trim);
            let text =
                text.filter(|text| text.chars().take(longest::STEM + 1).count() <= longest::STEM);
            let Some(text) = text else { continue };
            let shown = self.template(node, text, false, names);
            if names.is_unread {
                continue;
            }
            let told: HashSet<usize> = shown
                .iter()
                .filter_map(|name| names.find(name))
                .flat_map(|name| name.drawn.iter().copied())
                .collect();
            let drawn = names.known.iter().flat_map(|name| &name.drawn);
            let untold: BTreeSet<usize> = drawn
                .copied()
                .filter(|number| !told.contains(number))
                .collect();
            // A thing drawn has the number of its first name.
            let names = untold
                .into_iter()
                .filter_map(|number| names.known.get(number));
            for Name {
                text: name, span, ..
            } in names
            {
                let message = format!("`{name}` is drawn but the candidate is not told");
                let place = self.head(node);
                let diagnostic = Diagnostic::error(
                    "deck::value-not-told",
                    message,
                    place,
                    "this wording does not show it",
                )
                .related(*span, "drawn here")
                .help(format!("write `{{{name}}}` where its value belongs"));
                self.report(diagnostic);
            }
        }
    }
}

/// Where a name first stands as a whole word.
fn word(text: &str, name: &str) -> usize {
    let is_part = |character: char| character.is_ascii_alphanumeric() || character == '_';
    let whole = text.match_indices(name).find(|(at, _)| {
        let before = text.get(..*at).and_then(|before| before.chars().last());
        let after = text
            .get(at + name.len()..)
            .and_then(|after| after.chars().next());
        !before.is_some_and(is_part) && !after.is_some_and(is_part)
    });
    whole.map_or(0, |(at, _)| at)
}
