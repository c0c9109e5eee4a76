//! Flaws in the writing: what makes a sound deck a poor one.
//!
//! One rule is one file with one [`Rule`], named in [`RULES`]. A rule sees parts that were read without
//! fault and says where a flaw is; its code, severity, reason and remedy are the same wherever it is found. No rule makes
//! an error: what cannot be asked or marked is the reader's business.

mod all_of_the_above;
mod key_longest;
mod none_of_the_above;
mod numbers_out_of_order;
mod unused;
mod weights;

use super::model::{AnswerOption, Body, Choice, Item};
use super::read::Draft;
use super::yaml::Node;
use crate::diagnostic::{Diagnostic, Diagnostics, Label, Severity};
use crate::source::{SourceFile, Span};

/// Every rule, in the order of their codes.
const RULES: &[Rule] = &[
    all_of_the_above::RULE,
    key_longest::RULE,
    none_of_the_above::RULE,
    numbers_out_of_order::RULE,
    unused::RULE,
    weights::RULE,
];

/// A rule of item writing.
struct Rule {
    /// The code of its diagnostics.
    code: &'static str,
    severity: Severity,
    /// Why it matters, with the published guideline.
    why: &'static str,
    /// What to do.
    help: &'static str,
    find: Find,
}

/// What a rule looks at.
enum Find {
    /// One item at a time, also in a deck with errors elsewhere.
    Item(fn(&Asked<'_>) -> Vec<Flaw>),
    /// A whole deck, only if all of it could be read.
    Deck(fn(&Draft<'_, '_>) -> Vec<Flaw>),
}

/// Where a rule is broken.
struct Flaw {
    message: String,
    place: Label,
}

impl Flaw {
    fn new(message: impl Into<String>, span: Span, label: impl Into<String>) -> Self {
        Self {
            message: message.into(),
            place: Label {
                span,
                text: label.into(),
            },
        }
    }
}

/// An item with its place in the file.
struct Asked<'t> {
    item: &'t Item,
    node: &'t Node<'t>,
}

impl<'t> Asked<'t> {
    /// The item, then the parts if it is a case: they are written by the same rules.
    fn all(item: &'t Item, node: &'t Node<'t>) -> Vec<Self> {
        let nodes = node.get("parts").map(Node::nodes).unwrap_or_default();
        let nodes = std::iter::once(node).chain(nodes);
        item.with_parts()
            .zip(nodes)
            .map(|(item, node)| Self { item, node })
            .collect()
    }

    /// The options, if it is a choice.
    fn choice(&self) -> Option<&'t Choice> {
        match &self.item.body {
            Body::Single(choice) | Body::Multiple(choice) => Some(choice),
            Body::Order(_)
            | Body::Match(_)
            | Body::Short(_)
            | Body::Numeric(_)
            | Body::Locate(_)
            | Body::Flap(_)
            | Body::Case(_) => None,
        }
    }

    /// The options, each with where its text stands.
    fn options(&self) -> impl Iterator<Item = (&'t AnswerOption, Span)> {
        let options = self
            .choice()
            .map(|choice| choice.options.as_slice())
            .unwrap_or_default();
        let nodes = self
            .node
            .get("options")
            .map(Node::nodes)
            .unwrap_or_default();
        let spans = nodes
            .iter()
            .map(|node| node.get("text").map_or(node.span, |text| text.span));
        options.iter().zip(spans)
    }

    /// Where a key of the item stands; the item itself if it has no such key.
    fn key_span(&self, key: &str) -> Span {
        self.node
            .entry(key)
            .map_or(self.node.span, |entry| entry.key_span)
    }
}

/// Reports every flaw of a deck.
pub(super) fn check(source: &SourceFile, draft: &Draft<'_, '_>, found: &mut Diagnostics) {
    let is_whole = !found.has_errors();
    for rule in RULES {
        match rule.find {
            Find::Item(find) => {
                for placed in &draft.items {
                    for asked in Asked::all(&placed.part, placed.node) {
                        for flaw in find(&asked) {
                            found.push(rule.diagnostic(source, flaw, Some(&placed.part.id)));
                        }
                    }
                }
            }
            Find::Deck(find) if is_whole => {
                for flaw in find(draft) {
                    found.push(rule.diagnostic(source, flaw, None));
                }
            }
            Find::Deck(_) => {}
        }
    }
}

impl Rule {
    fn diagnostic(&self, source: &SourceFile, flaw: Flaw, item: Option<&String>) -> Diagnostic {
        let span = source.first_line(flaw.place.span);
        let mut diagnostic = Diagnostic::new(
            self.severity,
            self.code,
            flaw.message,
            span,
            flaw.place.text,
        )
        .why(self.why)
        .help(self.help);
        diagnostic.item = item.cloned();
        diagnostic
    }
}
