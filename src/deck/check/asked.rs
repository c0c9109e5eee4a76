//! An item as the rules see it: its texts with their words and their places.

use super::quantity::{Quantity, quantity};
use super::words::{Prose, Word};
use crate::deck::model::{AnswerOption, Body, Choice, Item};
use crate::deck::yaml::Node;
use crate::source::{SourceFile, Span};

/// An item with its place in the file.
pub(super) struct Asked<'t> {
    pub(super) source: &'t SourceFile,
    pub(super) item: &'t Item,
    pub(super) node: &'t Node<'t>,
    /// The stem, then the further wordings.
    pub(super) stems: Vec<Stem<'t>>,
    /// The options in file order, if it is a choice.
    pub(super) options: Vec<Given<'t>>,
}

/// A stem with what it asks.
pub(super) struct Stem<'t> {
    pub(super) text: Prose<'t>,
    /// Its last sentence.
    pub(super) lead_in: Prose<'t>,
    /// From its first to its last character.
    pub(super) span: Span,
}

/// An option as the candidate reads it.
pub(super) struct Given<'t> {
    pub(super) option: &'t AnswerOption,
    pub(super) text: Prose<'t>,
    /// What it says if it is a number or a range and nothing else.
    pub(super) quantity: Option<Quantity>,
    pub(super) span: Span,
}

impl<'t> Asked<'t> {
    /// The item, then the parts if it is a case: they are written by the same rules.
    pub(super) fn all(
        source: &'t SourceFile,
        item: &'t Item,
        node: &'t Node<'t>,
        is_english: bool,
    ) -> impl Iterator<Item = Self> {
        let nodes = node.get("parts").map(Node::nodes).unwrap_or_default();
        let nodes = std::iter::once(node).chain(nodes);
        item.with_parts()
            .zip(nodes)
            .map(move |(item, node)| Self::new(source, item, node, is_english))
    }

    fn new(source: &'t SourceFile, item: &'t Item, node: &'t Node<'t>, is_english: bool) -> Self {
        let mut asked = Self {
            source,
            item,
            node,
            stems: Vec::new(),
            options: Vec::new(),
        };
        asked.stems = asked.placed_stems();
        asked.options = asked.placed_options(is_english);
        asked
    }

    fn placed_stems(&self) -> Vec<Stem<'t>> {
        let wordings = self.node.get("wordings").map(Node::nodes);
        let nodes = self
            .node
            .get("stem")
            .into_iter()
            .chain(wordings.unwrap_or_default());
        let placed = self.item.stems.iter().zip(nodes).map(|(stem, node)| {
            let text = Prose::new(stem);
            let lead_in = text.lead_in();
            Stem {
                text,
                lead_in,
                span: node.span,
            }
        });
        placed.collect()
    }

    fn placed_options(&self, is_english: bool) -> Vec<Given<'t>> {
        let Some(choice) = self.choice() else {
            return Vec::new();
        };
        let nodes = self.node.get("options").map(Node::nodes);
        let placed = choice.options.iter().zip(nodes.unwrap_or_default());
        placed
            .map(|(option, node)| {
                let text = Prose::new(&option.text);
                Given {
                    option,
                    quantity: quantity(&text, is_english),
                    text,
                    span: node.get("text").map_or(node.span, |text| text.span),
                }
            })
            .collect()
    }

    /// The options and whether their order is kept, if it is a choice.
    pub(super) const fn choice(&self) -> Option<&'t Choice> {
        match &self.item.body {
            Body::Single(choice) | Body::Multiple(choice) => Some(choice),
            Body::Order(_)
            | Body::Match(_)
            | Body::Short(_)
            | Body::Locate(_)
            | Body::Flap(_)
            | Body::Numeric(_)
            | Body::Case(_) => None,
        }
    }

    /// The key and the distractors, if there is one key.
    pub(super) fn single(&self) -> Option<(&Given<'t>, Vec<&Given<'t>>)> {
        if !matches!(self.item.body, Body::Single(_)) {
            return None;
        }
        let key = self.options.iter().find(|given| given.option.key)?;
        let others = self.options.iter().filter(|given| !given.option.key);
        Some((key, others.collect()))
    }

    /// Where a key of the item stands; the item itself if it has no such key.
    pub(super) fn key_span(&self, key: &str) -> Span {
        self.node
            .entry(key)
            .map_or(self.node.span, |entry| entry.key_span)
    }

    /// Where a word stands in a text of the file; the start of the text if it is written with an escape.
    pub(super) fn pin(&self, text: Span, word: &str) -> Span {
        self.pin_nth(text, word, 0)
    }

    /// Where a word of a stem's lead-in stands, though the same word may stand in the stem before.
    pub(super) fn pin_asked(&self, stem: &Stem<'_>, word: &Word<'_>) -> Span {
        let at = stem.text.raw.len() - stem.lead_in.raw.len() + word.at;
        let before = stem.text.raw.get(..at).unwrap_or_default();
        self.pin_nth(stem.span, word.raw, whole(before, word.raw).count())
    }

    fn pin_nth(&self, text: Span, word: &str, number: usize) -> Span {
        match whole(self.source.slice(text), word).nth(number) {
            Some(at) if !word.is_empty() => {
                let start = text.start() + at;
                self.source.span(start..start + word.len())
            }
            _ => text,
        }
    }
}

/// The bytes at which a word stands in a text as a whole word.
fn whole(text: &str, word: &str) -> impl Iterator<Item = usize> {
    let is_edge = |character: Option<char>| character.is_none_or(|next| !next.is_alphanumeric());
    text.match_indices(word).filter_map(move |(at, found)| {
        let before = text.get(..at)?.chars().next_back();
        let after = text.get(at + found.len()..)?.chars().next();
        (is_edge(before) && is_edge(after)).then_some(at)
    })
}

/// All that is read of an item: stems, what is offered or wanted, reasons, rationale, the same of its parts.
pub(super) fn texts(item: &Item) -> Box<dyn Iterator<Item = &str> + '_> {
    let stems = item.stems.iter().map(String::as_str);
    Box::new(stems.chain(behind_stem(item)))
}

/// The same without the stems of the item itself.
pub(super) fn behind_stem(item: &Item) -> impl Iterator<Item = &str> {
    offered(&item.body).chain([item.rationale.as_str()])
}

fn offered(body: &Body) -> Box<dyn Iterator<Item = &str> + '_> {
    match body {
        Body::Single(choice) | Body::Multiple(choice) => Box::new(
            choice
                .options
                .iter()
                .flat_map(|option| [Some(option.text.as_str()), option.why.as_deref()])
                .flatten(),
        ),
        Body::Order(steps) => Box::new(steps.iter().map(|step| step.text.as_str())),
        Body::Match(matching) => Box::new(
            matching
                .pairs
                .iter()
                .flat_map(|pair| [pair.left.as_str(), pair.right.as_str()]),
        ),
        Body::Case(case) => Box::new(
            case.parts
                .iter()
                .flat_map(|part| part.finding.as_deref().into_iter().chain(texts(&part.item))),
        ),
        Body::Short(short) => Box::new(short.accept.iter().map(String::as_str)),
        Body::Locate(_) | Body::Flap(_) => Box::new(std::iter::empty()),
        Body::Numeric(numeric) => Box::new(std::iter::once(numeric.solution.as_str())),
    }
}
