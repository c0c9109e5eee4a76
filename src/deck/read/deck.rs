//! The top of a deck: what it is, its topics, sources and beliefs.

use std::collections::HashMap;
use std::sync::Arc;

use super::diagram::Diagrams;
use super::fields::Fields;
use super::scalars::Letters;
use super::shape::{self, longest};
use super::{Known, Reader};
use crate::deck::model::{Belief, Deck, Item, Source, Topic};
use crate::deck::yaml::{Node, brief};
use crate::diagnostic::Diagnostic;
use crate::figure::model::Figure;
use crate::source::Span;

/// A part of the deck with where it was read.
#[derive(Debug)]
pub(in crate::deck) struct Placed<'t, 's, T> {
    pub(in crate::deck) part: T,
    pub(in crate::deck) node: &'t Node<'s>,
}

/// What could be read of a deck, each part with its place.
#[derive(Default)]
pub(in crate::deck) struct Draft<'t, 's> {
    head: Option<Head>,
    /// Whether every part that is in the file is in here.
    is_whole: bool,
    pub(in crate::deck) topics: Vec<Placed<'t, 's, Topic>>,
    pub(in crate::deck) sources: Vec<Placed<'t, 's, Source>>,
    pub(in crate::deck) beliefs: Vec<Placed<'t, 's, Belief>>,
    pub(in crate::deck) diagrams: Vec<Placed<'t, 's, Arc<Figure>>>,
    pub(in crate::deck) items: Vec<Placed<'t, 's, Item>>,
}

struct Head {
    id: String,
    title: String,
    edition: crate::time::Day,
    language: String,
    language_span: Span,
    licence: String,
}

impl Draft<'_, '_> {
    /// The deck's id, if the top of the deck could be read.
    pub(in crate::deck) fn id(&self) -> Option<&str> {
        self.head.as_ref().map(|head| head.id.as_str())
    }

    /// The deck's language tag, if the top of the deck could be read.
    pub(in crate::deck) fn language(&self) -> Option<&str> {
        self.head.as_ref().map(|head| head.language.as_str())
    }

    /// Where the language tag stands, if the top of the deck could be read.
    pub(in crate::deck) fn language_span(&self) -> Option<Span> {
        self.head.as_ref().map(|head| head.language_span)
    }

    /// The year of the edition, if the top of the deck could be read.
    pub(in crate::deck) fn edition_year(&self) -> Option<i32> {
        self.head.as_ref().map(|head| head.edition.year())
    }

    /// The deck; only to be asked for if there was no error.
    pub(in crate::deck) fn finish(self) -> Option<Deck> {
        let head = self.head.filter(|_| self.is_whole)?;
        Some(Deck {
            id: head.id,
            title: head.title,
            edition: head.edition,
            language: head.language,
            licence: head.licence,
            topics: parts(self.topics),
            sources: parts(self.sources),
            beliefs: parts(self.beliefs),
            items: parts(self.items),
        })
    }
}

fn parts<T>(placed: Vec<Placed<'_, '_, T>>) -> Vec<T> {
    placed.into_iter().map(|placed| placed.part).collect()
}

impl Reader<'_> {
    pub(super) fn deck<'t, 's>(mut self, tree: &'t Node<'s>) -> Draft<'t, 's> {
        let Some(fields) = self.fields(tree, &shape::DECK) else {
            return Draft::default();
        };
        let head = self.top(fields);
        let topics = self.parts(fields, "topics", "topic", Self::topic);
        let sources = self.parts(fields, "sources", "source", Self::source);
        let beliefs = self.parts(fields, "beliefs", "belief", Self::belief);
        let (diagrams, known_diagrams) = self.diagrams(fields);
        let known = |key, what| {
            let list = fields.get(key).map(|entry| &entry.value);
            let list = list.filter(|list| !list.nodes().is_empty());
            list.map(|list| Known::of(what, list))
        };
        let lists = Lists {
            topics: known("topics", "topic"),
            sources: known("sources", "source"),
            beliefs: known("beliefs", "belief").unwrap_or_else(|| Known::none("belief")),
            diagrams: known_diagrams,
            cites: sources
                .iter()
                .map(|placed| (placed.part.id.as_str(), placed.part.cite.as_str()))
                .collect(),
        };
        let items = self.parts(fields, "items", "item", |reader, node| {
            reader.item(node, &lists)
        });
        self.tried_briefly();
        Draft {
            head,
            is_whole: self.is_whole,
            topics,
            sources,
            beliefs,
            diagrams,
            items,
        }
    }

    /// Diagrams are named by `diagram` and not by `id`.
    fn diagrams<'t, 's>(
        &mut self,
        fields: Fields<'t, 's>,
    ) -> (Vec<Placed<'t, 's, Arc<Figure>>>, Diagrams) {
        let (mut sound, mut known) = (Vec::new(), Diagrams::default());
        let mut seen = HashMap::new();
        let entry = fields.get("diagrams");
        let nodes = entry.and_then(|entry| self.list(entry, 1..=usize::MAX));
        for node in nodes.unwrap_or_default() {
            let figure = self.diagram(node);
            if figure.is_none() {
                self.lost(node);
            }
            known.add(node, figure.clone());
            sound.extend(figure.map(|part| Placed { part, node }));
            self.twice("diagram", node.get("diagram"), &mut seen);
        }
        (sound, known)
    }

    fn top(&mut self, fields: Fields<'_, '_>) -> Option<Head> {
        let value = |key| fields.get(key).map(|entry| &entry.value);
        let id = value("deck").and_then(|node| self.id("deck", node, Letters::Lower));
        let title = value("title").and_then(|node| self.line("title", node, longest::LINE));
        let edition = value("edition").and_then(|node| self.date("edition", node));
        let language = value("language").and_then(|node| Some((self.language(node)?, node.span)));
        let licence = value("licence").and_then(|node| self.licence(node));
        let (language, language_span) = language?;
        Some(Head {
            id: id?,
            title: title?,
            edition: edition?,
            language,
            language_span,
            licence: licence?,
        })
    }

    /// Reads a list of parts with ids; keeps those that are sound.
    fn parts<'t, 's, T>(
        &mut self,
        fields: Fields<'t, 's>,
        key: &str,
        what: &str,
        read: impl Fn(&mut Self, &'t Node<'s>) -> Option<T>,
    ) -> Vec<Placed<'t, 's, T>> {
        let Some(entry) = fields.get(key) else {
            return Vec::new();
        };
        let mut seen = HashMap::new();
        let nodes = self.list(entry, 1..=usize::MAX).unwrap_or_default();
        let mut parts = Vec::with_capacity(nodes.len());
        for node in nodes {
            match read(self, node) {
                Some(part) => parts.push(Placed { part, node }),
                None => self.lost(node),
            }
            self.twice(what, node.get("id"), &mut seen);
        }
        parts
    }

    /// Notes that a part had to be left out. Why is told by whoever refuses it; the deck must not vanish without a word
    /// should that ever be forgotten.
    fn lost(&mut self, node: &Node<'_>) {
        self.is_whole = false;
        if self.found.errors() == 0 {
            let message = "this part of the deck cannot be read";
            let diagnostic =
                Diagnostic::error("deck::wrong-type", message, self.head(node), "left out");
            self.report(
                diagnostic
                    .help("compare it with decks/README.md, and report the missing explanation"),
            );
        }
    }

    fn topic(&mut self, node: &Node<'_>) -> Option<Topic> {
        let fields = self.fields(node, &shape::TOPIC)?;
        let value = |key| fields.get(key).map(|entry| &entry.value);
        let id = value("id").and_then(|node| self.id("id", node, Letters::Lower));
        let title = value("title").and_then(|node| self.line("title", node, longest::LINE));
        let is_share = |share: f64| share > 0.0 && share <= 100.0;
        let weight = value("weight").and_then(|node| {
            self.number("weight", node, "above 0 and at most 100 per cent", is_share)
        });
        Some(Topic {
            id: id?,
            title: title?,
            weight: weight?,
        })
    }

    fn source(&mut self, node: &Node<'_>) -> Option<Source> {
        let fields = self.fields(node, &shape::SOURCE)?;
        let value = |key| fields.get(key).map(|entry| &entry.value);
        let id = value("id").and_then(|node| self.id("id", node, Letters::Any));
        let cite = value("cite").and_then(|node| self.text("cite", node, longest::CITE));
        let is_year = |year: f64| year.fract() == 0.0 && (1500.0..=2200.0).contains(&year);
        let year = value("year").and_then(|node| self.number("year", node, YEAR, is_year));
        Some(Source {
            id: id?,
            cite: cite?,
            year: whole(year?),
        })
    }

    fn belief(&mut self, node: &Node<'_>) -> Option<Belief> {
        let fields = self.fields(node, &shape::BELIEF)?;
        let value = |key| fields.get(key).map(|entry| &entry.value);
        let id = value("id").and_then(|node| self.id("id", node, Letters::Lower));
        let text = value("text").and_then(|node| self.text("text", node, longest::REASON));
        Some(Belief {
            id: id?,
            text: text?,
        })
    }

    /// A language tag in the form of BCP 47 (RFC 5646, section 2.1) that begins with an ISO 639 code; whether the language
    /// exists is not asked. English is `en` and never `eng`: of two codes the shorter one is written (section 2.2.1).
    fn language(&mut self, node: &Node<'_>) -> Option<String> {
        let tag = self.line("language", node, longest::LINE)?;
        let mut parts = tag.split('-');
        let first = parts.next().unwrap_or_default();
        let is_good = (2..=3).contains(&first.len())
            && !first.eq_ignore_ascii_case("eng")
            && first.bytes().all(|byte| byte.is_ascii_alphabetic())
            && parts.all(|part| {
                (1..=8).contains(&part.len())
                    && part.bytes().all(|byte| byte.is_ascii_alphanumeric())
            });
        if is_good {
            return Some(tag);
        }
        let message = format!("`{}` is not a language tag", brief(&tag));
        let span = self.head(node);
        let diagnostic =
            Diagnostic::error("deck::bad-language", message, span, "not a tag of BCP 47");
        self.report(if first.to_ascii_lowercase().starts_with("eng") {
            diagnostic.help("write `en` for English").patch(span, "en")
        } else {
            diagnostic.help("a code of two or three letters, such as `en`, `pt-BR` or `zh-Hant`")
        });
        None
    }

    /// A licence in the form of an SPDX short name; whether it is on the list is not asked.
    fn licence(&mut self, node: &Node<'_>) -> Option<String> {
        let name = self.line("licence", node, longest::LINE)?;
        if name
            .bytes()
            .all(|byte| byte.is_ascii_alphanumeric() || matches!(byte, b'-' | b'.' | b'+'))
        {
            return Some(name);
        }
        let message = format!("`{}` is not an SPDX name", brief(&name));
        let span = self.head(node);
        let diagnostic = Diagnostic::error(
            "deck::bad-licence",
            message,
            span,
            "letters, digits, `.`, `-` and `+` only",
        );
        self.report(
            diagnostic
                .help("such as `CC-BY-4.0`; `LicenseRef-` and a name of your own for any other"),
        );
        None
    }
}

const YEAR: &str = "a year from 1500 to 2200 (of an undated page: when it was read)";

/// The ids that items refer to.
pub(super) struct Lists<'t> {
    pub(super) topics: Option<Known<'t>>,
    pub(super) sources: Option<Known<'t>>,
    pub(super) beliefs: Known<'t>,
    pub(super) diagrams: Diagrams,
    /// The full reference of each source that could be read, by its id.
    pub(super) cites: HashMap<&'t str, &'t str>,
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a whole number from 1500 to 2200"
)]
const fn whole(year: f64) -> u16 {
    year as u16
}
