//! The second opinion: `serde_yaml` reads whatever is written in brackets too, and both must have read the same.
//!
//! Two independent parsers seldom share a mistake. In blocks, where indentation says what belongs together, these two
//! were never found to differ in a value, and the tests below go on looking; in brackets they do, over stray signs.

use std::cell::Cell;
use std::fmt;

use serde::de::{DeserializeSeed, Deserializer, Error, MapAccess, SeqAccess, Visitor};

use super::{Meaning, Node, Value, meaning};
use crate::diagnostic::Diagnostic;
use crate::source::{SourceFile, Span};

/// A diagnostic if `serde_yaml` reads the text of a node otherwise than its tree says. The text must be without
/// aliases, which could blow up, and make sense when it stands alone.
pub(super) fn disagreement(source: &SourceFile, node: &Node<'_>) -> Option<Diagnostic> {
    let (message, span, label) = match differs(source.slice(node.span), node)? {
        Differs::At(span) => (
            "two YAML readers read this differently",
            span,
            "somewhere in here",
        ),
        Differs::Refused(at) => {
            let at = node.span.start() + at;
            (
                "a second YAML reader refuses what stands in these brackets",
                source.span(at..at + 1),
                "it stopped here",
            )
        }
    };
    let help = "write it in a plainer way: each value on its own line, text in double quotes";
    Some(Diagnostic::error("deck::readers-disagree", message, span, label).help(help))
}

/// How `serde_yaml` reads a text otherwise than a tree says.
#[derive(Debug, PartialEq)]
enum Differs {
    /// Another value than the one at a place of the tree.
    At(Span),
    /// Not at all from a byte of the text on.
    Refused(usize),
}

fn differs(text: &str, node: &Node<'_>) -> Option<Differs> {
    let differs = Cell::new(None);
    let compare = Compare {
        node,
        differs: &differs,
    };
    let error = compare
        .deserialize(serde_yaml::Deserializer::from_str(text))
        .err()?;
    let refused = || Differs::Refused(error.location().map_or(0, |location| location.index()));
    Some(differs.get().map_or_else(refused, Differs::At))
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
    use std::collections::BTreeMap;
    use std::fmt::Write as _;

    use proptest::prelude::*;

    use super::*;
    use crate::deck::hygiene;
    use crate::diagnostic::Diagnostics;

    /// Whether both parsers read a whole text alike; nothing of one that the first refuses.
    fn is_read_alike(bytes: &[u8]) -> Option<bool> {
        let mut found = Diagnostics::default();
        let clean = hygiene::clean("a", bytes, &mut found);
        if !clean.can_parse || found.has_errors() {
            return None;
        }
        let tree = super::super::parse(&clean.source, &mut found)?;
        // At the end of a file they differ in whether a text ends with a line break, which nobody sees.
        let mut text = clean.source.text().to_owned();
        if !text.ends_with('\n') {
            text.push('\n');
        }
        (!found.has_errors()).then(|| differs(&text, &tree).is_none())
    }

    #[test]
    fn both_parsers_read_whole_decks_alike() {
        for (name, deck) in [
            ("flaps", include_str!("../../../decks/flaps.yaml")),
            ("difficulty", include_str!("../../../decks/difficulty.yaml")),
            ("root-tips", include_str!("../../../decks/root-tips.yaml")),
            ("landmarks", include_str!("../../../decks/landmarks.yaml")),
            ("cases", include_str!("../../../decks/cases.yaml")),
            ("computed", include_str!("../../../decks/computed.yaml")),
            ("pointing", include_str!("../../../decks/pointing.yaml")),
            ("designing", include_str!("../../../decks/designing.yaml")),
            (
                "all-kinds",
                include_str!("../../../tests/decks/good/all-kinds.yaml"),
            ),
            (
                "quoted",
                include_str!("../../../tests/decks/good/quoted.yaml"),
            ),
            (
                "no-last-newline",
                include_str!("../../../tests/decks/good/no-last-newline.yaml"),
            ),
        ] {
            assert_eq!(is_read_alike(deck.as_bytes()), Some(true), "{name}");
        }
    }

    /// Texts of the signs that YAML gives a meaning.
    fn text() -> impl Strategy<Value = String> {
        let piece = prop::sample::select(
            &[
                "nerve", "2.5", " ", "  ", "\n", "\n\n", ": ", " #", "- ", "-", "?", "!", "&", "*",
                "|", ">", "%", "@", "`", "'", "\"", "\\", "[", "]", "{", "}", ",", "~", "null",
                "true", "°", "é", "=", "<<", "0x1F", "1e3", "---", "...",
            ][..],
        );
        prop::collection::vec(piece, 0..8).prop_map(|pieces| pieces.concat())
    }

    proptest! {
        #[test]
        fn both_parsers_read_whatever_is_written_in_blocks_alike(
            values in prop::collection::vec(prop::collection::btree_map("[a-z]{1,6}", prop::collection::vec(text(), 0..4), 0..4), 0..4),
            blocks in prop::collection::vec(("[>|][+-]?", "[a-z .:#'\"-]{1,20}", "[a-z {}\\[*&!]{1,20}"), 0..4),
            plain in prop::collection::vec("[a-z0-9][a-z0-9 .,'\"#:?!&*|>\\[{}-]{0,20}", 0..4),
        ) {
            let values: Vec<BTreeMap<String, Vec<String>>> = values;
            let mut written = format!("values:\n{}", serde_yaml::to_string(&values).unwrap());
            for (number, (sign, one, two)) in blocks.iter().enumerate() {
                let _infallible = write!(written, "block{number}: {sign}\n    {one}\n    {two}\n\n    {one}\n");
            }
            for (number, text) in plain.iter().enumerate() {
                let _infallible = write!(written, "plain{number}: {text}\n  {text}\n");
            }
            prop_assert_ne!(is_read_alike(written.as_bytes()), Some(false), "{}", written);
        }
    }

    #[test]
    fn both_parsers_agree_on_every_style() {
        let text = "a: plain\nb: \"q \\u00e9\"\nc: 'it''s'\nd: >\n  fold\n  ed\n\n  two\ne: |\n  lit\n  eral\nf:\n  - 1\n  - ~\n  - true\n  - -2\n  - 1.5\n  - 99999999999999999999\n  - []\n  - {}\ng: [x, y]\n";
        for text in [text.to_owned(), text.replace('\n', "\r\n")] {
            let source = SourceFile::new("a", text);
            let mut found = Diagnostics::default();
            let tree = super::super::parse(&source, &mut found).unwrap();
            assert!(found.is_empty());
            assert_eq!(differs(source.text(), &tree), None);
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
            let Some(Differs::At(span)) = differs(other, &tree) else {
                panic!("{other} is the same");
            };
            assert_eq!(source.slice(span), place, "{other}");
        }
    }
}
