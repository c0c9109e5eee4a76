//! A place to be pointed at: which diagram, which of its places may be chosen, and which are right.

use std::sync::Arc;

use super::Reader;
use super::deck::Lists;
use super::fields::Fields;
use super::nearest;
use super::shape::{self, longest};
use crate::deck::model::{Locate, WrongPlace};
use crate::deck::yaml::{Entry, Node, Value, brief};
use crate::diagnostic::Diagnostic;
use crate::figure::model::Figure;
use crate::source::Span;

/// Places that an item may offer of a diagram; with fewer a guess is worth too much.
const OFFERED: std::ops::RangeInclusive<usize> = 4..=12;

impl Reader<'_> {
    pub(super) fn locate(&mut self, fields: Fields<'_, '_>, lists: &Lists<'_>) -> Option<Locate> {
        let figure = fields
            .get("diagram")
            .and_then(|entry| self.diagram_of(entry, &lists.diagrams));
        let wrong = fields.get("wrong");
        let wrong = wrong
            .and_then(|entry| self.list(entry, 1..=usize::MAX))
            .unwrap_or_default();
        // Read also without a diagram, so that the faults of all are found.
        let wrong: Vec<Option<WrongEntry>> = wrong
            .iter()
            .map(|node| self.wrong_place(node, lists))
            .collect();
        let whole = figure?;
        let figure = match fields.get("places") {
            Some(entry) => self.offered(entry, &whole)?,
            None => whole,
        };
        let keys = self.keys_of_places(fields.get("key")?, &figure)?;
        let mut seen: Vec<(usize, Span)> = keys.clone();
        let mut told = Vec::new();
        for WrongEntry {
            name,
            span,
            why,
            belief,
        } in wrong.into_iter().collect::<Option<Vec<_>>>()?
        {
            let place = self.place_named(&name, span, &figure)?;
            if let Some((_, first)) = seen.iter().find(|(other, _)| *other == place) {
                self.place_twice(span, *first, keys.iter().any(|(key, _)| *key == place));
                return None;
            }
            seen.push((place, span));
            told.push(WrongPlace { place, why, belief });
        }
        Some(Locate {
            figure,
            keys: keys.into_iter().map(|(key, _)| key).collect(),
            wrong: told,
        })
    }

    fn wrong_place(&mut self, node: &Node<'_>, lists: &Lists<'_>) -> Option<WrongEntry> {
        let fields = self.fields(node, &shape::WRONG_PLACE)?;
        let name = self.shown(fields, "place", longest::LINE);
        let why = fields
            .get("why")
            .and_then(|entry| self.text("why", &entry.value, longest::REASON));
        let belief = self.belief_of(fields, lists);
        let (name, span) = name?;
        Some(WrongEntry {
            name,
            span,
            why: why?,
            belief: belief?,
        })
    }

    /// The diagram with the places that the item names and no others.
    fn offered(&mut self, entry: &Entry<'_>, whole: &Figure) -> Option<Arc<Figure>> {
        let nodes = self.list(entry, OFFERED)?;
        let places = self.places_named("places", nodes, whole)?;
        let places = places.iter().map(|(place, _)| whole.places[*place].clone());
        Some(Arc::new(Figure {
            places: places.collect(),
            ..whole.clone()
        }))
    }

    /// The right places: one text or a list of them.
    fn keys_of_places(&mut self, entry: &Entry<'_>, figure: &Figure) -> Option<Vec<(usize, Span)>> {
        let nodes = match &entry.value.value {
            Value::Scalar(_) => std::slice::from_ref(&entry.value),
            Value::List(_) | Value::Map(_) => self.list(entry, 1..=usize::MAX)?,
        };
        let keys = self.places_named("key", nodes, figure)?;
        if keys.len() >= figure.places.len() {
            let diagnostic = Diagnostic::error(
                "deck::nothing-to-choose",
                "every place of the diagram is right",
                entry.key_span,
                "nothing is left to choose",
            );
            self.report(diagnostic.help("name fewer places, or offer more under `places`"));
            return None;
        }
        Some(keys)
    }

    fn places_named(
        &mut self,
        key: &str,
        nodes: &[Node<'_>],
        figure: &Figure,
    ) -> Option<Vec<(usize, Span)>> {
        let mut places: Vec<(usize, Span)> = Vec::new();
        let mut is_sound = true;
        for node in nodes {
            let place = self
                .line(key, node, longest::LINE)
                .and_then(|name| self.place_named(&name, node.span, figure));
            let Some(place) = place else {
                is_sound = false;
                continue;
            };
            if let Some((_, first)) = places.iter().find(|(other, _)| *other == place) {
                self.place_twice(node.span, *first, false);
                is_sound = false;
            }
            places.push((place, node.span));
        }
        is_sound.then_some(places)
    }

    /// The place with this name, or the one whose region has this id.
    fn place_named(&mut self, name: &str, span: Span, figure: &Figure) -> Option<usize> {
        let wanted = name.to_lowercase();
        let mut places = figure.places.iter();
        let by_name = places.position(|place| place.name.to_lowercase() == wanted);
        let by_region = || {
            let mut places = figure.places.iter();
            places.position(|place| place.region.as_deref() == Some(name))
        };
        let found = by_name.or_else(by_region);
        if found.is_none() {
            let message = format!(
                "there is no place `{}` to choose in the diagram `{}`",
                brief(name),
                brief(&figure.id)
            );
            let names: Vec<&str> = figure
                .places
                .iter()
                .map(|place| place.name.as_str())
                .collect();
            let diagnostic = Diagnostic::error(
                "deck::unknown-place",
                message,
                span,
                "not the name of a place or region",
            );
            self.report(match nearest(name, names.iter().copied()) {
                Some(near) => diagnostic
                    .help(format!(
                        "a place with a similar name exists: `{}`",
                        brief(near)
                    ))
                    .patch(span, near),
                None => diagnostic.help(format!("the places: {}", names.join(", "))),
            });
        }
        found
    }

    fn place_twice(&mut self, span: Span, first: Span, is_key: bool) {
        let diagnostic = if is_key {
            Diagnostic::error(
                "deck::accepted-and-refused",
                "the same place is right and wrong",
                span,
                "said to be wrong here",
            )
            .related(first, "the key here")
            .help("take it out of one of the lists")
        } else {
            Diagnostic::error(
                "deck::texts-alike",
                "a place is named twice",
                span,
                "again here",
            )
            .related(first, "first here")
            .help("take one of them out")
        };
        self.report(diagnostic);
    }
}

/// What is said of a wrong place, before it is known whether the diagram has it.
struct WrongEntry {
    name: String,
    span: Span,
    why: String,
    belief: Option<String>,
}
