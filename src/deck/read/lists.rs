//! Lists: that they are lists, how long they are, and that nothing stands in them twice.

use std::collections::HashMap;
use std::collections::hash_map::Entry as MapEntry;
use std::ops::RangeInclusive;

use super::Reader;
use crate::deck::yaml::{Entry, Node, Value, brief};
use crate::diagnostic::Diagnostic;
use crate::source::Span;
use crate::text;

impl Reader<'_> {
    /// The nodes of a list; a number outside the bounds is reported and the nodes read all the same.
    pub(super) fn list<'t, 's>(
        &mut self,
        entry: &'t Entry<'s>,
        count: RangeInclusive<usize>,
    ) -> Option<&'t [Node<'s>]> {
        let Value::List(nodes) = &entry.value.value else {
            if matches!(&entry.value.value, Value::Scalar(scalar) if scalar.text.is_empty()) {
                self.wrong_count(entry, 0, &count);
            } else {
                let diagnostic = self.wrong_type(&entry.key, "a list", &entry.value);
                self.report(diagnostic.help(
                    "start each entry on a line of its own with `- `, or put all of them in brackets: `[one, two]`",
                ));
            }
            return None;
        };
        if !count.contains(&nodes.len()) {
            self.wrong_count(entry, nodes.len(), &count);
        }
        Some(nodes)
    }

    /// Reports that too few or too many entries stand under a key.
    pub(super) fn wrong_count(
        &mut self,
        entry: &Entry<'_>,
        found: usize,
        count: &RangeInclusive<usize>,
    ) {
        let name = &entry.key;
        let (least, most) = (*count.start(), *count.end());
        let wanted = if most == usize::MAX {
            format!("at least {least}")
        } else {
            format!("{least} to {most}")
        };
        let message = format!(
            "`{name}` has {found} {}",
            if found == 1 { "entry" } else { "entries" }
        );
        self.error(
            "deck::wrong-count",
            message,
            entry.key_span,
            format!("must have {wanted}"),
        );
    }

    /// Refuses texts that look alike to a candidate.
    pub(super) fn alike<'a>(&mut self, what: &str, texts: impl Iterator<Item = (&'a str, Span)>) {
        let mut seen: HashMap<String, Span> = HashMap::new();
        for (text, span) in texts {
            match seen.entry(text::alike(text)) {
                MapEntry::Vacant(place) => {
                    place.insert(span);
                }
                MapEntry::Occupied(first) => {
                    let message = format!("two {what} look alike: `{}`", brief(text));
                    let label = "a candidate cannot tell it apart";
                    let diagnostic = Diagnostic::error("deck::texts-alike", message, span, label)
                        .related(*first.get(), "from this one")
                        .help(
                            "case, spacing and a full stop make no difference; change or drop one",
                        );
                    self.report(diagnostic);
                }
            }
        }
    }

    /// Refuses a word that stands twice where the second would silently replace the first.
    pub(super) fn named_once(
        &mut self,
        what: &str,
        words: impl Iterator<Item = (&'static str, Span)>,
    ) {
        let mut seen: HashMap<&str, Span> = HashMap::new();
        for (word, span) in words {
            if let Some(first) = seen.get(word) {
                let message = format!("two {what} `{word}`");
                let diagnostic =
                    Diagnostic::error("deck::named-twice", message, span, "again here")
                        .related(*first, "first here")
                        .help("only one can hold: take the other out");
                self.report(diagnostic);
            } else {
                seen.insert(word, span);
            }
        }
    }

    /// Refuses an id that was given before.
    pub(super) fn twice(
        &mut self,
        what: &str,
        id: Option<&Node<'_>>,
        seen: &mut HashMap<String, Span>,
    ) {
        let Some(id) = id else { return };
        let Some(text) = id.text().map(str::trim).filter(|text| !text.is_empty()) else {
            return;
        };
        match seen.get(text) {
            None => {
                seen.insert(text.to_owned(), id.span);
            }
            Some(first) => {
                let message = format!("two {what}s have the id `{}`", brief(text));
                let diagnostic =
                    Diagnostic::error("deck::duplicate-id", message, id.span, "again here")
                        .related(*first, "first here")
                        .help(format!("give one {what} another id"));
                self.report(diagnostic);
            }
        }
    }
}
