//! The second opinion: `serde_yaml` reads the whole deck too, and both must have read the same.
//!
//! Two independent parsers seldom share a mistake. Run only on a deck without errors, so nothing that could
//! blow up (aliases, depth, size) is left in it.

use serde_yaml::Value as Other;

use super::{Meaning, Node, Value, meaning};
use crate::diagnostic::Diagnostic;
use crate::source::{SourceFile, Span};

/// A diagnostic if `serde_yaml` reads the deck otherwise than its tree says.
pub(in crate::deck) fn agree(source: &SourceFile, tree: &Node<'_>) -> Option<Diagnostic> {
    let code = "deck::readers-disagree";
    match serde_yaml::from_str::<Other>(source.text()) {
        Ok(other) => differs(tree, &other).map(|span| {
            let message = "two YAML readers read this differently";
            Diagnostic::error(code, message, span, "somewhere in here").help(
                "write it in a plainer way: each value on its own line, text in double quotes",
            )
        }),
        Err(error) => {
            let at = error.location().map_or(0, |location| location.index());
            let message = format!("a second YAML reader refuses this: {error}");
            let span = source.span(at..at + 1);
            Some(Diagnostic::error(code, message, span, "it stopped here"))
        }
    }
}

/// The first place where the two differ, as narrow as it is known.
fn differs(node: &Node<'_>, other: &Other) -> Option<Span> {
    match (&node.value, other) {
        (Value::List(nodes), Other::Sequence(others)) if nodes.len() == others.len() => nodes
            .iter()
            .zip(others)
            .find_map(|(node, other)| differs(node, other)),
        (Value::Map(entries), Other::Mapping(others)) if entries.len() == others.len() => entries
            .iter()
            .zip(others)
            .find_map(|(entry, (key, value))| {
                if key.as_str() == Some(&entry.key) {
                    differs(&entry.value, value)
                } else {
                    Some(entry.key_span)
                }
            }),
        (Value::Scalar(scalar), other) => {
            let same = match (meaning(scalar), other) {
                (Meaning::Text, Other::String(text)) => scalar.text == *text,
                (Meaning::Null, Other::Null) => true,
                (Meaning::Bool(one), Other::Bool(two)) => one == *two,
                (Meaning::Number(one), Other::Number(two)) => {
                    two.as_f64().is_some_and(|two| one.total_cmp(&two).is_eq())
                }
                _ => false,
            };
            (!same).then_some(node.span)
        }
        _ => Some(node.span),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diagnostic::Diagnostics;

    #[test]
    fn both_parsers_agree_on_every_style() {
        let text = "a: plain\nb: \"q \\u00e9\"\nc: 'it''s'\nd: >\n  fold\n  ed\n\n  two\ne: |\n  lit\n  eral\nf:\n  - 1\n  - ~\n  - true\ng: [x, y]\n";
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
        let source = SourceFile::new("a", "a: [b, c]\n");
        let tree = super::super::parse(&source, &mut Diagnostics::default()).unwrap();
        let other = serde_yaml::from_str("a: [b, d]").unwrap();
        let span = differs(&tree, &other).unwrap();
        assert_eq!(source.slice(span), "c");
    }
}
