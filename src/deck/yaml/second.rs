//! The second opinion: `serde_yaml` reads the whole deck too, and both must have read the same.
//!
//! Two independent parsers seldom share a mistake. Run only on a deck without errors, so nothing that could
//! blow up (aliases, depth, size) is left in it. The deck is compared as it is read and never built a second time.

use std::cell::Cell;
use std::fmt;

use serde::de::{DeserializeSeed, Deserializer, Error, MapAccess, SeqAccess, Visitor};

use super::{Meaning, Node, Value, meaning};
use crate::diagnostic::Diagnostic;
use crate::source::{SourceFile, Span};

/// A diagnostic if `serde_yaml` reads the deck otherwise than its tree says.
pub(in crate::deck) fn agree(source: &SourceFile, tree: &Node<'_>) -> Option<Diagnostic> {
    let code = "deck::readers-disagree";
    let differs = Cell::new(None);
    let compare = Compare {
        node: tree,
        differs: &differs,
    };
    let error = compare
        .deserialize(serde_yaml::Deserializer::from_str(source.text()))
        .err()?;
    if let Some(span) = differs.get() {
        let message = "two YAML readers read this differently";
        let diagnostic = Diagnostic::error(code, message, span, "somewhere in here");
        return Some(
            diagnostic.help(
                "write it in a plainer way: each value on its own line, text in double quotes",
            ),
        );
    }
    let at = error.location().map_or(0, |location| location.index());
    let message = format!("a second YAML reader refuses this: {error}");
    let span = source.span(at..at + 1);
    Some(Diagnostic::error(code, message, span, "it stopped here"))
}

/// Compares a node with what the other parser reads in its place; the first difference is left in `differs`.
#[derive(Clone, Copy)]
struct Compare<'t, 's> {
    node: &'t Node<'s>,
    differs: &'t Cell<Option<Span>>,
}

impl<'t> Compare<'t, '_> {
    fn demand<E: Error>(self, is_same: bool) -> Result<(), E> {
        if is_same {
            return Ok(());
        }
        self.differs
            .set(self.differs.get().or(Some(self.node.span)));
        Err(E::custom("read differently"))
    }

    fn of<'n, 's>(self, node: &'n Node<'s>) -> Compare<'n, 's>
    where
        't: 'n,
    {
        Compare {
            node,
            differs: self.differs,
        }
    }

    fn meaning(self) -> Option<Meaning> {
        match &self.node.value {
            Value::Scalar(scalar) => Some(meaning(scalar)),
            Value::List(_) | Value::Map(_) => None,
        }
    }

    fn number<E: Error>(self, other: f64) -> Result<(), E> {
        let is_same = |number: f64| number.total_cmp(&other).is_eq();
        self.demand(matches!(self.meaning(), Some(Meaning::Number(number)) if is_same(number)))
    }
}

impl<'de> DeserializeSeed<'de> for Compare<'_, '_> {
    type Value = ();

    fn deserialize<D: Deserializer<'de>>(self, deserializer: D) -> Result<(), D::Error> {
        deserializer.deserialize_any(self)
    }
}

impl<'de> Visitor<'de> for Compare<'_, '_> {
    type Value = ();

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("what the first parser read")
    }

    fn visit_unit<E: Error>(self) -> Result<(), E> {
        self.demand(self.meaning() == Some(Meaning::Null))
    }

    fn visit_bool<E: Error>(self, other: bool) -> Result<(), E> {
        self.demand(self.meaning() == Some(Meaning::Bool(other)))
    }

    #[expect(
        clippy::cast_precision_loss,
        reason = "the tree rounds in the same way"
    )]
    fn visit_i64<E: Error>(self, other: i64) -> Result<(), E> {
        self.number(other as f64)
    }

    #[expect(
        clippy::cast_precision_loss,
        reason = "the tree rounds in the same way"
    )]
    fn visit_u64<E: Error>(self, other: u64) -> Result<(), E> {
        self.number(other as f64)
    }

    #[expect(
        clippy::cast_precision_loss,
        reason = "the tree rounds in the same way"
    )]
    fn visit_i128<E: Error>(self, other: i128) -> Result<(), E> {
        self.number(other as f64)
    }

    #[expect(
        clippy::cast_precision_loss,
        reason = "the tree rounds in the same way"
    )]
    fn visit_u128<E: Error>(self, other: u128) -> Result<(), E> {
        self.number(other as f64)
    }

    fn visit_f64<E: Error>(self, other: f64) -> Result<(), E> {
        self.number(other)
    }

    fn visit_str<E: Error>(self, other: &str) -> Result<(), E> {
        self.demand(self.meaning() == Some(Meaning::Text) && self.node.scalar() == Some(other))
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut others: A) -> Result<(), A::Error> {
        self.demand(matches!(self.node.value, Value::List(_)))?;
        for node in self.node.nodes() {
            let other = others.next_element_seed(self.of(node))?;
            self.demand(other.is_some())?;
        }
        // One more would have to be this list itself, which it is not.
        let more = others.next_element_seed(self)?;
        self.demand(more.is_none())
    }

    fn visit_map<A: MapAccess<'de>>(self, mut others: A) -> Result<(), A::Error> {
        self.demand(matches!(self.node.value, Value::Map(_)))?;
        for entry in self.node.entries() {
            let other = others.next_key::<String>()?;
            self.demand(other.as_deref() == Some(&entry.key))?;
            others.next_value_seed(self.of(&entry.value))?;
        }
        let more = others.next_key::<String>()?;
        self.demand(more.is_none())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diagnostic::Diagnostics;

    #[test]
    fn both_parsers_agree_on_every_style() {
        let text = "a: plain\nb: \"q \\u00e9\"\nc: 'it''s'\nd: >\n  fold\n  ed\n\n  two\ne: |\n  lit\n  eral\nf:\n  - 1\n  - ~\n  - true\n  - -2\n  - 1.5\n  - 99999999999999999999\n  - []\n  - {}\ng: [x, y]\n";
        for text in [text.to_owned(), text.replace('\n', "\r\n")] {
            let source = SourceFile::new("a", text);
            let mut found = Diagnostics::default();
            let tree = super::super::parse(&source, &mut found).unwrap();
            assert!(found.is_empty());
            assert_eq!(agree(&source, &tree), None);
        }
    }

    #[test]
    fn a_difference_is_found_where_it_is() {
        let text = "a: [b, c]\n";
        let source = SourceFile::new("a", text);
        let tree = super::super::parse(&source, &mut Diagnostics::default()).unwrap();
        for (other, place) in [
            ("a: [b, d]\n", "c"),
            ("a: [b]\n", "[b, c]"),
            ("a: [b, c, d]\n", "[b, c]"),
            ("a: [b, 1]\n", "c"),
            ("a: b\n", "[b, c]"),
            ("b: [b, c]\n", "a: [b, c]"),
            ("a: [b, c]\nd: e\n", "a: [b, c]"),
        ] {
            let said = agree(&SourceFile::new("b", other), &tree).unwrap();
            assert_eq!(source.slice(said.primary.span), place, "{other}");
        }
    }
}
