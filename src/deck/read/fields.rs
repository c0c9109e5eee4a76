//! Maps: which keys are there, which are missing, which do not belong.

use super::shape::{KINDS, Key, Shape};
use super::{Reader, nearest};
use crate::deck::yaml::{Entry, Node, Value, brief};
use crate::diagnostic::Diagnostic;

/// The entries of a part of the deck, known to be a map.
#[derive(Clone, Copy)]
pub(super) struct Fields<'t, 's> {
    pub(super) node: &'t Node<'s>,
}

impl<'t, 's> Fields<'t, 's> {
    pub(super) fn get(self, key: &str) -> Option<&'t Entry<'s>> {
        self.node.entry(key)
    }
}

impl Reader<'_> {
    /// Takes a node as a part of this shape.
    pub(super) fn fields<'t, 's>(
        &mut self,
        node: &'t Node<'s>,
        shape: &Shape,
    ) -> Option<Fields<'t, 's>> {
        let fields = self.map(node, shape)?;
        self.keys(fields, shape, &|name| {
            shape.keys.iter().any(|key| key.name == name)
        });
        Some(fields)
    }

    /// Takes a node as an item: which further keys it has depends on its kind.
    pub(super) fn item_fields<'t, 's>(
        &mut self,
        node: &'t Node<'s>,
        item: &Shape,
        kind: Option<&Shape>,
    ) -> Option<Fields<'t, 's>> {
        let fields = self.map(node, item)?;
        let has = |shape: &Shape, name: &str| shape.keys.iter().any(|key| key.name == name);
        // Of an unknown kind nothing can be said, so any kind's key will do.
        let is_known = |name: &str| {
            has(item, name)
                || kind.map_or_else(
                    || KINDS.iter().any(|kind| has(kind, name)),
                    |kind| has(kind, name),
                )
        };
        self.keys(fields, item, &is_known);
        if let Some(kind) = kind {
            self.missing(fields, item.what, kind.keys);
        }
        Some(fields)
    }

    fn map<'t, 's>(&mut self, node: &'t Node<'s>, shape: &Shape) -> Option<Fields<'t, 's>> {
        if matches!(node.value, Value::Map(_)) {
            return Some(Fields { node });
        }
        let names: Vec<&str> = shape
            .keys
            .iter()
            .filter(|key| key.must)
            .map(|key| key.name)
            .collect();
        let message = format!("{} is written as keys with values", shape.what);
        let span = self.head(node);
        let diagnostic =
            Diagnostic::error("deck::wrong-type", message, span, self.what_it_is(node));
        self.report(diagnostic.help(format!("it must have: {}", names.join(", "))));
        None
    }

    fn keys(&mut self, fields: Fields<'_, '_>, shape: &Shape, is_known: &dyn Fn(&str) -> bool) {
        for entry in fields.node.entries() {
            // The tree has said what is to be said of keys that are no words.
            if !entry.key.is_empty() && !is_known(&entry.key) {
                self.unknown_key(fields, entry, shape, is_known);
            }
        }
        self.missing(fields, shape.what, shape.keys);
    }

    fn unknown_key(
        &mut self,
        fields: Fields<'_, '_>,
        entry: &Entry<'_>,
        shape: &Shape,
        is_known: &dyn Fn(&str) -> bool,
    ) {
        let what = shape.what;
        let key = entry.key.as_ref();
        let span = entry.key_span;
        let kinds: Vec<&str> = KINDS
            .iter()
            .filter(|kind| {
                shape.what == "an item" && kind.keys.iter().any(|other| other.name == key)
            })
            .map(|kind| kind.what)
            .collect();
        if !kinds.is_empty() {
            let message = format!("`{key}` belongs to items of another kind");
            let kinds = kinds.join(" or ");
            let diagnostic = Diagnostic::error(
                "deck::key-of-other-kind",
                message,
                span,
                format!("only for kind {kinds}"),
            );
            let diagnostic = match fields.get("kind") {
                Some(kind) => diagnostic.related(kind.value.span, "this item's kind"),
                None => diagnostic,
            };
            self.report(diagnostic.help("change the kind, or take the key out"));
            return;
        }
        let all = || {
            let common = shape.keys.iter();
            let by_kind = KINDS.iter().flat_map(|kind| kind.keys);
            common
                .chain(by_kind)
                .map(|key| key.name)
                .filter(|name| is_known(name))
        };
        let message = format!("unknown key `{}` in {what}", brief(key));
        let label = format!("not a key that {what} may have");
        let diagnostic = Diagnostic::error("deck::unknown-key", message, span, label);
        let head = self.head(fields.node);
        let diagnostic = if head.start() == span.start() {
            diagnostic
        } else {
            diagnostic.related(head, format!("in this {}", bare(what)))
        };
        // A key that is there already is not what was meant.
        let near = nearest(key, all().filter(|name| fields.get(name).is_none()));
        self.report(if let Some(near) = near {
            diagnostic
                .help(format!("a key with a similar name exists: `{near}`"))
                .patch(span, near)
        } else {
            let mut names: Vec<&str> = all().collect();
            names.dedup();
            diagnostic.help(format!("{what} may have: {}", names.join(", ")))
        });
    }

    fn missing(&mut self, fields: Fields<'_, '_>, what: &str, keys: &[Key]) {
        for key in keys.iter().filter(|key| key.must) {
            if fields.get(key.name).is_none() {
                let name = key.name;
                let span = self.head(fields.node);
                let what = bare(what);
                let message = format!("the {what} has no `{name}`");
                let diagnostic = Diagnostic::error(
                    "deck::missing-key",
                    message,
                    span,
                    format!("in this {what}"),
                );
                self.report(diagnostic.help(format!("add `{name}`: {}", key.holds)));
            }
        }
    }
}

/// "item" from "an item".
fn bare(what: &str) -> &str {
    what.split_once(' ').map_or(what, |(_, bare)| bare)
}
