//! YAML as a tree with places.
//!
//! Two parsers look at a deck: saphyr-parser gives the tree and the places, `serde_yaml` the meaning of plain scalars
//! and a second opinion on what is written in brackets. What the format does without (anchors, aliases, tags, merge
//! keys, second documents) is refused by the first, so no alias bomb reaches the second.

mod meaning;
mod parse;
mod second;
mod syntax;

pub(super) use meaning::{Meaning, meaning};
pub(super) use parse::parse;
pub(super) use syntax::{brief, quote_this};

use std::borrow::Cow;

use crate::source::Span;

/// A value in a file and where it stands.
#[derive(Debug)]
pub(super) struct Node<'s> {
    /// From its first to its last character, quotes included.
    pub(super) span: Span,
    /// What it is.
    pub(super) value: Value<'s>,
}

/// What a value is.
#[derive(Debug)]
pub(super) enum Value<'s> {
    /// A single value.
    Scalar(Scalar<'s>),
    /// Entries in a row.
    List(Vec<Node<'s>>),
    /// Keys with values.
    Map(Vec<Entry<'s>>),
}

/// A single value as it was written.
#[derive(Debug)]
pub(super) struct Scalar<'s> {
    /// Without quotes, escapes and indentation.
    pub(super) text: Cow<'s, str>,
    /// How it was written.
    pub(super) style: Style,
}

/// How a scalar is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Style {
    /// Without quotes: may be a number, a boolean or null.
    Plain,
    /// In quotes with escapes.
    DoubleQuoted,
    /// In single quotes, or a block under `|` or `>`.
    Verbatim,
}

/// A key with its value.
#[derive(Debug)]
pub(super) struct Entry<'s> {
    /// The key.
    pub(super) key: Cow<'s, str>,
    /// Where the key stands.
    pub(super) key_span: Span,
    /// Its value.
    pub(super) value: Node<'s>,
}

impl<'s> Node<'s> {
    /// The value under a key of a map.
    pub(super) fn get(&self, key: &str) -> Option<&Node<'s>> {
        self.entry(key).map(|entry| &entry.value)
    }

    /// The first entry with a key of a map.
    pub(super) fn entry(&self, key: &str) -> Option<&Entry<'s>> {
        self.entries().iter().find(|entry| entry.key == key)
    }

    /// The entries of a map; none of anything else.
    pub(super) fn entries(&self) -> &[Entry<'s>] {
        match &self.value {
            Value::Map(entries) => entries,
            Value::Scalar(_) | Value::List(_) => &[],
        }
    }

    /// The nodes of a list; none of anything else.
    pub(super) fn nodes(&self) -> &[Node<'s>] {
        match &self.value {
            Value::List(nodes) => nodes,
            Value::Scalar(_) | Value::Map(_) => &[],
        }
    }

    /// A scalar as it was written, whatever it means.
    fn scalar(&self) -> Option<&str> {
        match &self.value {
            Value::Scalar(scalar) => Some(&scalar.text),
            Value::List(_) | Value::Map(_) => None,
        }
    }

    /// The text of a scalar that is text.
    pub(super) fn text(&self) -> Option<&str> {
        match &self.value {
            Value::Scalar(scalar) if meaning(scalar) == Meaning::Text => Some(&scalar.text),
            Value::Scalar(_) | Value::List(_) | Value::Map(_) => None,
        }
    }

    /// The value of a scalar that is true or false.
    pub(super) fn flag(&self) -> Option<bool> {
        match &self.value {
            Value::Scalar(scalar) => match meaning(scalar) {
                Meaning::Bool(flag) => Some(flag),
                Meaning::Text | Meaning::Null | Meaning::Number(_) => None,
            },
            Value::List(_) | Value::Map(_) => None,
        }
    }
}
