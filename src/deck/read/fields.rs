//! Maps: which keys are there, which are missing, which do not belong.

use super::shape::{self, KINDS, Key, Shape};
use super::{Reader, nearest};
use crate::deck::yaml::{Entry, Node, Value, brief};
use crate::diagnostic::Diagnostic;

/// The entries of a part of the deck, known to be a map.
#[derive(Clone, Copy)]
pub(super) struct Fields<'t, 's> {
    node: &'t Node<'s>,
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
        let keys: Vec<&Key> = shape.keys.iter().collect();
        self.part(node, shape.what, &keys)
    }

    /// Takes a node as something asked, an item or a part of a case: which further keys it has depends on its kind.
    pub(super) fn asked_fields<'t, 's>(
        &mut self,
        node: &'t Node<'s>,
        shape: &Shape,
        kind: Option<&Shape>,
    ) -> Option<Fields<'t, 's>> {
        let mut keys: Vec<&Key> = shape.keys.iter().collect();
        // Of an unknown kind nothing can be said, so any kind's key will do and none must be there.
        let of_any: Vec<Key> = any_kind()
            .map(|key| Key {
                must: false,
                ..*key
            })
            .collect();
        match kind {
            Some(kind) => keys.extend(kind.keys),
            None => keys.extend(&of_any),
        }
        self.part(node, shape.what, &keys)
    }

    fn part<'t, 's>(
        &mut self,
        node: &'t Node<'s>,
        what: &str,
        keys: &[&Key],
    ) -> Option<Fields<'t, 's>> {
        if !matches!(node.value, Value::Map(_)) {
            self.not_a_map(node, what, keys);
            return None;
        }
        let fields = Fields { node };
        let is_known = |name: &str| keys.iter().any(|key| key.name == name);
        // The tree has said what is to be said of a key that is none.
        let is_told = |entry: &Entry<'_>| entry.key.is_empty() || entry.key == "<<";
        let unknown = node.entries().iter();
        let mut unknown = unknown
            .filter(|entry| !is_told(entry) && !is_known(&entry.key))
            .take(MOST_UNKNOWN)
            .peekable();
        let mut meant = Vec::new();
        if unknown.peek().is_some() {
            // A key that is there already is not what was meant.
            let names = keys.iter().map(|key| key.name);
            let absent: Vec<&'static str> =
                names.filter(|name| fields.get(name).is_none()).collect();
            for entry in unknown {
                meant.extend(self.unknown_key(fields, entry, what, keys, &absent));
            }
        }
        for key in keys.iter().filter(|key| key.must) {
            // A misspelt key is not missing too.
            if fields.get(key.name).is_none() && !meant.contains(&key.name) {
                self.missing(fields, what, key);
            }
        }
        Some(fields)
    }

    fn not_a_map(&mut self, node: &Node<'_>, what: &str, keys: &[&Key]) {
        let names = keys.iter().filter(|key| key.must).map(|key| key.name);
        let names: Vec<&str> = names.collect();
        let message = format!("{what} is written as keys with values");
        let diagnostic = Diagnostic::error(
            "deck::wrong-type",
            message,
            self.head(node),
            self.what_it_is(node),
        );
        self.report(diagnostic.help(format!("it must have: {}", names.join(", "))));
    }

    /// Reports a key that does not belong; returns the one that was meant, as far as can be told.
    fn unknown_key(
        &mut self,
        fields: Fields<'_, '_>,
        entry: &Entry<'_>,
        what: &str,
        keys: &[&Key],
        absent: &[&'static str],
    ) -> Option<&'static str> {
        let key = entry.key.as_ref();
        let span = entry.key_span;
        let is_asked = what == shape::ITEM.what || what == shape::PART.what;
        if is_asked && any_kind().any(|other| other.name == key) {
            self.key_of_other_kind(fields, entry);
            return None;
        }
        let message = format!("unknown key `{}` in {what}", brief(key));
        let label = format!("not a key that {what} may have");
        let mut diagnostic = Diagnostic::error("deck::unknown-key", message, span, label);
        let head = self.head(fields.node);
        if head.start() != span.start() {
            diagnostic = diagnostic.related(head, format!("in this {}", bare(what)));
        }
        let mut names: Vec<&'static str> = Vec::new();
        for key in keys {
            if !names.contains(&key.name) {
                names.push(key.name);
            }
        }
        let absent = || absent.iter().copied();
        // `{from 1}` is a key without a value to YAML.
        if let Some((first, value)) = key.split_once(' ')
            && let Some(name) = absent().find(|name| *name == first)
        {
            let patch = format!("{name}: {}", value.trim());
            self.report(
                diagnostic
                    .help(format!("a colon is missing after `{name}`"))
                    .patch(span, patch),
            );
            return Some(name);
        }
        if let Some(name) = absent().find(|name| OTHER_WORDS.contains(&(key, *name))) {
            let help = format!("the key for this is `{name}`");
            self.report(diagnostic.help(help).patch(span, name));
            return Some(name);
        }
        let near = nearest(key, absent());
        self.report(if let Some(near) = near {
            let help = format!("a key with a similar name exists: `{near}`");
            diagnostic.help(help).patch(span, near)
        } else {
            diagnostic.help(format!("{what} may have: {}", names.join(", ")))
        });
        near
    }

    fn key_of_other_kind(&mut self, fields: Fields<'_, '_>, entry: &Entry<'_>) {
        let key = entry.key.as_ref();
        let has_key = |kind: &&Shape| kind.keys.iter().any(|other| other.name == key);
        let kinds: Vec<&str> = KINDS.iter().filter(has_key).map(|kind| kind.what).collect();
        let message = format!("`{key}` belongs to items of another kind");
        let label = format!("only for kind {}", kinds.join(" or "));
        let mut diagnostic =
            Diagnostic::error("deck::key-of-other-kind", message, entry.key_span, label);
        if let Some(kind) = fields.get("kind") {
            diagnostic = diagnostic.related(kind.value.span, "this item's kind");
        }
        self.report(diagnostic.help("change the kind, or take the key out"));
    }

    fn missing(&mut self, fields: Fields<'_, '_>, what: &str, key: &Key) {
        let name = key.name;
        let span = self.head(fields.node);
        let what = bare(what);
        let message = format!("the {what} has no `{name}`");
        let label = format!("in this {what}");
        let diagnostic = Diagnostic::error("deck::missing-key", message, span, label);
        self.report(diagnostic.help(format!("add `{name}`: {}", key.holds)));
    }
}

/// Unknown keys of one part that are told of; a file with more is no deck.
const MOST_UNKNOWN: usize = 100;

/// Words that people use for a key, with the key.
const OTHER_WORDS: [(&str, &str); 7] = [
    ("explanation", "rationale"),
    ("feedback", "rationale"),
    ("question", "stem"),
    ("choices", "options"),
    ("references", "sources"),
    ("image", "diagram"),
    ("reason", "why"),
];

/// The keys of all kinds together.
fn any_kind() -> impl Iterator<Item = &'static Key> {
    KINDS.iter().flat_map(|kind| kind.keys)
}

/// "item" from "an item".
fn bare(what: &str) -> &str {
    what.split_once(' ').map_or(what, |(_, bare)| bare)
}
